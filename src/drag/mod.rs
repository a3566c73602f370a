//! Drag: curves of Cd against Mach number, and ballistic coefficients.
//!
//! The deceleration is `a = (π/8)·ρ·v²·Cd(M)/BC`, with BC in mass per area against the standard
//! projectile, or the bullet's own m/d² with its own curve.

mod curve;
mod integral;

pub use curve::{DragCurve, MAX_CD, MAX_MACH, MAX_POINTS, MIN_CD, MIN_POINTS};
pub(crate) use integral::{BOTTOM_MACH, Integral, TOP_MACH};

use crate::order::Order;
use crate::quantity::{BallisticCoefficient, Length, Mass, Measure, Velocity, unit};
use std::fmt;
use std::sync::Arc;
use thiserror::Error;

/// Least ballistic coefficient that is taken, lb/in².
pub const MIN_BC: f64 = 0.01;
/// Largest ballistic coefficient that is taken, lb/in².
pub const MAX_BC: f64 = 2.0;
/// The most bands of a coefficient.
pub const MAX_BANDS: usize = 20;

/// Drag that can't be. [`DragError::help`] says what would do.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum DragError {
    /// Too few or too many points.
    #[error("a drag table of `{count}` points")]
    Points {
        /// How many there are.
        count: usize,
    },
    /// A Mach number out of bounds.
    #[error("Mach number `{mach}` is not between 0 and 10")]
    Mach {
        /// Index of the point.
        row: usize,
        /// Its Mach number.
        mach: f64,
    },
    /// A drag coefficient out of bounds.
    #[error("drag coefficient `{cd}` is not between {MIN_CD} and {MAX_CD}")]
    Cd {
        /// Index of the point.
        row: usize,
        /// Its drag coefficient.
        cd: f64,
    },
    /// Mach numbers that do not rise.
    #[error("Mach number `{mach}` follows `{before}`")]
    Order {
        /// Index of the point.
        row: usize,
        /// Its Mach number.
        mach: f64,
        /// The one before it.
        before: f64,
    },
    /// A coefficient out of bounds.
    #[error("bc of `{bc}` is not between 0.01 and 2 lb/in²")]
    Coefficient {
        /// The coefficient in lb/in².
        bc: f64,
    },
    /// Bands that do not make a whole.
    #[error("the bc bands do not fit together: {fault}")]
    Bands {
        /// What is wrong.
        fault: &'static str,
    },
    /// A table without what it takes to use it.
    #[error("a drag table needs a bullet diameter and mass that give a sectional density from 0.01 to 2 lb/in²")]
    Sectional,
    /// An unknown model.
    #[error("`{text}` is not a drag model")]
    Model {
        /// What was written.
        text: String,
    },
}

impl DragError {
    /// The point at fault, where there is one.
    #[must_use]
    pub fn row(&self) -> Option<usize> {
        match self {
            Self::Mach { row, .. } | Self::Cd { row, .. } | Self::Order { row, .. } => Some(*row),
            _ => None,
        }
    }

    /// What to write instead.
    #[must_use]
    pub fn help(&self) -> String {
        match self {
            Self::Points { .. } => format!("a table has {MIN_POINTS} to {MAX_POINTS} points"),
            Self::Mach { .. } => "write a Mach number from 0 to 10".into(),
            Self::Cd { .. } => "write a drag coefficient such as 0.142, by the bullet's cross-section".into(),
            Self::Order { .. } => "sort the rows by Mach number, each once".into(),
            Self::Coefficient { .. } => "write the coefficient in lb/in², for instance `0.223`".into(),
            Self::Bands { .. } => "give each band its `above` speed once; the lowest is `above = \"0 ft/s\"`".into(),
            Self::Sectional => "give the bullet's diameter, for instance `0.308 in`".into(),
            Self::Model { .. } => "write `G1` or `G7`".into(),
        }
    }
}

/// The projectile a drag curve belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum DragModel {
    /// The G1 standard projectile.
    G1,
    /// The G7 standard projectile.
    G7,
    /// The bullet itself.
    Own,
}

impl fmt::Display for DragModel {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(match self {
            Self::G1 => "G1",
            Self::G7 => "G7",
            Self::Own => "own",
        })
    }
}

