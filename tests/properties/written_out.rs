//! The house rules written out a second time, in plain US units and by another hand than the evaluator's: on any
//! strike the two come to the same verdict. A digit changed in the data shows here.

use super::support::{RULES, cases, config};
use proptest::prelude::*;
use proptest::sample::select;
use proptest::test_runner::Config;
use thickset::drag::{Drag, DragModel};
use thickset::load::{Class, Construction, Facts, Firearm, Load, Spread};
use thickset::plate::{Condition, Duty, Face, Mount, Plate, Steel};
use thickset::quantity::{Range, unit};
use thickset::rules::{Setup, Verdict};
use thickset::strike::Strike;

#[derive(Debug, Clone)]
struct Case {
    firearm: Firearm,
    construction: Construction,
    grains: f64,
    pellets: u32,
    muzzle_fps: f64,
    g1: f64,
    yards: f64,
    fast_fps: f64,
    slow_fps: f64,
    fall_deg: f64,
    /// Thickness in inches, the mill sizes among the nominal ones.
    inches: f64,
    slope_deg: f64,
    width_in: f64,
    duty: Duty,
    mount: Mount,
    condition: Condition,
    steel: Steel,
    tilt_deg: Option<f64>,
    oblique_deg: f64,
}

/// The nominal sizes, mill sizes in mm, and what lies between and beyond.
const THICKNESSES: [f64; 12] =
    [0.1875, 0.25, 0.375, 0.5, 0.75, 4.75 / 25.4, 6.0 / 25.4, 9.5 / 25.4, 12.0 / 25.4, 0.31, 0.125, 1.0];

impl Case {
    fn load(&self) -> Load {
        let facts = Facts {
            name: "drawn".into(),
            cartridge: None,
            firearm: self.firearm,
            construction: self.construction,
            cartridge_unlisted: false,
            steel_core_common: false,
            steel_common: false,
            bullet: unit::GRAIN.of(self.grains),
            diameter: None,
            projectiles: self.pellets,
            muzzle_velocity: unit::FOOT_PER_SECOND.of(self.muzzle_fps),
            barrel: None,
            drag: Drag::single(DragModel::G1, unit::POUND_PER_SQUARE_INCH.of(self.g1)).expect("a coefficient"),
            spread: Spread::default(),
            source: "drawn".into(),
        };
        Load::checked("drawn", facts).expect("a load in bounds")
    }

