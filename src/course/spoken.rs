//! Cells of a spreadsheet that speak of what is judged where nothing reads them.

use super::called::is_thickness;
use super::noticed::speaks_of_target;
use super::numbered::{UNITS, without_numbers_of_people};
use super::people::{OFFICERS, PEOPLE, counts_people, holds_names, is_person, keeps_records, without_nickname};
use super::second::{AMMUNITION, GUNS, is_faster};
use crate::load::{names_no_lead, names_solid};
use crate::plate::{damage_named, sizes_named, steel_named};
use crate::quantity::{Angle, Energy, Length, Mass, Temperature, Velocity, parse};
use crate::source::words_of;

/// What the rows of a table hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Of {
    Loads,
    Targets,
}

impl Of {
    pub(super) fn words(self) -> &'static str {
        match self {
            Self::Loads => "loads",
            Self::Targets => "targets",
        }
    }
}

/// Beginnings of words that speak of bullet, load, steel or line, beside those of a bullet that is no lead.
#[rustfmt::skip]
const STEMS: [&str; 48] = [
    "hardox", "warp", "goug", "torch", "rust", "swapped", "retire", "divot", "copper", "crack", "crater", "pitt",
    "dent", "bowed", "bent", "hole", "weld", "tilt", "angled", "hardness", "brinell", "damag", "burr", "overcharg",
    "hott", "faster", "chrono", "clock", "velocit", "speed", "magnum", "closer", "nearer", "advanc", "forward", "ar4",
    "ar5", "scrap", "condemn", "ricochet", "chipp", "split", "steel", "magnet", "spall", "boiler", "hardened",
    "replac",
];
/// The same of a plate, how it hangs and where it is shot from: what a shooter does, or has, may be called so.
#[rustfmt::skip]
const STEMS_OF_TARGETS: [&str; 21] = [
    "dish", "lean", "bolt", "chain", "bracket", "walks", "walked", "walking", "rigid", "pock", "buckl",
    "twist", "repair", "straighten", "flipped", "dimpl", "ding", "bulg", "uphill", "downhill", "slope",
];
/// Whole words of the same kinds.
#[rustfmt::skip]
const CELLS: [&str; 44] = [
    "a36", "s235", "s355", "thinner", "unsafe", "core", "sticks", "pits", "mild", "hot", "m2", "m61", "m80a1",
    "m993", "m995", "slap", "mag", "monolithic", "brass", "also", "another", "apit", "ar", "ar200", "slug", "slugs",
    "failed", "fails", "rejected", "unfit", "overpressure", "refused", "banned", "barred", "wrong", "broken", "hairline",
    "bullet", "bullets", "buckshot", "birdshot", "frangible", "frangibles", "heavier",
];
#[rustfmt::skip]
const CELLS_OF_TARGETS: [&str; 14] = [
    "truck", "walk", "thin", "worn", "turned", "rotated", "reversed", "cal", "caliber", "calibre", "rope", "ropes",
    "strap", "straps",
];
/// Words that stand together.
#[rustfmt::skip]
const PHRASES: [&str; 34] = [
    "do not use", "don't use", "a.p", "green-tip", "silver tip", "red tip", "blue tip", "orange tip", "worn out",
    "beat up", "shot through", "shot up", "tipped back", "point blank", "move up", "do not shoot", "don't shoot",
    "out of service", "not safe", "shot out", "tips back", "upside down", "flame cut", "faces up",
    "close range", "very close", "no-go", "no go", "dont use", "edge on", "face up", "piece missing",
    "over max", "frozen ground",
];
/// Words before a number that is a distance or a speed, `the` between them or not.
#[rustfmt::skip]
const BEFORE: [&str; 12] = [
    "at", "from", "to", "says", "said", "reads", "about", "within", "under", "over", "now", "sd",
];
/// Words behind a number that is none.
#[rustfmt::skip]
const COUNTED: [&str; 26] = [
    "am", "pm", "oclock", "h", "hrs", "hours", "min", "minutes", "mins", "miles", "km", "dollars", "euros",
    "positions", "hits", "shots", "rounds", "targets", "plates", "shooters", "stages", "times", "seconds", "points",
    "props", "ports",
];
/// Words that allow a gun or a load at a target.
const ALLOWED: [&str; 5] = ["ok", "allowed", "welcome", "permitted", "any"];
/// Numbers written out that stand before a unit or where a distance does.
#[rustfmt::skip]
const SPELT: [&str; 13] = [
    "five", "six", "seven", "eight", "nine", "ten", "fifteen", "twenty", "thirty", "forty", "fifty", "sixty", "hundred",
];
/// Words before a number that is a year.
#[rustfmt::skip]
const BEFORE_A_YEAR: [&str; 13] = [
    "born", "since", "in", "won", "bought", "made", "year", "season", "until", "dated", "b", "dob", "place",
];
const YEARS: std::ops::Range<f64> = 1950.0..2100.0;
/// The least and the greatest number of a note that may be a speed.
const SPEEDS: std::ops::RangeInclusive<f64> = 600.0..=6000.0;
/// The least number in a column `line` of targets that is no number of a line.
const FAR_LINE: f64 = 7.0;

