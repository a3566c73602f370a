//! What a target's name says that it is kept for: `22 only`, `no rifles`, `pistol rated`, and `rimfire spinner`.

mod kinds;

use crate::catalog::{Cartridge, is_load_of, is_stronger_than};
use crate::load::Load;
use crate::quantity::{Energy, Mass, Measure, Velocity, parse, unit};
use crate::source::words_of;
use kinds::{KINDS, Kind};
use std::sync::Arc;

/// Digits of a number that is a cartridge's without a word: `308 only`.
const LONG_NUMBER: usize = 3;
/// The most words of a kind.
const LONGEST: usize = 3;
/// The most words of a cartridge beside what keeps it.
const LONGEST_CARTRIDGE: usize = 4;
/// Words that may stand between a kind and what keeps it or bars it.
#[rustfmt::skip]
const ON_THE_WAY: [&str; 33] = [
    "use", "used", "fire", "load", "loads", "ammo", "ammunition", "round", "rounds", "range", "gun", "guns", "caliber",
    "calibre", "calibers", "calibres", "cal", "plate", "target", "targets", "gong", "and", "or", "plus", "for", "with",
    "shooting", "shooters", "any", "a", "the", "bullets", "cartridges",
];
/// The same behind a word that bars.
#[rustfmt::skip]
const ON_THE_WAY_BARRED: [&str; 14] = [
    "rated", "safe", "to", "be", "shot", "suitable", "approved", "made", "meant", "intended", "good", "allowed", "by", "from",
];
const ONLY: [&str; 3] = ["only", "exclusively", "solely"];
#[rustfmt::skip]
const BARS: [&str; 10] = ["no", "not", "non", "never", "without", "except", "excluding", "minus", "unsafe", "closed"];
/// Words behind a kind that bar it.
const BARS_BEHIND: [&str; 8] = ["free", "not", "never", "forbidden", "prohibited", "banned", "barred", "excluded"];
/// Words behind a kind that a target is no stronger than.
const RATED: [&str; 6] = ["rated", "grade", "rating", "duty", "strength", "use"];
/// The word before a kind that a target is made for: `for rimfire`.
const MADE_FOR: &str = "for";
/// Words before the most that a target takes, `up to 223`, and behind it, `5.56 and under`.
#[rustfmt::skip]
const AT_MOST: [&str; 17] = [
    "up to", "max", "maximum", "at most", "limit", "limited to", "nothing over", "nothing above", "nothing bigger than",
    "nothing larger than", "nothing hotter than", "not over", "not above", "no more than", "not more than",
    "no bigger than", "no larger than",
];
#[rustfmt::skip]
const AT_MOST_BEHIND: [&str; 16] = [
    "max", "maximum", "limit", "and under", "or under", "and below", "or below", "and less", "or less", "and down",
    "and smaller", "or smaller", "and lighter", "or lighter", "and weaker", "or weaker",
];
/// The same before a speed alone.
const SLOWER: [&str; 6] = ["sub", "under", "below", "less than", "slower than", "no faster than"];
/// Words behind a number that is no cartridge's: `max 270 rounds`.
#[rustfmt::skip]
const COUNTED: [&str; 22] = [
    "yd", "yds", "yard", "yards", "m", "meter", "meters", "metre", "metres", "ft", "feet", "in", "mm", "fps", "gr", "grain",
    "grains", "round", "rounds", "shots", "hits", "people",
];
/// By how much a bullet of the mass that a name says is no heavier, with what rounding makes of it.
const SAME_MASS: f64 = 1.0 + 1e-6;
/// Words of cartridges' names that are of many.
#[rustfmt::skip]
const OF_MANY: [&str; 14] = [
    "magnum", "special", "short", "rifle", "express", "super", "gauge", "pistol", "carbine", "match", "auto", "improved",
    "long", "loader",
];
/// Letters of a word that is one cartridge's, or those of one maker: `Creedmoor`.
const LONG_WORD: usize = 5;
/// By how much a bullet's diameter in hundredths of an inch passes the calibre it is called by: `.30` is 0.308 in.
const CALIBRE_SLACK: f64 = 1.3;

/// Cartridges by a part of their names.
#[derive(Debug)]
enum InPart {
    /// `Creedmoor`.
    Word(String),
    /// `6.5`, as its two numbers.
    Begins([String; 2]),
    /// `.30 cal`, hundredths of an inch.
    Calibre(f64),
}

