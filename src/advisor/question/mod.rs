//! What is asked: data that options, files and JSON all become.
//!
//! Keys are the option names, underscored; a quantity is a text with its unit; unknown keys are refused. What is left
//! out is taken as the house takes it, and listed in the answer's `holds_for`.

#[macro_use]
mod flat;
mod parts;

pub(crate) use parts::{AirPart, SpreadPart, TargetPart};
pub use parts::{Inline, LoadAsked, LoadDescription, Model, OneOrMany, Shot, StandardAir, Target};

use crate::plate::{Condition, Duty, Mount, Steel};
use crate::quantity::{Angle, Given, Length, Pressure, Range, Ratio, Temperature, Velocity, VelocityPerTemperature};
use crate::words::Units;

question! {
    /// Which plate.
    AdviseQuestion: loads spread target air rules hanging words {
        /// Distance to the plate, for every load without one of its own.
        at: OneOrMany<Given<Length>>,
        /// Several targets, each by a name, in place of one.
        targets: Vec<Target>,
        /// Which loads are shot at which of the targets, in place of `load`, `any` and `at`.
        shots: Vec<Shot>,
        /// Thicknesses to choose from; every plate of the ladder where none is given.
        plate: OneOrMany<String>,
        /// Pieces wanted.
        quantity: Option<u32>,
    }
}

question! {
    /// Does this load suit this target.
    VetQuestion: loads spread target air rules words {
        /// Distance to the plate.
        at: Option<Given<Length>>,
        /// The plate: `3/8 in`.
        plate: Option<String>,
        /// A product of the shop's file, in place of the face and the mount.
        product: Option<String>,
        /// The shop's file.
        shop: Option<Inline>,
        /// A falling plate or a popper: tells whether the slow shot topples it.
        kind: Option<crate::plate::Kind>,
        /// Depth of the base of a falling plate.
        base: Option<Given<Length>>,
    }
}

question! {
    /// How close: one load on one plate, or the chart of loads and thicknesses.
    StandoffQuestion: loads spread target air rules words {
        /// Plates; every plate of the ladder where none is given.
        plate: OneOrMany<String>,
        /// Verdicts at a distance instead of closest distances.
        at: Option<Given<Length>>,
        /// A product of the shop's file, in place of the face, the mount and the plates.
        product: Option<String>,
        /// The shop's file.
        shop: Option<Inline>,
        /// Shooters of a match.
        shooters: Option<u32>,
        /// Rounds of each of them.
        rounds: Option<u32>,
        /// Spread of mean velocity between rifles (SD).
        rifle_spread: Option<Given<Velocity>>,
        /// The chance that is accepted.
        risk: Option<Given<Ratio>>,
    }
}

question! {
    /// What arrives at each distance.
    StrikeQuestion: loads spread air words {
        /// First distance.
        from: Option<Given<Length>>,
        /// Last distance.
        to: Option<Given<Length>>,
        /// Distance between rows.
        step: Option<Given<Length>>,
        /// Distances of one's own, in place of `from`, `to` and `step`.
        at: OneOrMany<Given<Length>>,
        /// Slope to the target, uphill positive.
        slope: Option<Given<Angle>>,
    }
}

question! {
    /// A chronograph string to mean, standard deviation and tolerance bound; with a load, how close it may be shot.
    ChronoQuestion: loads spread target air rules words {
        /// The string: readings with their unit, one to a line, or a spreadsheet's CSV.
        readings: String,
        /// Column of a CSV that holds the readings.
        column: Option<String>,
        /// Unit of readings without one: `fps` or `m/s`.
        unit: Option<String>,
        /// Confidence of the bound.
        confidence: Option<Given<Ratio>>,
        /// Plates to give the standoff on.
        plate: OneOrMany<String>,
        /// Name of the load that the string makes.
        id: Option<String>,
    }
}

question! {
    /// A whole match.
    CourseQuestion: rules words {
        /// The match: the file's text or the same object.
        course: Option<Inline>,
        /// The shop's file.
        shop: Option<Inline>,
        /// Loads of one's own, as the file of loads holds them.
        loads: OneOrMany<Inline>,
        /// Threads to judge with.
        threads: Option<usize>,
    }
}

question! {
    /// What is built in or given: loads, cartridges, plates, rules, sources.
    CatalogQuestion: rules words {
        /// What to list.
        what: Listing,
        /// Only entries with all of these words in their names or sources.
        words: OneOrMany<String>,
        /// Only loads, and rules that speak of them, of a class.
        class: Option<crate::load::Class>,
        /// Only loads of a construction.
        of: Option<crate::load::Construction>,
        /// Loads of one's own, as the file of loads holds them.
        loads: OneOrMany<Inline>,
    }
}

/// What can be listed.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum Listing {
    /// The loads that a name asks for.
    #[default]
    Loads,
    /// The cartridges, with what stands for any ammunition of each.
    Cartridges,
    /// The ladder of plates.
    Plates,
    /// The rules, and a range's own where given.
    Rules,
    /// Where the numbers come from.
    Sources,
    /// The keys of every file that a person writes, and what each takes.
    Keys,
}

crate::quantity::text_form!(Listing);

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::accepted;
    use serde_json::Value;
    use std::collections::BTreeSet;

    #[test]
    fn the_schema_of_a_question_has_the_keys_that_its_reader_knows() {
        for (name, read) in [
            ("advise-question", accepted::<AdviseQuestion>()),
            ("standoff-question", accepted::<StandoffQuestion>()),
            ("vet-question", accepted::<VetQuestion>()),
            ("strike-question", accepted::<StrikeQuestion>()),
            ("course-question", accepted::<CourseQuestion>()),
            ("chrono-question", accepted::<ChronoQuestion>()),
        ] {
            let path = format!("{}/data/schema/{name}.json", env!("CARGO_MANIFEST_DIR"));
            let schema: Value = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
            let told: BTreeSet<&str> = schema["properties"].as_object().unwrap().keys().map(String::as_str).collect();
            assert_eq!(read.iter().copied().collect::<BTreeSet<_>>(), told, "{name}");
        }
    }
}