/// Words that stand together and say nothing of what is judged: of a case, not of a bullet.
#[rustfmt::skip]
const HARMLESS: [&str; 41] = [
    "brass cased", "brass case", "nickel case", "no magnums", "steel cased", "steel-cased", "steel case", "steel-case",
    "hot range", "range hot", "range is hot", "when hot", "steel match", "steel challenge", "brass catcher",
    "brass back", "brass bag", "up brass", "his brass", "her brass", "own brass", "steel rod", "steel toe", "steel-toe",
    "hot lunch", "hot meal", "hot food", "hot coffee", "hot dog", "hot soup", "hot drink", "hot chocolate",
    "copper bracelet", "chain oil", "looking forward", "looks forward", "steel crew", "steel mill", "iron sight",
    "brings a chronograph", "brings his chronograph",
];
/// Cells that say, as a whole, what is judged in any case: a plate of AR500, a bullet with a lead core.
#[rustfmt::skip]
const AS_JUDGED: [&str; 11] = [
    "ar500", "ar 500", "ar-500", "ar500 steel", "ar500 plate", "lead core", "lead-core", "magnet ok", "magnet: ok",
    "magnet no", "magnet: no",
];
/// Whole parts of a note beside a load that say that it has a plain lead core, and that somebody shoots at steel.
#[rustfmt::skip]
const PARTS: [&str; 34] = [
    "no steel", "no steel core", "no steel core ammo", "not steel core", "no steel cores", "no tracers", "no tracer",
    "no ap", "no api", "no armor piercing", "no armour piercing", "no copper", "no bimetal", "no bi-metal",
    "magnet test passed", "magnet test ok", "magnet test: passed", "magnet test: ok", "passed magnet test",
    "passes magnet test", "lead core confirmed", "confirmed lead core", "checked with magnet: lead core",
    "will bring a magnet", "brings a magnet", "not magnetic", "non-magnetic",
    "never shot steel", "has never shot steel", "likes steel", "loves steel", "new to steel", "first time on steel",
    "likes shooting steel",
];
/// What people say of loads that others may bring: harmless beside one's own load, and not beside a target.
const OF_OTHERS: [&str; 2] = ["magnums ok", "magnums allowed"];

/// Heads that a plate or a load passes by, and those that it is refused by.
#[rustfmt::skip]
const PASSES: [&str; 15] = [
    "approved", "approval", "passed", "pass", "safe", "ok", "legal", "allowed", "accepted", "inspection", "inspected",
    "usable", "serviceable", "fit", "cleared",
];
const FAILS: [&str; 6] = ["refused", "rejected", "banned", "barred", "failed", "condemned"];
/// What a cell says no by, and yes.
const NO: [&str; 8] = ["no", "n", "not", "fail", "bad", "false", "0", "never"];
const YES: [&str; 5] = ["yes", "y", "x", "true", "1"];

