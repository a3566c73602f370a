//! What gives a plate the swing that is wanted of it.
//!
//! A hanger line is proposed on the steel only, at or above the upper third of the face: lower ones let a low hit
//! spin the plate over. Where no such line does it, a chain may, then a rigid bracket above the plate, then another
//! thickness, as it hangs or hung in one of these ways.

use super::swing::{HitPoint, MIN_FACTOR, Pendulum, Suspension, Swing};
use crate::numeric::bisect;
use crate::order::Order;
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
/// How near the swing of another plate as it hangs comes to it, degrees: no farther than swings are told.
const TOLD_DEG: f64 = 0.5;

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

/// A plate that may hang there.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidate {
    /// The plate.
    pub plate: Plate,
    /// Whether the rules let it hang on a chain as well.
    pub on_chain: bool,
}

/// What gives the swing to a plate.
#[derive(Debug, Clone, Copy, PartialEq)]
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
    /// Hung as the named plate is, by its thickness alone.
    Thickness {
        /// What it swings to, where that is not what is wanted: it is the nearest of those beyond the named plate.
        nearest: Option<Swing>,
    },
}

/// What gives a swing that is wanted, with the swing of the lowest hit there.
#[derive(Debug, Clone, PartialEq)]
pub struct Wanted {
    /// The plate that is given it.
    pub plate: Plate,
    /// What gives it.
    pub way: Way,
    /// Swing of the same hit at 85 % of the way to the lower edge.
    pub low: Swing,
}

/// The chains that are tried, from and to.
#[must_use]
pub fn chains() -> (Length, Length) {
    (unit::INCH.of(MIN_CHAIN_IN), unit::INCH.of(MAX_CHAIN_IN))
}

/// How high above its edge a bracket is tried to hold a plate; `None` where none is tried.
#[must_use]
pub fn highest_bracket(hung: Suspension) -> Option<Length> {
    (hung == Suspension::Hooks).then(|| unit::INCH.of(MAX_BRACKET_IN))
}

/// What gives a plate of a face the swing wanted, the named one first, then of the others that suit the one nearest in
/// thickness; where nothing gives it to any of them, the other that comes nearest as it hangs. `None` where there is
/// none.
#[must_use]
pub fn wanted(face: &Face, named: &Candidate, hung: Suspension, others: &[Candidate], wish: &Wish) -> Option<Wanted> {
    let own = Case { face, of: named, hung, wish };
    let mut cases: Vec<Case> = others.iter().map(|of| Case { face, of, hung, wish }).collect();
    let apart = |case: &Case| (case.of.plate.thickness - named.plate.thickness).si().abs();
    cases.order_by(|a, b| apart(a).total_cmp(&apart(b)));
    let other = || cases.iter().find_map(|case| Some((case, case.as_it_hangs().or_else(|| case.rehung())?)));
    let found = own.rehung().map(|way| (&own, way)).or_else(other).or_else(|| own.nearest(&cases));
    found.map(|(case, way)| case.given(way))
}

struct Case<'a> {
    face: &'a Face,
    of: &'a Candidate,
    hung: Suspension,
    wish: &'a Wish,
}

