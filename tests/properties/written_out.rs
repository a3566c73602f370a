//! The house rules written out a second time, in plain US units and by another hand than the evaluator's: on any
//! strike the two come to the same verdict. A digit changed in the data shows here.

use super::support::{RULES, config};
use proptest::prelude::*;
use proptest::sample::select;
use thickset::drag::{Drag, DragModel};
use thickset::load::{Class, Construction, Facts, Firearm, Load, Spread};
use thickset::plate::{Condition, Duty, Face, Ladder, Mount, Plate, Steel};
use thickset::quantity::unit;
use thickset::rules::{Setup, Verdict};
use thickset::strike::Strike;

#[derive(Debug, Clone)]
struct Case {
    firearm: Firearm,
    construction: Construction,
    grains: f64,
    pellets: u32,
    muzzle_fps: f64,
    yards: f64,
    fast_fps: f64,
    slow_fps: f64,
    fall_deg: f64,
    plate: usize,
    width_in: f64,
    duty: Duty,
    mount: Mount,
    condition: Condition,
    steel: Steel,
    tilt_deg: Option<f64>,
    oblique_deg: f64,
}

const THICKNESSES: [f64; 5] = [0.1875, 0.25, 0.375, 0.5, 0.75];

impl Case {
    fn load(&self) -> Load {
        let facts = Facts {
            name: "drawn".into(),
            cartridge: None,
            firearm: self.firearm,
            construction: self.construction,
            steel_core_common: false,
            steel_common: false,
            bullet: unit::GRAIN.of(self.grains),
            diameter: None,
            projectiles: self.pellets,
            muzzle_velocity: unit::FOOT_PER_SECOND.of(self.muzzle_fps),
            barrel: None,
            drag: Drag::single(DragModel::G1, unit::POUND_PER_SQUARE_INCH.of(0.3)).expect("a coefficient"),
            spread: Spread::default(),
            source: "drawn".into(),
        };
        Load::checked("drawn", facts).expect("a load in bounds")
    }

    fn strike(&self) -> Strike {
        let fps = |speed| unit::FOOT_PER_SECOND.of(speed);
        Strike {
            distance: unit::YARD.of(self.yards),
            mean: fps(0.5 * (self.fast_fps + self.slow_fps)),
            mach: 1.5,
            time: unit::SECOND.of(0.1),
            descent: unit::DEGREE.of(self.fall_deg),
            fall: unit::DEGREE.of(self.fall_deg),
            fast: fps(self.fast_fps),
            slow: fps(self.slow_fps),
        }
    }

    fn setup(&self) -> Setup {
        Setup {
            face: Face::round(unit::INCH.of(self.width_in)).expect("a face"),
            mount: self.mount,
            duty: self.duty,
            condition: self.condition,
            steel: self.steel,
            tilt: self.tilt_deg.map(|degrees| unit::DEGREE.of(degrees)),
            oblique: unit::DEGREE.of(self.oblique_deg),
            chain: None,
        }
    }

    /// ft·lbf of one projectile: weight in pounds over twice the acceleration of gravity, 32.17405 ft/s².
    fn energy(&self, fps: f64) -> f64 {
        self.grains / 7000.0 * fps * fps / (2.0 * 32.174_048_56)
    }

    /// The worst of every rule, by the table of the house's numbers.
    fn verdict(&self, class: Class) -> Verdict {
        let parts = [
            self.speeds(),
            self.floors(class),
            self.floors_of_fast_bullets(),
            self.thinnest(class),
            self.weight_of_the_hit(),
            self.never_or_not_known(),
            self.stand(),
        ];
        parts.into_iter().max().unwrap_or(Verdict::Suits)
    }

    fn speeds(&self) -> Verdict {
        let fast = at_most(self.fast_fps, 2850.0, 3000.0);
        let near = self.yards < 50.0 && self.construction != Construction::Frangible;
        if near && self.slow_fps < 400.0 { fast.max(Verdict::Borderline) } else { fast }
    }