/// Words so plain that they are no person's name and no place's.
#[rustfmt::skip]
const PLAIN: [&str; 20] = [
    "steel core", "steel-core", "steelcore", "armour piercing", "armour-piercing", "armor piercing", "armor-piercing",
    "green tip", "green-tip", "steel jacket", "steel-jacket", "bi-metal", "cratered", "cracked", "pitted", "do not use",
    "do not shoot", "closer", "incendiary", "m855",
];

/// Whether a text lets a kind of load shoot at a target: `any ammo`, `rifles ok`, `338 allowed`.
fn allows(text: &str) -> bool {
    let words = words_of(text);
    let is_calibre = |word: &&str| word.len() == 3 && word.parse::<u32>().is_ok();
    let any = |list: &[&str]| words.iter().any(|word| list.contains(word));
    any(&ALLOWED) && (any(&GUNS) || any(&AMMUNITION) || words.iter().any(is_calibre))
}

/// Whether words in lower case, of a head or a cell, speak of what is judged.
pub(super) fn speaks(text: &str, of: Of) -> bool {
    let is_of = |word: &&str| CELLS.contains(word) || STEMS.iter().any(|stem| word.starts_with(stem));
    let is_of_targets =
        |word: &&str| CELLS_OF_TARGETS.contains(word) || STEMS_OF_TARGETS.iter().any(|stem| word.starts_with(stem));
    let words = words_of(text);
    names_no_lead(text)
        || words.iter().any(is_of)
        || (of == Of::Targets && (words.iter().any(is_of_targets) || says_of_plate(text)))
        || PHRASES.iter().any(|phrase| text.contains(phrase))
        || names_pressure(text)
}

/// Whether a text speaks of a spent plate, of another steel than AR500, or of how a target stands and who shoots at it.
fn says_of_plate(text: &str) -> bool {
    damage_named(text).is_some() || steel_named(text).is_some() || speaks_of_target(text)
}

/// Whether a text names a load of more pressure: `+P`, `9 mm +P+`.
pub(super) fn names_pressure(text: &str) -> bool {
    let mut behind = text.match_indices("+p").map(|(at, found)| &text[at + found.len()..]);
    behind.any(|rest| !rest.starts_with(char::is_alphanumeric))
}

/// Whether a cell is a size and nothing else: `3 in`, `3x8`.
fn is_size(text: &str) -> bool {
    let is_number = |side: &str| side.trim().parse::<f64>().is_ok();
    let text = text.trim().trim_end_matches(['"', '″', '”']);
    let both = text.split_once(['x', '×']).is_some_and(|(a, b)| is_number(a) && is_number(b));
    both || text.chars().any(char::is_alphabetic) && parse::<Length>(text).is_ok()
}

/// Whether a cell is a number or a quantity, and nothing else: `50`, `-250`, `110 F`.
pub(super) fn is_measure(text: &str) -> bool {
    let text = text.trim();
    text.parse::<f64>().is_ok()
        || parse::<Length>(text).is_ok()
        || parse::<Velocity>(text).is_ok()
        || parse::<Energy>(text).is_ok()
        || parse::<Mass>(text).is_ok()
        || parse::<Angle>(text).is_ok()
        || parse::<Temperature>(text).is_ok()
}

/// Whether a cell says, under its head, that the load or the plate does not pass: `failed` under `inspection`.
fn is_refused(title: &str, text: &str) -> bool {
    let title = title.to_lowercase();
    let (heads, words) = (words_of(&title), words_of(text));
    let under = |list: &[&str]| heads.iter().any(|word| list.contains(word));
    let first = |list: &[&str]| words.first().is_some_and(|word| list.contains(word));
    // A plate that is shot on its back was turned round.
    let is_turned = under(&["side"]) && first(&["back", "rear", "reverse"]);
    (under(&PASSES) && first(&NO)) || (under(&FAILS) && first(&YES)) || is_turned
}

