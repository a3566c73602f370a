//! What is changed at a target, and what that costs against other fixes.

use crate::plate::{Condition, Mount, Plate, Steel};
use crate::quantity::{Angle, Measure};
use crate::rules::Setup;

/// What a fix costs against another (house assumptions): a face set right or a position left out costs next to
/// nothing, a line moved by half its distance little, a plate its steel, a load a shooter, a line moved far a stage.
pub(super) mod cost {
    pub const FACE: f64 = 1.0;
    pub const LOOK: f64 = 1.0;
    pub const POSITION: f64 = 1.0;
    pub const MOUNT: f64 = 2.0;
    const SHIFT: f64 = 4.0;
    pub const PLATE: f64 = 6.0;
    pub const PLATE_STEP: f64 = 0.5;
    pub const REFUSE: f64 = 7.0;
    pub const REFUSE_MORE: f64 = 3.0;
    /// For each class of which nobody is left.
    pub const EMPTY: f64 = 6.0;
    const SHIFT_FAR: f64 = 12.0;
    const SHIFT_TOO_FAR: f64 = 20.0;
    /// For each yard beyond what is too far.
    const SHIFT_YARD: f64 = 0.1;
    pub const NONE: f64 = 1000.0;

    /// From where on a move back is far, and too far, yards: a bay is no longer (house assumptions).
    const FAR_YD: f64 = 100.0;
    const TOO_FAR_YD: f64 = 200.0;

    /// What a move back costs: by its share of the distance, and by its yards.
    pub fn back(share: f64, yards: f64) -> f64 {
        let base = if share <= 0.5 && yards <= FAR_YD {
            SHIFT
        } else if share <= 2.0 && yards <= TOO_FAR_YD {
            SHIFT_FAR
        } else {
            SHIFT_TOO_FAR
        };
        base + share.min(10.0) * 0.1 + (yards - TOO_FAR_YD).max(0.0) * SHIFT_YARD
    }
}

/// What is changed at a target.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Change {
    /// The lean of the face toward the shooter.
    pub tilt: Option<Angle>,
    /// The face is turned square to the line.
    pub square: bool,
    /// How it is held.
    pub mount: Option<Mount>,
    /// The plate is looked over and found sound, or its mark found.
    pub look: bool,
    /// A new, sound AR500 plate.
    pub fresh: bool,
    /// A plate of another thickness.
    pub plate: Option<Plate>,
}

impl Change {
    /// Whether it changes nothing.
    #[must_use]
    pub fn is_nothing(&self) -> bool {
        *self == Self::default()
    }

    /// The setup as changed.
    #[must_use]
    pub fn apply(&self, setup: &Setup) -> Setup {
        let mut setup = setup.clone();
        setup.tilt = self.tilt.or(setup.tilt);
        if self.square {
            setup.oblique = Angle::from_si(0.0);
        }
        if let Some(mount) = self.mount {
            (setup.mount, setup.chain) = (mount, None);
        }
        if self.look || self.fresh {
            (setup.condition, setup.steel) = (Condition::Sound, Steel::Ar500);
        }
        setup
    }

    pub(super) fn cost(&self, steps: usize) -> f64 {
        let plate = if self.plate.is_some() { cost::PLATE + cost::PLATE_STEP * steps as f64 } else { 0.0 };
        let fresh = if self.fresh && self.plate.is_none() { cost::PLATE } else { 0.0 };
        let part = |is: bool, cost: f64| if is { cost } else { 0.0 };
        part(self.tilt.is_some(), cost::FACE)
            + part(self.square, cost::FACE)
            + part(self.mount.is_some(), cost::MOUNT)
            + part(self.look, cost::LOOK)
            + plate
            + fresh
    }
}
