//! A falling plate or popper: whether a hit tips it over its base edge.
//!
//! It stands on its lower edge, of a base as deep as the plate is thick or as its foot is. The hit turns it
//! about the rear edge of the base; it falls once the centre of mass has passed above that edge:
//! ½Iω² ≥ m·g·(√(c² + d²) − c), with c the height of the centre and d its distance before the rear edge.

use crate::plate::{Face, Plate, STEEL_KG_M3, Section};
use crate::quantity::{Energy, Length, Measure, Momentum, unit};

/// What a hit on a standing plate comes to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Topple {
    /// Energy of turning that the hit gives.
    pub given: Energy,
    /// Energy that tipping asks for.
    pub needed: Energy,
}

impl Topple {
    /// Whether it falls.
    #[must_use]
    pub fn falls(&self) -> bool {
        self.given >= self.needed
    }
}

/// Whether a hit of this momentum at a height above the base topples a standing plate whose base is `base` deep.
#[must_use]
pub fn topple(face: &Face, plate: &Plate, base: Length, momentum: Momentum, height: Length) -> Topple {
    let section = Section::of(face);
    let thickness = plate.thickness.si();
    let mass = STEEL_KG_M3 * thickness * section.area.si();
    let (c, d) = (centre_height(face).si(), 0.5 * base.si());
    let about_centre = STEEL_KG_M3 * thickness * section.level.si() + mass * thickness * thickness / 12.0;
    let inertia = about_centre + mass * (c * c + d * d);
    let omega = momentum.si() * height.si() / inertia;
    Topple {
        given: Energy::from_si(0.5 * inertia * omega * omega),
        needed: Energy::from_si(mass * unit::STANDARD_GRAVITY * ((c * c + d * d).sqrt() - c)),
    }
}

/// Height of a face's centre of mass above its lower edge: where a hit is taken to land.
#[must_use]
pub fn centre_height(face: &Face) -> Length {
    let section = Section::of(face);
    section.centre.y - section.bounds.bottom
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rectangle_needs_its_closed_form_and_a_deeper_base_more() {
        let face = Face::rectangle(unit::INCH.of(8.0), unit::INCH.of(30.0)).unwrap();
        let plate = Plate::new("test", unit::INCH.of(0.375)).unwrap();
        let hit = |base: f64, newton_seconds: f64| {
            topple(&face, &plate, unit::INCH.of(base), Momentum::from_si(newton_seconds), unit::INCH.of(25.0))
        };
        let mass = 7850.0 * (8.0 * 30.0 * 0.375) * 0.0254_f64.powi(3);
        let (c, d): (f64, f64) = (15.0 * 0.0254, 1.5 * 0.0254);
        let expected = mass * 9.806_65 * ((c * c + d * d).sqrt() - c);
        assert!((hit(3.0, 1.0).needed.si() / expected - 1.0).abs() < 1e-12);
        assert!(hit(4.0, 1.0).needed > hit(3.0, 1.0).needed);
        assert!(hit(3.0, 5.0).falls() && !hit(3.0, 0.01).falls());
    }
}