impl InPart {
    fn is_of(&self, load: &Load) -> bool {
        let facts = load.facts();
        let own = Cartridge::of(load).map(|own| own.name().to_lowercase());
        let names = || own.iter().cloned().chain(facts.cartridge.as_ref().map(|text| text.to_lowercase()));
        match self {
            Self::Word(word) => names().any(|name| words_of(&name).contains(&word.as_str())),
            Self::Begins(numbers) => names().any(|name| words_of(&name).starts_with(&[&numbers[0], &numbers[1]])),
            Self::Calibre(hundredths) => facts.diameter.is_some_and(|diameter| {
                (0.0..CALIBRE_SLACK).contains(&(unit::INCH.value(diameter) * 100.0 - hundredths))
            }),
        }
    }
}

/// Kinds and cartridges that a part of a name speaks of.
#[derive(Debug, Default)]
struct Spoken {
    kinds: Vec<Kind>,
    cartridges: Vec<&'static Arc<Cartridge>>,
}

impl Spoken {
    fn is_nothing(&self) -> bool {
        self.kinds.is_empty() && self.cartridges.is_empty()
    }

    fn takes(&self, load: &Load) -> bool {
        self.kinds.iter().any(|kind| kind.takes(load))
    }

    fn is_cartridge_of(&self, load: &Load) -> bool {
        self.cartridges.iter().any(|cartridge| is_load_of(load, cartridge))
    }

    /// Whether a load is of one of its kinds, or no stronger than one of its cartridges.
    fn is_as_strong_as(&self, load: &Load) -> bool {
        self.takes(load) || self.cartridges.iter().any(|cartridge| !is_stronger_than(load, cartridge))
    }
}

/// Whom a name keeps a target for, read once for however many loads.
#[derive(Debug)]
pub struct KeptFor {
    /// Those that it is for alone.
    only: Vec<Spoken>,
    /// Those that are barred.
    barred: Vec<Spoken>,
    /// What it is made for: kinds, and cartridges with all that is no stronger.
    made_for: Vec<Spoken>,
    /// What it bars by a part of a cartridge's name.
    barred_in_part: Vec<InPart>,
    /// The fastest that it takes.
    fastest: Option<Velocity>,
    /// The heaviest bullet that it takes.
    heaviest: Option<Mass>,
    /// The most energy at the muzzle that it takes.
    strongest: Option<Energy>,
    /// Every kind that is named and not barred.
    named: Vec<Known>,
    /// Whether a kind is named, or a word keeps it: a number alone may be of a hole.
    speaks: bool,
}

impl KeptFor {
    /// What a name says: `handgun only gong`, `no magnums`, `Rimfire spinner`.
    #[must_use]
    pub fn of(name: &str) -> Self {
        let name = Name::of(name);
        let (all, barred) = (name.kinds(0..name.words.len()), name.barred());
        let is_barred = |at: &usize| barred.iter().any(|part| part.contains(at));
        let speaks = all.iter().any(|(_, kind)| kind.2) || (0..name.words.len()).any(|at| name.is_one(at, &ONLY));
        Self {
            only: name.only(),
            barred: name.spoken_against(&barred),
            made_for: name.made_for(&is_barred),
            barred_in_part: name.barred_in_part(),
            fastest: name.most(),
            heaviest: name.most(),
            strongest: name.most(),
            named: all.into_iter().filter(|(at, _)| !is_barred(at)).map(|(_, kind)| kind).collect(),
            speaks,
        }
    }

    /// Whether it is kept for nobody, and no load is left out.
    #[must_use]
    pub fn is_for_all(&self) -> bool {
        let is_unlimited = self.fastest.is_none() && self.heaviest.is_none() && self.strongest.is_none();
        let bars_nobody = self.barred.is_empty() && self.barred_in_part.is_empty();
        self.only.is_empty() && bars_nobody && self.made_for.is_empty() && is_unlimited
    }

    /// Whether it names no kind that a load may be hotter than.
    #[must_use]
    pub fn names_none(&self) -> bool {
        self.named.is_empty()
    }