    fn floors(&self, class: Class) -> Verdict {
        let (muzzle, energy) = (self.muzzle_fps, self.energy(self.muzzle_fps));
        let from = |yards| at_least(self.yards, yards);
        let light = muzzle <= 1500.0 && energy <= 500.0;
        match class {
            Class::RimfirePistol => from(10.0).max(self.fast_rimfire()),
            Class::RimfireRifle | Class::PistolCarbine => {
                let near = if light && self.yards >= 10.0 { Verdict::Borderline } else { Verdict::Unsuitable };
                let own = if self.yards >= 25.0 { Verdict::Suits } else { near };
                let heavy = if class == Class::PistolCarbine && energy > 1500.0 { from(50.0) } else { Verdict::Suits };
                own.max(heavy).max(if class == Class::RimfireRifle { self.fast_rimfire() } else { Verdict::Suits })
            }
            Class::Handgun if energy > 1500.0 => from(50.0),
            Class::Handgun if energy > 700.0 => from(25.0),
            Class::Handgun => from(10.0),
            Class::Shot => from(11.0),
            Class::Slug => from(55.0),
            Class::MuzzleLoader | Class::AirGun => Verdict::Unsuitable,
            Class::Rifle if energy > 8000.0 => from(500.0),
            Class::Rifle if energy > 5500.0 => from(300.0),
            Class::Rifle if energy > 4500.0 || (energy > 3050.0 && muzzle > 2400.0) => from(200.0),
            Class::Rifle if muzzle > 1100.0 => from(100.0),
            Class::Rifle => from(50.0),
        }
    }

    fn fast_rimfire(&self) -> Verdict {
        if self.muzzle_fps > 1700.0 { at_least(self.yards, 50.0) } else { Verdict::Suits }
    }

    fn floors_of_fast_bullets(&self) -> Verdict {
        if self.muzzle_fps > 2000.0 && self.energy(self.muzzle_fps) > 250.0 {
            at_least(self.yards, 100.0)
        } else if self.muzzle_fps > 1500.0 {
            at_least(self.yards, 25.0)
        } else {
            Verdict::Suits
        }
    }

    fn thinnest(&self, class: Class) -> Verdict {
        let inches = THICKNESSES[self.plate];
        let least = match class {
            Class::RimfirePistol | Class::RimfireRifle if self.muzzle_fps <= 1400.0 && self.yards >= 50.0 => 0.1875,
            Class::Slug => 0.375,
            _ => 0.25,
        };
        let class_floor = at_least(inches, least);
        let large = if self.energy(self.muzzle_fps) > 8000.0 { at_least(inches, 0.5) } else { Verdict::Suits };
        class_floor.max(large)
    }

    /// Energy over the plate's cap, and demand over its thickness.
    fn shares(&self) -> (f64, f64) {
        let inches = THICKNESSES[self.plate];
        let cap = [250.0, 700.0, 2800.0, 5000.0, 12_000.0][self.plate];
        let energy = self.energy(self.fast_fps);
        // A lead sphere of the bullet's mass, by lead's density of 0.40968 lb/in³.
        let sphere = (6.0 * self.grains / 7000.0 / (std::f64::consts::PI * 0.409_683)).cbrt();
        let demand = energy.powf(2.0 / 3.0) / (1020.0 * sphere) / inches;
        (energy * f64::from(self.pellets) / cap, demand)
    }

    /// The duty's factor, and the others'.
    fn factors(&self) -> (f64, f64) {
        let duty = match self.duty {
            Duty::Private => 1.0,
            Duty::Match => 1.15,
            Duty::Public => 1.4,
        };
        let held = if matches!(self.mount, Mount::Bolted | Mount::Welded) { 1.2 } else { 1.0 };
        let small = if self.width_in < 6.0 { 1.0 + (6.0 - self.width_in) / 8.0 } else { 1.0 };
        (duty, held * small)
    }

    fn weight_of_the_hit(&self) -> Verdict {
        let ((energy, demand), (duty, others)) = (self.shares(), self.factors());
        let share = energy.max(demand) * others;
        if share * duty <= 1.0 {
            Verdict::Suits
        } else if share <= 1.1 {
            Verdict::Borderline
        } else {
            Verdict::Unsuitable
        }
    }

