//! A plate's shape: closed contours of lines and arcs, from text, TOML, DXF or SVG; its area and balance, where it is
//! thin, its corners, and where it hangs.
//!
//! Curves are `kurbo`'s, crossings and distances `cavalier_contours`', triangles `delaunator`'s. Whatever the file,
//! the model is one: an outer contour, the holes in it, and what was left out.

mod arcs;
mod carry;
mod contour;
mod corner;
#[cfg(feature = "dxf")]
mod drawing;
mod file;
mod hang;
mod hardware;
mod hole;
mod read;
mod section;
mod thin;
mod vertex;
mod web;

pub use carry::HungBy;
pub use contour::{Contour, ContourError, MAX_POINTS, Point, Segment, Vertex};
pub use corner::Corner;
pub use file::{SCHEMA, keys};
pub use hang::{HangFrom, Hanging};
pub use hardware::MAX_HARDWARE_M;
pub use hardware::{Counted, MAX_HARDWARE_AREA, MAX_HARDWARE_HOLES, Weakening};
pub use hole::Hole;
pub use read::{DrawnIn, LeftOut, ReadOptions, Reading};
pub use section::{Bounds, Section};
pub use thin::{Thin, Thinnest};
pub use web::Web;

use crate::flat::apart;
use crate::quantity::{Area, Length, unit};
use contour::{Fence, MIN_M};
use std::fmt;
use std::sync::OnceLock;
use thiserror::Error;

/// Least size of a face, in.
pub const MIN_FACE_IN: f64 = 1.0;
/// Most size of a face, in.
pub const MAX_FACE_IN: f64 = 120.0;

/// Whether a face may be so wide or high.
pub(crate) fn is_a_size(size: Length) -> bool {
    (MIN_FACE_IN - 1e-6..=MAX_FACE_IN + 1e-6).contains(&unit::INCH.value(size))
}

/// A plate's outline, valid by construction.
#[derive(Debug, Clone)]
pub struct Outline {
    /// What it is called.
    pub name: String,
    contour: Contour,
    holes: Vec<Hole>,
    /// The contours of the holes.
    cuts: Vec<Contour>,
    /// Points it was given to hang from.
    hangers: Vec<Point>,
    hanging: Hanging,
    section: Section,
    /// Computed when it is first asked for: many who weigh an outline do not ask.
    thinnest: OnceLock<Option<Thinnest>>,
    weakening: OnceLock<Weakening>,
    hung_by: OnceLock<HungBy>,
    reading: Reading,
}

/// Two outlines are equal that would be cut and hung alike under one name, however they were read.
impl PartialEq for Outline {
    fn eq(&self, other: &Self) -> bool {
        self.name == other.name
            && self.contour == other.contour
            && self.holes == other.holes
            && self.hangers == other.hangers
    }
}

/// One of the contours of a plate.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ring {
    /// The outline.
    Outline,
    /// A hole, by its index from 0.
    Hole(usize),
}

impl fmt::Display for Ring {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Outline => f.write_str("the outline"),
            Self::Hole(index) => write!(f, "hole {}", index + 1),
        }
    }
}

/// An outline that can't be cut. [`OutlineError::help`] says what would do.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum OutlineError {
    /// A contour that is none.
    #[error("{ring} {fault}")]
    Contour {
        /// Which one.
        ring: Ring,
        /// What is wrong with it.
        fault: ContourError,
    },
    /// Smaller or larger than a plate.
    #[error("the outline is {} × {} in: a plate is between {MIN_FACE_IN} in and {MAX_FACE_IN} in", inches(*width), inches(*height))]
    Size {
        /// From side to side.
        width: Length,
        /// From foot to top.
        height: Length,
    },
    /// More points than are taken.
    #[error("the outline has {points} points, holes and hangers included")]
    Points {
        /// How many there are.
        points: usize,
    },
    /// A hanger that is not a number, or absurd.
    #[error("hanger {index} is not a place on a plate")]
    Hanger {
        /// Which hanger, from 1.
        index: usize,
    },
    /// A hanger beside the plate.
    #[error("hanger {index} at {at} is not on the steel")]
    OffSteel {
        /// Which hanger, from 1.
        index: usize,
        /// Where.
        at: Point,
    },
    /// A hanger where another is.
    #[error("hanger {index} at {at} is there already")]
    SameHanger {
        /// Which hanger, from 1.
        index: usize,
        /// Where.
        at: Point,
    },
    /// Hangers below the balance point.
    #[error("the plate hangs from {at}, below its balance point at {balance}: it would turn over")]
    TopHeavy {
        /// The middle of the hangers.
        at: Point,
        /// The balance point.
        balance: Point,
    },
    /// A hole that crosses or touches another contour.
    #[error("hole {} meets {other} near {at}", hole + 1)]
    Meets {
        /// Which hole, from 0.
        hole: usize,
        /// What it meets.
        other: Ring,
        /// Where.
        at: Point,
    },
    /// A hole outside of the outline.
    #[error("hole {} at {at} is not inside the outline", hole + 1)]
    Outside {
        /// Which hole, from 0.
        hole: usize,
        /// A point of it.
        at: Point,
    },
    /// A hole in a hole.
    #[error("hole {} and hole {} lie one in the other at {at}", other + 1, hole + 1)]
    Nested {
        /// Which hole, from 0.
        hole: usize,
        /// The other, from 0.
        other: usize,
        /// A point of the inner one.
        at: Point,
    },
}

