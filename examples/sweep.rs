//! Prints the extremes of every number about a plate that is printed, over the catalogue, faces, distances, plates and
//! mounts, each with the case it comes from, so that an experienced eye can look for what it would not believe.
//!
//! `cargo run --release --example sweep`

use std::collections::BTreeMap;
use thickset::air::Weather;
use thickset::catalog::Catalog;
use thickset::load::Load;
use thickset::plate::{Face, Ladder, Plate};
use thickset::quantity::{Length, Measure, unit};
use thickset::reaction::ring::{self, Mode};
use thickset::reaction::sight::{self, SpottingRange};
use thickset::reaction::swing::{Pendulum, Suspension, Swing};
use thickset::reaction::{Hit, Reaction, pattern};
use thickset::rules::{RuleSet, Setup, demand};
use thickset::shop::Material;
use thickset::spread::{FlightConditions, Flights};
use thickset::strike::Strike;

const FACES: &[&str] = &["4in", "6in", "8in", "12in", "18in", "24in", "12x20in", "18x30in", "9x42in"];
const YARDS: &[f64] = &[10.0, 25.0, 50.0, 100.0, 200.0, 300.0, 600.0, 1000.0];
const GLASS: f64 = 20.0;

type Fault = Box<dyn std::error::Error>;

/// The least and the most of a number, with where they come from.
struct Extremes {
    least: (f64, String),
    most: (f64, String),
    count: u64,
    unit: &'static str,
}

#[derive(Default)]
struct Sweep {
    numbers: BTreeMap<&'static str, Extremes>,
}

impl Sweep {
    fn see(&mut self, what: &'static str, unit: &'static str, value: f64, case: impl Fn() -> String) {
        if !value.is_finite() {
            return;
        }
        let seen = self.numbers.entry(what).or_insert_with(|| Extremes {
            least: (value, case()),
            most: (value, case()),
            count: 0,
            unit,
        });
        seen.count += 1;
        if value < seen.least.0 {
            seen.least = (value, case());
        }
        if value > seen.most.0 {
            seen.most = (value, case());
        }
    }

    fn print(&self) {
        for (what, seen) in &self.numbers {
            println!("{what}, {}, of {}", seen.unit, seen.count);
            println!("  least {:>12.4}  {}", seen.least.0, seen.least.1);
            println!("  most  {:>12.4}  {}", seen.most.0, seen.most.1);
        }
    }
}

/// A face with what of it does not change with the load.
struct Target {
    face: Face,
    plates: Vec<(Plate, Option<Vec<Mode>>)>,
}

fn main() -> Result<(), Fault> {
    let (catalog, ladder, rules) = (Catalog::builtin()?, Ladder::builtin()?, RuleSet::house()?);
    let conditions = FlightConditions::new(&Weather::default(), unit::DEGREE.of(0.0), unit::PERCENT.of(99.0))?;
    let mut sweep = Sweep::default();
    let targets = targets(&ladder, &mut sweep)?;
    for entry in catalog.entries() {
        let load = &entry.load;
        let flights = Flights::new(load, &conditions)?;
        if let Some(carry) = flights.carry() {
            sweep.see("carry of a miss, about", "yd", unit::YARD.value(carry.about), || load.id().into());
            sweep.see("carry of a miss, to keep clear", "yd", unit::YARD.value(carry.keep_clear), || load.id().into());
        }
        closest(&mut sweep, load, &flights, &rules, &ladder)?;
        for &yards in YARDS {
            let Ok(strike) = flights.strike(unit::YARD.of(yards)) else { continue };
            arrival(&mut sweep, load, &strike);
            for target in &targets {
                hits(&mut sweep, load, &flights, &strike, target);
            }
        }
    }
    sweep.print();
    Ok(())
}

fn targets(ladder: &Ladder, sweep: &mut Sweep) -> Result<Vec<Target>, Fault> {
    let mut targets = Vec::new();
    for text in FACES {
        let face: Face = text.parse()?;
        for plate in ladder.plates() {
            let case = || format!("{face}, {}", plate.label);
            let material = Material::of(&face, plate, None);
            sweep.see("mass", "lb", unit::POUND.value(material.mass), case);
            sweep.see("plates from a sheet", "", f64::from(material.per_sheet[0]), case);
            sweep.see("share of the sheet", "%", 100.0 * material.utilisation, case);
            sweep.see("plates carried", "", f64::from(material.carried), case);
            sweep.see("length of cut", "in", unit::INCH.value(material.cut), case);
        }
        let plates = ladder.plates().iter().map(|plate| (plate.clone(), ring::modes(&face, plate))).collect();
        targets.push(Target { face, plates });
    }
    Ok(targets)
}