impl Case<'_> {
    fn given(&self, way: Way) -> Wanted {
        let (momentum, incidence) = (self.wish.momentum, self.wish.incidence);
        let low = self.with(way).swing(momentum, incidence, MIN_FACTOR, HitPoint::Low);
        Wanted { plate: self.of.plate.clone(), way, low }
    }

    /// Another line, chain or bracket that gives the swing.
    fn rehung(&self) -> Option<Way> {
        self.line().or_else(|| self.chain()).or_else(|| self.bracket())
    }

    /// What gives the swing as the plate hangs, as near as it is told.
    fn as_it_hangs(&self) -> Option<Way> {
        let off = self.swing_as_it_hangs() - self.wish.swing.si();
        (off.abs() < unit::DEGREE.of(TOLD_DEG).si()).then_some(Way::Thickness { nearest: None })
    }

    fn swing_as_it_hangs(&self) -> f64 {
        self.swing(&self.as_hung())
    }

    fn as_hung(&self) -> Pendulum {
        Pendulum::hung(self.face, &self.of.plate, self.hung)
    }

    fn swing(&self, pendulum: &Pendulum) -> f64 {
        let swing = pendulum.swing(self.wish.momentum, self.wish.incidence, MIN_FACTOR, HitPoint::Centre);
        swing.angle().map_or(std::f64::consts::PI, Measure::si)
    }

    fn with(&self, way: Way) -> Pendulum {
        match way {
            Way::Line { above_centre } => self.at(above_centre),
            Way::Bracket { above_edge } => self.at(self.edge_above_centre() + above_edge),
            Way::Chain { length } => Pendulum::hung(self.face, &self.of.plate, Suspension::Chain(length)),
            Way::Thickness { .. } => self.as_hung(),
        }
    }

    fn at(&self, above_centre: Length) -> Pendulum {
        Pendulum::hung_above_centre(self.face, &self.of.plate, above_centre, self.hung)
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
        let highest = highest_bracket(self.hung)?;
        let edge = self.edge_above_centre();
        let above_edge = self.height(edge, edge + highest)? - edge;
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
        let short = Pendulum::hung(self.face, &self.of.plate, Suspension::Chain(Length::from_si(0.0)));
        let is_below_its_top = wanted > 0.0 && wanted < std::f64::consts::FRAC_PI_2;
        if !(self.of.on_chain && is_below_its_top && short.centre_below() > 0.0) {
            return None;
        }
        let energy = short.given(self.wish.momentum, self.wish.incidence, MIN_FACTOR, HitPoint::Centre);
        let rise = energy.si() / (short.mass().si() * unit::STANDARD_GRAVITY);
        let length = Length::from_si(rise / (1.0 - wanted.cos()) - short.centre_below());
        let (shortest, longest) = chains();
        (shortest..=longest).contains(&length).then_some(Way::Chain { length })
    }

    /// As it hangs, the thinnest plate that swings no farther where this one swings too far, else the thickest that
    /// swings as far.
    fn nearest<'c, 'f>(&self, others: &'c [Case<'f>]) -> Option<(&'c Case<'f>, Way)> {
        let wanted = self.wish.swing.si();
        let thinner = |a: &&Case, b: &&Case| a.of.plate.thickness.si().total_cmp(&b.of.plate.thickness.si());
        let found = if self.swing_as_it_hangs() > wanted {
            others.iter().filter(|case| case.swing_as_it_hangs() <= wanted).min_by(thinner)
        } else {
            others.iter().filter(|case| case.swing_as_it_hangs() >= wanted).max_by(thinner)
        };
        found.map(|case| {
            let swing = case.as_hung().swing(self.wish.momentum, self.wish.incidence, MIN_FACTOR, HitPoint::Centre);
            (case, Way::Thickness { nearest: Some(swing) })
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plate(inches: f64) -> Plate {
        Plate::new(format!("{inches} in"), unit::INCH.of(inches)).unwrap()
    }

    fn candidate(inches: f64) -> Candidate {
        Candidate { plate: plate(inches), on_chain: true }
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
                    let Some(found) = wanted(&face, &candidate(0.375), Suspension::Hooks, &[], &wish) else { continue };
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
        let asked = |size: f64, others: &[Candidate], wish: Wish| {
            wanted(&round(size), &candidate(0.375), Suspension::Hooks, others, &wish)
        };
        let calm = asked(12.0, &[], wish(40.0, 8.1));
        let Some(Wanted { way: Way::Chain { length }, .. }) = calm else { panic!("{calm:?}") };
        assert!((2.0..36.0).contains(&unit::INCH.value(length)), "{length:?}");
        assert_eq!(asked(8.0, &[], wish(20.0, 4.0)), None);
        // On no chain, and with a bracket that is not high enough, the nearest is another as it hangs.
        let unchained = |inches| Candidate { on_chain: false, ..candidate(inches) };
        let others = [0.5, 2.0, 2.5].map(unchained);
        let near = wanted(&round(8.0), &unchained(0.375), Suspension::Hooks, &others, &wish(20.0, 4.0));
        let Some(Wanted { plate, way: Way::Thickness { nearest: Some(swing) }, .. }) = near else { panic!("{near:?}") };
        assert_eq!(plate.label, "2 in");
        assert!(swing.angle().is_some_and(|a| a < unit::DEGREE.of(20.0)), "{swing:?}");
    }

    #[test]
    fn what_the_named_plate_can_not_be_given_is_given_to_another_that_suits_each_way() {
        let others = [candidate(2.0), candidate(0.75), candidate(0.5)];
        let ask = |others: &[Candidate], degrees| {
            wanted(&round(8.0), &candidate(0.375), Suspension::Hooks, others, &wish(degrees, 4.0))
        };
        assert_eq!(ask(&[], 20.0), None);
        // The nearest in thickness that can be given it.
        let found = ask(&others, 20.0).unwrap();
        assert_eq!(found.plate.label, "0.75 in");
        let Way::Chain { length } = found.way else { panic!("{found:?}") };
        let pendulum = Pendulum::hung(&round(8.0), &plate(0.75), Suspension::Chain(length));
        let swing = pendulum.swing(Momentum::from_si(4.0), Angle::from_si(0.0), 1.0, HitPoint::Centre);
        assert!((unit::DEGREE.value(swing.angle().unwrap()) - 20.0).abs() < 1e-6);
        // Where the rules keep it off a chain, none is proposed.
        let unchained = Candidate { on_chain: false, ..candidate(0.75) };
        assert!(ask(&[unchained], 20.0).is_none_or(|found| !matches!(found.way, Way::Chain { .. })));
    }

    #[test]
    fn a_chain_found_gives_the_swing() {
        let (face, wish) = (round(12.0), wish(35.0, 8.1));
        let Some(Wanted { way: Way::Chain { length }, .. }) =
            wanted(&face, &candidate(0.375), Suspension::Hooks, &[], &wish)
        else {
            panic!("no chain")
        };
        let pendulum = Pendulum::hung(&face, &plate(0.375), Suspension::Chain(length));
        let swing = pendulum.swing(wish.momentum, wish.incidence, 1.0, HitPoint::Centre).angle().unwrap();
        assert!((swing - wish.swing).si().abs() < 1e-9);
    }
}
