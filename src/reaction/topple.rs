//! A falling plate or popper: whether a hit tips it over, and what just does.
//!
//! It turns about an axis at its lower edge, and falls once the centre of mass has passed above it:
//! ½Iω² ≥ m·g·(√(c² + d²) − c), with c the height of the centre above the axis and d its distance before it. A falling
//! plate tips about the rear edge of its base, and must fall to a low hit; a popper about its hinge, and must fall to
//! a hit where it is calibrated.

use crate::plate::{Face, Kind, Plate, STEEL_KG_M3, Section};
use crate::quantity::{Angle, Energy, Length, Measure, Momentum, unit};
use crate::reaction::swing::LOW_SHARE;

/// How far before its hinge a popper's centre is taken to stand where it is not given, in (derived: a full-size
/// popper of 3/8 in then falls to 120,000 gr·ft/s, about the least that matches ask for, from memory).
pub const HINGE_OFFSET_IN: f64 = 1.5;

/// How a plate stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Standing {
    /// Its kind; where it is not given it stands on a base and is hit at its centre.
    pub kind: Option<Kind>,
    /// Depth of its base: of the plate itself where it is not given.
    pub base: Option<Length>,
    /// How far a popper's centre stands before its hinge; half the base, or [`HINGE_OFFSET_IN`], where it is not
    /// given.
    pub hinge_offset: Option<Length>,
    /// Height of the hit above the lower edge: where it is not given, low on a falling plate, on a popper in the
    /// middle of its head, as wide as the face.
    pub hit_height: Option<Length>,
}

impl Standing {
    /// A plate of a kind, all else not given.
    #[must_use]
    pub fn of(kind: Kind) -> Self {
        Self { kind: Some(kind), base: None, hinge_offset: None, hit_height: None }
    }

    /// A plate on a base of a depth, hit at its centre.
    #[must_use]
    pub fn on_base(base: Length) -> Self {
        Self { kind: None, base: Some(base), hinge_offset: None, hit_height: None }
    }

    fn hit_height(&self, face: &Face) -> Length {
        let bounds = Section::of(face).bounds;
        let centre = centre_height(face);
        self.hit_height.unwrap_or_else(|| match self.kind {
            Some(Kind::Falling) => centre * (1.0 - LOW_SHARE),
            Some(Kind::Popper) if bounds.height() > bounds.width() => bounds.height() - 0.5 * bounds.width(),
            _ => centre,
        })
    }

    /// How far the centre stands before the axis.
    fn offset(&self, plate: &Plate) -> Length {
        let half_base = self.base.map(|base| 0.5 * base);
        match self.kind {
            Some(Kind::Popper) => self.hinge_offset.or(half_base).unwrap_or_else(|| unit::INCH.of(HINGE_OFFSET_IN)),
            _ => half_base.unwrap_or(0.5 * plate.thickness),
        }
    }
}

/// What a hit on a standing plate comes to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Topple {
    /// Energy of turning that the hit gives.
    pub given: Energy,
    /// Energy that tipping asks for.
    pub needed: Energy,
    /// Height of the hit above the lower edge.
    pub hit_height: Length,
    /// How far the centre of mass stands before the axis that it tips about.
    pub offset: Length,
    /// Momentum that the hit brings.
    pub momentum: Momentum,
    /// Momentum along the same path that just drops it.
    pub just_drops: Momentum,
}

impl Topple {
    /// Whether it falls.
    #[must_use]
    pub fn falls(&self) -> bool {
        self.given >= self.needed
    }
}

/// Whether a hit of this momentum topples a standing plate, and what just does; `None` for a spinner, which nothing
/// topples.
#[must_use]
pub fn topple(face: &Face, plate: &Plate, standing: &Standing, momentum: Momentum, incidence: Angle) -> Option<Topple> {
    if standing.kind == Some(Kind::Spinner) {
        return None;
    }
    let section = Section::of(face);
    let thickness = plate.thickness.si();
    let mass = STEEL_KG_M3 * thickness * section.area.si();
    let (c, d) = (centre_height(face).si(), standing.offset(plate).si());
    let i_xx = STEEL_KG_M3 * thickness * section.i_xx.si() + mass * thickness * thickness / 12.0;
    let inertia = i_xx + mass * (c * c + d * d);
    let hit_height = standing.hit_height(face);
    let lever = hit_height.si() * incidence.si().cos().abs();
    let turning = momentum.si() * lever;
    let needed = mass * unit::STANDARD_GRAVITY * ((c * c + d * d).sqrt() - c);
    Some(Topple {
        given: Energy::from_si(0.5 * turning * turning / inertia),
        needed: Energy::from_si(needed),
        hit_height,
        offset: Length::from_si(d),
        momentum,
        just_drops: Momentum::from_si((2.0 * inertia * needed).sqrt() / lever),
    })
}