/// Whether a cell of a column `line` of targets is a distance, and no number of a line.
fn is_far_line(title: &str, text: &str) -> bool {
    let title = title.to_lowercase();
    let words = words_of(&title);
    let of_line = |word: &&str| PEOPLE.contains(word) || OFFICERS.contains(word);
    words.contains(&"line") && words.iter().all(of_line) && text.trim().parse::<f64>().is_ok_and(|n| n >= FAR_LINE)
}

/// A text without the distance that a rifle is zeroed at, `zero at 100 yd`, which is no line.
fn without_zero(text: &str) -> String {
    let (mut words, mut kept) = (text.split_whitespace().peekable(), Vec::new());
    while let Some(word) = words.next() {
        if !word.starts_with("zero") {
            kept.push(word);
            continue;
        }
        words.next_if(|next| ["at", "is", "for"].contains(next));
        let is_far = |next: &&str| next.parse::<f64>().is_ok_and(|n| n < *SPEEDS.start()) || is_far_text(next);
        if words.next_if(is_far).is_some() {
            words.next_if(|next| is_far_text(&format!("1 {next}")));
        }
    }
    kept.join(" ")
}

fn is_far_text(text: &str) -> bool {
    parse::<Length>(text).is_ok()
}

/// Heads of columns that hold whatever came to mind.
const FREE: [&str; 6] = ["note", "notes", "remark", "remarks", "comment", "comments"];

/// Whether a note of a target is a number alone, which may be a distance: `50`, `220!`.
fn is_far_note(title: &str, text: &str) -> bool {
    let is_far = text.trim_end_matches('!').trim().parse::<f64>().is_ok_and(|n| n >= FAR_LINE);
    FREE.contains(&title.trim().to_lowercase().as_str()) && is_far
}

/// Whether a cell that is not read speaks of what is judged.
pub(super) fn judged_cell(title: &str, text: &str, of: Of) -> bool {
    let is_name = holds_names(title) || is_person(title, text.trim());
    let text = text.trim().to_lowercase();
    if is_name {
        return PLAIN.iter().any(|words| text.contains(words));
    }
    if AS_JUDGED.contains(&text.as_str()) {
        return false;
    }
    if is_refused(title, &text)
        || (of == Of::Targets && (is_far_line(title, &text) || is_far_note(title, &text)))
        || text.contains(".toml")
    {
        return true;
    }
    let others: &[&str] = if of == Of::Loads { &OF_OTHERS } else { &[] };
    let text = HARMLESS.iter().chain(others).fold(text, |text, words| text.replace(words, " "));
    let text = if of == Of::Loads { without_harmless_parts(&text) } else { text };
    let text = without_nickname(&text);
    // Of the numbers that a plate is marked with, its steel is one.
    let text = if keeps_records(title) { text.replace("ar500-", " ") } else { text };
    if (of == Of::Targets && allows(&text))
        || (of == Of::Loads && (is_faster(&text) || names_solid(&text)))
        || speaks(&text, of)
    {
        return true;
    }
    let text = without_numbers_of_people(&text, of == Of::Loads);
    if is_size(&text) || sizes_named(&text).into_iter().any(is_thickness) {
        return true;
    }
    let text = if of == Of::Loads { without_masses(&without_zero(&text)) } else { text };
    // Names of files have numbers of their own.
    let is_file = |part: &&str| part.contains('_') || part.contains(".jpg") || part.contains(".png");
    let is_date = |part: &&str| part.split('-').count() == 3 && part.bytes().all(|b| b.is_ascii_digit() || b == b'-');
    let is_hour = |part: &&str| part.split(':').count() == 2 && part.bytes().all(|b| b.is_ascii_digit() || b == b':');
    let parts = text.split_whitespace().filter(|part| !is_date(part) && !is_file(part) && !is_hour(part));
    let text = parts.collect::<Vec<_>>().join(" ");
    if !counts_people(title) && !keeps_records(title) && has_far_or_fast(&text) {
        return true;
    }
    has_unit(&text)
}

