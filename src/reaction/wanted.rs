//! What gives a plate the swing that is wanted of it.
//!
//! A hanger line is proposed on the steel only, at or above the upper third of the face: lower ones let a low hit
//! spin the plate over. Where no such line does it, a chain may, then a rigid bracket above the plate, then another
//! thickness.

use super::swing::{HitPoint, MIN_FACTOR, Pendulum, Suspension, Swing};
use crate::numeric::bisect;
use crate::plate::{Face, Plate, Section};
use crate::quantity::{Angle, Length, Measure, Momentum, unit};

/// Share of the height above which a hanger line is proposed, from the lower edge (common practice).
const LOWEST_LINE: f64 = 2.0 / 3.0;
/// The longest chain that is proposed, in (house assumption: beyond it a plate hangs too low for its stand).
const MAX_CHAIN_IN: f64 = 36.0;
/// The shortest chain that is proposed, in (house assumption: a link or two).
const MIN_CHAIN_IN: f64 = 2.0;
/// The highest that a bracket is taken to hold a plate above its edge, in (house assumption).
const MAX_BRACKET_IN: f64 = 12.0;
/// Parts that a span of lines is searched in; a swing rises and falls once over it.
const STEPS: u32 = 400;
/// How near a line's swing comes to what is wanted, rad.
const NEAR: f64 = 1e-3;

/// A hit at the centre that the swing is wanted of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wish {
    /// The swing wanted.
    pub swing: Angle,
    /// Momentum of the mean shot.
    pub momentum: Momentum,
    /// Angle between the bullet's path and the face's normal.
    pub incidence: Angle,
}

/// What gives the swing.
#[derive(Debug, Clone, PartialEq)]
pub enum Way {
    /// A hanger line at this height above the centre of mass, on the steel.
    Line {
        /// Above the centre of mass.
        above_centre: Length,
    },
    /// A chain of this length above the hanger line that the plate has.
    Chain {
        /// Its length.
        length: Length,
    },
    /// A rigid bracket that turns about a line above the plate.
    Bracket {
        /// Above its upper edge.
        above_edge: Length,
    },
    /// A plate of another thickness, hung as it is, that comes nearest from the calm side of what is wanted.
    Thickness {
        /// The plate.
        plate: Plate,
    },
}

/// What gives a swing that is wanted, with the swing of the lowest hit there.
#[derive(Debug, Clone, PartialEq)]
pub struct Wanted {
    /// What gives it.
    pub way: Way,
    /// Swing of the same hit at 85 % of the way to the lower edge.
    pub low: Swing,
}

/// What gives a plate of a face the swing wanted; `None` where nothing looked at does. `others` are the plates that
/// suit besides it.
#[must_use]
pub fn wanted(face: &Face, plate: &Plate, hung: Suspension, others: &[Plate], wish: &Wish) -> Option<Wanted> {
    let case = Case { face, plate, hung, wish };
    let way = case
        .line()
        .or_else(|| case.chain())
        .or_else(|| case.bracket())
        .or_else(|| case.thickness(others).map(|plate| Way::Thickness { plate }))?;
    let low = case.with(&way).swing(wish.momentum, wish.incidence, MIN_FACTOR, HitPoint::Low);
    Some(Wanted { way, low })
}

struct Case<'a> {
    face: &'a Face,
    plate: &'a Plate,
    hung: Suspension,
    wish: &'a Wish,
}

