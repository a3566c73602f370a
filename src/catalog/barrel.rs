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
        Class::Rifle | Class::Shot | Class::Slug | Class::RimfireRifle => (30.0, 15.0),
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

/// The load from a barrel of another length, and the assumption made. The change errs on the fast side;
/// it tells nothing of how slow a shot may be.
///
/// # Errors
/// [`BarrelError`] where the load's own barrel is not known, or the result can't be.
pub fn moved_to_barrel(load: &Load, barrel: Length) -> Result<(Load, String), BarrelError> {
    let own = load.facts().barrel.ok_or_else(|| BarrelError::Unknown { load: load.id().into() })?;
    let inches = unit::INCH.value(barrel) - unit::INCH.value(own);
    let (gain, loss) = slopes(load.class());
    let change = if inches > 0.0 { gain * inches } else { loss * inches };
    let slow = unit::FOOT_PER_SECOND.of(100.0);
    let velocity = (load.facts().muzzle_velocity + unit::FOOT_PER_SECOND.of(change)).max(slow);
    let firearm = firearm(load, barrel);
    let moved = load.with(|facts| {
        facts.firearm = firearm;
        facts.muzzle_velocity = Velocity::from_si(velocity.si());
        facts.barrel = Some(barrel);
    })?;
    let mut told = format!(
        "muzzle velocity {} from a {} barrel: {} ft/s per inch {} than {} (house assumption)",
        show(velocity, &unit::FOOT_PER_SECOND, 0),
        show(barrel, &unit::INCH, 1),
        if inches > 0.0 { gain } else { loss },
        if inches > 0.0 { "more" } else { "less" },
        show(own, &unit::INCH, 1)
    );
    if firearm != load.facts().firearm {
        told.push_str("; for the barrel's length it is judged as from a ");
        told.push_str(&firearm.to_string());
    }
    Ok((moved, told))
}