/// A note beside a load without the parts that say nothing against it.
fn without_harmless_parts(text: &str) -> String {
    let parts = text.split([',', ';']).filter(|part| !PARTS.contains(&part.trim().trim_end_matches(['.', '!'])));
    parts.collect::<Vec<_>>().join(",")
}

/// Whether a text has a number that stands where a distance does, or is as large as a speed.
fn has_far_or_fast(text: &str) -> bool {
    let text = text.replace('@', " at ");
    let words: Vec<&str> = words_of(&text).into_iter().filter(|word| *word != "the").collect();
    let spelt = |word: &str| SPELT.contains(&word).then_some(0.0);
    let number = |at: usize| words.get(at).and_then(|word| number_of(word).or_else(|| spelt(word)));
    let before = |at: usize| at.checked_sub(1).map(|at| words[at]).unwrap_or_default();
    let is_time = |at: usize| words.get(at + 1).is_some_and(|unit| COUNTED.contains(unit));
    let is_year = |at: usize, n: f64| YEARS.contains(&n) && BEFORE_A_YEAR.contains(&before(at));
    // Telephones begin with a nought.
    let is_fast = |at: usize, n: f64| SPEEDS.contains(&n) && !words[at].starts_with('0') && !is_year(at, n);
    let is_line = |at: usize| words.get(at + 1).is_some_and(|next| *next == "line") || before(at) == "line";
    (0..words.len()).any(|at| {
        number(at).is_some_and(|n| {
            let follows = BEFORE.contains(&before(at)) && !is_time(at);
            follows || (is_line(at) && n >= FAR_LINE) || is_fast(at, n)
        })
    })
}

/// A number, or what goes by one: `150`, `150s`, which are bullets of 150 gr and no decade.
fn number_of(word: &str) -> Option<f64> {
    word.strip_suffix('s').filter(|rest| rest.len() == 3).unwrap_or(word).parse().ok()
}

/// Whether a text has a mass of a bullet: `175 gr`.
pub(super) fn has_mass(text: &str) -> bool {
    let lower = text.to_lowercase();
    without_masses(&lower).len() < lower.split_whitespace().collect::<Vec<_>>().join(" ").len()
}

/// A text without its masses in grains, which are held against those of the row's load.
fn without_masses(text: &str) -> String {
    let is_mass = |text: &str| text.contains("gr") && parse::<Mass>(text.trim_matches([',', ';', '(', ')'])).is_ok();
    let (mut words, mut kept) = (text.split_whitespace().peekable(), Vec::new());
    while let Some(word) = words.next() {
        if !is_mass(word) && words.next_if(|next| is_mass(&format!("{word} {next}"))).is_none() {
            kept.push(word);
        }
    }
    kept.join(" ")
}

