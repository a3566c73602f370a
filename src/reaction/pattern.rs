//! How much of a charge of shot meets a face.
//!
//! The pellets lie about the point of aim as a round normal law, whose spread grows with distance in proportion: of
//! all pellets `1 − exp(−r²/2σ²)` lie within r, and a choke is stated by the share within 15 in at 40 yd. A shooter
//! does not say which choke is in the gun: where more is the strict side (swing, hooks) the tightest counts, where
//! less is (toppling, what is seen) a bore without choke.

use crate::load::Load;
use crate::plate::{Face, Section};
use crate::quantity::{Area, Length, Measure, Ratio, unit};
use statrs::function::erf::erf;

/// Share of a full choke's pellets in the circle of [`CIRCLE_IN`] at [`CIRCLE_YD`] (handbook value, from memory).
pub const FULL_CHOKE: f64 = 0.70;
/// Share of a bore's without choke (handbook value, from memory).
pub const OPEN_BORE: f64 = 0.40;
/// Diameter of the circle that patterns are counted in, in.
pub const CIRCLE_IN: f64 = 30.0;
/// Distance at which they are counted, yd.
pub const CIRCLE_YD: f64 = 40.0;

/// Standard deviation of a pellet's place to one side, m, at a distance, by the share that meets the circle.
fn sigma(share: f64, distance: Length) -> f64 {
    let radius = 0.5 * unit::INCH.of(CIRCLE_IN).si();
    let at_circle = radius / (-2.0 * (1.0 - share).ln()).sqrt();
    at_circle * unit::YARD.value(distance) / CIRCLE_YD
}

/// Share within a circle about the point of aim.
fn in_circle(diameter: f64, sigma: f64) -> f64 {
    1.0 - (-0.125 * (diameter / sigma).powi(2)).exp()
}

/// Share within a rectangle about the point of aim.
fn in_rectangle(width: f64, height: f64, sigma: f64) -> f64 {
    let side = |length: f64| erf(0.5 * length / (sigma * std::f64::consts::SQRT_2));
    side(width) * side(height)
}

/// The most of a charge that meets a face aimed at in its centre: of a full choke. Of a single projectile all.
#[must_use]
pub fn most(load: &Load, face: &Face, distance: Length) -> Ratio {
    share(load, face, distance, FULL_CHOKE, |outline| outline.area)
}

/// The least of a charge that meets a face aimed at in its centre: of a bore without choke. Of a single projectile
/// all.
#[must_use]
pub fn least(load: &Load, face: &Face, distance: Length) -> Ratio {
    share(load, face, distance, OPEN_BORE, |_| {
        let width = face.narrowest_width();
        std::f64::consts::FRAC_PI_4 * width * width
    })
}

/// Of an outline the share of a circle: no face of an area meets more than the circle of that area, and one meets no
/// less than the circle of its narrowest width, which it holds wherever it is widest.
fn share(load: &Load, face: &Face, distance: Length, choke: f64, circle: impl Fn(&Section) -> Area) -> Ratio {
    if load.facts().projectiles <= 1 || distance.si() <= 0.0 {
        return unit::ONE.of(1.0);
    }
    let sigma = sigma(choke, distance);
    let share = match face {
        Face::Round(diameter) => in_circle(diameter.si(), sigma),
        Face::Rectangle(width, height) => in_rectangle(width.si(), height.si(), sigma),
        Face::Outline(_) => {
            let area = circle(&Section::of(face)).si();
            in_circle((area / std::f64::consts::FRAC_PI_4).max(0.0).sqrt(), sigma)
        }
    };
    unit::ONE.of(share.clamp(0.0, 1.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::Catalog;
    use crate::load::Construction;
    use std::sync::Arc;

    fn shot() -> Arc<Load> {
        let catalog = Catalog::builtin().unwrap();
        let birdshot = |load: &&Arc<Load>| load.facts().construction == Construction::LeadShot;
        catalog.entries().iter().map(|e| &e.load).find(birdshot).unwrap().clone()
    }

    fn round(inches: f64) -> Face {
        Face::round(unit::INCH.of(inches)).unwrap()
    }

    #[test]
    fn a_full_choke_puts_seven_pellets_of_ten_in_the_circle_it_is_stated_by() {
        let load = shot();
        let share = most(&load, &round(30.0), unit::YARD.of(40.0)).si();
        assert!((share - 0.70).abs() < 1e-12, "{share}");
        assert!((least(&load, &round(30.0), unit::YARD.of(40.0)).si() - 0.40).abs() < 1e-12);
        // In proportion to distance: half the circle at half the distance.
        assert!((most(&load, &round(15.0), unit::YARD.of(20.0)).si() - 0.70).abs() < 1e-12);
    }

    #[test]
    fn a_plate_meets_nearly_all_up_close_and_little_far_out() {
        // Common practice: at 10 yd a full choke patterns about 10 in across, at 40 yd an 8 in plate meets one
        // pellet in five at the very most.
        let load = shot();
        let share = |yards: f64| most(&load, &round(8.0), unit::YARD.of(yards)).si();
        assert!((0.65..0.95).contains(&share(10.0)), "{}", share(10.0));
        assert!((0.05..0.20).contains(&share(40.0)), "{}", share(40.0));
        assert!(least(&load, &round(8.0), unit::YARD.of(20.0)) < most(&load, &round(8.0), unit::YARD.of(20.0)));
    }

    #[test]
    fn a_square_meets_a_little_less_than_the_circle_of_its_area_and_more_than_the_one_inside() {
        let load = shot();
        let at = unit::YARD.of(25.0);
        let square = Face::rectangle(unit::INCH.of(10.0), unit::INCH.of(10.0)).unwrap();
        let share = most(&load, &square, at);
        let same_area = 10.0 * (4.0 / std::f64::consts::PI).sqrt();
        assert!(share < most(&load, &round(same_area), at) && share > most(&load, &round(10.0), at));
    }

    #[test]
    fn a_single_projectile_meets_the_face_whole() {
        let catalog = Catalog::builtin().unwrap();
        let load = &catalog.load("308-168-match").unwrap().load;
        assert_eq!(most(load, &round(4.0), unit::YARD.of(800.0)).si(), 1.0);
    }
}
