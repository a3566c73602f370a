//! What stands beside the readings of a file, held against the load that it is said to be of.

use super::super::books::Books;
use super::super::preamble::Said;
use super::weighed;
use crate::catalog::{Cartridge, Mention};
use crate::chrono::{Above, Stands, Warmth};
use crate::load::{Load, assumed_measured_at, designates_no_lead, names_no_lead};
use crate::quantity::{Length, Measure, Temperature, show, unit};
use crate::source::{Diagnostic, SourceText, clean};
use crate::words::Units;
use std::ops::RangeInclusive;
use std::sync::Arc;

/// Refuses a file that speaks of another load beside its readings: its bullet, its cartridge, what it is made of.
pub(super) fn like_the_load(
    books: &Books,
    readings: &str,
    said: &[&Above],
    load: &Load,
    units: Units,
) -> Result<(), Diagnostic> {
    let against = said.iter().find_map(|line| Some((line, speaks_against(books, line, load, units)?)));
    against.map_or(Ok(()), |(line, why)| {
        let source = SourceText::new("readings", readings);
        let fault = source.fault(line.span.clone(), format!("`{}` is of another load: {why}", clean(&line.text)));
        Err(fault.field("readings").help("name the load that was shot, or take the line out where it is wrong"))
    })
}

/// Refuses a file that says another barrel than the one that is given.
pub(super) fn like_the_barrel(
    readings: &str,
    said: &[&Above],
    barrel: Option<Length>,
    units: Units,
) -> Result<(), Diagnostic> {
    let Some(barrel) = barrel else { return Ok(()) };
    let is_other = |length: Length| (length.si() - barrel.si()).abs() > unit::INCH.of(LIKE_IN).si();
    let Some(line) = said.iter().find(|line| line.barrel().is_some_and(is_other)) else { return Ok(()) };
    let message = format!("`{}` is not the barrel of {} that is given", clean(&line.text), units.length(barrel));
    let fault = SourceText::new("readings", readings).fault(line.span.clone(), message);
    Err(fault.field("barrel").help("give the barrel that the string was shot from, or take the line out"))
}

/// By how much a calibre in words may differ from the bullet's diameter, mm (house assumption): `7.62` is 7.82.
const LIKE_MM: f64 = 0.6;
/// By how much a barrel may differ from what a file says of it, in (house assumption).
const LIKE_IN: f64 = 0.3;

fn speaks_against(books: &Books, line: &Above, load: &Load, units: Units) -> Option<String> {
    let (facts, name) = (load.facts(), clean(&load.facts().name));
    if line.is_of_another_bullet(load) || weighed::is_of_another(line, load) {
        return Some(format!("{name} has one of {}", units.bullet(facts.bullet)));
    }
    if facts.construction.is_lead_or_shot() && speaks_of_no_lead(line) {
        return Some(format!("{name} is {}", facts.construction.words()));
    }
    let own = facts.diameter.or_else(|| Cartridge::of(load).and_then(|cartridge| cartridge.calibre()));
    if let (Some(told), Some(own)) = (line.calibre(), own)
        && (told.si() - own.si()).abs() > unit::MILLIMETRE.of(LIKE_MM).si()
    {
        return Some(format!("{name} has a bullet of {}", show(own, &unit::INCH, 3)));
    }
    of_another_cartridge(books, line, load, &name)
        .or_else(|| other_load(books, &line.text, load).map(|other| format!("{name} is not {other}")))
}

/// Whether a line speaks of a bullet without a lead core: `Bullet: solid`, and not `Shooter: Bob Steel`.
fn speaks_of_no_lead(line: &Above) -> bool {
    let text = line.text.trim_start_matches(['#', ' ']).to_lowercase();
    let has = |words: &[&str]| text.split(|c: char| !c.is_alphanumeric()).any(|word| words.contains(&word));
    if line.is_about_the_load() && has(&["solid", "solids", "brass"]) {
        return true;
    }
    if is_of_a_person(line) {
        designates_no_lead(&text) || names_no_lead(&text.replace("steel", ""))
    } else {
        names_no_lead(&text)
    }
}

/// Whether a line says who shot, and where.
fn is_of_a_person(line: &Above) -> bool {
    let text = line.text.trim_start_matches(['#', ' ']).to_lowercase();
    ["shooter", "operator", "club"].iter().any(|of| text.starts_with(of))
}

