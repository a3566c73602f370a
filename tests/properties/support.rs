//! Cases to draw, and the answers that are compared.

use proptest::prelude::*;
use proptest::test_runner::{Config, RngSeed};
use std::sync::LazyLock;
use thickset::air::{Standard, Weather};
use thickset::drag::{Drag, DragModel};
use thickset::load::{Construction, Facts, Firearm, Load, MuzzleSpread, Spread};
use thickset::plate::{Condition, Duty, Face, Ladder, Mount, Steel};
use thickset::quantity::{Range, unit};
use thickset::rules::{Closest, RuleSet, Setup, Subject, Verdict};
use thickset::spread::{FlightConditions, Flights};

pub static RULES: LazyLock<RuleSet> = LazyLock::new(|| RuleSet::house().expect("the house rules"));
pub static LADDER: LazyLock<Ladder> = LazyLock::new(|| Ladder::builtin().expect("the ladder"));

/// How many cases are drawn: so many, unless the environment says otherwise.
pub fn cases(usual: u32) -> u32 {
    std::env::var("THICKSET_CASES").ok().and_then(|n| n.parse().ok()).unwrap_or(usual)
}

/// Five hundred cases from a fixed seed, unless the environment says otherwise.
pub fn config() -> Config {
    let cases = cases(500);
    let rng_seed = match std::env::var("THICKSET_SEED") {
        Ok(seed) if seed == "free" => RngSeed::Random,
        Ok(seed) => RngSeed::Fixed(seed.parse().expect("THICKSET_SEED is a number or `free`")),
        Err(_) => RngSeed::Fixed(0x51AB),
    };
    // Draws that a property does not speak of are many where it speaks of few.
    let max_global_rejects = cases.saturating_mul(8).max(65_536);
    Config { cases, rng_seed, failure_persistence: None, max_global_rejects, ..Config::default() }
}

/// A load on a target in weather, by plain numbers.
#[derive(Debug, Clone, Copy)]
pub struct Drawn {
    pub grains: f64,
    pub fps: f64,
    pub bc: f64,
    pub g7: bool,
    pub firearm: Firearm,
    pub sd_fps: f64,
    pub coverage: f64,
    pub feet: f64,
    pub fahrenheit: f64,
    pub width_in: f64,
    pub duty: Duty,
    pub mount: Mount,
    pub yards: f64,
}

impl Drawn {
    pub fn load(&self) -> Load {
        let model = if self.g7 { DragModel::G7 } else { DragModel::G1 };
        let facts = Facts {
            name: "drawn".into(),
            cartridge: None,
            firearm: self.firearm,
            construction: Construction::JacketedLead,
            cartridge_unlisted: false,
            steel_core_common: false,
            steel_common: false,
            bullet: unit::GRAIN.of(self.grains),
            diameter: None,
            projectiles: 1,
            muzzle_velocity: unit::FOOT_PER_SECOND.of(self.fps),
            barrel: None,
            drag: Drag::single(model, unit::POUND_PER_SQUARE_INCH.of(self.bc)).expect("a coefficient in bounds"),
            spread: Spread { muzzle: MuzzleSpread::Sd(unit::FOOT_PER_SECOND.of(self.sd_fps)), ..Spread::default() },
            source: "drawn".into(),
        };
        Load::checked("drawn", facts).expect("a load in bounds")
    }

    pub fn setup(&self) -> Setup {
        Setup {
            face: Face::round(unit::INCH.of(self.width_in)).expect("a face"),
            mount: self.mount,
            chain: None,
            duty: self.duty,
            condition: Condition::Sound,
            steel: Steel::Ar500,
            tilt: Some(unit::DEGREE.of(0.0)),
            oblique: unit::DEGREE.of(0.0),
        }
    }

    pub fn conditions(&self) -> FlightConditions {
        let weather = Weather::new(
            Standard::Icao,
            Some(Range::single(unit::FOOT.of(self.feet))),
            Some(Range::single(unit::FAHRENHEIT.of(self.fahrenheit))),
            None,
            None,
        )
        .expect("weather in bounds");
        FlightConditions::new(&weather, unit::DEGREE.of(0.0), unit::ONE.of(self.coverage)).expect("conditions")
    }

