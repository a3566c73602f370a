//! Heads of a spreadsheet's columns that speak of what is judged where nothing reads them.

use super::people::{OFFICERS, PEOPLE, keeps_records, names_who};
use super::spoken::{Of, names_pressure, speaks};
use crate::quantity::{Angle, Energy, Length, Mass, Temperature, Velocity, parse};
use crate::source::words_of;

/// What to do with a column, in a table of loads and in one of targets.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Say {
    loads: &'static str,
    targets: &'static str,
}

/// Words in the head of a column that no known one takes, and that speak of what is judged.
#[rustfmt::skip]
const HEADS: [(&str, Say); 64] = [
    ("velocity", SPEED), ("speed", SPEED), ("chrono", SPEED), ("chronograph", SPEED), ("fps", SPEED), ("v0", SPEED),
    ("mv", SPEED), ("muzzle", SPEED), ("core", CORE), ("jacket", CORE), ("tip", CORE), ("magnet", CORE),
    ("magnetic", CORE), ("bullet", CORE), ("projectile", CORE), ("distance", NEAR), ("closest", NEAR),
    ("nearest", NEAR), ("near", NEAR), ("walk", NEAR), ("range", NEAR), ("yards", NEAR), ("yardage", NEAR),
    ("yds", NEAR), ("metres", NEAR), ("meters", NEAR), ("damage", STATE), ("crater", STATE), ("craters", STATE),
    ("crack", STATE), ("cracks", STATE), ("pits", STATE), ("hardness", STEEL), ("brinell", STEEL), ("alloy", STEEL),
    ("lean", LEAN), ("tilt", LEAN), ("angle", ANGLE), ("angled", ANGLE), ("uphill", SLOPE), ("downhill", SLOPE),
    ("turned", TURN), ("yaw", TURN), ("oblique", TURN), ("thick", PLATE), ("thickness", PLATE), ("es", SPREAD),
    ("sd", SPREAD), ("sigma", SPREAD), ("spread", SPREAD), ("deviation", SPREAD), ("tolerance", SPREAD),
    ("dist", NEAR), ("yd", NEAR), ("ft", NEAR), ("feet", NEAR), ("metre", NEAR), ("meter", NEAR), ("bhn", STEEL),
    ("hb", STEEL), ("hbw", STEEL), ("hrc", STEEL), ("gauge", PLATE), ("pressure", AIR_OR_LOAD),
];
/// The same in a table of targets alone: in one of people a state is where they live.
#[rustfmt::skip]
const OF_TARGETS: [(&str, Say); 67] = [
    ("grade", STEEL), ("ar", STEEL), ("material", STEEL),
    ("turn", TURN),
    ("pos", NEAR), ("position", NEAR), ("finish", NEAR), ("move", NEAR), ("moves", NEAR), ("advance", NEAR),
    ("forward", NEAR), ("junior", NEAR), ("juniors", NEAR), ("pistols", NEAR), ("rifles", NEAR), ("rimfire", NEAR),
    ("status", STATE), ("state", STATE), ("wear", STATE),
    ("deg", ANGLE), ("degrees", ANGLE), ("pitch", ANGLE),
    ("hill", SLOPE), ("terrain", SLOPE), ("ground", SLOPE), ("incline", SLOPE), ("elevation", SLOPE),
    ("width", FACE), ("wide", FACE), ("height", FACE), ("high", FACE), ("tall", FACE), ("dia", FACE), ("diam", FACE),
    ("diameter", FACE), ("size", FACE), ("shape", FACE), ("w", FACE),
    ("thk", PLATE), ("gage", PLATE),
    ("use", DUTY), ("weapon", CLASS),
    ("hanger", MOUNT), ("hangers", MOUNT), ("hanging", MOUNT), ("hangs", MOUNT), ("hung", MOUNT), ("hang", MOUNT),
    ("mounting", MOUNT), ("support", MOUNT), ("stand", MOUNT), ("post", MOUNT),
    ("mm", SIZE),
    ("temperature", AIR), ("temp", AIR), ("humidity", AIR), ("altitude", AIR),
    ("load", SHOT), ("loads", SHOT), ("ammo", SHOT), ("ammunition", SHOT), ("cartridge", SHOT), ("cartridges", SHOT),
    ("caliber", SHOT), ("calibre", SHOT), ("cal", SHOT), ("guns", SHOT),
];
/// The same where a number stands below: `new at`, `P2`, `facing`; words say who is placed where.
#[rustfmt::skip]
const NUMBERS_OF_TARGETS: [(&str, Say); 18] = [
    ("at", NEAR), ("shift", NEAR), ("closer", NEAR), ("to", NEAR), ("from", NEAR), ("start", NEAR), ("offset", NEAR),
    ("back", NEAR), ("far", NEAR), ("p", NEAR), ("d", NEAR), ("shooter", NEAR), ("up", SLOPE), ("down", SLOPE),
    ("facing", TURN), ("weather", AIR), ("gun", SHOT), ("rotation", TURN),
];
/// And in a table of loads alone.
#[rustfmt::skip]
const OF_LOADS: [(&str, Say); 21] = [
    ("backup", OTHER), ("spare", OTHER), ("second", OTHER), ("2nd", OTHER), ("alternate", OTHER), ("power", SPEED),
    ("pf", SPEED), ("energy", SPEED), ("temp", WARMTH), ("temperature", WARMTH), ("weight", CORE_OR_MASS),
    ("grain", CORE_OR_MASS), ("grains", CORE_OR_MASS), ("gr", CORE_OR_MASS), ("grs", CORE_OR_MASS), ("wt", CORE_OR_MASS),
    ("pill", CORE_OR_MASS), ("cal", CALIBRE), ("std", SPREAD), ("dev", SPREAD), ("overpressure", AIR_OR_LOAD),
];
const fn say(loads: &'static str, targets: &'static str) -> Say {
    Say { loads, targets }
}
/// What is of a plate stands in the other table than loads do.
const fn of_targets(targets: &'static str) -> Say {
    say("say it in the table of targets, of the target that it is of", targets)
}
/// And what is of a load in the other than targets do.
const fn of_loads(loads: &'static str) -> Say {
    say(loads, "say it in the table of loads, of the load that it is of")
}
const SPREAD: Say = of_loads("head it `velocity-sd (ft/s)` where it is the standard deviation of the muzzle velocity");
const WARMTH: Say = of_loads("head it `measured-at (°F)` where it is the powder's; the air stands under `[air]`");
const CORE_OR_MASS: Say = of_loads("head it `bullet (gr)` where it is the bullet's mass, and not its powder's");
const SPEED: Say = say(
    "head it `velocity (ft/s)` where it is the mean at the muzzle, beside the load's own bullet, bc and drag",
    "speeds stand in the table of loads, and the most that is admitted under `[[ammunition]]` in the match",
);
const CORE: Say = of_loads("head it `construction`");
const CALIBRE: Say = of_loads("head it `cartridge` where it names one, `diameter (in)` where it is the bullet's");
const NEAR: Say = of_targets("head it `at (yd)`, or `to (yd)` for the nearest point a shooter may get to");
const PLATE: Say = of_targets("head it `plate (in)`");
const SIZE: Say = of_targets("head it `plate (mm)`, `face (mm)`, or what it is");
const DUTY: Say = of_targets("head it `duty`, with `match` or `public` in each row");
const CLASS: Say = of_targets("head it `class`");
const FACE: Say = of_targets("head it `face`, with its size in each row, `12 in`");
const MOUNT: Say = of_targets("head it `mount`, with its word in each row");
const SLOPE: Say = of_targets("head it `slope (deg)`");
const STATE: Say = of_targets("head it `condition`");
const STEEL: Say = of_targets("head it `steel`");
const TURN: Say = of_targets("head it `oblique (deg)`");
const LEAN: Say = of_targets("head it `tilt (deg)`");
const ANGLE: Say =
    of_targets("head it `tilt (deg)` for a lean, `oblique (deg)` for a turn, `slope (deg)` for the ground");