    fn strike(&self) -> Strike {
        let fps = |speed| unit::FOOT_PER_SECOND.of(speed);
        Strike {
            distance: unit::YARD.of(self.yards),
            muzzle: Range::single(fps(self.muzzle_fps)),
            mean: fps(0.5 * (self.fast_fps + self.slow_fps)),
            mach: 1.5,
            time: unit::SECOND.of(0.1),
            descent: unit::DEGREE.of(self.fall_deg + self.slope_deg),
            fall: unit::DEGREE.of(self.fall_deg),
            steepest: unit::DEGREE.of(self.fall_deg),
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

    /// The classes it is judged as: its firearm's, and a rifle's where no such firearm fires this.
    fn classes(&self) -> Vec<Class> {
        let (muzzle, energy, grains) = (self.muzzle_fps, self.energy(self.muzzle_fps), self.grains);
        let shot = matches!(self.construction, Construction::LeadShot | Construction::SteelShot);
        let lead = matches!(self.construction, Construction::Lead | Construction::LeadShot);
        let rimfire = |class| (class, grains > 60.0 || energy > 450.0);
        let (class, beyond) = match self.firearm {
            Firearm::RimfirePistol => rimfire(Class::RimfirePistol),
            Firearm::RimfireRifle => rimfire(Class::RimfireRifle),
            Firearm::Handgun => (Class::Handgun, false),
            Firearm::PistolCarbine => (Class::PistolCarbine, false),
            Firearm::MuzzleLoader => (Class::MuzzleLoader, muzzle > 2000.0 || !lead),
            Firearm::AirGun => (Class::AirGun, muzzle > 1100.0 || energy > 450.0 || !lead),
            Firearm::Shotgun if shot && grains <= 80.0 => (Class::Shot, muzzle > 1700.0),
            Firearm::Shotgun => (Class::Slug, false),
            // The diameter is not given: any heavy bullet may be a slug, and a light one that is not sleek.
            Firearm::Unknown if grains >= if self.g1 > 0.25 { 190.0 } else { 80.0 } => {
                return vec![Class::Rifle, Class::Slug];
            }
            _ => return vec![Class::Rifle],
        };
        let rifle = beyond || (muzzle > 2000.0 && energy > 400.0) || (self.g1 > 0.25 && class != Class::Slug);
        if rifle { vec![class, Class::Rifle] } else { vec![class] }
    }

    /// The worst of every rule, by the table of the house's numbers; two kinds of borderline are unsuitable.
    fn verdict(&self) -> Verdict {
        let of_classes = |rule: &dyn Fn(Class) -> Verdict| self.classes().into_iter().map(rule).max().expect("a class");
        let kinds = [
            of_classes(&|class| self.floors(class)),
            self.lean(),
            self.turn(),
            self.steel(),
            self.construction(),
            self.pits(),
            if self.mount == Mount::Welded { Verdict::Borderline } else { Verdict::Suits },
        ];
        let others = [self.speeds(), of_classes(&|class| self.thinnest(class)), self.weight_of_the_hit(), self.state()];
        let borderlines = kinds.iter().filter(|v| **v == Verdict::Borderline).count();
        let together = if borderlines >= 2 { Verdict::Unsuitable } else { Verdict::Suits };
        kinds.into_iter().chain(others).max().unwrap_or(Verdict::Suits).max(together)
    }

    fn speeds(&self) -> Verdict {
        let fast = at_most(self.fast_fps, 2850.0, 3000.0);
        if self.yards >= 50.0 || self.construction == Construction::Frangible {
            return fast;
        }
        let bare = matches!(self.construction, Construction::Lead | Construction::LeadShot | Construction::SteelShot);
        fast.max(at_least(self.slow_fps, if bare { 400.0 } else { 650.0 }, 400.0))
    }

    fn floors(&self, class: Class) -> Verdict {
        let (muzzle, energy) = (self.muzzle_fps, self.energy(self.muzzle_fps));
        let mut worst = Verdict::Suits;
        let mut floor = |applies: bool, suits: f64, borderline: f64| {
            if applies {
                worst = worst.max(at_least(self.yards, suits, borderline));
            }
        };
        let rimfire = matches!(class, Class::RimfirePistol | Class::RimfireRifle);
        let small = matches!(class, Class::Handgun | Class::PistolCarbine | Class::AirGun) || rimfire;
        floor(small, 10.0, 8.0);
        floor(class == Class::RimfireRifle && muzzle > 1300.0, 25.0, 10.0);
        floor(class == Class::PistolCarbine && muzzle > 1400.0, 25.0, 10.0);
        floor(class == Class::PistolCarbine && energy > 500.0, 25.0, 15.0);
        floor(class == Class::Handgun && energy > 700.0, 25.0, 15.0);
        floor(matches!(class, Class::Handgun | Class::PistolCarbine) && energy > 1500.0, 50.0, 25.0);
        floor(matches!(class, Class::MuzzleLoader | Class::Rifle), 50.0, 25.0);
        floor(class == Class::Rifle && muzzle > 1100.0, 100.0, if energy > 1500.0 { 75.0 } else { 50.0 });
        floor(class == Class::Slug, 55.0, 50.0);
        floor(class == Class::Shot, 11.0, 7.0);
        floor(class == Class::Shot && self.grains >= 10.0, 25.0, 11.0);
        floor(rimfire && self.inches < 0.94 * 0.25, 50.0, 25.0);
        floor(class == Class::AirGun && energy > 50.0 && self.inches < 0.94 * 0.25, 50.0, 25.0);
        let bullet = class != Class::Shot;
        floor(bullet && muzzle > 1500.0, 25.0, 15.0);
        floor(bullet && (muzzle > 1700.0 || (muzzle > 1600.0 && energy > 600.0)), 50.0, 25.0);
        floor(bullet && muzzle > 2000.0 && energy > 400.0, 100.0, 50.0);
        floor(bullet && (energy > 4000.0 || (energy > 3050.0 && muzzle > 2400.0)), 200.0, 150.0);
        floor(bullet && energy > 5500.0, 300.0, 300.0);
        floor(bullet && energy > 8000.0, 500.0, 500.0);
        worst
    }

    /// A plate counts to 6 % under its nominal thickness.
    fn thinnest(&self, class: Class) -> Verdict {
        let strong_air = self.energy(self.muzzle_fps) > 100.0;
        let least = match class {
            Class::RimfirePistol | Class::RimfireRifle if self.muzzle_fps <= 1400.0 => 0.1875,
            Class::AirGun if !strong_air => 0.1875,
            Class::Slug => 0.375,
            _ => 0.25,
        };
        at_least(self.inches, 0.94 * least, 0.94 * least)
    }

    /// The cap between two rows of the table, on the straight line through them on log paper.
    fn cap(&self) -> f64 {
        const ROWS: [(f64, f64); 5] =
            [(0.1875, 250.0), (0.25, 700.0), (0.375, 2800.0), (0.5, 5000.0), (0.75, 12_000.0)];
        let inches = self.inches.min(0.75);
        if inches < 0.94 * 0.1875 {
            return 0.0;
        }
        let upper = ROWS.iter().position(|row| inches <= row.0).unwrap_or(4).max(1);
        let ((t0, e0), (t1, e1)) = (ROWS[upper - 1], ROWS[upper]);
        let along = (inches.log10() - t0.log10()) / (t1.log10() - t0.log10());
        10.0_f64.powf(e0.log10() + along * (e1.log10() - e0.log10()))
    }

    /// Energy of a projectile over the plate's cap, and demand over its thickness.
    fn shares(&self) -> (f64, f64) {
        let energy = self.energy(self.fast_fps);
        // A lead sphere of the bullet's mass, by lead's density of 0.40968 lb/in³.
        let sphere = (6.0 * self.grains / 7000.0 / (std::f64::consts::PI * 0.409_683)).cbrt();
        (energy / self.cap(), energy.powf(2.0 / 3.0) / (1020.0 * sphere) / self.inches)
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

    fn construction(&self) -> Verdict {
        match self.construction {
            Construction::SteelJacket
            | Construction::SteelCore
            | Construction::ArmourPiercing
            | Construction::Incendiary
            | Construction::Tracer
            | Construction::SteelShot => Verdict::Unsuitable,
            Construction::Monolithic | Construction::Unknown => Verdict::Borderline,
            _ => Verdict::Suits,
        }
    }

    fn steel(&self) -> Verdict {
        let mild = self.muzzle_fps <= 1500.0 && self.energy(self.muzzle_fps) <= 700.0;
        match self.steel {
            Steel::Ar500 => Verdict::Suits,
            Steel::Ar550 if mild => Verdict::Suits,
            Steel::Ar400 if mild => Verdict::Borderline,
            Steel::Ar550 | Steel::Unknown => Verdict::Borderline,
            Steel::Ar400 | Steel::Other => Verdict::Unsuitable,
        }
    }

    fn pits(&self) -> Verdict {
        match self.condition {
            Condition::Pitted if self.yards < 100.0 => Verdict::Unsuitable,
            Condition::Pitted => Verdict::Borderline,
            _ => Verdict::Suits,
        }
    }

    fn state(&self) -> Verdict {
        match self.condition {
            Condition::Sound | Condition::Unknown | Condition::Pitted => Verdict::Suits,
            _ => Verdict::Unsuitable,
        }
    }

    fn lean(&self) -> Verdict {
        let tilt = self.tilt_deg.unwrap_or(0.0);
        let to_sight = tilt - self.slope_deg;
        let least = if self.yards < 50.0 { at_least(to_sight, 0.0, -3.0) } else { at_least(to_sight, -3.0, -7.0) };
        least.max(at_most(tilt + self.fall_deg, 30.0, 45.0))
    }

    fn turn(&self) -> Verdict {
        at_most(self.oblique_deg.abs(), 15.0, if self.yards < 25.0 { 30.0 } else { 45.0 })
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

fn at_least(value: f64, suits: f64, borderline: f64) -> Verdict {
    at_most(-value, -suits, -borderline)
}

fn case() -> impl Strategy<Value = Case> {
    let firearm = select(vec![
        Firearm::RimfirePistol,
        Firearm::RimfireRifle,
        Firearm::Handgun,
        Firearm::PistolCarbine,
        Firearm::Shotgun,
        Firearm::MuzzleLoader,
        Firearm::AirGun,
        Firearm::Unknown,
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
    let load = (
        firearm,
        construction,
        prop_oneof![2..100_u32, 20..800_u32],
        1..12_u32,
        prop_oneof![(60..380_u32).prop_map(|n| n * 10), 600..3800_u32],
    );
    let yards = prop_oneof![
        select(vec![7.0, 8.0, 10.0, 11.0, 15.0, 25.0, 50.0, 55.0, 75.0, 100.0, 150.0, 200.0, 300.0, 500.0]),
        3.0..700.0_f64
    ];
    let slope = prop_oneof![4 => Just(0.0), 1 => select(vec![-20.0, -3.0, 0.5, 3.0, 5.0, 7.0, 12.0])];
    let arrives = (yards, 0.3..1.0_f64, 0.6..1.0_f64, 0.0..20.0_f64, slope, select(vec![0.08, 0.2, 0.25, 0.4]));
    let plate = (select(THICKNESSES.to_vec()), (2..20_u32).prop_map(f64::from), duty(), mount());
    let state = (
        condition(),
        steel(),
        prop::option::of(select(vec![-6.0, -2.0, 0.0, 5.0, 10.0, 25.0, 40.0])),
        select(vec![0.0, 0.0, 15.0, -20.0, 35.0, 50.0]),
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
            g1: arrives.5,
            fall_deg: arrives.3 - arrives.4,
            slope_deg: arrives.4,
            inches: plate.0,
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
            slope_deg: 0.0,
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
    steels.extend([Steel::Unknown, Steel::Other, Steel::Ar550, Steel::Ar550, Steel::Ar400]);
    select(steels)
}

#[test]
fn the_rules_as_data_and_the_rules_written_out_come_to_the_same_verdict() {
    let seen = std::cell::RefCell::new([0_u32; 3]);
    let mut runner = proptest::test_runner::TestRunner::new(Config { cases: cases(2_000), ..config() });
    runner
        .run(&prop_oneof![case(), near_a_limit()], |case| {
            let load = case.load();
            let plate = Plate::new("drawn", unit::INCH.of(case.inches)).expect("a plate");
            let allowance = RULES.allow(&load, &plate, &case.setup(), case.strike().muzzle);
            let (got, expected) = (allowance.judge(&case.strike()), case.verdict());
            let worst = allowance.findings(&case.strike()).iter().map(|f| f.verdict).max();
            prop_assert_eq!(worst, Some(got.verdict));
            seen.borrow_mut()[expected as usize] += 1;
            prop_assert_eq!(got.verdict, expected, "{:?}", got.rule.map(|r| &r.id));
            Ok(())
        })
        .unwrap_or_else(|e| panic!("{e}"));
    let seen = seen.into_inner();
    assert!(seen.iter().all(|n| *n > 60), "too few of some verdict: {seen:?}");
}
