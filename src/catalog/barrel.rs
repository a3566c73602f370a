//! A catalogue velocity moved to another barrel.

use crate::load::{Class, Firearm, Load, LoadError};
use crate::quantity::{Length, Measure, Velocity, show, unit};
use thiserror::Error;

/// What keeps a velocity from being moved.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum BarrelError {
    /// The load does not say what barrel its velocity is for.
    #[error("load `{load}` does not say what barrel its velocity is stated for")]
    Unknown {
        /// The load's name.
        load: String,
    },
    /// The moved load is out of bounds.
    #[error(transparent)]
    Load(#[from] LoadError),
}

impl BarrelError {
    /// What to write instead.
    #[must_use]
    pub fn help(&self) -> String {
        match self {
            Self::Unknown { .. } => {
                "give the velocity from your own barrel with `--velocity`, and leave `--barrel` out".into()
            }
            Self::Load(error) => error.help(),
        }
    }
}

/// Gain per inch of longer barrel, and loss per inch of shorter, ft/s (house assumption: more gain and
/// less loss than is usual, so that the moved velocity errs on the fast side).
fn slopes(class: Class) -> (f64, f64) {
    match class {
        Class::Rifle | Class::Shot | Class::Slug | Class::RimfireRifle | Class::MuzzleLoader | Class::AirGun => {
            (30.0, 15.0)
        }
        Class::Handgun | Class::PistolCarbine | Class::RimfirePistol => (60.0, 10.0),
    }
}

/// The longest barrel, in, of what is judged as a pistol or revolver (house assumption).
const LONGEST_PISTOL_BARREL_IN: f64 = 10.0;

/// What the load counts as fired from with the other barrel: a pistol's load from a long barrel is a long
/// gun's, whose distances are the stricter ones. A long gun with a short barrel stays one.
fn firearm(load: &Load, barrel: Length) -> Firearm {
    let long = unit::INCH.value(barrel) > LONGEST_PISTOL_BARREL_IN * (1.0 + 1e-9);
    match load.facts().firearm {
        Firearm::Handgun if long => Firearm::PistolCarbine,
        Firearm::RimfirePistol if long => Firearm::RimfireRifle,
        firearm => firearm,
    }
}

/// The mean that slow shots are taken from with the other barrel: a longer one adds nothing, a shorter one takes
/// as much as if velocity grew with the square root of the length (house assumption; derived: so it would under
/// a pressure that does not fall, and since it falls the last inches add less).
fn slow_mean(load: &Load, own: Length, barrel: Length) -> Velocity {
    load.facts().muzzle_velocity * (barrel.si() / own.si()).min(1.0).sqrt()
}

/// The load from a barrel of another length, and the assumption made. The velocity errs on the fast side; slow
/// shots are taken from a mean of their own, which errs on the slow side.
///
/// # Errors
/// [`BarrelError`] where the load's own barrel is not known, or the result can't be.
pub fn moved_to_barrel(load: &Load, barrel: Length) -> Result<(Load, String), BarrelError> {
    let own = load.facts().barrel.ok_or_else(|| BarrelError::Unknown { load: load.id().into() })?;
    let inches = unit::INCH.value(barrel) - unit::INCH.value(own);
    let (gain, loss) = slopes(load.class());
    let by_inch = if inches > 0.0 { gain } else { loss };
    let least = unit::FOOT_PER_SECOND.of(100.0);
    let velocity = (load.facts().muzzle_velocity + unit::FOOT_PER_SECOND.of(by_inch * inches)).max(least);
    let slow = slow_mean(load, own, barrel).min(velocity);
    let firearm = firearm(load, barrel);
    let moved = load.with(|facts| {
        facts.firearm = firearm;
        facts.muzzle_velocity = velocity;
        facts.barrel = Some(barrel);
        facts.spread.slow_margin = velocity - slow;
    })?;
    let mut words = told(velocity, slow, (own, barrel), by_inch);
    if firearm != load.facts().firearm {
        words.push_str("; for the barrel's length it is judged as from a ");
        words.push_str(&firearm.to_string());
    }
    Ok((moved, words))
}

/// The change in words.
fn told(velocity: Velocity, slow: Velocity, (own, barrel): (Length, Length), by_inch: f64) -> String {
    let speed = |v| show(v, &unit::FOOT_PER_SECOND, 0);
    let from = format!("muzzle velocity {} from a {} barrel", speed(velocity), show(barrel, &unit::INCH, 1));
    if barrel.si().total_cmp(&own.si()).is_eq() {
        return from + ", the one it is stated for";
    }
    let (word, why) = if barrel > own {
        ("more", "a longer barrel may add nothing")
    } else {
        ("less", "a shorter barrel may cost more")
    };
    let own = show(own, &unit::INCH, 1);
    let mut told = format!("{from}: {by_inch} ft/s per inch {word} than {own} (house assumption)");
    if slow < velocity {
        told.push_str("; slow shots from a mean of ");
        told.push_str(&speed(slow));
        told.push_str(": ");
        told.push_str(why);
    }
    told
}