impl Case<'_> {
    fn swing(&self, pendulum: &Pendulum) -> f64 {
        let swing = pendulum.swing(self.wish.momentum, self.wish.incidence, MIN_FACTOR, HitPoint::Centre);
        swing.angle().map_or(std::f64::consts::PI, Measure::si)
    }

    fn with(&self, way: &Way) -> Pendulum {
        match way {
            Way::Line { above_centre } => self.at(*above_centre),
            Way::Bracket { above_edge } => self.at(self.edge_above_centre() + *above_edge),
            Way::Chain { length } => Pendulum::hung(self.face, self.plate, Suspension::Chain(*length)),
            Way::Thickness { plate } => Pendulum::hung(self.face, plate, self.hung),
        }
    }

    fn at(&self, above_centre: Length) -> Pendulum {
        Pendulum::hung_above_centre(self.face, self.plate, above_centre, self.hung)
    }

    fn edge_above_centre(&self) -> Length {
        let section = Section::of(self.face);
        section.bounds.top - section.centre.y
    }

    fn line(&self) -> Option<Way> {
        let section = Section::of(self.face);
        let lowest = section.bounds.bottom + section.bounds.height() * LOWEST_LINE - section.centre.y;
        let above_centre = self.height(lowest.max(Length::from_si(0.0)), self.edge_above_centre())?;
        Some(Way::Line { above_centre })
    }

    fn bracket(&self) -> Option<Way> {
        if self.hung != Suspension::Hooks {
            return None;
        }
        let edge = self.edge_above_centre();
        let above_edge = self.height(edge, edge + unit::INCH.of(MAX_BRACKET_IN))? - edge;
        Some(Way::Bracket { above_edge })
    }

    /// The highest line between two heights above the centre that gives the swing: of the lines that give it the
    /// one that a low hit moves least.
    fn height(&self, from: Length, to: Length) -> Option<Length> {
        let wanted = self.wish.swing.si();
        let excess = |height: f64| self.swing(&self.at(Length::from_si(height))) - wanted;
        let at = |i: u32| from.si() + (to.si() - from.si()) * f64::from(i) / f64::from(STEPS);
        let found = (0..STEPS).rev().find(|&i| excess(at(i)) * excess(at(i + 1)) <= 0.0)?;
        let (low, high) = (at(found), at(found + 1));
        let falls = excess(low) > excess(high);
        let (low, high) = bisect(low, high, 1e-9, |height| (excess(height) > 0.0) == falls);
        // On a chain the swing jumps from a right angle to a flip: a swing wanted between is none.
        let height = 0.5 * (low + high);
        (excess(height).abs() < NEAR).then(|| Length::from_si(height))
    }

    /// All energy lifts the centre: E/(m·g) = (ℓ + c)·(1 − cos θ).
    fn chain(&self) -> Option<Way> {
        let wanted = self.wish.swing.si();
        let short = Pendulum::hung(self.face, self.plate, Suspension::Chain(Length::from_si(0.0)));
        if !(wanted > 0.0 && wanted < std::f64::consts::FRAC_PI_2) || short.centre_below() <= 0.0 {
            return None;
        }
        let energy = short.given(self.wish.momentum, self.wish.incidence, MIN_FACTOR, HitPoint::Centre);
        let rise = energy.si() / (short.mass().si() * unit::STANDARD_GRAVITY);
        let length = Length::from_si(rise / (1.0 - wanted.cos()) - short.centre_below());
        (MIN_CHAIN_IN..=MAX_CHAIN_IN).contains(&unit::INCH.value(length)).then_some(Way::Chain { length })
    }

    /// The thinnest plate that swings no farther where this one swings too far, else the thickest that swings as
    /// far.
    fn thickness(&self, others: &[Plate]) -> Option<Plate> {
        let wanted = self.wish.swing.si();
        let swing = |plate: &Plate| self.swing(&Pendulum::hung(self.face, plate, self.hung));
        let thinner = |a: &&Plate, b: &&Plate| a.thickness.si().total_cmp(&b.thickness.si());
        let found = if swing(self.plate) > wanted {
            others.iter().filter(|p| swing(p) <= wanted).min_by(thinner)
        } else {
            others.iter().filter(|p| swing(p) >= wanted).max_by(thinner)
        };
        found.cloned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plate(inches: f64) -> Plate {
        Plate::new(format!("{inches} in"), unit::INCH.of(inches)).unwrap()
    }

    fn wish(degrees: f64, momentum: f64) -> Wish {
        let (swing, incidence) = (unit::DEGREE.of(degrees), Angle::from_si(0.0));
        Wish { swing, momentum: Momentum::from_si(momentum), incidence }
    }

    fn round(inches: f64) -> Face {
        Face::round(unit::INCH.of(inches)).unwrap()
    }

    #[test]
    fn a_line_is_on_the_steel_at_or_above_the_upper_third_and_gives_what_is_wanted() {
        let mut lines = 0;
        for size in [6.0, 8.0, 12.0, 18.0] {
            for momentum in [0.8, 2.6, 5.0, 8.1, 20.0] {
                for degrees in (5..=170).step_by(5).map(f64::from) {
                    let (face, wish) = (round(size), wish(degrees, momentum));
                    let Some(found) = wanted(&face, &plate(0.375), Suspension::Hooks, &[], &wish) else { continue };
                    if let Way::Line { above_centre } = found.way {
                        let inches = unit::INCH.value(above_centre);
                        assert!((size / 6.0 - 1e-6..=size / 2.0 + 1e-6).contains(&inches), "{size}: {inches}");
                        let pendulum =
                            Pendulum::hung_above_centre(&face, &plate(0.375), above_centre, Suspension::Hooks);
                        let swing =
                            pendulum.swing(wish.momentum, wish.incidence, 1.0, HitPoint::Centre).angle().unwrap();
                        assert!((swing - wish.swing).si().abs() < NEAR);
                        lines += 1;
                    }
                }
            }
        }
        assert!(lines > 10, "{lines}");
    }

    #[test]
    fn a_calm_swing_of_a_hard_hit_is_given_by_no_line_but_by_a_chain_or_a_thicker_plate() {
        // 168 gr at 2,449 ft/s on a 12 in plate of 3/8 in swings about 64°: no line calms it to 40°, a chain does.
        let calm = |others: &[Plate]| wanted(&round(12.0), &plate(0.375), Suspension::Hooks, others, &wish(40.0, 8.1));
        let Some(Wanted { way: Way::Chain { length }, .. }) = calm(&[]) else { panic!("{:?}", calm(&[])) };
        assert!((2.0..36.0).contains(&unit::INCH.value(length)), "{length:?}");
        let hard = |others: &[Plate]| wanted(&round(8.0), &plate(0.375), Suspension::Hooks, others, &wish(20.0, 4.0));
        assert_eq!(hard(&[]), None);
        let thick = [plate(0.5), plate(2.0), plate(2.5)];
        let Some(Wanted { way: Way::Thickness { plate: named }, low }) = hard(&thick) else {
            panic!("{:?}", hard(&thick))
        };
        assert_eq!(named.label, "2 in");
        assert!(low.angle().is_some_and(|a| a > unit::DEGREE.of(10.0)));
    }

    #[test]
    fn a_chain_found_gives_the_swing() {
        let (face, wish) = (round(12.0), wish(35.0, 8.1));
        let Some(Wanted { way: Way::Chain { length }, .. }) =
            wanted(&face, &plate(0.375), Suspension::Hooks, &[], &wish)
        else {
            panic!("no chain")
        };
        let pendulum = Pendulum::hung(&face, &plate(0.375), Suspension::Chain(length));
        let swing = pendulum.swing(wish.momentum, wish.incidence, 1.0, HitPoint::Centre).angle().unwrap();
        assert!((swing - wish.swing).si().abs() < 1e-9);
    }
}