    /// Whether a target is not for a load.
    #[must_use]
    pub fn leaves_out(&self, load: &Load) -> bool {
        let is_kept_from = |only: &Spoken| {
            let is_mild = !only.cartridges.is_empty() && Kind::Rimfire.takes(load);
            !(only.is_cartridge_of(load) || is_mild || only.takes(load))
        };
        let bars = |barred: &Spoken| barred.kinds.iter().any(|kind| kind.is_of(load)) || barred.is_cartridge_of(load);
        self.only.iter().any(is_kept_from)
            || self.barred.iter().any(bars)
            || self.made_for.iter().any(|most| !most.is_as_strong_as(load))
            || self.barred_in_part.iter().any(|part| part.is_of(load))
            || self.fastest.is_some_and(|fastest| load.facts().muzzle_velocity.si() > fastest.si())
            || self.heaviest.is_some_and(|heaviest| load.facts().bullet.si() > heaviest.si() * SAME_MASS)
            || self.strongest.is_some_and(|strongest| load.muzzle_energy().si() > strongest.si())
    }

    /// The same of what stands in a drawing: the numbers in it are of holes before they are of cartridges.
    #[must_use]
    pub fn notes_out(&self, load: &Load) -> bool {
        self.speaks && self.leaves_out(load)
    }

    /// The word that is of a milder kind than a load: `rimfire` of `Rimfire spinner`. It may be no more than a name.
    #[must_use]
    pub fn milder_than(&self, load: &Load) -> Option<&'static str> {
        let mut alone = self.named.iter().filter(|kind| kind.2);
        let is_taken = || self.named.iter().any(|kind| kind.1.takes(load));
        alone.next().filter(|_| !is_taken()).map(|kind| kind.0)
    }
}

/// Whether a text names a kind of firearm, or of what it fires.
pub(super) fn names_kind(text: &str) -> bool {
    let name = Name::of(text);
    name.kinds(0..name.words.len()).iter().any(|(_, kind)| kind.2)
}

/// A name in its words.
struct Name {
    words: Vec<String>,
}

type Known = &'static (&'static str, Kind, bool);

impl Name {
    fn of(name: &str) -> Self {
        // `No. 22` counts.
        let lower =
            name.to_lowercase().replace("no. ", "number ").replace('#', " number ").replace(['<', '≤'], " under ");
        Self { words: words_of(&lower).into_iter().map(str::to_owned).collect() }
    }

    /// The kind that stands in a place, and how many words it has.
    fn kind(&self, at: usize) -> Option<(usize, Known)> {
        let longest = (1..=LONGEST.min(self.words.len() - at)).rev();
        longest.into_iter().find_map(|count| {
            let words = self.words[at..at + count].join(" ");
            KINDS.iter().find(|(known, ..)| *known == words).map(|kind| (count, kind))
        })
    }

    /// The kinds in a part of the name, the longest first, and where each begins.
    fn kinds(&self, part: std::ops::Range<usize>) -> Vec<(usize, Known)> {
        let (mut found, mut at) = (Vec::new(), part.start);
        while at < part.end {
            let kind = self.kind(at);
            found.extend(kind.map(|(_, kind)| (at, kind)));
            at += kind.map_or(1, |(count, _)| count);
        }
        found
    }

    fn is_one(&self, at: usize, list: &[&str]) -> bool {
        self.words.get(at).is_some_and(|word| list.contains(&word.as_str()))
    }

    /// Whether a word may stand between a kind and what keeps it: a number, a part of a cartridge's name, another kind.
    fn is_passed(&self, at: usize) -> bool {
        let is_within = |length: usize, is_one: &dyn Fn(usize, usize) -> bool| {
            (1..=length).any(|count| {
                (0..count.min(at + 1))
                    .any(|back| at - back + count <= self.words.len() && is_one(at - back, at - back + count))
            })
        };
        let is_kind = |begin: usize, end: usize| self.kind(begin).is_some_and(|(count, _)| begin + count == end);
        let is_cartridge = |begin: usize, end: usize| {
            let text = self.words[begin..end].join(" ");
            text.contains(|c: char| c.is_ascii_digit()) && Cartridge::called(&text).is_some()
        };
        self.is_one(at, &ON_THE_WAY)
            || self.words[at].contains(|c: char| c.is_ascii_digit())
            || is_within(LONGEST, &is_kind)
            || is_within(LONGEST_CARTRIDGE, &is_cartridge)
    }

    /// The part of the name before a place, as far as only passed words stand there.
    fn before(&self, end: usize) -> std::ops::Range<usize> {
        let begin = (0..end).rev().take_while(|at| self.is_passed(*at)).last().unwrap_or(end);
        begin..end
    }

