//! The ring of a plate: modes of a thin plate, free all around.
//!
//! `f = λ²/(2π·a²)·√(D/ρh)`, `D = E·h³/(12(1 − ν²))`, with a the radius of a circle or the long side of a
//! rectangle. Circle: Leissa, NASA SP-160 (from memory), ν 0.30. Rectangles of aspect 1 to 8: own Rayleigh–Ritz
//! computation, held against published values for the square and the aspects 1.5 and 2.5. Other shapes have no
//! published constants, and it is said so.
//!
//! A thick plate rings lower: its sections also turn and shear (Mindlin 1951, from memory). A wave of the thin plate's
//! wave number k, k⁴ = ω²·ρh/D, is taken through his equation
//! `(k² − ρω²/κG)·(D·k² − ρh³ω²/12) = ρhω²`, of which the slower root counts.

use super::free_plate;
use crate::plate::{Face, Plate, STEEL_KG_M3};
use crate::quantity::{Frequency, Length, Measure};

/// Young's modulus of steel, Pa (handbook value, from memory).
pub const YOUNG_PA: f64 = 205e9;
/// Poisson's ratio of steel (handbook value, from memory).
pub const POISSON: f64 = 0.30;
/// Shear factor κ of a plate's section (Mindlin's π²/12).
const SHEAR: f64 = std::f64::consts::PI * std::f64::consts::PI / 12.0;
/// The lowest pitch that is told, Hz: below it a plate thuds (house assumption).
pub const MIN_HZ: f64 = 150.0;
/// The highest pitch that is told, Hz: above it the ring is a click that the ears of many no longer hear (house
/// assumption).
pub const MAX_HZ: f64 = 8000.0;
/// Radius of the node circle of the (0,1) mode of a round plate, over its own.
pub const NODE_CIRCLE: f64 = 0.680;

/// A mode of vibration.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mode {
    /// Its name: node diameters and node circles for a round plate, its rank for others.
    pub name: &'static str,
    /// λ² of the thin plate, on the radius or the long side.
    pub lambda_sq: f64,
    /// Its pitch.
    pub frequency: Frequency,
    /// Whether a hit at the centre rings it: not where a node lies there.
    pub from_centre: bool,
}

impl Mode {
    /// Whether it is heard as a pitch.
    #[must_use]
    pub fn is_audible(&self) -> bool {
        (MIN_HZ..=MAX_HZ).contains(&self.frequency.si())
    }
}