fn closest(sweep: &mut Sweep, load: &Load, flights: &Flights, rules: &RuleSet, ladder: &Ladder) -> Result<(), Fault> {
    let setup = Setup::hung("12in".parse()?);
    for plate in ladder.plates() {
        if let Some(distance) = rules.allow(load, plate, &setup, flights.muzzle()).closest(flights).distance() {
            let case = || format!("{}, {}", load.id(), plate.label);
            sweep.see("closest distance", "yd", unit::YARD.value(distance), case);
        }
    }
    Ok(())
}

fn arrival(sweep: &mut Sweep, load: &Load, strike: &Strike) {
    let case = || at(load, strike.distance);
    let feet = |v| unit::FOOT_PER_SECOND.value(v);
    sweep.see("speed of the mean shot", "ft/s", feet(strike.mean), case);
    sweep.see("speed of the fast shot over the mean", "ft/s", feet(strike.fast - strike.mean), case);
    sweep.see("speed of the slow shot under the mean", "ft/s", feet(strike.mean - strike.slow), case);
    sweep.see("energy of a projectile", "ft·lbf", unit::FOOT_POUND.value(load.energy(strike.mean)), case);
    let thickness = demand::thickness(load.energy(strike.fast), load.facts().bullet);
    sweep.see("demand", "in", unit::INCH.value(thickness), case);
    sweep.see("fall of the path", "deg", unit::DEGREE.value(strike.fall), case);
    sweep.see("time of flight", "s", strike.time.si(), case);
}

fn hits(sweep: &mut Sweep, load: &Load, flights: &Flights, strike: &Strike, target: &Target) {
    let face = &target.face;
    let hit = Hit::of(load, strike, face, None, unit::DEGREE.of(0.0));
    let case = || format!("{}, {face}", at(load, strike.distance));
    let share = pattern::most(load, face, strike.distance).si();
    if load.facts().projectiles > 1 {
        sweep.see("share of a shot pattern", "%", 100.0 * share, case);
    }
    for (plate, modes) in &target.plates {
        for (mount, hung) in mounts() {
            let Some(reaction) = Reaction::with_ring(face, plate, hung, &[hit], GLASS, modes.as_deref()) else {
                continue;
            };
            react(sweep, &reaction, || format!("{}, {}, {mount}", case(), plate.label));
        }
        // How far a swing is seen is asked of the load, not of the distance.
        if strike.distance == unit::YARD.of(YARDS[0]) {
            let pendulum = Pendulum::hung(face, plate, Suspension::Hooks);
            let spotting = sight::spotting(&pendulum, face, load, flights, hit.incidence, GLASS);
            for (what, range) in [("visible by day to", spotting.by_day), ("visible at best to", spotting.at_best)] {
                let yards = match range {
                    SpottingRange::To(far) | SpottingRange::AllTheWay(far) => unit::YARD.value(far),
                    SpottingRange::Nowhere => 0.0,
                };
                sweep.see(what, "yd", yards, || format!("{}, {}", case(), plate.label));
            }
        }
    }
}

fn mounts() -> [(&'static str, Suspension); 3] {
    let chain = |inches| Suspension::Chain(unit::INCH.of(inches));
    [("hooks", Suspension::Hooks), ("6 in of chain", chain(6.0)), ("24 in of chain", chain(24.0))]
}

fn react(sweep: &mut Sweep, reaction: &Reaction, case: impl Fn() -> String + Copy) {
    // Over or flipped is told in a word; here it stands as half a turn.
    let degrees = |swing: Swing| swing.angle().map_or(180.0, |angle| unit::DEGREE.value(angle));
    for (what, swing) in [
        ("swing of a hit at the centre", reaction.swing),
        ("swing of a low hit", reaction.swing_low),
        ("swing of the edge case", reaction.edge.swing),
        ("turn of the face", reaction.turn),
    ] {
        sweep.see(what, "deg", degrees(swing), case);
    }
    let word = |yes: bool| if yes { 100.0 } else { 0.0 };
    sweep.see("thrown over its hangers", "yes 100, no 0", word(reaction.thrown_over()), case);
    sweep.see("leaves an open hook", "yes 100, no 0", word(reaction.leaves_open_hook()), case);
    sweep.see("rise of the centre", "in", unit::INCH.value(reaction.centre_rise), case);
    sweep.see("speed of the plate", "ft/s", unit::FOOT_PER_SECOND.value(reaction.plate_speed), case);
    sweep.see("period", "s", reaction.period.si(), case);
    sweep.see("twist", "rad/s", reaction.twist, case);
    sweep.see("motion seen", "arc seconds", 60.0 * unit::ARCMINUTE.value(reaction.seen.motion), case);
    if let Some(pitch) = reaction.pitch() {
        sweep.see("pitch", "Hz", pitch.si(), case);
    }
}

fn at(load: &Load, distance: Length) -> String {
    format!("{} at {:.0} yd", load.id(), unit::YARD.value(distance))
}
