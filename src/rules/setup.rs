//! How the plate stands.

use crate::plate::{Condition, Duty, Face, Mount, Steel};
use crate::quantity::{Angle, Length, unit};

/// The steepest lean of a face that is taken, either way, degrees.
pub const MAX_TILT_DEG: f64 = 60.0;

/// How the plate is shaped, held, used and turned.
#[derive(Debug, Clone, PartialEq)]
pub struct Setup {
    /// The face.
    pub face: Face,
    /// How it is held.
    pub mount: Mount,
    /// Length of the chain it hangs from; `None` for another mount, or where it was not said.
    pub chain: Option<Length>,
    /// What it goes through.
    pub duty: Duty,
    /// The state it is in.
    pub condition: Condition,
    /// What steel it is.
    pub steel: Steel,
    /// Lean of the face toward the shooter; vertical is taken, and said, where it was not given.
    pub tilt: Option<Angle>,
    /// Turn of the face sideways.
    pub oblique: Angle,
}

impl Setup {
    /// A free-hung sound AR500 plate of this face, private duty, square to the shooter, lean not said.
    #[must_use]
    pub fn hung(face: Face) -> Self {
        Self {
            face,
            mount: Mount::OpenHook,
            chain: None,
            duty: Duty::Private,
            condition: Condition::Sound,
            steel: Steel::Ar500,
            tilt: None,
            oblique: unit::DEGREE.of(0.0),
        }
    }
}