/// Name, λ², and whether a centre hit rings it.
type Constant = (&'static str, f64, bool);
const ROUND: [Constant; 3] = [("(2,0)", 5.358, false), ("(0,1)", 9.003, true), ("(3,0)", 12.44, false)];
/// The names of a rectangle's modes, from the lowest.
const RANKS: [&str; 3] = ["first", "second", "third"];

/// The length that λ² stands on, and the modes: name, λ², and whether a centre hit rings it.
fn constants(face: &Face) -> Option<(f64, Vec<Constant>)> {
    match face {
        Face::Round(diameter) => Some((0.5 * diameter.si(), ROUND.to_vec())),
        Face::Rectangle(a, b) => {
            let (long, short) = (a.si().max(b.si()), a.si().min(b.si()));
            let modes = free_plate::rectangle(long / short, POISSON, RANKS.len())?;
            let named = RANKS.into_iter().zip(modes).map(|(name, mode)| (name, mode.lambda_sq, !mode.node_at_centre));
            Some((long, named.collect()))
        }
        Face::Outline(_) => None,
    }
}

/// The modes of a plate; `None` where its outline has no published constants.
#[must_use]
pub fn modes(face: &Face, plate: &Plate) -> Option<Vec<Mode>> {
    let (side, constants) = constants(face)?;
    let mode = |&(name, lambda_sq, from_centre): &Constant| Mode {
        name,
        lambda_sq,
        frequency: thick(lambda_sq, side, plate.thickness.si()),
        from_centre,
    };
    Some(constants.iter().map(mode).collect())
}

/// The formula above for a thin plate of any material: λ², the length it stands on, thickness, E in Pa, ν, ρ in kg/m³.
#[must_use]
pub fn frequency(
    lambda_sq: f64,
    side: Length,
    thickness: Length,
    young_pa: f64,
    poisson: f64,
    density: f64,
) -> Frequency {
    let h = thickness.si();
    let stiffness = young_pa * h * h * h / (12.0 * (1.0 - poisson * poisson));
    let side = side.si();
    Frequency::from_si(lambda_sq / (std::f64::consts::TAU * side * side) * (stiffness / (density * h)).sqrt())
}

/// The pitch of a steel plate, its thickness reckoned with.
fn thick(lambda_sq: f64, side: f64, h: f64) -> Frequency {
    let bending = YOUNG_PA * h * h * h / (12.0 * (1.0 - POISSON * POISSON));
    let shear = SHEAR * YOUNG_PA / (2.0 * (1.0 + POISSON));
    let (k2, mass) = (lambda_sq / (side * side), STEEL_KG_M3 * h);
    // a·Ω² − b·Ω + c = 0 of Ω = ω², written so that a thin plate loses no digits.
    let a = STEEL_KG_M3 * STEEL_KG_M3 * h * h * h / (12.0 * shear);
    let b = mass * (1.0 + k2 * h * h / 12.0) + STEEL_KG_M3 * bending * k2 / shear;
    let c = bending * k2 * k2;
    let omega_sq = 2.0 * c / (b + (b * b - 4.0 * a * c).max(0.0).sqrt());
    Frequency::from_si(omega_sq.sqrt() / std::f64::consts::TAU)
}

/// How broad the node circle is, on which a plate is still while a hit at its centre rings it: known of a round plate
/// alone.
#[must_use]
pub fn node_circle(face: &Face) -> Option<Length> {
    match face {
        Face::Round(diameter) => Some(Length::from_si(NODE_CIRCLE * diameter.si())),
        Face::Rectangle(..) | Face::Outline(_) => None,
    }
}

/// Where to drill a round plate for the least damping: two holes on the node circle of (0,1), 90° apart, so
/// that they lie on nodes of one (2,0) too. Right and up of the centre.
#[must_use]
pub fn quiet_holes(diameter: Length) -> [(Length, Length); 2] {
    let r = NODE_CIRCLE * 0.5 * diameter.si() * std::f64::consts::FRAC_1_SQRT_2;
    [(Length::from_si(-r), Length::from_si(r)), (Length::from_si(r), Length::from_si(r))]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plate::{Contour, Outline, Point};
    use crate::quantity::unit;
    use std::sync::Arc;

    #[test]
    fn a_centre_hit_rings_the_circle_mode_and_pitch_goes_with_thickness_over_size_squared() {
        let face = Face::round(unit::INCH.of(12.0)).unwrap();
        let plate = |inches: f64| Plate::new("test", unit::INCH.of(inches)).unwrap();
        let rung = |inches: f64| modes(&face, &plate(inches)).unwrap().into_iter().find(|m| m.from_centre).unwrap();
        assert_eq!(rung(0.375).name, "(0,1)");
        assert!((rung(0.75).frequency.si() / rung(0.375).frequency.si() - 2.0).abs() < 0.05);
        let hertz = rung(0.375).frequency.si();
        assert!((850.0..980.0).contains(&hertz), "{hertz}");
    }

    #[test]
    fn a_thick_plate_rings_lower_than_a_thin_ones_formula_and_a_thin_one_alike() {
        let face = Face::round(unit::INCH.of(12.0)).unwrap();
        let ratio = |inches: f64| {
            let plate = Plate::new("test", unit::INCH.of(inches)).unwrap();
            let thin = frequency(9.003, unit::INCH.of(6.0), plate.thickness, YOUNG_PA, POISSON, STEEL_KG_M3);
            modes(&face, &plate).unwrap()[1].frequency.si() / thin.si()
        };
        assert!((ratio(0.0625) - 1.0).abs() < 1e-3);
        // Derived: to first order the pitch falls by (kh)²/24·(1 + 2/(κ(1 − ν))), 0.66 % for 3/8 in.
        let kh2 = 9.003 * (0.375_f64 / 6.0).powi(2);
        let first_order = kh2 / 24.0 * (1.0 + 2.0 / (SHEAR * (1.0 - POISSON)));
        assert!((1.0 - ratio(0.375) - first_order).abs() < 0.1 * first_order, "{} {first_order}", ratio(0.375));
        assert!(ratio(3.0) < ratio(0.75) && ratio(3.0) > 0.5);
    }

    #[test]
    fn a_pitch_is_told_only_where_it_is_one() {
        // Common practice: a 12 in gong rings near 900 Hz; a 4 in plate of 3/4 in clicks, a 36 in sheet of 3/16 in
        // thuds.
        let centre = |size: f64, thickness: f64| {
            let face = Face::round(unit::INCH.of(size)).unwrap();
            let plate = Plate::new("test", unit::INCH.of(thickness)).unwrap();
            modes(&face, &plate).unwrap().into_iter().find(|m| m.from_centre).unwrap().is_audible()
        };
        assert_eq!([centre(12.0, 0.375), centre(4.0, 0.75), centre(36.0, 0.1875)], [true, false, false]);
    }

    #[test]
    fn a_shape_without_constants_has_no_pitch() {
        let plate = Plate::new("test", unit::INCH.of(0.375)).unwrap();
        let origin = Point { x: unit::METRE.of(0.0), y: unit::METRE.of(0.0) };
        let contour = Contour::circle(origin, unit::METRE.of(0.3)).unwrap();
        let outline = Outline::new("x", contour, Vec::new(), Vec::new()).unwrap();
        assert!(modes(&Face::Outline(Arc::new(outline)), &plate).is_none());
        let strip = Face::rectangle(unit::INCH.of(2.0), unit::INCH.of(40.0)).unwrap();
        assert!(modes(&strip, &plate).is_none());
    }

    #[test]
    fn a_long_rectangle_rings_from_its_centre_in_its_first_mode_and_a_squarish_one_does_not() {
        let plate = Plate::new("test", unit::INCH.of(0.375)).unwrap();
        let centre = |w: f64, h: f64| {
            let face = Face::rectangle(unit::INCH.of(w), unit::INCH.of(h)).unwrap();
            modes(&face, &plate).unwrap().into_iter().find(|m| m.from_centre).unwrap().name
        };
        assert_eq!((centre(12.0, 30.0), centre(12.0, 18.0), centre(12.0, 12.0)), ("first", "second", "third"));
    }

    #[test]
    fn the_quiet_holes_lie_on_the_node_circle_a_right_angle_apart() {
        let face = Face::round(unit::INCH.of(12.0)).unwrap();
        assert!((unit::INCH.value(node_circle(&face).unwrap()) - 8.16).abs() < 1e-9);
        let [(ax, ay), (bx, by)] = quiet_holes(unit::INCH.of(12.0));
        assert!((ax.si().hypot(ay.si()) / (0.68 * 6.0 * 0.0254) - 1.0).abs() < 1e-12);
        assert!((ax * bx + ay * by).si().abs() < 1e-12);
    }
}