fn of_another_cartridge(books: &Books, line: &Above, load: &Load, name: &str) -> Option<String> {
    let own = Cartridge::of(load)?;
    let is_own = |other: &Cartridge| other.name() == own.name();
    // A calibre alone is that of many cartridges.
    let is_calibre = |inches: f64| own.calibre().is_some_and(|own| (unit::INCH.value(own) - inches).abs() < 0.002);
    let called = line.cartridge().filter(|called| !called.parse::<f64>().is_ok_and(is_calibre));
    let other = called.and_then(|called| cartridge_of(books, called)).filter(|other| !is_own(other));
    let mut named = Cartridge::mentions("", &line.text);
    // A bullet of `.308` is that of many, and `Load: 260` may be its mass.
    let own_gr = unit::GRAIN.value(load.facts().bullet);
    let is_its_width = |named: &Mention| named.is_calibre && named.number().is_some_and(is_calibre);
    let is_its_mass =
        |named: &Mention| named.number().is_some_and(|number| (number - own_gr).abs() <= weighed::LIKE_GR);
    let is_who = |named: &Mention| named.is_word() && is_of_a_person(line);
    named.retain(|named| !(is_its_width(named) || is_its_mass(named) || is_who(named)));
    let is_of_another = other.is_some() || (!named.is_empty() && !named.iter().any(|named| is_own(named.cartridge)));
    is_of_another.then(|| format!("{name} is of {}", own.name()))
}

/// Another load of the list that a text names, where the load is of the list itself.
fn other_load(books: &Books, text: &str, load: &Load) -> Option<String> {
    books.catalog.load(load.id()).ok()?;
    let words = text.split(|c: char| c.is_whitespace() || ",;:=\"'()[]|/".contains(c)).map(str::to_lowercase);
    let named = words.filter(|word| word.contains('-'));
    let named: Vec<_> = named.filter_map(|word| books.catalog.load(&word).ok()).map(|entry| entry.load.id()).collect();
    named.first().filter(|_| !named.contains(&load.id())).map(|other| (*other).to_owned())
}

/// The cartridge that a name of one, or of a load, stands for.
fn cartridge_of(books: &Books, called: &str) -> Option<Arc<Cartridge>> {
    match books.catalog.load(called) {
        Ok(entry) => Cartridge::of(&entry.load).cloned(),
        Err(_) => books.catalog.cartridge(called).ok().or_else(|| Cartridge::called(called).cloned()),
    }
}

/// What was held against the load, and what is about it but could not be.
pub(super) struct Heard {
    held: Vec<String>,
    unheld: Vec<String>,
}

impl Heard {
    pub fn of(books: &Books, said: &[&Above], load: &Load) -> Self {
        let is_known = |line: &Above| {
            let called = line.cartridge().is_some_and(|called| cartridge_of(books, called).is_some());
            called || !Cartridge::named_in(&line.text).is_empty()
        };
        let is_held = |line: &Above| line.states_a_bullet() || (Cartridge::of(load).is_some() && is_known(line));
        let (mut held, mut unheld) = (Vec::new(), Vec::new());
        // The rows below the table are quoted as they stand.
        for line in said.iter().filter(|line| line.is_about_the_load() && line.stands != Stands::Below) {
            if is_held(line) { held.push(line.text.clone()) } else { unheld.push(line.text.clone()) }
        }
        Self { held, unheld }
    }

    /// A line about the load is told once, and only where nothing could be held against it.
    pub fn tell(&self, load: &Load, said: &mut Said) {
        let lines = self.held.iter().chain(&self.unheld).map(|text| left_out_line(text));
        let lines: Vec<String> = lines.collect();
        said.left_out.retain(|text| !lines.contains(text));
        let name = clean(&load.facts().name);
        let unheld = self.unheld.iter().map(|text| clean(text));
        said.left_out.extend(unheld.map(|text| format!("`{text}`, which nothing of {name} could be held against")));
    }
}

/// Temperatures that a string is shot at, °F (house assumption): beyond, the column holds something else.
const TAKEN_F: RangeInclusive<f64> = -40.0..=130.0;

