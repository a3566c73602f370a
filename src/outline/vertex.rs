//! Points of a contour and the edges between them, as they are told, and what is wrong with one.

use crate::flat::Spot;
use crate::quantity::{Length, Measure, unit};
use std::fmt;
use thiserror::Error;

/// The most points of an outline and its holes together.
pub const MAX_POINTS: usize = 50_000;
/// The farthest coordinate that is taken, in.
const MAX_COORDINATE_IN: f64 = 120.0;

/// A place on a plate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// To the right.
    pub x: Length,
    /// Up.
    pub y: Length,
}

impl Point {
    pub(super) fn of((x, y): Spot) -> Self {
        Self { x: Length::from_si(x), y: Length::from_si(y) }
    }

    pub(super) fn spot(self) -> Spot {
        (self.x.si(), self.y.si())
    }

    /// Whether it may lie on a plate.
    pub(super) fn is_placed(self) -> bool {
        let near = |v: Length| unit::INCH.value(v).abs() <= MAX_COORDINATE_IN * (1.0 + 1e-9);
        near(self.x) && near(self.y)
    }
}

impl fmt::Display for Point {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "({:.3}, {:.3}) in", unit::INCH.value(self.x), unit::INCH.value(self.y))
    }
}

/// A point of a contour, and the bulge of the edge that leaves it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Vertex {
    /// Where it lies.
    pub at: Point,
    /// Tangent of a quarter of the arc's included angle, positive counterclockwise; 0 for a straight edge.
    pub bulge: f64,
}

impl Vertex {
    pub(super) fn of(at: Spot, bulge: f64) -> Self {
        Self { at: Point::of(at), bulge }
    }
}

/// An edge of a contour, in the order of the cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Segment {
    /// A straight cut.
    Line {
        /// Where it begins.
        from: Point,
        /// Where it ends.
        to: Point,
    },
    /// A cut along an arc.
    Arc {
        /// Where it begins.
        from: Point,
        /// Where it ends.
        to: Point,
        /// Its centre.
        centre: Point,
        /// Its radius.
        radius: Length,
        /// The angle it sweeps, rad, positive counterclockwise.
        sweep: f64,
    },
}

/// A contour that can't be cut, to be read behind its name: `hole 2 crosses itself near …`.
/// [`ContourError::help`] says what would do.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum ContourError {
    /// Too few or too many points.
    #[error("has {points} points")]
    Points {
        /// How many there are.
        points: usize,
    },
    /// A coordinate or bulge that is not a number, or absurd.
    #[error("has a point {index} that is not a place on a plate")]
    Place {
        /// Which point, from 1.
        index: usize,
    },
    /// A diameter, a width or a length that is not above zero, or absurd.
    #[error("has no size that could be cut")]
    Size,
    /// Two points in one place.
    #[error("has its point {index} at {at} on the one before it")]
    Repeated {
        /// Which point, from 1.
        index: usize,
        /// Where.
        at: Point,
    },
    /// Edges that cross or touch.
    #[error("crosses itself near {at}, edges {first} and {second}")]
    Crossing {
        /// Which edge, from 1.
        first: usize,
        /// Which edge, from 1.
        second: usize,
        /// Where.
        at: Point,
    },
}

impl ContourError {
    /// What to write instead.
    #[must_use]
    pub fn help(&self) -> String {
        match self {
            Self::Points { .. } => {
                format!(
                    "a contour has 2 points or more, 3 where all edges are straight, and a plate {MAX_POINTS} at most"
                )
            }
            Self::Place { .. } => "coordinates lie within 120 in, bulges between -10 and 10".into(),
            Self::Size => "give a diameter or width above zero, and a slot two ends apart".into(),
            Self::Repeated { .. } => "remove one of the points".into(),
            Self::Crossing { .. } => "put the points in the order of the cut".into(),
        }
    }

    /// The point or edge at fault, from 1.
    #[must_use]
    pub fn index(&self) -> Option<usize> {
        match self {
            Self::Place { index } | Self::Repeated { index, .. } => Some(*index),
            Self::Crossing { second, .. } => Some(*second),
            Self::Points { .. } | Self::Size => None,
        }
    }
}