    fn never_or_not_known(&self) -> Verdict {
        let bullet = match self.construction {
            Construction::SteelJacket
            | Construction::SteelCore
            | Construction::ArmourPiercing
            | Construction::Incendiary
            | Construction::Tracer
            | Construction::SteelShot => Verdict::Unsuitable,
            Construction::Monolithic | Construction::Unknown => Verdict::Borderline,
            _ => Verdict::Suits,
        };
        let steel = match self.steel {
            Steel::Ar500 => Verdict::Suits,
            Steel::Unknown | Steel::Ar550 | Steel::Ar400 => Verdict::Borderline,
            Steel::Other => Verdict::Unsuitable,
        };
        let rifle = self.firearm == Firearm::Rifle;
        let state = match self.condition {
            Condition::Sound | Condition::Unknown => Verdict::Suits,
            Condition::Pitted if rifle => Verdict::Suits,
            Condition::Pitted => at_least(self.yards, 100.0),
            _ => Verdict::Unsuitable,
        };
        bullet.max(steel).max(state)
    }

    fn stand(&self) -> Verdict {
        let lean = at_least(self.tilt_deg.unwrap_or(0.0) + self.fall_deg, 0.0);
        let turned = if self.oblique_deg > 15.0 && self.yards < 50.0 { Verdict::Borderline } else { Verdict::Suits };
        let welded = if self.mount == Mount::Welded { Verdict::Borderline } else { Verdict::Suits };
        lean.max(turned).max(welded)
    }
}

fn at_most(value: f64, suits: f64, borderline: f64) -> Verdict {
    if value <= suits {
        Verdict::Suits
    } else if value <= borderline {
        Verdict::Borderline
    } else {
        Verdict::Unsuitable
    }
}

fn at_least(value: f64, floor: f64) -> Verdict {
    if value >= floor { Verdict::Suits } else { Verdict::Unsuitable }
}

fn case() -> impl Strategy<Value = Case> {
    let firearm = select(vec![
        Firearm::RimfirePistol,
        Firearm::RimfireRifle,
        Firearm::Handgun,
        Firearm::PistolCarbine,
        Firearm::Shotgun,
        Firearm::Rifle,
        Firearm::Rifle,
    ]);
    let construction = select(vec![
        Construction::Lead,
        Construction::JacketedLead,
        Construction::JacketedLead,
        Construction::JacketedLead,
        Construction::Plated,
        Construction::Frangible,
        Construction::LeadShot,
        Construction::Monolithic,
        Construction::Unknown,
        Construction::SteelJacket,
        Construction::SteelCore,
        Construction::ArmourPiercing,
        Construction::Incendiary,
        Construction::Tracer,
        Construction::SteelShot,
    ]);
    // Whole numbers hit the limits themselves now and then.
    let load =
        (firearm, construction, 20..800_u32, 1..12_u32, prop_oneof![(60..380_u32).prop_map(|n| n * 10), 600..3800_u32]);
    let yards = prop_oneof![select(vec![10.0, 11.0, 25.0, 50.0, 55.0, 100.0, 200.0, 300.0, 500.0]), 3.0..700.0_f64];
    let arrives = (yards, 0.3..1.0_f64, 0.6..1.0_f64, -20.0..20.0_f64);
    let plate = (0..5_usize, (2..20_u32).prop_map(f64::from), duty(), mount());
    let state = (
        condition(),
        steel(),
        prop::option::of(select(vec![0.0, 5.0, 10.0, 25.0, 40.0])),
        select(vec![0.0, 15.0, 20.0]),
    );
    (load, arrives, plate, state).prop_map(|(load, arrives, plate, state)| {
        let (firearm, mut construction, grains, pellets, muzzle) = load;
        let shot = matches!(construction, Construction::LeadShot | Construction::SteelShot);
        if shot && firearm != Firearm::Shotgun {
            construction = Construction::JacketedLead;
        }
        let charge = shot && firearm == Firearm::Shotgun;
        let fast_fps = (f64::from(muzzle) * arrives.1 * 1.02).round();
        Case {
            firearm,
            construction,
            grains: f64::from(grains),
            pellets: if charge { pellets } else { 1 },
            muzzle_fps: f64::from(muzzle),
            yards: arrives.0,
            fast_fps,
            slow_fps: (fast_fps * arrives.2).round(),
            fall_deg: arrives.3,
            plate: plate.0,
            width_in: plate.1,
            duty: plate.2,
            mount: plate.3,
            condition: state.0,
            steel: state.1,
            tilt_deg: state.2,
            oblique_deg: state.3,
        }
    })
}

