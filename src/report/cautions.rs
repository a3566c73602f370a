//! The cautions of the trade, as they fit a case. Common practice unless a source stands beside.

use crate::load::{Construction, Load};
use crate::plate::Mount;
use crate::quantity::{Length, unit};
use crate::rules::Setup;

/// What the cautions depend on.
#[derive(Debug, Clone, Copy)]
pub struct Occasion<'a> {
    /// The loads that are shot.
    pub loads: &'a [&'a Load],
    /// The targets that are shot at.
    pub setups: &'a [&'a Setup],
    /// The nearest distance, where one was asked.
    pub nearest: Option<Length>,
}

/// The cautions of an occasion, the most pressing first.
#[must_use]
pub fn of(occasion: &Occasion) -> Vec<String> {
    let mut said: Vec<&str> = vec![
        "Nobody, no car and no chronograph within 20° of the plate's plane: that is where splash goes.",
        "Judge the nearest point a shooter can reach, moving forward or leaning in; kneeling, prone and raised positions change where splash goes.",
    ];
    let free = occasion.setups.iter().any(|s| s.mount.is_free());
    if free {
        said.push("A swinging plate turns its face: let it settle before the next shot.");
    }
    if occasion.setups.iter().any(|s| s.mount == Mount::Chain) {
        said.push("Chain and its links must not be in the line of fire.");
    }
    said.push("Edge, hook, bolt-head and stand hits throw lead anywhere: hide hardware, shoot the front face only, and put no steel base in front.");
    said.push("Frozen ground, ice, rock or concrete under the plate turns splash up.");
    if occasion.loads.iter().any(|l| l.judged_construction() != Construction::Frangible) {
        said.push("Lead dust: wash before you eat.");
    }
    said.push("Retire a cratered, cracked, holed or bowed plate; no weld repair, no torch heat.");
    if occasion.nearest.is_some_and(|d| d < unit::YARD.of(15.0)) {
        said.push("This close, everyone forward of the muzzle line is in the splash.");
    }
    said.push("Demand ranks how hard a hit works the plate; it predicts no perforation.");
    said.push("Thickness is nominal: ASTM A6 allows 0.01 in less.");
    said.into_iter().map(str::to_owned).collect()
}