impl std::str::FromStr for DragModel {
    type Err = DragError;

    fn from_str(text: &str) -> Result<Self, DragError> {
        match text.to_ascii_uppercase().as_str() {
            "G1" => Ok(Self::G1),
            "G7" => Ok(Self::G7),
            _ => Err(DragError::Model { text: text.into() }),
        }
    }
}

/// A ballistic coefficient that holds above a speed, up to the next band.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    /// Speed above which it holds.
    pub above: Velocity,
    /// The coefficient.
    pub bc: BallisticCoefficient,
}

/// Drag of a bullet: a curve, and what scales it.
#[derive(Debug, Clone, PartialEq)]
pub struct Drag {
    curve: Arc<DragCurve>,
    model: DragModel,
    /// From the slowest up; the first begins at rest.
    bands: Vec<Band>,
}

fn checked(bc: BallisticCoefficient) -> Result<BallisticCoefficient, DragError> {
    let value = unit::POUND_PER_SQUARE_INCH.value(bc);
    if (MIN_BC * (1.0 - 1e-9)..=MAX_BC * (1.0 + 1e-9)).contains(&value) {
        Ok(bc)
    } else {
        Err(DragError::Coefficient { bc: (value * 1e6).round() / 1e6 })
    }
}

impl Drag {
    /// One coefficient at all speeds.
    ///
    /// # Errors
    /// [`DragError::Coefficient`] for an absurd one; [`DragError::Model`] where the model has no curve of its own.
    pub fn single(model: DragModel, bc: BallisticCoefficient) -> Result<Self, DragError> {
        Self::banded(model, vec![Band { above: Velocity::from_si(0.0), bc }])
    }

    /// Coefficients by bands of speed, in any order.
    ///
    /// # Errors
    /// [`DragError`] for an absurd coefficient or bands that don't fit together.
    pub fn banded(model: DragModel, mut bands: Vec<Band>) -> Result<Self, DragError> {
        let curve = match model {
            DragModel::G1 => DragCurve::g1(),
            DragModel::G7 => DragCurve::g7(),
            DragModel::Own => {
                return Err(DragError::Model { text: model.to_string() });
            }
        };
        bands.order_by(|a, b| a.above.si().total_cmp(&b.above.si()));
        let fault = if bands.is_empty() {
            Some("there is none")
        } else if bands.len() > MAX_BANDS {
            Some("there are more than 20")
        } else if bands[0].above.si() != 0.0 {
            Some("the lowest does not begin at 0")
        } else if bands.windows(2).any(|b| b[1].above.si() - b[0].above.si() < 0.1) {
            Some("two begin at the same speed")
        } else {
            None
        };
        if let Some(fault) = fault {
            return Err(DragError::Bands { fault });
        }
        for band in &bands {
            checked(band.bc)?;
        }
        Ok(Self { curve, model, bands })
    }

    /// A bullet's own curve, with its mass and diameter.
    ///
    /// # Errors
    /// [`DragError::Sectional`] where m/d² is absurd.
    pub fn own(curve: Arc<DragCurve>, mass: Mass, diameter: Length) -> Result<Self, DragError> {
        let bc = checked(mass / (diameter * diameter)).map_err(|_| DragError::Sectional)?;
        Ok(Self { curve, model: DragModel::Own, bands: vec![Band { above: Velocity::from_si(0.0), bc }] })
    }

    /// The curve.
    #[must_use]
    pub fn curve(&self) -> &Arc<DragCurve> {
        &self.curve
    }

    /// What the curve belongs to.
    #[must_use]
    pub fn model(&self) -> DragModel {
        self.model
    }

    /// The bands, from the slowest up; the first begins at rest.
    #[must_use]
    pub fn bands(&self) -> &[Band] {
        &self.bands
    }

    /// The same with every coefficient multiplied: for a bound of speed, so it is not checked again.
    #[must_use]
    pub fn scaled(&self, factor: f64) -> Self {
        let bands = self.bands.iter().map(|b| Band { above: b.above, bc: b.bc * factor }).collect();
        Self { curve: Arc::clone(&self.curve), model: self.model, bands }
    }
}
