//! Heads and cells of a spreadsheet that speak of what is judged where nothing reads them.

use super::called::is_thickness;
use crate::load::names_no_lead;
use crate::plate::sizes_named;
use crate::quantity::{Angle, Energy, Length, Mass, Temperature, Velocity, parse};

/// Words in the head of a column that no known one takes, and that speak of what is judged.
#[rustfmt::skip]
const HEADS: [(&str, &str); 63] = [
    ("velocity", SPEED), ("speed", SPEED), ("chrono", SPEED), ("chronograph", SPEED), ("fps", SPEED), ("v0", SPEED),
    ("mv", SPEED), ("muzzle", SPEED), ("core", CORE), ("jacket", CORE), ("tip", CORE), ("magnet", CORE),
    ("magnetic", CORE), ("bullet", CORE), ("projectile", CORE), ("distance", NEAR), ("closest", NEAR),
    ("nearest", NEAR), ("near", NEAR), ("walk", NEAR), ("range", NEAR), ("yards", NEAR), ("yardage", NEAR),
    ("yds", NEAR), ("metres", NEAR), ("meters", NEAR), ("damage", STATE), ("crater", STATE), ("craters", STATE),
    ("crack", STATE), ("cracks", STATE), ("pits", STATE), ("hardness", STEEL), ("brinell", STEEL), ("alloy", STEEL),
    ("lean", LEAN), ("tilt", LEAN), ("angle", ANGLE), ("angled", ANGLE), ("uphill", "`slope (deg)`"),
    ("downhill", "`slope (deg)`"), ("turned", TURN), ("yaw", TURN), ("oblique", TURN), ("thick", "`plate (in)`"),
    ("thickness", "`plate (in)`"), ("es", SPREAD), ("sd", SPREAD), ("sigma", SPREAD), ("spread", SPREAD),
    ("deviation", SPREAD), ("tolerance", SPREAD), ("dist", NEAR), ("yd", NEAR), ("ft", NEAR), ("feet", NEAR),
    ("metre", NEAR), ("meter", NEAR), ("bhn", STEEL), ("hb", STEEL), ("hbw", STEEL), ("hrc", STEEL),
    ("gauge", "`plate (in)`"),
];
/// The same in a table of targets alone: in one of people a state is where they live.
#[rustfmt::skip]
const OF_TARGETS: [(&str, &str); 55] = [
    ("grade", STEEL), ("ar", STEEL), ("material", STEEL),
    ("turn", TURN),
    ("pos", NEAR), ("position", NEAR), ("finish", NEAR), ("move", NEAR), ("moves", NEAR), ("advance", NEAR),
    ("forward", NEAR), ("junior", NEAR), ("juniors", NEAR), ("pistols", NEAR), ("rifles", NEAR), ("rimfire", NEAR),
    ("status", STATE), ("state", STATE), ("wear", STATE),
    ("deg", ANGLE), ("degrees", ANGLE), ("pitch", ANGLE),
    ("hill", SLOPE), ("terrain", SLOPE), ("ground", SLOPE), ("incline", SLOPE), ("elevation", SLOPE), ("up", SLOPE),
    ("down", SLOPE),
    ("width", FACE), ("wide", FACE), ("height", FACE), ("high", FACE), ("tall", FACE), ("dia", FACE), ("diam", FACE),
    ("diameter", FACE), ("size", FACE), ("shape", FACE), ("w", FACE),
    ("thk", "`plate (in)`"), ("gage", "`plate (in)`"),
    ("use", "`duty`, `match` or `public`"), ("weapon", "`class`"),
    ("hanger", MOUNT), ("hangers", MOUNT), ("hanging", MOUNT), ("hangs", MOUNT), ("hung", MOUNT), ("hang", MOUNT),
    ("mounting", MOUNT), ("support", MOUNT), ("stand", MOUNT), ("post", MOUNT),
    ("mm", "`plate (mm)`, `face (mm)`, or what it is"),
];
/// And in a table of loads alone.
#[rustfmt::skip]
const OF_LOADS: [(&str, &str); 14] = [
    ("backup", OTHER), ("spare", OTHER), ("second", OTHER), ("2nd", OTHER), ("alternate", OTHER), ("power", SPEED),
    ("pf", SPEED), ("energy", SPEED), ("temp", WARMTH), ("temperature", WARMTH), ("weight", CORE_OR_MASS),
    ("grain", CORE_OR_MASS), ("grains", CORE_OR_MASS), ("gr", CORE_OR_MASS),
];
const SPREAD: &str = "`velocity-sd (ft/s)`, the standard deviation of the muzzle velocity";
const WARMTH: &str = "`measured-at (°F)` for the powder; the air stands under `[air]` in the match";
const CORE_OR_MASS: &str = "`bullet (gr)` where it is the bullet's mass, and not its powder's";
const SPEED: &str = "`velocity (ft/s)` beside the load's own bullet, bc and drag";
const CORE: &str = "`construction`";
const NEAR: &str = "`at (yd)`, or `to (yd)` for the nearest point a shooter may get to";
const FACE: &str = "`face`, with its size in each row, `12 in`";
const MOUNT: &str = "`mount`, with its word in each row";
const SLOPE: &str = "`slope (deg)`";
const OTHER: &str = "`load`, in a row of its own for each load that somebody brings";
const STATE: &str = "`condition`";
const STEEL: &str = "`steel`";
const TURN: &str = "`oblique (deg)`";
const LEAN: &str = "`tilt (deg)`";
const ANGLE: &str = "`tilt (deg)` for a lean, `oblique (deg)` for a turn, `slope (deg)` for the ground";