const AIR: Say = of_targets("the air stands under `[air]` in the match, and a stage's own in its `[[stage]]`");
const AIR_OR_LOAD: Say = say("name the load that it is, or give its own `velocity (ft/s)`", AIR.targets);
const OTHER: Say = of_loads("head it `load`, in a row of its own for each load that somebody brings");
const SHOT: Say =
    of_targets("loads stand in their own table; who shoots at a target is its `class`, who does not `without`");
const WORDS: Say = say(
    "head it `construction`, `velocity (ft/s)` or what else it is, with its word or number in each row",
    "head it `condition`, `steel` or `mount`, with its word in each row",
);
const UNIT: Say = say("head it as the column that it is meant for", "head it as the column that it is meant for");

impl Say {
    fn of(self, of: Of) -> &'static str {
        if of == Of::Loads { self.loads } else { self.targets }
    }
}

/// Words in the head of a column of loads that say nothing of what arrives: of powder and case, of the rifle itself.
#[rustfmt::skip]
const HANDLOADS: [&str; 19] = [
    "charge", "powder", "primer", "oal", "coal", "col", "cbto", "trim", "case", "neck", "seating", "zero", "scope",
    "gun", "rifle", "twist", "height", "trigger", "lot",
];

/// Whether a head that is not read speaks of what is judged; what to do with it. `is_number`: a number stands below it.
pub(super) fn judged_head(title: &str, of: Of, is_number: bool) -> Option<String> {
    let whole = title.to_lowercase();
    if of == Of::Loads && names_pressure(&whole) {
        return Some(AIR_OR_LOAD.loads.into());
    }
    let (name, unit) = parted(&whole);
    let words = words_of(&name);
    if of == Of::Loads && is_of_handload(&words, &whole) {
        return None;
    }
    // `range officer`, `hung by`: who it is stands there.
    if names_who(&words) {
        return None;
    }
    if of == Of::Targets && (is_aside(&words) || is_aside(&words_of(&whole))) {
        return None;
    }
    if let Some(say) = spoken(&words, of, is_number && !keeps_records(title)) {
        // A steel's grade has no degrees, and a slope no feet.
        let is_in = |kind: fn(&str) -> bool| unit.as_deref().is_some_and(kind);
        let say = match say {
            STEEL if is_in(is_angle) => ANGLE,
            SLOPE if is_in(is_length) => AIR,
            say => say,
        };
        return Some(in_its_unit(say.of(of), unit.as_deref()));
    }
    // `pistol line`, `line 2`, and not the line alone or who keeps it.
    let of_order = |word: &&str| PEOPLE.contains(word) || OFFICERS.contains(word);
    if of == Of::Targets && words.contains(&"line") && !words.iter().all(of_order) {
        return Some(in_its_unit(NEAR.targets, unit.as_deref()));
    }
    // A column of yes and no, `tracer`, `cracked`, says by its head what a note says by its words.
    if speaks(&name, of) {
        return Some(WORDS.of(of).into());
    }
    // A unit alone, or behind what it is of.
    let unit = unit.or_else(|| Some(name.trim().to_owned()).filter(|name| is_unit(name)))?;
    if parse::<Velocity>(&format!("1 {unit}")).is_ok() {
        return Some(in_its_unit(SPEED.of(of), Some(&unit)));
    }
    // A plate's weight is not judged.
    let is_weight = of == Of::Targets && parse::<Mass>(&format!("1 {unit}")).is_ok();
    (!is_weight || name.trim() == unit).then(|| UNIT.of(of).into())
}