/// Nothing but the weight of the hit counts, and it lies near one of its limits.
fn near_a_limit() -> impl Strategy<Value = Case> {
    let limit = prop_oneof![0.985..1.015_f64, 1.085..1.115_f64];
    (case(), 60.0..800.0_f64, limit, any::<bool>()).prop_map(|(case, grains, limit, with_duty)| {
        let mut case = Case {
            firearm: Firearm::Rifle,
            construction: Construction::JacketedLead,
            grains,
            pellets: 1,
            muzzle_fps: 2850.0,
            yards: 600.0,
            fast_fps: 2000.0,
            slow_fps: 1000.0,
            fall_deg: 5.0,
            condition: Condition::Sound,
            steel: Steel::Ar500,
            tilt_deg: None,
            ..case
        };
        let ((energy, demand), (duty, others)) = (case.shares(), case.factors());
        let factor = if with_duty { duty * others } else { others };
        // The speed at which the heavier of the two lies at the limit: energy goes with v², demand with v^(4/3).
        let by_energy = (limit / (energy * factor)).sqrt();
        let by_demand = (limit / (demand * factor)).powf(0.75);
        case.fast_fps = (2000.0 * by_energy.min(by_demand)).min(2850.0);
        case
    })
}

fn duty() -> impl Strategy<Value = Duty> {
    select(vec![Duty::Private, Duty::Private, Duty::Match, Duty::Public])
}

fn mount() -> impl Strategy<Value = Mount> {
    select(vec![Mount::OpenHook, Mount::OpenHook, Mount::CaptiveHook, Mount::Chain, Mount::Bolted, Mount::Welded])
}

fn condition() -> impl Strategy<Value = Condition> {
    let mut states = vec![Condition::Sound; 8];
    states.extend([Condition::Unknown, Condition::Pitted, Condition::Cratered, Condition::Cracked, Condition::Holed]);
    states.push(Condition::Bowed);
    select(states)
}

fn steel() -> impl Strategy<Value = Steel> {
    let mut steels = vec![Steel::Ar500; 8];
    steels.extend([Steel::Unknown, Steel::Other]);
    select(steels)
}

fn plates() -> Vec<Plate> {
    let ladder = Ladder::builtin().expect("the ladder");
    let plates = ladder.plates().to_vec();
    assert!(plates.iter().zip(THICKNESSES).all(|(p, inches)| (unit::INCH.value(p.thickness) - inches).abs() < 1e-12));
    plates
}

#[test]
fn the_rules_as_data_and_the_rules_written_out_come_to_the_same_verdict() {
    let (plates, seen) = (plates(), std::cell::RefCell::new([0_u32; 3]));
    let mut runner = proptest::test_runner::TestRunner::new(config());
    runner
        .run(&prop_oneof![case(), near_a_limit()], |case| {
            let load = case.load();
            let got = RULES.allow(&load, &plates[case.plate], &case.setup()).judge(&case.strike());
            let expected = load.judged_as().map(|class| case.verdict(class)).max().expect("a class");
            seen.borrow_mut()[expected as usize] += 1;
            prop_assert_eq!(got.verdict, expected, "{:?}", got.rule.map(|r| &r.id));
            Ok(())
        })
        .unwrap_or_else(|e| panic!("{e}"));
    let seen = seen.into_inner();
    assert!(seen.iter().all(|n| *n > 300), "too few of some verdict: {seen:?}");
}