/// Words in the head of a column whose numbers say nothing of what is judged: of people, of order and of money.
#[rustfmt::skip]
const PEOPLE: [&str; 57] = [
    "squad", "lane", "bay", "phone", "telephone", "tel", "mobile", "zip", "postcode", "postal", "id", "no", "nr",
    "number", "num", "row", "line", "entry", "bib", "member", "membership", "licence", "license", "paid", "fee",
    "amount", "total", "price", "cost", "age", "year", "born", "birth", "date", "day", "time", "order", "relay",
    "heat", "rank", "seed", "score", "points", "par", "division", "category", "box", "index", "team", "dob", "check",
    "cheque", "shooter", "class", "place", "contact", "emergency",
];

/// Whether numbers of a column that is not read are of people, of order or of money.
pub(super) fn counts_people(title: &str) -> bool {
    let name = title.to_lowercase();
    let mut words = name.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
    let is_known = |word: &str| PEOPLE.contains(&word) || NAMES.contains(&word) || ["of", "the", "s"].contains(&word);
    // A `#` or a `№` alone.
    words.all(is_known)
}

/// Words in the head of a column of loads that say nothing of what arrives: of powder and case, of the rifle itself.
#[rustfmt::skip]
const HANDLOADS: [&str; 19] = [
    "charge", "powder", "primer", "oal", "coal", "col", "cbto", "trim", "case", "neck", "seating", "zero", "scope",
    "gun", "rifle", "twist", "height", "trigger", "lot",
];

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

/// Whether a head that is not read speaks of what is judged; the columns that it may be meant for.
pub(super) fn judged_head(title: &str, of: Of) -> Option<String> {
    let name = title.to_lowercase();
    let has = |word: &str| name.split(|c: char| !c.is_alphanumeric()).any(|part| part == word);
    // `Zero (yd)`, `charge (gr)`, and not `rifle velocity`.
    let is_far = |word: &str| parse::<Length>(&format!("1 {word}")).is_ok();
    let plainly = |(word, _): &&(&str, &str)| has(word) && !is_far(word);
    if of == Of::Loads && HANDLOADS.iter().any(|word| has(word)) && !speaks(&name) && !HEADS.iter().any(|h| plainly(&h))
    {
        return None;
    }
    // `range officer`, `hung by`: who it is stands there.
    if names_who(&words_of(&name)) {
        return None;
    }
    let own: &[(&str, &str)] = if of == Of::Loads { &OF_LOADS } else { &OF_TARGETS };
    if let Some((_, write)) = HEADS.iter().chain(own).find(|(word, _)| has(word)) {
        return Some(in_its_unit(write, &name));
    }
    // `pistol line`, `line 2`, and not the line alone or who keeps it.
    let of_order = |word: &&str| PEOPLE.contains(word) || OFFICERS.contains(word);
    if of == Of::Targets && has("line") && !words_of(&name).iter().all(of_order) {
        return Some(in_its_unit(NEAR, &name));
    }
    // A column of yes and no, `tracer`, `cracked`, says by its head what a note says by its words.
    if speaks(&name) {
        return Some("`construction`, `condition`, `steel` or `mount`, with its word in each row".into());
    }
    // A unit alone, or behind what it is of.
    if !name.trim().is_empty() && is_unit(&name) {
        return Some("the column that it is meant for".into());
    }
    let (_, inside) = name.split_once(['(', '['])?;
    is_unit(inside.trim_end().trim_end_matches([')', ']'])).then(|| "the column that it is meant for".into())
}

fn is_unit(word: &str) -> bool {
    let one = format!("1 {}", word.trim());
    parse::<Velocity>(&one).is_ok()
        || parse::<Length>(&one).is_ok()
        || parse::<Energy>(&one).is_ok()
        || parse::<Mass>(&one).is_ok()
        || parse::<Angle>(&one).is_ok()
        || parse::<Temperature>(&one).is_ok()
}

