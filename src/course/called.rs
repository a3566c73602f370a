//! Names of loads, shooters and targets that speak against what they are judged as.

use super::Course;
use crate::catalog::Catalog;
use crate::load::{Firearm, Load, spoken_against};
use crate::plate::{Condition, Steel};
use crate::quantity::{Length, Measure, parse, yards_or_metres};
use crate::rules::Setup;
use crate::source::{Diagnostic, clean};
use std::collections::HashMap;

/// A stage's name as it is told from others: without case and double spaces.
pub(super) fn folded(name: &str) -> String {
    name.to_lowercase().split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The names of a match's stages, each as it was first written.
pub(super) struct StageNames(HashMap<String, String>);

impl StageNames {
    pub fn of<'n>(names: impl Iterator<Item = &'n String>) -> Self {
        let mut known = Self(HashMap::new());
        names.for_each(|name| drop(known.called(name)));
        known
    }

    /// The stage that is called so.
    pub fn called(&mut self, name: &str) -> String {
        self.0.entry(folded(name)).or_insert_with(|| name.to_owned()).clone()
    }
}

impl Course {
    /// Cartridges of the ammunition rules that neither the catalogue nor a load brought goes by.
    pub(super) fn unknown_cartridges(&self, catalog: &Catalog) -> Vec<Diagnostic> {
        let loads = self.loads.iter().map(|b| &b.load).chain(self.refused.iter().map(|r| &r.load));
        let own: Vec<&str> = loads.filter_map(|load| load.facts().cartridge.as_deref()).collect();
        let brought = |name: &str| own.iter().any(|own| own.trim().eq_ignore_ascii_case(name.trim()));
        let named = self.admission.0.iter().flat_map(|rule| rule.cartridges.iter().chain(&rule.cartridges_refused));
        let unknown = named.filter(|name| catalog.family(name).is_err() && !brought(name));
        let fault = |name: &String| {
            Diagnostic::plain(format!("no cartridge `{}`, which an ammunition rule names, is listed", clean(name)))
                .help("write it as `thickset catalog cartridges` does, such as `.308 Win`")
        };
        unknown.map(fault).collect()
    }
}

/// Why a load can't be judged as it is described, and what to write.
pub(super) fn unclear(load: &Load) -> Option<(String, &'static str)> {
    let facts = load.facts();
    let name = &facts.name;
    let texts = std::iter::once(name).chain(&facts.cartridge).map(String::as_str);
    if let Some(fault) = spoken_against(facts.construction, texts) {
        return Some(fault);
    }
    let help = "name its firearm: it decides which targets it is shot at";
    (facts.firearm == Firearm::Unknown).then(|| (format!("{name}: what fires it is not known"), help))
}

/// The word of a name that speaks of a plate held rigid.
#[must_use]
pub fn speaks_of_rigid(name: &str) -> Option<String> {
    const STEMS: [&str; 5] = ["bolted", "welded", "rigid", "fixed", "bracket"];
    const WORDS: [&str; 8] = ["post", "posts", "stand", "stands", "standing", "stake", "stakes", "freestanding"];
    let name = name.to_lowercase();
    let mut words = name.split(|c: char| !c.is_alphanumeric());
    let found = words.find(|word| WORDS.contains(word) || STEMS.iter().any(|stem| word.starts_with(stem)));
    found.map(str::to_owned)
}

/// A thickness in a name, as fractions of an inch are written: `1/4 in gong`.
#[must_use]
pub fn thickness_named(name: &str) -> Option<Length> {
    let is_size = |word: &&str| word.split_once('/').is_some_and(|(a, b)| is_count(a) && is_count(b));
    let size = name.split(|c: char| c.is_whitespace() || "(),;".contains(c)).map(|word| word.trim_end_matches('"'));
    let size = size.map(|word| word.trim_end_matches("in").trim_end_matches("\u{2033}")).find(is_size)?;
    parse::<Length>(&format!("{size} in")).ok()
}

/// A distance in a name: `hostage 25 yd`, `50m`.
#[must_use]
pub fn distance_named(name: &str) -> Option<Length> {
    let is_inner = |c: char| c.is_alphanumeric() || c == '.';
    let mut begins = name.char_indices().map(|(at, _)| at).filter(|&at| !name[..at].ends_with(is_inner));
    begins.find_map(|at| yards_or_metres(&name[at..]))
}

fn is_count(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit())
}

/// What a target is judged as where its name, or its stage's, speaks of something else: `sound` of a cracked plate.
#[must_use]
pub fn judged_otherwise(name: &str, setup: &Setup) -> Option<&'static str> {
    const DAMAGE: [&str; 16] = [
        "crack", "crater", "pitted", "bowed", "bent", "dished", "damag", "warp", "dent", "gouge", "hole", "retired",
        "scrap", "condemn", "chipped", "split",
    ];
    const FIXED: [&str; 3] = ["bolted", "welded", "rigid"];
    const SOFT: [&str; 9] = ["mild", "ar400", "ar200", "ar550", "a36", "s355", "s235", "hardox", "boiler"];
    const SOFT_TOGETHER: [&str; 5] = ["ar 400", "ar-400", "ar 550", "ar-550", "unknown steel"];
    const BACK: [&str; 5] = ["leaning back", "leans back", "lean back", "leant back", "tilted back"];
    let name = name.to_lowercase();
    let words: Vec<&str> = name.split(|c: char| !c.is_alphanumeric()).collect();
    let has = |stems: &[&str]| words.iter().any(|word| stems.iter().any(|stem| word.starts_with(stem)));
    let is_spent = has(&DAMAGE) || name.contains("do not use") || name.contains("shot out");
    if setup.condition == Condition::Sound && is_spent {
        return Some("sound");
    }
    if setup.mount.is_free() && has(&FIXED) {
        return Some("hung free");
    }
    if setup.steel == Steel::Ar500 && (has(&SOFT) || SOFT_TOGETHER.iter().any(|words| name.contains(words))) {
        return Some("AR500");
    }
    let leans_back = setup.tilt.is_some_and(|tilt| tilt.si() < 0.0);
    (!leans_back && BACK.iter().any(|back| name.contains(back))).then_some("not leaning back")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::unit;

    #[test]
    fn a_thickness_and_a_distance_are_read_from_a_name() {
        let inches = |name: &str| thickness_named(name).map(|length| unit::INCH.value(length));
        assert_eq!(
            (inches("1/4 in gong"), inches("gong 3/16"), inches("3/8\" plate")),
            (Some(0.25), Some(0.1875), Some(0.375))
        );
        assert_eq!((inches("gong 12 in"), inches("half and half"), inches("a/b")), (None, None, None));
        let yards = |name: &str| distance_named(name).map(|length| unit::YARD.value(length).round());
        assert_eq!(
            (yards("20 yd gong"), yards("front 25yd"), yards("hostage 50m")),
            (Some(20.0), Some(25.0), Some(55.0))
        );
        assert_eq!((yards("gong"), yards("no. 12"), yards("A 3")), (None, None, None));
    }
}
