//! The trade's rules of thumb as cases: common practice, no source.

use super::check::{Check, Status};
use std::sync::Arc;
use thickset::advice::{Case, advise};
use thickset::air::Weather;
use thickset::catalog::Catalog;
use thickset::plate::{Duty, Face, Ladder, Mount};
use thickset::quantity::unit;
use thickset::rules::{RuleSet, Setup};
use thickset::spread::FlightConditions;
use thickset::vet::Question;

const SOURCE: &str = "common practice, no source";

/// Thickness recommended for a shipped load, in inches; 0 where no plate is.
fn inches(id: &str, yards: f64, change: impl Fn(&mut Setup)) -> f64 {
    let rules = RuleSet::house().expect("the house rules");
    let ladder = Ladder::builtin().expect("the ladder");
    let catalog = Catalog::builtin().expect("the catalogue");
    let conditions =
        FlightConditions::new(&Weather::default(), unit::DEGREE.of(0.0), unit::PERCENT.of(99.0)).expect("conditions");
    let mut setup = Setup::hung(Face::round(unit::INCH.of(12.0)).expect("a face"));
    change(&mut setup);
    let question = Question { rules: &rules, ladder: &ladder, setup: &setup, conditions: &conditions };
    let load = Arc::clone(&catalog.load(id).expect("a shipped load").load);
    let case = Case::new(load, question, None, unit::YARD.of(yards)).expect("within reach");
    let advice = advise(ladder.plates(), &[case]).expect("an advice");
    advice.recommended.map_or(0.0, |i| unit::INCH.value(advice.choices[i].plate.thickness))
}

pub fn checks() -> Vec<Check> {
    let plain = |_: &mut Setup| {};
    let mut checks = Vec::new();
    let mut add = |what: &str, expected: f64, got: f64| {
        checks.push(Check::new(format!("{what}, in"), SOURCE, Status::CommonPractice, expected, got, 1e-9));
    };
    add("3/16 serves rimfire at 50 yd", 0.1875, inches("22lr-hv-40", 50.0, plain));
    add("1/4 serves a 9 mm at 10 yd", 0.25, inches("9mm-115", 10.0, plain));
    add("3/8 is the staple: a .308 match load at 100 yd", 0.375, inches("308-168-match", 100.0, plain));
    add("go thinner far out: the same at 1,200 yd", 0.25, inches("308-168-match", 1200.0, plain));
    add("go thicker for a magnum at moderate range", 0.5, inches("300wm-180", 200.0, plain));
    add("no plate for a magnum at 100 yd", 0.0, inches("300wm-180", 100.0, plain));
    add(".338 at 300 yd", 0.5, inches("338lm-250", 300.0, plain));
    add(".50 class at 500 yd", 0.75, inches("50bmg-750", 500.0, plain));
    add(
        "go thicker for a small plate",
        0.5,
        inches("308-168-match", 100.0, |s| {
            s.face = Face::round(unit::INCH.of(4.0)).expect("a face");
        }),
    );
    add("public ranges go thicker", 0.75, inches("308-168-match", 100.0, |s| s.duty = Duty::Public));
    add("bolted rigid wants more than hung free", 0.5, inches("308-168-match", 100.0, |s| s.mount = Mount::Bolted));
    add("a welded bracket suits nothing", 0.0, inches("9mm-115", 10.0, |s| s.mount = Mount::Welded));
    checks
}

#[test]
fn the_rules_of_thumb_of_the_trade_come_out() {
    super::check::assert_all(&checks());
}
