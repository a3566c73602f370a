//! A plate's outline with its holes, valid by construction.

use super::contour::{Contour, ContourError, Fence, MAX_POINTS, MIN_M, Point};
use super::cut::{Web, narrowest_strip};
use super::edge::Edge;
use super::hole::{Hole, Size};
use super::neck::{Neck, narrowest as narrowest_neck};
use super::section::Section;
use crate::quantity::{Length, Measure};
use std::fmt;
use thiserror::Error;

/// A plate's outline.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline {
    /// What it is called.
    pub name: String,
    contour: Contour,
    holes: Vec<Hole>,
    /// The contours of the holes, and what they measure.
    cuts: Vec<(Contour, Size)>,
    /// Points it hangs from; the top edge where there are none.
    hangers: Vec<Point>,
    section: Section,
    /// The narrowest strip that a cut-out leaves.
    strip: Option<Web>,
    /// The narrowest neck, where it is narrower than the whole.
    neck: Option<Neck>,
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
pub enum OutlineError {
    /// A contour that is none.
    #[error("{ring} {fault}")]
    Contour {
        /// Which one.
        ring: Ring,
        /// What is wrong with it.
        fault: ContourError,
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
    /// A contour that does not close.
    #[error("the outline is open: it ends at {at} and nothing begins there")]
    Open {
        /// Where.
        at: Point,
    },
}

impl OutlineError {
    /// What to write instead.
    #[must_use]
    pub fn help(&self) -> String {
        match self {
            Self::Contour { fault, .. } => fault.help(),
            Self::Points { .. } => format!("a plate has {MAX_POINTS} points at most"),
            Self::Hanger { .. } => "coordinates lie within 120 in".into(),
            Self::Meets { .. } | Self::Outside { .. } => {
                "move the hole into the steel, clear of the edge and of other holes".into()
            }
            Self::Nested { .. } => "what is cut loose falls out: leave the inner one off".into(),
            Self::Open { .. } => "draw the missing edge, or join the ends".into(),
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
            Self::Points { .. } | Self::Hanger { .. } | Self::Open { .. } => None,
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
        if let Some(i) = hangers.iter().position(|h| !h.is_placed()) {
            return Err(OutlineError::Hanger { index: i + 1 });
        }
        counted(contour.vertices().len() + holes.len() + hangers.len())?;
        let cut = |(i, hole): (usize, &Hole)| {
            hole.contour().map_err(|fault| OutlineError::Contour { ring: Ring::Hole(i), fault })
        };
        let cuts: Vec<Contour> = holes.iter().enumerate().map(cut).collect::<Result<_, _>>()?;
        let in_cuts: usize = holes.iter().zip(&cuts).map(|(hole, cut)| points_of(hole, cut)).sum();
        counted(contour.vertices().len() + in_cuts + hangers.len())?;
        holes_within(&contour, &cuts)?;
        let cuts: Vec<(Contour, Size)> =
            holes.iter().zip(cuts).map(|(hole, cut)| (hole.size(&cut), cut)).map(|(size, cut)| (cut, size)).collect();
        let strip = narrowest_strip(&contour, &cuts);
        let mut section = Section::of_contours(&contour, &cuts, &hangers);
        let neck = narrowest_neck(&contour, section.narrowest.si());
        let thin = strip.map(|s| s.gap).into_iter().chain(neck.map(|n| n.width));
        section.narrowest = thin.fold(section.narrowest, Length::min);
        Ok(Self { name: name.into(), contour, holes, cuts, hangers, section, strip, neck })
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

    /// The points it hangs from; none where nothing was said.
    #[must_use]
    pub fn hangers(&self) -> &[Point] {
        &self.hangers
    }

    /// Its section.
    #[must_use]
    pub fn section(&self) -> &Section {
        &self.section
    }

    /// The narrowest strip of steel that a cut-out leaves, which counts as the plate's narrowest width: narrower
    /// than the cut-out is long. Holes up to 1.5 in in any direction take hardware and leave none (house
    /// assumption); what stands beside those is in [`Outline::thin_webs`].
    #[must_use]
    pub fn strip(&self) -> Option<&Web> {
        self.strip.as_ref()
    }

    /// The narrowest neck of the outline, which counts as the plate's narrowest width: where each part that hangs
    /// on it is longer than half as wide as the neck, and longer than 1.5 in, an ear for a hook (house assumption).
    #[must_use]
    pub fn neck(&self) -> Option<&Neck> {
        self.neck.as_ref()
    }

    /// The contours of the holes, and what they measure.
    pub(super) fn cuts(&self) -> &[(Contour, Size)] {
        &self.cuts
    }
}

fn counted(points: usize) -> Result<(), OutlineError> {
    if points > MAX_POINTS { Err(OutlineError::Points { points }) } else { Ok(()) }
}

/// How many points a hole was given by.
fn points_of(hole: &Hole, cut: &Contour) -> usize {
    match hole {
        Hole::Round { .. } => 1,
        Hole::Slot { .. } => 2,
        Hole::Cut(_) => cut.vertices().len(),
    }
}

/// Whether every hole lies in the steel, clear of the edge and of the holes before it.
fn holes_within(contour: &Contour, cuts: &[Contour]) -> Result<(), OutlineError> {
    let edge = Fence::of(contour);
    let fences: Vec<Fence> = cuts.iter().map(Fence::of).collect();
    let first: Vec<Point> =
        cuts.iter().map(|c| Point::of(c.edges().next().map_or((0.0, 0.0), |e: Edge| e.at(0.0)))).collect();
    for hole in 0..cuts.len() {
        let meets = |other: Ring, fence: &Fence| match fences[hole].gap(fence, MIN_M) {
            Some((_, at)) => Err(OutlineError::Meets { hole, other, at: Point::of(at) }),
            None => Ok(()),
        };
        meets(Ring::Outline, &edge)?;
        if !contour.contains(first[hole].spot()) {
            return Err(OutlineError::Outside { hole, at: first[hole] });
        }
        for other in 0..hole {
            meets(Ring::Hole(other), &fences[other])?;
            for (outer, inner) in [(hole, other), (other, hole)] {
                if cuts[outer].contains(first[inner].spot()) {
                    return Err(OutlineError::Nested { hole, other, at: first[inner] });
                }
            }
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plate::Vertex;
    use crate::quantity::{Length, unit};

    fn at(x: f64, y: f64) -> Point {
        Point { x: unit::INCH.of(x), y: unit::INCH.of(y) }
    }

    fn contour(points: &[(f64, f64)]) -> Result<Contour, ContourError> {
        Contour::new(points.iter().map(|&(x, y)| Vertex { at: at(x, y), bulge: 0.0 }).collect())
    }

    fn square(left: f64, bottom: f64, side: f64) -> Contour {
        let (right, top) = (left + side, bottom + side);
        contour(&[(left, bottom), (right, bottom), (right, top), (left, top)]).unwrap()
    }

    fn round(x: f64, y: f64, inches: f64) -> Hole {
        Hole::Round { centre: at(x, y), diameter: unit::INCH.of(inches) }
    }

    fn refused(holes: Vec<Hole>) -> OutlineError {
        Outline::new("x", square(0.0, 0.0, 4.0), holes, Vec::new()).unwrap_err()
    }

    #[test]
    fn a_contour_that_can_t_be_cut_is_refused_with_the_point() {
        let bow_tie = contour(&[(0.0, 0.0), (4.0, 4.0), (4.0, 0.0), (0.0, 4.0)]).unwrap_err();
        assert!(bow_tie.to_string().contains("(2.000, 2.000)"), "{bow_tie}");
        assert_eq!(
            contour(&[(0.0, 0.0), (0.0, 0.0), (1.0, 1.0)]),
            Err(ContourError::Repeated { index: 2, at: at(0.0, 0.0) })
        );
        assert_eq!(contour(&[(0.0, 0.0), (1.0, 1.0)]), Err(ContourError::Points { points: 2 }));
        assert_eq!(contour(&[(0.0, f64::NAN), (1.0, 1.0), (0.0, 1.0)]), Err(ContourError::Place { index: 1 }));
        // A spike that comes back on itself, and a corner that touches an edge.
        let spike = [(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (2.0, 4.0), (2.0, 6.0), (2.0, 4.0), (0.0, 4.0)];
        assert!(matches!(contour(&spike), Err(ContourError::Crossing { .. })));
        let touching = [(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (2.0, 0.0), (0.0, 4.0)];
        assert!(contour(&touching).unwrap_err().to_string().contains("(2.000, 0.000)"));
    }

    #[test]
    fn an_arc_that_reaches_across_the_contour_is_refused() {
        let bulged = |bulge: f64| {
            let v = |x: f64, y: f64, bulge: f64| Vertex { at: at(x, y), bulge };
            Contour::new(vec![v(0.0, 0.0, 0.0), v(4.0, 0.0, 0.0), v(4.0, 1.0, bulge), v(0.0, 1.0, 0.0)])
        };
        // The arc hangs down by 2 in times its bulge into a strip of 1 in: it stays inside, touches, crosses.
        for (bulge, stands) in [(-0.49, true), (-0.5, false), (-0.6, false)] {
            assert_eq!(bulged(bulge).is_ok(), stands, "{bulge}: {:?}", bulged(bulge));
        }
    }

    #[test]
    fn a_hole_that_crosses_touches_or_leaves_the_outline_is_refused_by_name_and_place() {
        for (hole, words) in [
            (round(4.0, 2.0, 0.5), "hole 1 meets the outline near (4.000, "),
            (round(3.75, 2.0, 0.5), "hole 1 meets the outline near (4.000, 2.000)"),
            (round(9.0, 2.0, 0.5), "hole 1 at (8.750, 2.000) in is not inside"),
            (Hole::Cut(square(3.0, 3.0, 2.0)), "hole 1 meets the outline near ("),
            (Hole::Cut(square(-1.0, -1.0, 9.0)), "hole 1 at (-1.000, -1.000) in is not inside"),
            (
                Hole::Slot { from: at(1.0, 1.0), to: at(5.0, 1.0), width: unit::INCH.of(0.4) },
                "hole 1 meets the outline",
            ),
            (Hole::Slot { from: at(1.0, 1.0), to: at(1.0, 1.0), width: unit::INCH.of(0.4) }, "hole 1 has no size"),
            (round(2.0, 2.0, 0.0), "hole 1 has no size"),
            (round(2.0, 2.0, -1.0), "hole 1 has no size"),
            (round(f64::NAN, 2.0, 1.0), "hole 1 has a point 1 that is not a place"),
            (round(2.0, 2.0, f64::NAN), "hole 1 has no size"),
            (round(2.0, 2.0, f64::INFINITY), "hole 1 has a point 1 that is not a place"),
        ] {
            let error = refused(vec![hole.clone()]);
            assert!(error.to_string().contains(words), "{hole:?}: {error}");
        }
    }

    #[test]
    fn holes_that_cross_or_lie_in_one_another_are_refused_by_name() {
        let crossing = refused(vec![round(2.0, 2.0, 0.5), round(2.2, 2.0, 0.5)]);
        assert!(crossing.to_string().starts_with("hole 2 meets hole 1 near (2.100, "), "{crossing}");
        let windows = refused(vec![Hole::Cut(square(1.0, 1.0, 1.0)), Hole::Cut(square(1.5, 1.5, 1.0))]);
        assert!(windows.to_string().starts_with("hole 2 meets hole 1 near ("), "{windows}");
        for holes in [[round(2.0, 2.0, 2.0), round(2.0, 2.0, 1.0)], [round(2.0, 2.0, 1.0), round(2.0, 2.0, 2.0)]] {
            let nested = refused(holes.to_vec());
            assert!(nested.to_string().contains("hole 1 and hole 2 lie one in the other"), "{nested}");
        }
    }

    #[test]
    fn a_hole_between_a_chord_and_its_arc_lies_inside() {
        let half = |bulge: f64| {
            let v = |x: f64, y: f64, bulge: f64| Vertex { at: at(x, y), bulge };
            Contour::new(vec![v(0.0, 0.0, 0.0), v(0.0, -8.0, 1.0), v(0.0, 8.0, bulge)]).unwrap()
        };
        let bulging = Outline::new("x", half(0.0), vec![round(7.5, 0.0, 0.5)], Vec::new());
        assert!(bulging.is_ok(), "{bulging:?}");
        let beside = Outline::new("x", half(0.0), vec![round(-1.0, 0.0, 0.5)], Vec::new());
        assert!(matches!(beside, Err(OutlineError::Outside { hole: 0, .. })), "{beside:?}");
    }

    #[test]
    fn too_many_points_and_a_hanger_that_lies_nowhere_are_refused() {
        let holes = (0..MAX_POINTS).map(|_| round(2.0, 2.0, 0.1)).collect();
        assert!(matches!(refused(holes), OutlineError::Points { .. }));
        let hanger = Point { x: Length::default(), y: unit::INCH.of(f64::INFINITY) };
        let error = Outline::new("x", square(0.0, 0.0, 4.0), Vec::new(), vec![hanger]).unwrap_err();
        assert_eq!(error, OutlineError::Hanger { index: 1 });
    }
}