impl OutlineError {
    /// What to write instead.
    #[must_use]
    pub fn help(&self) -> String {
        match self {
            Self::Contour { fault, .. } => fault.help(),
            Self::Size { .. } => "write the unit that its numbers are in".into(),
            Self::Points { .. } => format!("a plate has {MAX_POINTS} points at most"),
            Self::Hanger { .. } => "coordinates lie within 120 in".into(),
            Self::SameHanger { .. } => "give each place once".into(),
            Self::TopHeavy { .. } => "give hangers above the balance point".into(),
            Self::OffSteel { .. } => "give a point within the outline, such as the centre of a hole".into(),
            Self::Meets { .. } | Self::Outside { .. } => {
                "move the hole into the steel, clear of the edge and of other holes".into()
            }
            Self::Nested { .. } => "what is cut loose falls out: leave the inner one off".into(),
        }
    }

    /// The contour at fault, where it is one's.
    #[must_use]
    pub fn ring(&self) -> Option<Ring> {
        match self {
            Self::Contour { ring, .. } => Some(*ring),
            Self::Meets { hole, .. } | Self::Outside { hole, .. } | Self::Nested { hole, .. } => {
                Some(Ring::Hole(*hole))
            }
            Self::Size { .. }
            | Self::Points { .. }
            | Self::Hanger { .. }
            | Self::OffSteel { .. }
            | Self::SameHanger { .. }
            | Self::TopHeavy { .. } => None,
        }
    }
}

impl Outline {
    /// An outline from its contour, its holes, and the points it hangs from.
    ///
    /// # Errors
    /// [`OutlineError`] names the offending hole and point.
    pub fn new(
        name: impl Into<String>,
        contour: Contour,
        holes: Vec<Hole>,
        hangers: Vec<Point>,
    ) -> Result<Self, OutlineError> {
        let bounds = Bounds::of(contour.bounds());
        let (width, height) = (bounds.width(), bounds.height());
        if !(is_a_size(width) && is_a_size(height)) {
            return Err(OutlineError::Size { width, height });
        }
        if let Some(i) = hangers.iter().position(|h| !h.is_placed()) {
            return Err(OutlineError::Hanger { index: i + 1 });
        }
        let again = |(i, h): &(usize, &Point)| hangers[..*i].iter().any(|other| apart(other.spot(), h.spot()) < MIN_M);
        if let Some((i, at)) = hangers.iter().enumerate().find(again) {
            return Err(OutlineError::SameHanger { index: i + 1, at: *at });
        }
        counted(contour.vertices().len() + holes.len() + hangers.len())?;
        let cut = |(i, hole): (usize, &Hole)| {
            hole.contour().map_err(|fault| OutlineError::Contour { ring: Ring::Hole(i), fault })
        };
        let cuts: Vec<Contour> = holes.iter().enumerate().map(cut).collect::<Result<_, _>>()?;
        counted(contour.vertices().len() + cuts.iter().map(|c| c.vertices().len()).sum::<usize>() + hangers.len())?;
        let edge = contour.fence();
        holes_within(&edge, &cuts)?;
        let windows: Vec<_> = cuts.iter().filter(|cut| hardware::is_large(cut)).map(Contour::fence).collect();
        hang::on_steel(&edge, &windows, &hangers)?;
        let mut section = Section::of_contours(&contour, &cuts);
        let hanging = Hanging::of(&contour, (&holes, &cuts), &hangers, &section);
        hanging.above(section.centre)?;
        section.hanger = hanging.line();
        let (thinnest, weakening, hung_by) = (OnceLock::new(), OnceLock::new(), OnceLock::new());
        let (name, reading) = (name.into(), Reading::default());
        Ok(Self { name, contour, holes, cuts, hangers, hanging, section, thinnest, weakening, hung_by, reading })
    }

    /// The same with what was read beside the contours.
    pub(crate) fn with_reading(mut self, reading: Reading) -> Self {
        self.reading = reading;
        self
    }

    /// The outer contour.
    #[must_use]
    pub fn contour(&self) -> &Contour {
        &self.contour
    }

    /// The holes.
    #[must_use]
    pub fn holes(&self) -> &[Hole] {
        &self.holes
    }