/// What to write with the unit that the head names: `velocity (m/s)`.
fn in_its_unit(write: &str, name: &str) -> String {
    let words = name.split(|c: char| c.is_whitespace() || "()[]".contains(c)).filter(|word| !word.is_empty());
    let mut write = write.to_owned();
    for word in words {
        let one = format!("1 {word}");
        for (is_one, unit) in [
            (parse::<Velocity>(&one).is_ok(), "(ft/s)"),
            (parse::<Length>(&one).is_ok(), "(yd)"),
            (parse::<Length>(&one).is_ok(), "(in)"),
        ] {
            if is_one {
                write = write.replace(unit, &format!("({word})"));
            }
        }
    }
    write
}

/// Beginnings of words in a cell that speak of bullet, load, steel, face, mount or line, beside those of a bullet that
/// is no lead.
#[rustfmt::skip]
const STEMS: [&str; 58] = [
    "hardox", "warp", "goug", "torch", "rust", "swapped", "retire", "divot", "copper", "crack", "crater", "pitt",
    "dent", "bowed", "bent", "dish", "hole", "weld", "lean", "tilt", "angled", "hardness", "brinell", "damag",
    "burr", "overcharg", "hott", "faster", "chrono", "clock", "velocit", "speed", "bolt", "chain", "bracket",
    "magnum", "walks", "walked", "walking", "closer", "nearer", "advanc", "forward", "ar4", "ar5", "scrap",
    "condemn", "ricochet", "chipp", "split", "steel", "magnet", "spall", "replac", "boiler", "hardened", "rigid", "slug",
];
/// Whole words of the same kinds.
#[rustfmt::skip]
const CELLS: [&str; 26] = [
    "a36", "s235", "s355", "thinner", "unsafe", "core", "sticks", "pits", "mild", "hot", "m2", "m61", "m80a1",
    "m993", "m995", "slap", "mag", "monolithic", "brass", "also", "another", "truck", "apit", "walk", "ar", "ar200",
];
/// Words that stand together.
#[rustfmt::skip]
const PHRASES: [&str; 14] = [
    "do not use", "don't use", "a.p", "green-tip", "silver tip", "red tip", "blue tip", "orange tip", "worn out", "beat up", "shot through", "tipped back", "point blank",
    "move up",
];
/// Words before a number that is a distance or a speed.
const BEFORE: [&str; 10] = ["at", "from", "to", "says", "said", "reads", "about", "within", "under", "over"];
/// Words behind a number that is none.
#[rustfmt::skip]
const OF_TIME: [&str; 13] = [
    "am", "pm", "oclock", "h", "hrs", "hours", "min", "minutes", "mins", "miles", "km", "dollars", "euros",
];
/// The least number of a note that may be a speed.
const MIN_SPEED: f64 = 600.0;
/// Units in a cell whose number may be one that counts.
#[rustfmt::skip]
const UNITS: [&str; 17] = [
    "fps", "ft/s", "m/s", "yd", "yds", "yard", "yards", "metres", "meters", "ft-lb", "ft-lbf", "ft·lbf", "deg",
    "degrees", "°", "grains", "m",
];

fn words_of(text: &str) -> Vec<&str> {
    text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect()
}

/// Words that stand together and say nothing of what is judged: of a case, not of a bullet; who may come.
#[rustfmt::skip]
const HARMLESS: [&str; 13] = [
    "brass cased", "brass case", "nickel case", "magnums ok", "no magnums", "steel cased", "steel-cased",
    "steel case", "steel-case", "hot range", "range hot", "range is hot", "when hot",
];

/// Whether words in lower case, of a head or a cell, speak of what is judged.
fn speaks(text: &str) -> bool {
    let is_of = |word: &&str| CELLS.contains(word) || STEMS.iter().any(|stem| word.starts_with(stem));
    names_no_lead(text) || words_of(text).iter().any(is_of) || PHRASES.iter().any(|phrase| text.contains(phrase))
}

/// Who keeps a range, and what.
const OFFICERS: [&str; 5] = ["officer", "judge", "ro", "captain", "boss"];
const KEPT: [&str; 4] = ["range", "line", "stage", "chief"];
/// What somebody did, before a `by`.
#[rustfmt::skip]
const DONE: [&str; 10] = [
    "set", "hung", "checked", "built", "painted", "measured", "brought", "made", "designed", "sponsored",
];

/// Whether a head says who it was or who it is: `hung by`, `range officer`.
fn names_who(words: &[&str]) -> bool {
    let keeps = words.iter().all(|word| OFFICERS.contains(word) || KEPT.contains(word));
    matches!(words, [.., done, "by"] if DONE.contains(done)) || (keeps && words.iter().any(|w| OFFICERS.contains(w)))
}