/// Height of a face's centre of mass above its lower edge.
#[must_use]
pub fn centre_height(face: &Face) -> Length {
    let section = Section::of(face);
    section.centre.y - section.bounds.bottom
}

#[cfg(test)]
mod tests {
    use super::*;

    const SQUARE: f64 = 0.0;

    fn plate(inches: f64) -> Plate {
        Plate::new("test", unit::INCH.of(inches)).unwrap()
    }

    fn ns(value: f64) -> Momentum {
        Momentum::from_si(value)
    }

    fn hit(face: &Face, standing: &Standing, momentum: f64) -> Topple {
        topple(face, &plate(0.375), standing, ns(momentum), Angle::from_si(SQUARE)).unwrap()
    }

    #[test]
    fn a_rectangle_needs_its_closed_form_and_a_deeper_base_more() {
        let face = Face::rectangle(unit::INCH.of(8.0), unit::INCH.of(30.0)).unwrap();
        let on_base = |base: f64, momentum: f64| hit(&face, &Standing::on_base(unit::INCH.of(base)), momentum);
        let mass = 7850.0 * (8.0 * 30.0 * 0.375) * 0.0254_f64.powi(3);
        let (c, d): (f64, f64) = (15.0 * 0.0254, 1.5 * 0.0254);
        let expected = mass * 9.806_65 * ((c * c + d * d).sqrt() - c);
        assert!((on_base(3.0, 1.0).needed.si() / expected - 1.0).abs() < 1e-12);
        assert!(on_base(4.0, 1.0).needed > on_base(3.0, 1.0).needed);
        assert!(on_base(3.0, 9.0).falls() && !on_base(3.0, 0.01).falls());
    }

    #[test]
    fn what_just_drops_it_just_drops_it_also_turned() {
        let face = Face::round(unit::INCH.of(8.0)).unwrap();
        for kind in [Kind::Falling, Kind::Popper] {
            for incidence in [0.0, 0.6] {
                let turned = |momentum| {
                    topple(&face, &plate(0.375), &Standing::of(kind), momentum, Angle::from_si(incidence)).unwrap()
                };
                let just = turned(ns(1.0)).just_drops;
                assert!(turned(just * 1.000_001).falls() && !turned(just * 0.999_999).falls(), "{kind}");
            }
        }
    }

    #[test]
    fn a_falling_plate_falls_to_a_pistol_hit_low_and_to_a_rimfire_one_only_higher() {
        // Common practice: a 9 mm (115 gr at 1,100 ft/s) drops an 8 in plate of 3/8 in wherever it lands; a .22
        // pistol (40 gr at 950 ft/s) drops it by a hit in the middle, and not by a low one.
        let face = Face::round(unit::INCH.of(8.0)).unwrap();
        let falling = Standing::of(Kind::Falling);
        let middle = Standing { hit_height: Some(centre_height(&face)), ..falling };
        let (nine, rimfire) = (2.50, 0.75);
        assert!(hit(&face, &falling, nine).falls() && hit(&face, &middle, nine).falls());
        assert!(!hit(&face, &falling, rimfire).falls() && hit(&face, &middle, rimfire).falls());
    }

    #[test]
    fn a_popper_falls_to_a_minor_load_where_it_is_calibrated_and_not_to_a_rimfire_one() {
        // A full-size popper stands 42 in high (from memory), about as heavy as a plate 8.5 in wide. Minor is
        // 120,000 gr·ft/s or more (from memory): 2.37 N·s.
        let face = Face::rectangle(unit::INCH.of(8.5), unit::INCH.of(42.0)).unwrap();
        let popper = Standing::of(Kind::Popper);
        assert!(hit(&face, &popper, 2.6).falls());
        assert!(!hit(&face, &popper, 0.79).falls());
        let head = unit::INCH.value(hit(&face, &popper, 1.0).hit_height);
        assert!((37.0..38.5).contains(&head), "{head}");
        let nearer = Standing { hinge_offset: Some(unit::INCH.of(0.75)), ..popper };
        assert!(hit(&face, &nearer, 1.0).just_drops < hit(&face, &popper, 1.0).just_drops);
    }

    #[test]
    fn nothing_topples_a_spinner() {
        let face = Face::round(unit::INCH.of(6.0)).unwrap();
        let spinner = Standing::of(Kind::Spinner);
        assert!(topple(&face, &plate(0.375), &spinner, ns(2.0), Angle::from_si(SQUARE)).is_none());
    }
}