    /// The contours of the holes, in their order.
    #[must_use]
    pub fn cuts(&self) -> &[Contour] {
        &self.cuts
    }

    /// The points it was given to hang from; none where nothing was said.
    #[must_use]
    pub fn hangers(&self) -> &[Point] {
        &self.hangers
    }

    /// How it hangs.
    #[must_use]
    pub fn hanging(&self) -> &Hanging {
        &self.hanging
    }

    /// Its section.
    #[must_use]
    pub fn section(&self) -> &Section {
        &self.section
    }

    /// The narrowest width: the least at which opening the plate by a disc of that diameter leaves nothing, changes
    /// the number of its pieces or large cut-outs, or loses a part that reaches farther than 1.5 in, or half the
    /// width, from what stays. Of holes up to 1.5 in across only those count that are more than hardware takes
    /// ([`Outline::weakening`]).
    ///
    /// `None` where a check of the computation fails: the width is unknown then.
    #[must_use]
    pub fn thinnest(&self) -> Option<&Thinnest> {
        let found = self.thinnest.get_or_init(|| {
            let weakening = &self.weakening().holes;
            let counts = |(i, cut): &(usize, &Contour)| weakening.contains(i) || hardware::is_large(cut);
            let cuts: Vec<&Contour> = self.cuts.iter().enumerate().filter(counts).map(|(_, cut)| cut).collect();
            thin::thinnest(&self.contour, &cuts)
        });
        found.as_ref()
    }

    /// The holes of hardware size, up to 1.5 in across, that count as cut-outs in the narrowest width: all where they
    /// are many or take much of the plate, else those with too little steel beside them.
    #[must_use]
    pub fn weakening(&self) -> &Weakening {
        self.weakening.get_or_init(|| hardware::weakening(self))
    }

    /// Whether a hole, by its index from 0, is of hardware size and does not count as a cut-out.
    pub fn is_for_hardware(&self, hole: usize) -> bool {
        self.cuts.get(hole).is_some_and(|cut| !hardware::is_large(cut)) && !self.weakening().holes.contains(&hole)
    }

    /// The least steel that it hangs by, however short the part: the narrowest place between a hanger and the body, or
    /// twice the steel beside the hole that it hangs from, whichever is less. Where nobody knows where it hangs, a tab at
    /// the top counts too.
    #[must_use]
    pub fn hung_by(&self) -> HungBy {
        *self.hung_by.get_or_init(|| self.find_hung_by())
    }

    /// What was read beside the contours.
    #[must_use]
    pub fn reading(&self) -> &Reading {
        &self.reading
    }

    /// Width and height.
    #[must_use]
    pub fn size(&self) -> (Length, Length) {
        (self.section.bounds.width(), self.section.bounds.height())
    }

    /// Area, holes taken off.
    #[must_use]
    pub fn area(&self) -> Area {
        self.section.area
    }

    /// Length of all cuts, holes included.
    #[must_use]
    pub fn cut_length(&self) -> Length {
        self.section.perimeter
    }

    /// A place from the lower left corner of the plate.
    #[must_use]
    pub fn from_corner(&self, at: Point) -> Point {
        Point { x: at.x - self.section.bounds.left, y: at.y - self.section.bounds.bottom }
    }

    /// The centre of mass, from the lower left corner.
    #[must_use]
    pub fn centroid(&self) -> Point {
        self.from_corner(self.section.centre)
    }
}

/// A size in inches without trailing zeros.
fn inches(size: Length) -> String {
    let text = format!("{:.3}", unit::INCH.value(size));
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn counted(points: usize) -> Result<(), OutlineError> {
    if points > MAX_POINTS { Err(OutlineError::Points { points }) } else { Ok(()) }
}

/// Whether every hole lies in the steel, clear of the edge and of the holes before it.
fn holes_within(edge: &Fence, cuts: &[Contour]) -> Result<(), OutlineError> {
    let fences: Vec<Fence> = cuts.iter().map(Contour::fence).collect();
    for hole in 0..cuts.len() {
        let first = fences[hole].first();
        let meets = |other: Ring, fence: &Fence| match fences[hole].gap(fence, MIN_M) {
            Some((_, at)) => Err(OutlineError::Meets { hole, other, at: Point::of(at) }),
            None => Ok(()),
        };
        meets(Ring::Outline, edge)?;
        if !edge.contains(first) {
            return Err(OutlineError::Outside { hole, at: Point::of(first) });
        }
        for other in 0..hole {
            meets(Ring::Hole(other), &fences[other])?;
            for (outer, inner) in [(hole, other), (other, hole)] {
                if fences[outer].contains(fences[inner].first()) {
                    return Err(OutlineError::Nested { hole, other, at: Point::of(fences[inner].first()) });
                }
            }
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests;