    /// Index of the recommended plate; beyond the ladder where there is none. `None` where it does not reach, or falls
    /// so steeply that the face leans too far over to it, which a stricter load relieves.
    pub fn plate(&self, rules: &RuleSet) -> Option<usize> {
        let load = self.load();
        let strike = Flights::new(&load, &self.conditions()).ok()?.strike(unit::YARD.of(self.yards)).ok()?;
        if strike.fall > unit::DEGREE.of(30.0) {
            return None;
        }
        let setup = self.setup();
        let suits =
            |plate: &_| rules.allow(&load, plate, &setup, strike.muzzle).judge(&strike).verdict == Verdict::Suits;
        Some(LADDER.plates().iter().position(suits).unwrap_or(LADDER.plates().len()))
    }

    /// Closest distance in yards on a plate of the ladder; infinite where there is none, and no number where the steep
    /// fall of the bullet is why.
    pub fn closest(&self, rules: &RuleSet, plate: usize) -> f64 {
        let load = self.load();
        let flights = Flights::new(&load, &self.conditions()).expect("flights");
        let allowance = rules.allow(&load, &LADDER.plates()[plate], &self.setup(), flights.muzzle());
        match allowance.closest(&flights) {
            Closest::At { distance, .. } => unit::YARD.value(distance),
            Closest::Never { by } if by.subject == Subject::Lean => f64::NAN,
            Closest::Never { .. } | Closest::BeyondReach { .. } => f64::INFINITY,
        }
    }
}

pub fn drawn() -> impl Strategy<Value = Drawn> {
    let load = (30.0..800.0_f64, 700.0..3400.0_f64, 0.1..0.9_f64, any::<bool>(), firearm(), 1.0..40.0_f64);
    let place = (0.90..0.9999_f64, 0.0..9000.0_f64, -20.0..110.0_f64);
    let target = (2.0..20.0_f64, duty(), mount(), 5.0..1000.0_f64);
    (load, place, target).prop_map(|(load, place, target)| Drawn {
        grains: load.0,
        fps: load.1,
        bc: load.2,
        g7: load.3,
        firearm: load.4,
        sd_fps: load.5,
        coverage: place.0,
        feet: place.1,
        fahrenheit: place.2,
        width_in: target.0,
        duty: target.1,
        mount: target.2,
        yards: target.3,
    })
}

fn firearm() -> impl Strategy<Value = Firearm> {
    prop::sample::select(vec![
        Firearm::Rifle,
        Firearm::Rifle,
        Firearm::Handgun,
        Firearm::PistolCarbine,
        Firearm::RimfireRifle,
        Firearm::RimfirePistol,
        Firearm::Shotgun,
    ])
}

fn duty() -> impl Strategy<Value = Duty> {
    prop::sample::select(vec![Duty::Private, Duty::Match, Duty::Public])
}

fn mount() -> impl Strategy<Value = Mount> {
    prop::sample::select(vec![Mount::OpenHook, Mount::CaptiveHook, Mount::Chain, Mount::Bolted])
}

/// Seeded draws, xorshift64*: the same on every machine and in every run.
pub struct Draws(u64);

impl Draws {
    pub fn seeded() -> Self {
        Self(0x9E37_79B9_7F4A_7C15)
    }

    fn uniform(&mut self) -> f64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        (self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 11) as f64 / (1u64 << 53) as f64
    }

    /// Two standard normal deviates that do not depend on each other.
    pub fn pair(&mut self) -> (f64, f64) {
        let radius = (-2.0 * self.uniform().max(1e-300).ln()).sqrt();
        let angle = std::f64::consts::TAU * self.uniform();
        (radius * angle.cos(), radius * angle.sin())
    }

    /// A standard normal deviate.
    pub fn normal(&mut self) -> f64 {
        self.pair().0
    }
}