/// Words in the head of a column whose words are names: Walker, Dent and Pierce may shoot.
#[rustfmt::skip]
const NAMES: [&str; 14] = [
    "name", "surname", "club", "team", "city", "town", "country", "sponsor", "address", "street", "email", "mail",
    "contact", "who",
];

/// Whether a column that is not read holds names of people and places.
pub(super) fn holds_names(title: &str) -> bool {
    title.to_lowercase().split(|c: char| !c.is_alphanumeric()).any(|word| NAMES.contains(&word))
}

/// Whether a cell is a size and nothing else: `3 in`, `3x8`.
fn is_size(text: &str) -> bool {
    let is_number = |side: &str| side.trim().parse::<f64>().is_ok();
    let text = text.trim().trim_end_matches(['"', '″', '”']);
    let both = text.split_once(['x', '×']).is_some_and(|(a, b)| is_number(a) && is_number(b));
    both || text.chars().any(char::is_alphabetic) && parse::<Length>(text).is_ok()
}

/// Whether a cell that is not read speaks of what is judged.
pub(super) fn judged_cell(title: &str, text: &str) -> bool {
    let text = HARMLESS.iter().fold(text.to_lowercase(), |text, words| text.replace(words, " "));
    if speaks(&text) || is_size(&text) || sizes_named(&text).into_iter().any(is_thickness) {
        return true;
    }
    let is_date = |part: &&str| part.split('-').count() == 3 && part.bytes().all(|b| b.is_ascii_digit() || b == b'-');
    let text = text.split_whitespace().filter(|part| !is_date(part)).collect::<Vec<_>>().join(" ");
    let words = words_of(&text);
    let number = |word: &str| word.parse::<f64>().ok();
    let follows = |pair: &[&str]| BEFORE.contains(&pair[0]) && number(pair[1]).is_some();
    let follows =
        |at: usize| follows(&words[at..at + 2]) && words.get(at + 2).is_none_or(|unit| !OF_TIME.contains(unit));
    let is_fast = |word: &&str| number(word).is_some_and(|n| n >= MIN_SPEED);
    // Telephones and days of birth are long numbers.
    if !counts_people(title) && ((0..words.len().saturating_sub(1)).any(follows) || words.iter().any(is_fast)) {
        return true;
    }
    let mut before = "";
    text.split_whitespace().map(|part| part.trim_matches([',', ';', ':', '.', '(', ')'])).any(|part| {
        let unit = part.trim_start_matches(|c: char| c.is_ascii_digit() || ".,-+".contains(c));
        let is_number = |word: &str| word.chars().next_back().is_some_and(|c| c.is_ascii_digit());
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
    fn heads_that_speak_of_what_is_judged_are_told_from_annotations() {
        for head in [
            "closest (yd)",
            "chrono (ft/s)",
            "core",
            "magnet test",
            "jacket",
            "walk to (yd)",
            "damage",
            "OAL (in)",
            "tracer",
            "AP",
            "a.p.",
            "steel",
            "armor piercing",
            "penetrator",
            "bimetal",
            "copper",
            "monolithic",
            "cracked",
            "pitted",
            "holes",
            "bowed",
            "damaged",
            "welded",
            "bolted",
            "AR400",
            "mild",
            "AR",
            "pos A",
            "finish",
            "m",
            "mm",
            "deg",
            "pitch",
            "BHN",
            "temp",
            "extreme spread",
            "sigma",
            "gr 2",
            "material",
            "status",
            "width",
            "dia",
            "w x h",
            "hanger",
            "support",
            "hill",
            "pistol line",
            "line 2",
            "juniors",
            "thk",
            "weapon",
            "second load",
            "backup",
        ] {
            let of = if head.contains("OAL") { Of::Targets } else { Of::Loads };
            assert!(judged_head(head, of).or_else(|| judged_head(head, Of::Targets)).is_some(), "{head}");
        }
        for head in [
            "notes",
            "set by",
            "who sets it",
            "squad",
            "notes (optional)",
            "last name",
            "club",
            "paid",
            "phone",
            "State",
            "Status",
            "charge (gr)",
            "OAL (in)",
            "Gun weight (lb)",
            "Zero (yd)",
        ] {
            assert!(judged_head(head, Of::Loads).is_none(), "{head}");
        }
    }

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
        ] {
            assert!(judged_cell("notes", cell), "{cell}");
        }
        // A number of people may be long; a speed and a distance are none.
        for (cell, judged) in [("555-1234", false), ("3400", false), ("3400 fps", true), ("20 yd", true)] {
            assert_eq!(judged_cell("line", cell), judged, "{cell}");
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
            "uses a walker",
            "needs a ride from 20 miles out",
        ] {
            assert!(!judged_cell("notes", cell), "{cell}");
        }
    }
}