/// What is said of the powder's temperature, where a file tells one.
pub(super) struct Powder {
    /// Where the one that is taken stands.
    taken: Option<String>,
    /// What is said behind the others.
    left_out: String,
}

/// The temperature that one tells of the powder: of one that says something else, or more, a cold one alone.
fn told(warmth: &Warmth) -> Option<Temperature> {
    let at = warmth.coldest.filter(|at| TAKEN_F.contains(&unit::FAHRENHEIT.value(*at)))?;
    (warmth.is_whole || at < assumed_measured_at()).then_some(at)
}

fn coldest(warmth: &[Warmth]) -> Option<(&Warmth, Temperature)> {
    let all = warmth.iter().filter_map(|one| Some((one, told(one)?)));
    all.reduce(|a, b| if b.1 < a.1 { b } else { a })
}

/// The powder's temperature as a file tells it, for a load that has powder: the coldest, which makes the fast shot of a
/// warm day the faster.
pub(super) fn powder_of(warmth: &[Warmth], load: &Load) -> Option<Temperature> {
    coldest(warmth).map(|(_, at)| at).filter(|_| load.has_powder())
}

/// What a file says of a colder powder than was given; none where it does not.
pub(super) fn colder_than(given: Temperature, warmth: &[Warmth], units: Units) -> Option<String> {
    let (one, at) = coldest(warmth).filter(|(_, at)| *at < given)?;
    let (kind, title) = (if one.is_column { "column" } else { "line" }, clean(&one.title));
    let (given, at) = (units.temperature(given), units.temperature(at));
    Some(format!("The powder is taken to have {given}, as given, though the {kind} `{title}` says {at}."))
}

impl Powder {
    pub fn of(warmth: &[Warmth], taken: Option<Temperature>, load: &Load, units: Units) -> Self {
        let at = units.temperature(load.measured_at());
        let taken = coldest(warmth).filter(|_| taken.is_some()).map(|(one, _)| {
            let (kind, title) = (if one.is_column { "column" } else { "line" }, clean(&one.title));
            let bare = if one.is_bare { "; no unit stands there, and it is read as the colder" } else { "" };
            format!("The powder's temperature, {at}, is that of the {kind} `{title}`, the coldest that is told{bare}.")
        });
        Self { taken, left_out: format!(", the powder taken to have {at}: give `measured-at`") }
    }

    pub fn tell(&self, warmth: &[Warmth], said: &mut Said) {
        for one in warmth.iter().filter(|one| one.is_named || one.is_alone) {
            let text = if one.is_column { left_out_column(&one.title) } else { left_out_line(&one.title) };
            let is_heeded = (one.is_whole || one.is_alone) && told(one).is_some();
            // Below the table it is a row.
            let row = format!(", `{}`", clean(&one.title));
            let is_row = |left: &str| !one.is_column && left.starts_with("row ") && left.ends_with(&row);
            if is_heeded {
                said.left_out.retain(|left| *left != text && !is_row(left));
            } else if let Some(left) = said.left_out.iter_mut().find(|left| **left == text) {
                left.push_str(&self.left_out);
            }
        }
        said.remark(self.taken.as_deref().unwrap_or_default());
    }
}

pub(super) fn left_out_column(title: &str) -> String {
    format!("column `{}`", clean(title))
}

/// How a line above the table is told to be left out.
const LINE: &str = "the line above the table, `";

/// And how a comment is.
const COMMENT: &str = "the comment `";

pub(super) fn left_out_line(text: &str) -> String {
    format!("{}{}`", if text.starts_with('#') { COMMENT } else { LINE }, clean(text))
}

/// The most lines above a table that are quoted.
const MAX_QUOTED: usize = 8;

/// Counts the lines above a table that are too many to quote.
pub(super) fn shorten(left_out: &mut Vec<String>) {
    let mut seen = 0;
    left_out.retain(|text| {
        let is_line = text.starts_with(LINE) || text.starts_with(COMMENT);
        seen += usize::from(is_line);
        seen <= MAX_QUOTED || !is_line
    });
    match seen.saturating_sub(MAX_QUOTED) {
        0 => {}
        1 => left_out.push("1 more line above the table".into()),
        more => left_out.push(format!("{more} more lines above the table")),
    }
}