/// Words in the head of a column of targets that say where it hangs, which way it looks and how large it seems.
#[rustfmt::skip]
const ASIDE: [&str; 11] = [
    "azimuth", "bearing", "compass", "heading", "moa", "mil", "mils", "mrad", "hold", "holdover", "dope",
];
/// What heights are of that are no face's, and what is numbered.
const OF_HEIGHT: [&str; 4] = ["hang", "hanging", "above", "ground"];
const NUMBERED: [&str; 5] = ["post", "stand", "hook", "hanger", "frame"];
const NUMBERS: [&str; 5] = ["no", "nr", "number", "num", "id"];

/// Whether a head of targets is of what is not judged: `bearing (deg)`, `hang height (in)`, `post no`.
fn is_aside(words: &[&str]) -> bool {
    let all = |lists: &[&[&str]]| words.iter().all(|word| lists.iter().any(|list| list.contains(word)));
    let any = |list: &[&str]| words.iter().any(|word| list.contains(word));
    (any(&ASIDE) && all(&[&ASIDE, &["deg", "degrees", "size"]]))
        || (words.contains(&"height") && any(&OF_HEIGHT) && all(&[&["height"], &OF_HEIGHT]))
        || (any(&NUMBERED) && any(&NUMBERS) && all(&[&NUMBERED, &NUMBERS]))
}

