//! The things of the domain as the facts of an answer.

use super::answer::{AirFacts, AppliedRule, Band, ConditionsFacts, Gains, LoadFacts, PlateName, SetupFacts, StrikeRow};
use super::say;
use crate::air::Air;
use crate::load::{Load, MuzzleSpread};
use crate::plate::Plate;
use crate::quantity::{Degrees, Number, Range, Si};
use crate::rules::{Rule, Setup};
use crate::source::clean;
use crate::spread::{self, FlightConditions};
use crate::strike::Strike;
use crate::words::Units;

pub(crate) fn load(load: &Load) -> LoadFacts {
    let facts = load.facts();
    LoadFacts {
        id: load.id().to_owned(),
        name: facts.name.clone(),
        cartridge: facts.cartridge.clone(),
        firearm: facts.firearm,
        class: load.class(),
        construction: facts.construction,
        bullet: Si(facts.bullet),
        diameter: facts.diameter.map(Si),
        projectiles: facts.projectiles,
        muzzle_velocity: Si(facts.muzzle_velocity),
        velocity_sd: Si(load.velocity_sd()),
        tolerance_factor: match facts.spread.muzzle {
            MuzzleSpread::Bound { factor, .. } => Some(Number(factor)),
            MuzzleSpread::Assumed | MuzzleSpread::Sd(_) => None,
        },
        slow_margin: Si(facts.spread.slow_margin),
        bc_sd: Si(load.bc_sd()),
        velocity_temperature_slope: Si(load.temperature_slope()),
        measured_at: Si(load.measured_at()),
        drag: facts.drag.model().to_string(),
        bc: Some(facts.drag.bands().iter().map(|b| Band { above: Si(b.above), bc: Si(b.bc) }).collect()),
        source: facts.source.clone(),
    }
}

pub(crate) fn plate(plate: &Plate) -> PlateName {
    PlateName { label: clean(&plate.label), thickness: Si(plate.thickness) }
}

pub(crate) fn setup(setup: &Setup, units: Units) -> SetupFacts {
    SetupFacts {
        face: say::face(&setup.face, units),
        mount: setup.mount,
        chain: setup.chain.map(Si),
        duty: setup.duty,
        condition: setup.condition,
        steel: setup.steel,
        tilt: setup.tilt.map(Degrees),
        oblique: Degrees(setup.oblique),
    }
}

fn air(air: &Air) -> AirFacts {
    AirFacts {
        density: Si(air.density()),
        sound_speed: Si(air.sound_speed()),
        temperature: Si(air.temperature()),
        pressure: Si(air.pressure()),
    }
}

/// The air at the ground in words.
pub(crate) fn air_words(air: &Air, units: Units) -> String {
    if units == Units::Us {
        return air.to_string();
    }
    let pressure = units.pressures(Range { low: air.pressure(), high: air.pressure() });
    format!(
        "{}, {pressure} at the station, at {}",
        units.temperature(air.temperature()),
        units.altitude(air.altitude())
    )
}

pub(crate) fn conditions(conditions: &FlightConditions, units: Units) -> ConditionsFacts {
    ConditionsFacts {
        thin_air: air_words(conditions.thin(), units),
        dense_air: air_words(conditions.dense(), units),
        thin: air(conditions.thin()),
        dense: air(conditions.dense()),
        slope: Degrees(conditions.slope()),
        coverage: Si(conditions.coverage()),
    }
}

/// What arrives, all projectiles of a shot.
pub(crate) fn strike(load: &Load, strike: &Strike) -> StrikeRow {
    StrikeRow {
        distance: Si(strike.distance),
        speed: Si(strike.mean),
        mach: Number(strike.mach),
        energy: Si(load.charge_energy(strike.mean)),
        momentum: Si(load.charge_momentum(strike.mean)),
        time: Si(strike.time),
        descent: Degrees(strike.descent),
        fast_speed: Si(strike.fast),
        fast_energy: Si(load.charge_energy(strike.fast)),
        slow_speed: Si(strike.slow),
        fast_gains: None,
        projectiles: load.facts().projectiles,
    }
}

pub(crate) fn gains(gains: &spread::Gains) -> Gains {
    Gains { weather: Si(gains.weather), muzzle: Si(gains.muzzle), bc: Si(gains.coefficient) }
}

/// A rule that applied, each once.
pub(crate) fn applied(rules: &mut Vec<AppliedRule>, rule: &Rule) {
    let known = rules.iter().any(|r| r.id == rule.id && r.overlay.as_deref() == rule.overlay.as_deref());
    if !known {
        rules.push(AppliedRule { id: clean(&rule.id), overlay: rule.overlay.as_deref().map(clean) });
    }
}