/// Whether a text has a number with a unit of what is judged.
fn has_unit(text: &str) -> bool {
    let mut before = "";
    text.split_whitespace().map(|part| part.trim_matches([',', ';', ':', '.', '(', ')'])).any(|part| {
        let unit = part.trim_start_matches(|c: char| c.is_ascii_digit() || ".,-+".contains(c));
        let is_number =
            |word: &str| word.chars().next_back().is_some_and(|c| c.is_ascii_digit()) || SPELT.contains(&word);
        let is_part = matches!(unit, "mm" | "in" | "inch" | "\"")
            && (before.contains(['/', '.']) || part.contains(['/', '.']) || unit == "mm");
        let counts = (UNITS.contains(&unit) || is_part) && (unit.len() < part.len() || is_number(before));
        before = part;
        counts
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_that_speak_of_what_is_judged_are_told_from_annotations() {
        for cell in [
            "magnet sticks",
            "hairline crack left of the hole",
            "clocked 3150 fps",
            "moved to 50yd",
            "tracers",
            "steelcore",
            "AP",
            "API",
            "M855",
            "green tip",
            "bi-metal",
            "M2 ball AP",
            "incendiary",
            "penetrator",
            "chrono says 3400",
            "3400",
            "also brings a 300 win mag",
            "bolted to the post",
            "juniors stand at 100",
            "shot from the truck at 90",
            "leans back",
            "steel case, steel core",
            "steel",
            "greentip",
            "SS-109",
            "B-32",
            "M856",
            "Stahlkern",
            "swapped for quarter inch",
            "1/4 in",
            "8mm",
            "A36",
            "warped",
            "do not use",
            "3 in",
            "18 x 24",
            "beat up",
            "needs replacing",
            "¼ in",
            "quarter inch",
            "75 mm",
            "moved to the 50",
            "now 50",
            "magnums ok",
            "DO NOT SHOOT",
            "out of service",
            "pockmarked",
            "back side shot up",
            "buckled",
            "twisted",
            "repaired",
            "heat straightened",
            "worn",
            "flipped",
            "failed",
            "not AR500",
            "AR500?",
            "rr.toml",
            "@50",
            "50",
            "220!",
            "close range",
            "use 50 line",
            "at fifty",
            "seven yards",
            "7y",
            "10 paces",
            "rifles ok",
            "any ammo",
            "338 allowed",
            "shot out",
            "tips back",
            "dinged",
            "bulges",
            "any caliber",
            "50 cal",
            "uphill 20",
            "hung with rope",
        ] {
            assert!(judged_cell("notes", cell, Of::Targets), "{cell}");
        }
    }

    #[test]
    fn what_a_cell_says_depends_on_its_head() {
        // A number of people may be long; a speed and a distance are none.
        for (cell, judged) in [("555-1234", false), ("3400", false), ("3400 fps", true), ("20 yd", true)] {
            assert_eq!(judged_cell("line", cell, Of::Loads), judged, "{cell}");
        }
        for (head, cell, judged) in [
            ("line", "50", true),
            ("line", "3", false),
            ("inspection", "failed", true),
            ("safe", "No", true),
            ("passed", "yes", false),
            ("refused", "yes", true),
            ("paid", "no", false),
            ("side", "back", true),
            ("side", "left", false),
            ("email", "steel core", true),
            ("club", "Steel City", false),
            ("address", "12 Cracker Lane", false),
            ("who", "moved 80 closer", true),
            ("RO", "Jim Steel", false),
            ("asset no", "1042", false),
            ("serial", "AR500-17", false),
            ("serial", "AR400-17", true),
            ("bought", "not AR500", true),
            ("RO", "bolted to the post", true),
            ("bought", "2024", false),
            ("hits so far", "900", false),
            ("photo", "img_2031.jpg", false),
            ("notes", "+P", true),
            ("notes", "C+Plus", false),
        ] {
            assert_eq!(judged_cell(head, cell, Of::Targets), judged, "{head}: {cell}");
        }
    }

    #[test]
    fn notes_of_people_s_own_loads_are_told_from_those_of_another_speed() {
        for cell in [
            "zeroed with 3400 fps",
            "zero 100 yd, 3400",
            "zero at 3400",
            "bullet 155 not 168",
            "switched to 150s",
            "over max",
            "SD 45",
            "buckshot",
            "frangible",
        ] {
            assert!(judged_cell("notes", cell, Of::Loads), "{cell}");
        }
        for cell in [
            "steel case",
            "steel-cased ammo",
            "borrowed rifle",
            "magnums ok",
            "left-handed, box 2",
            "new barrel",
            "asks to shoot last, from the back",
            "the road crew",
            "pit 3",
            "RO stage 4; leaves at 2 pm",
            "leaves at 10:30",
            "uses a walker",
            "needs a ride from 20 miles out",
            "member since 2004",
            "won 2023",
            "07700 900123",
            "bolt",
            "needs help walking",
            "lead core",
            "magnet ok",
            "AR500",
            "new in 2025",
            "steel match veteran",
            "zero at 100 yd",
            "two hits from 3 positions",
            "line 3",
            "168 gr over 41.5 gr",
            "copper bracelet",
            "hot lunch",
            "picks up brass",
            "steel-toed boots",
            "born 1980",
            "gate code 1234",
            "box 155",
        ] {
            assert!(!judged_cell("notes", cell, Of::Loads), "{cell}");
        }
    }
}