/// What a head's words speak of; `P2` and `at2` are as `P` and `at`.
fn spoken(words: &[&str], of: Of, is_number: bool) -> Option<Say> {
    let own: &[(&str, Say)] = if of == Of::Loads { &OF_LOADS } else { &OF_TARGETS };
    let numbers: &[(&str, Say)] = if of == Of::Targets && is_number { &NUMBERS_OF_TARGETS } else { &[] };
    let has = |known: &str| words.contains(&known);
    let stems: Vec<&str> = words.iter().map(|word| word.trim_end_matches(|c: char| c.is_ascii_digit())).collect();
    let any = HEADS.iter().chain(own).find(|(known, _)| has(known));
    // A letter alone is a position only with its number.
    let is_meant = |known: &str| stems.contains(&known) && (known.len() > 1 || !has(known));
    any.or_else(|| numbers.iter().find(|(known, _)| is_meant(known))).map(|(_, say)| *say)
}

/// Whether a head of loads is of powder, case or rifle: `Zero (yd)`, `charge (gr)`, and not `rifle velocity` or
/// `powder temp`.
fn is_of_handload(words: &[&str], whole: &str) -> bool {
    let is_far = |word: &str| parse::<Length>(&format!("1 {word}")).is_ok();
    let plainly = HEADS.iter().any(|(word, _)| words.contains(word) && !is_far(word));
    let is_warm = words.contains(&"temp") || words.contains(&"temperature");
    HANDLOADS.iter().any(|word| words.contains(word)) && !speaks(whole, Of::Loads) && !plainly && !is_warm
}

/// A head in lower case without its unit, and the unit: in brackets, or as the last of several words.
fn parted(whole: &str) -> (String, Option<String>) {
    if let Some((name, inside)) = whole.split_once(['(', '[']) {
        let inside = inside.trim_end().trim_end_matches([')', ']']).trim();
        if is_unit(inside) && !name.trim().is_empty() {
            return (name.trim().to_owned(), Some(inside.to_owned()));
        }
    }
    // `checked in` is no length, and `bay C` no temperature.
    let is_plain =
        |word: &str| is_unit(word) && HEADS.iter().chain(&OF_TARGETS).chain(&OF_LOADS).any(|(known, _)| *known == word);
    match whole.trim().rsplit_once(char::is_whitespace) {
        Some((name, word)) if is_plain(word) || parse::<Velocity>(&format!("1 {word}")).is_ok() => {
            (name.trim().to_owned(), Some(word.to_owned()))
        }
        None if is_unit(whole.trim()) && !is_plain(whole.trim()) => (String::new(), Some(whole.trim().to_owned())),
        None if is_plain(whole.trim()) => (whole.to_owned(), Some(whole.trim().to_owned())),
        _ => (whole.to_owned(), None),
    }
}

fn is_unit(word: &str) -> bool {
    let one = format!("1 {}", word.trim());
    !word.is_empty()
        && (parse::<Velocity>(&one).is_ok()
            || parse::<Length>(&one).is_ok()
            || parse::<Energy>(&one).is_ok()
            || parse::<Mass>(&one).is_ok()
            || parse::<Angle>(&one).is_ok()
            || parse::<Temperature>(&one).is_ok())
}