    fn behind(&self, begin: usize, also: &[&str]) -> std::ops::Range<usize> {
        let passed = |at: &usize| self.is_passed(*at) || self.is_one(*at, also);
        begin..(begin..self.words.len()).take_while(passed).last().map_or(begin, |last| last + 1)
    }

    /// The cartridges beside a place, before it or behind it, by the words next to it.
    fn cartridges(&self, part: &std::ops::Range<usize>, numbers: bool) -> Vec<&'static Arc<Cartridge>> {
        let words: Vec<&str> = self.words[part.clone()].iter().map(String::as_str).collect();
        // A short number alone is a place's.
        let is_name = |text: &str| numbers && text.len() >= LONG_NUMBER || text.contains(char::is_alphabetic);
        let runs = (1..=LONGEST_CARTRIDGE).flat_map(|count| words.windows(count));
        let names = runs.map(|run| run.join(" ")).filter(|text| text.contains(|c: char| c.is_ascii_digit()));
        // `5.56` goes without its unit.
        let called = |text: String| Cartridge::called(&text).or_else(|| Cartridge::called(&format!("{text} mm")));
        names.filter(|text| is_name(text)).filter_map(called).collect()
    }

    fn kinds_in(&self, part: std::ops::Range<usize>) -> Vec<Kind> {
        self.kinds(part).into_iter().map(|(_, kind)| kind.1).collect()
    }

    /// `22 only`, `only for handguns`, `9mm only`.
    fn only(&self) -> Vec<Spoken> {
        let words = (0..self.words.len()).filter(|at| self.is_one(*at, &ONLY));
        let beside = words.filter_map(|only| {
            let parts = [self.before(only), self.behind(only + 1, &[])];
            let kept = parts.map(|part| self.spoken(part, true));
            kept.into_iter().find(|kept| !kept.is_nothing())
        });
        beside.collect()
    }

    /// The parts of the name behind a word that bars: `rifle rated` of `not rifle rated`.
    fn barred(&self) -> Vec<std::ops::Range<usize>> {
        let bars = (0..self.words.len()).filter(|at| self.is_one(*at, &BARS));
        let parts = bars.map(|bar| self.behind(bar + 1, &ON_THE_WAY_BARRED));
        parts.filter(|part| !self.is_one(part.end, &ONLY)).collect()
    }

    /// `no rifles`, `not rifle rated`, `rifles not allowed`.
    fn spoken_against(&self, barred: &[std::ops::Range<usize>]) -> Vec<Spoken> {
        let letters = |known: Known| known.0.contains(char::is_alphabetic);
        let before = barred.iter().map(|part| {
            let kinds = self.kinds(part.clone()).into_iter().filter(|(_, kind)| letters(kind));
            let cartridges = self.cartridges(part, !self.is_counted(part));
            Spoken { kinds: kinds.map(|(_, kind)| kind.1).collect(), cartridges }
        });
        let behind = (0..self.words.len()).filter_map(|at| {
            let (count, kind) = self.kind(at)?;
            let next = (at + count..self.words.len()).find(|next| !self.is_one(*next, &ON_THE_WAY))?;
            self.is_one(next, &BARS_BEHIND).then(|| Spoken { kinds: vec![kind.1], ..Spoken::default() })
        });
        // `keep rifles off`.
        let kept = (0..self.words.len()).filter(|at| self.is_one(*at, &["keep", "keeps"])).filter_map(|at| {
            let part = self.behind(at + 1, &[]);
            self.is_one(part.end, &["off", "away", "out"]).then(|| self.spoken(part, true))
        });
        before.chain(kept).filter(|part| !part.is_nothing()).chain(behind).collect()
    }

    /// Whether a part of the name counts something, or is measured by what stands behind it.
    fn is_counted(&self, part: &std::ops::Range<usize>) -> bool {
        (part.start..=part.end).any(|at| self.is_one(at, &COUNTED))
    }

    /// Cartridges of a part by their millimetres: `9 mm max`.
    fn in_millimetres(&self, part: &std::ops::Range<usize>) -> Spoken {
        let words = &self.words[part.start..(part.end + 1).min(self.words.len())];
        let runs =
            (2..=3).flat_map(|count| words.windows(count)).filter(|run| run.last().is_some_and(|last| last == "mm"));
        let cartridges = runs.filter_map(|run| Cartridge::called(&run.join(" "))).collect();
        Spoken { cartridges, ..Spoken::default() }
    }

    /// Kinds and cartridges of a part.
    fn spoken(&self, part: std::ops::Range<usize>, numbers: bool) -> Spoken {
        Spoken { cartridges: self.cartridges(&part, numbers), kinds: self.kinds_in(part) }
    }

    /// `rimfire rated`, `pistol grade`, `for handguns`, `for 9mm`, `223 max`, and the plate of a kind by itself: `rimfire
    /// plate`.
    fn made_for(&self, is_barred: &dyn Fn(&usize) -> bool) -> Vec<Spoken> {
        let kinds = |part| Spoken { kinds: self.kinds_in(part), ..Spoken::default() };
        let rated = (0..self.words.len()).filter(|at| self.is_one(*at, &RATED)).map(|at| kinds(self.before(at)));
        let is_for = |at: &usize| self.words[*at] == MADE_FOR && !is_barred(at);
        let made = (0..self.words.len()).filter(is_for).map(|at| self.spoken(self.behind(at + 1, &[]), false));
        let plate = self.words.join(" ").contains("rimfire plate");
        let plate = plate.then(|| Spoken { kinds: vec![Kind::Rimfire], ..Spoken::default() });
        let most = self.at_most(&AT_MOST).map(|at| self.behind(at.end, &[]));
        let most = most.chain(self.at_most(&AT_MOST_BEHIND).map(|at| self.before(at.start)));
        let most =
            most.map(|part| if self.is_counted(&part) { self.in_millimetres(&part) } else { self.spoken(part, true) });
        let all = rated.chain(made).chain(plate).chain(most);
        all.filter(|part| !part.is_nothing()).collect()
    }

    /// Where words that say how much at most stand.
    fn at_most(&self, list: &'static [&'static str]) -> impl Iterator<Item = std::ops::Range<usize>> {
        (0..self.words.len()).flat_map(move |at| {
            let ends = list.iter().map(move |words| (words, at + words.split(' ').count()));
            let here = ends.filter(move |(words, end)| {
                self.words.get(at..*end).is_some_and(|own| words.split(' ').eq(own.iter().map(String::as_str)))
            });
            here.map(move |(_, end)| at..end)
        })
    }

    /// What is barred by a part of a cartridge's name: `no Creedmoor`, `no 6.5`, `no .30 cal`.
    fn barred_in_part(&self) -> Vec<InPart> {
        let is_number = |at: usize| self.words.get(at).is_some_and(|word| word.bytes().all(|b| b.is_ascii_digit()));
        let part = |bar: usize| {
            let word = self.words.get(bar + 1)?;
            let is_calibre = self.is_one(bar + 2, &["cal", "caliber", "calibre", "cals", "calibers", "calibres"]);
            if is_number(bar + 1) && is_calibre && word.len() == 2 {
                return word.parse().ok().map(InPart::Calibre);
            }
            if is_number(bar + 1) && is_number(bar + 2) && !self.is_one(bar + 3, &COUNTED) {
                return Some(InPart::Begins([word.clone(), self.words[bar + 2].clone()]));
            }
            let is_own = word.len() >= LONG_WORD && word.bytes().all(|b| b.is_ascii_lowercase());
            (is_own && !OF_MANY.contains(&word.as_str())).then(|| InPart::Word(word.clone()))
        };
        (0..self.words.len()).filter(|at| self.is_one(*at, &BARS)).filter_map(part).collect()
    }

    /// The speed, or the mass of a bullet, that a name says is the most: `max 1500 fps`.
    fn most<Q: Measure>(&self) -> Option<Q> {
        // `1500 ft-lb` is three words.
        let of = |words: &[String]| match words {
            [number, unit @ .., last] if !unit.is_empty() => {
                parse::<Q>(&format!("{number} {}-{last}", unit.join("-"))).ok()
            }
            _ => parse::<Q>(&words.join(" ")).ok(),
        };
        let here = |at: usize| (1..=3).find_map(|count| of(self.words.get(at..at + count)?));
        let before = |at: usize| (1..=3).find_map(|count| of(self.words.get(at.checked_sub(count)?..at)?));
        let ahead = self.at_most(&AT_MOST).chain(self.at_most(&SLOWER)).find_map(|at| here(at.end));
        ahead.or_else(|| self.at_most(&AT_MOST_BEHIND).find_map(|at| before(at.start)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::Catalog;

    fn is_left_out(name: &str, load: &Load) -> bool {
        KeptFor::of(name).leaves_out(load)
    }

    fn milder_kind(name: &str, load: &Load) -> Option<&'static str> {
        KeptFor::of(name).milder_than(load)
    }

    fn load(id: &str) -> Load {
        Load::clone(&Catalog::builtin().unwrap().load(id).unwrap().load)
    }

    #[test]
    fn a_name_that_keeps_a_target_for_others_leaves_a_load_out_and_no_other_does() {
        let rifle = load("308-168-match");
        #[rustfmt::skip]
        let names = [
            "9mm only", "Air gun only", "Air rifle only", "Birdshot only", "slug only", "no centerfire", "Handgun only",
            "not rifle rated", "no rifles", "22 only", ".22LR only", "not for rifles", "rimfire rated gong", "only 22 LR",
            "Rimfire & pistol only", "pistol caliber only", "for pistols only", "rifles not allowed", "subsonic only",
            "lead only", "Bow only", "BB guns only", "non-rifle gong", "223 only", "without rifles", "rimfire use only",
            "45 ACP only", "no long guns", "Rimfire plate", "22-only", "for rimfire", "for 22", "rifle ammo not allowed",
            "subs only", "cowboy loads only", "223 max", "5.56 and under", "up to 223", "max 9mm", "for 9mm", "45 ACP or less",
            "pistol max", "Max 1500 fps", "under 1500 fps", "1500 fps max", "nothing over 223", "handguns and under",
            "No 308", "not 308", "up to .243", "copper only", "no jacketed", "no FMJ", "no .30 cal", "max 150 gr", "150gr max",
            "9 mm max", "<2000 fps", "sub-2000 fps", "max 1500 ft-lb", "closed to long guns", "rifle-free", "under 150 gr", "PCCs only", "smallbore only", "keep rifles off",
        ];
        for name in names {
            assert!(is_left_out(name, &rifle), "{name}");
        }
        #[rustfmt::skip]
        let names = [
            "Rifle only", "308 only", "7.62x51 only", "rifle and pistol only", "no magnums", "no rimfire", "no pistols",
            "Pistol gong", "Rimfire spinner", "members only", "No. 22", "No-shoot popper", "Lane 9 only", "Bay 22",
            "300 yd only", "head only", "centerfire only", "lead core only", "Bow tie", "Long range square 22", "no air rifles",
            "for Bob", "for rifle and pistol", "gong for .308", "Cowboy", "308 max", "up to 300 wm", "max 270 rounds",
            "300 yd max", "under 3000 fps", "no copper", "no solids", "jacketed only", "no .22 cal", "max 168 gr", "max 150 lb", "max 3000 ft-lb", "270 mm max", "<3000 fps", "closed", "lead-free", "No Creedmoor",
            "no 6.5", "No Trespassing", "not cracked", "No 12", "up to 243 yd", "12 in and under", "No 223", "keep off",
        ];
        for name in names {
            assert!(!is_left_out(name, &rifle), "{name}");
        }
        assert!(is_left_out("no magnums", &load("300wm-180")));
        for name in ["No Creedmoor", "no 6.5"] {
            assert!(is_left_out(name, &load("65cm-140")), "{name}");
        }
        assert!(!is_left_out("9mm only", &load("9mm-115")) && !is_left_out("9mm only", &load("22lr-hv-40")));
        assert!(is_left_out("rimfire only", &load("9mm-115")) && is_left_out("45 ACP only", &load("9mm-115")));
    }

    #[test]
    fn a_name_of_a_milder_kind_is_told_and_a_number_or_a_barred_kind_is_not() {
        let (rifle, handgun, rimfire) = (load("308-168-match"), load("9mm-115"), load("22lr-hv-40"));
        for name in ["Rimfire spinner", "Pistol rack", "22 LR gong", "BB gun target", "shotgun popper"] {
            assert!(milder_kind(name, &rifle).is_some(), "{name}");
        }
        for name in ["Long range square 22", "no pistols", "rifle and pistol gong", "Rifle gong", "Hostage", "Bow tie"]
        {
            assert_eq!(milder_kind(name, &rifle), None, "{name}");
        }
        assert_eq!(
            (milder_kind("Rimfire spinner", &handgun), milder_kind("Pistol rack", &handgun)),
            (Some("rimfire"), None)
        );
        assert_eq!(milder_kind("Rimfire spinner", &rimfire), None);
    }
}