fn is_angle(unit: &str) -> bool {
    parse::<Angle>(&format!("1 {unit}")).is_ok()
}

fn is_length(unit: &str) -> bool {
    parse::<Length>(&format!("1 {unit}")).is_ok()
}

/// What to write with the unit that the head names: `velocity (m/s)`. Where it names none that is known, numbers keep
/// their own.
fn in_its_unit(write: &str, unit: Option<&str>) -> String {
    let one = format!("1 {}", unit.unwrap_or_default());
    let is_speed = parse::<Velocity>(&one).is_ok();
    let is_length = parse::<Length>(&one).is_ok();
    let shown = [("(ft/s)", is_speed), ("(yd)", is_length), ("(in)", is_length)];
    if let (Some(unit), Some((shown, _))) =
        (unit, shown.iter().find(|(shown, is_one)| *is_one && write.contains(shown)))
    {
        return write.replace(shown, &format!("({unit})"));
    }
    let has_unit = [shown.map(|(shown, _)| shown).as_slice(), &["(gr)", "(°F)"]].concat();
    if unit.is_none() && has_unit.iter().any(|shown| write.contains(shown)) {
        return format!("{write}, in the unit that its numbers are in");
    }
    write.to_owned()
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
            "new at",
            "at2",
            "P2",
            "shift",
            "shooter at",
            "loads",
            "ammo",
            "guns",
            "temperature",
            "humidity (%)",
            "pressure",
            "rotated",
            "facing",
            "+P",
            "cal",
            "pill",
            "powder temp",
            "wt",
            "std",
            "ft/s",
            "V3 (ft/s)",
        ] {
            let of = if head.contains("OAL") { Of::Targets } else { Of::Loads };
            assert!(judged_head(head, of, true).or_else(|| judged_head(head, Of::Targets, true)).is_some(), "{head}");
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
            assert!(judged_head(head, Of::Loads, true).is_none(), "{head}");
        }
    }

    #[test]
    fn heads_of_what_is_not_judged_of_a_target_are_told_from_those_of_a_face_a_mount_or_a_line() {
        for head in [
            "bearing (deg)",
            "MOA",
            "hold (mil)",
            "hang height (in)",
            "height above ground (in)",
            "post no",
            "weight (lb)",
            "what to pin up",
            "hits so far",
            "starts",
            "photo no",
        ] {
            assert!(judged_head(head, Of::Targets, head != "what to pin up").is_none(), "{head}");
        }
        for head in ["height (in)", "post", "stand height", "mil steel", "new at", "hold back at"] {
            assert!(judged_head(head, Of::Targets, true).is_some(), "{head}");
        }
        // Who is placed where, and how a stage begins, is no distance.
        for head in ["start", "shooter", "from"] {
            assert!(judged_head(head, Of::Targets, false).is_none(), "{head}");
        }
    }

    #[test]
    fn what_to_do_is_of_the_table_and_in_the_unit_of_the_head() {
        for (head, of, told) in [
            ("V3 (ft/s)", Of::Loads, "mean at the muzzle"),
            ("max fps", Of::Targets, "table of loads"),
            ("distance (yd)", Of::Loads, "table of targets"),
            ("energy (ft-lbf)", Of::Loads, "mean at the muzzle"),
            ("height (ft)", Of::Targets, "`face`"),
            ("grade (deg)", Of::Targets, "`slope (deg)`"),
            ("elevation (ft)", Of::Targets, "[air]"),
            ("altitude (ft)", Of::Targets, "[air]"),
            ("metres", Of::Targets, "`at (metres)`"),
            ("Grains", Of::Loads, "`bullet (gr)`"),
            ("dist (paces)", Of::Targets, "in the unit that its numbers are in"),
            ("V0 (m/s)", Of::Loads, "`velocity (m/s)`"),
        ] {
            let say = judged_head(head, of, true).unwrap_or_default();
            assert!(say.contains(told), "{head}: {say}");
        }
    }
}
