//! Narrowest widths by opening with a disc, computed with a general-purpose geometry library, and closed forms.

#![allow(dead_code, unused_imports)] // Also compiled into the verification example, which uses the checks alone.

use super::check::{Check, Status, assert_all};
use thickset::outline::{Contour, Outline, Point, Thin, Vertex};
use thickset::quantity::unit;

fn at(x: f64, y: f64) -> Point {
    Point { x: unit::INCH.of(x), y: unit::INCH.of(y) }
}

fn plate(points: &[(f64, f64, f64)]) -> Outline {
    let vertices = points.iter().map(|&(x, y, bulge)| Vertex { at: at(x, y), bulge }).collect();
    Outline::new("drawn", Contour::new(vertices).expect("a contour"), Vec::new(), Vec::new()).expect("an outline")
}

fn straight(points: &[(f64, f64)]) -> Outline {
    plate(&points.iter().map(|&(x, y)| (x, y, 0.0)).collect::<Vec<_>>())
}

fn width(outline: &Outline) -> f64 {
    unit::INCH.value(outline.thinnest().expect("a width").width)
}

fn legged(foot: f64) -> Outline {
    let (l, r) = (6.0 - 0.5 * foot, 6.0 + 0.5 * foot);
    straight(&[(0.0, 8.0), (5.375, 8.0), (l, 0.0), (r, 0.0), (6.625, 8.0), (12.0, 8.0), (12.0, 20.0), (0.0, 20.0)])
}

/// A neck of 4 in between two plates of 12 in, its roots sharp or with a fillet of half an inch.
fn necked(fillet: bool) -> Outline {
    if !fillet {
        return straight(&[
            (0.0, 0.0),
            (12.0, 0.0),
            (12.0, 8.0),
            (8.0, 8.0),
            (8.0, 14.0),
            (12.0, 14.0),
            (12.0, 22.0),
            (0.0, 22.0),
            (0.0, 14.0),
            (4.0, 14.0),
            (4.0, 8.0),
            (0.0, 8.0),
        ]);
    }
    let b = -0.414_213_56;
    plate(&[
        (0.0, 0.0, 0.0),
        (12.0, 0.0, 0.0),
        (12.0, 8.0, 0.0),
        (8.5, 8.0, b),
        (8.0, 8.5, 0.0),
        (8.0, 13.5, b),
        (8.5, 14.0, 0.0),
        (12.0, 14.0, 0.0),
        (12.0, 22.0, 0.0),
        (0.0, 22.0, 0.0),
        (0.0, 14.0, 0.0),
        (3.5, 14.0, b),
        (4.0, 13.5, 0.0),
        (4.0, 8.5, b),
        (3.5, 8.0, 0.0),
        (0.0, 8.0, 0.0),
    ])
}

fn isosceles(base: f64, height: f64) -> Outline {
    straight(&[(0.0, 0.0), (base, 0.0), (0.5 * base, height)])
}

/// Two bodies joined by a neck of 1 in.
fn bodies(neck: f64) -> Outline {
    straight(&[
        (0.0, 0.0),
        (8.0, 0.0),
        (8.0, 8.0),
        (4.5, 8.0),
        (4.5, 8.0 + neck),
        (7.0, 8.0 + neck),
        (7.0, 14.0 + neck),
        (1.0, 14.0 + neck),
        (1.0, 8.0 + neck),
        (3.5, 8.0 + neck),
        (3.5, 8.0),
        (0.0, 8.0),
    ])
}

fn tongued() -> Outline {
    // A round of 12 in about (0, 0) whose tongue, 1 in wide, stands 2 in out.
    let y = (36.0_f64 - 0.25).sqrt();
    let sweep = std::f64::consts::TAU - 2.0 * (0.5_f64 / 6.0).asin();
    let half = (0.125 * sweep).tan();
    plate(&[(-0.5, y, half), (0.0, -6.0, half), (0.5, y, 0.0), (0.5, y + 2.0, 0.0), (-0.5, y + 2.0, 0.0)])
}

fn ellipse(width: f64, height: f64) -> Outline {
    let point = |i: i32| {
        let (sin, cos) = (f64::from(i) * std::f64::consts::TAU / 720.0).sin_cos();
        (0.5 * width * cos, 0.5 * height * sin)
    };
    straight(&(0..720).map(point).collect::<Vec<_>>())
}

fn star(outer: f64, inner: f64) -> Outline {
    let point = |i: i32| {
        let (sin, cos) = (f64::from(i) * std::f64::consts::PI / 5.0).sin_cos();
        let far = if i % 2 == 0 { outer } else { inner };
        (far * sin, far * cos)
    };
    straight(&(0..10).map(point).collect::<Vec<_>>())
}

const OPENED: &str = "a general-purpose geometry library, opening by a disc";

pub fn checks() -> Vec<Check> {
    let tip = isosceles(6.0, 3.0 / 15_f64.to_radians().tan());
    let cases = [
        ("4 × 18 rectangle", straight(&[(0.0, 0.0), (4.0, 0.0), (4.0, 18.0), (0.0, 18.0)]), 4.0),
        ("leg of 1.25", legged(1.25), 1.25),
        ("leg to 1.15", legged(1.15), 1.18),
        ("leg to 0.85", legged(0.85), 0.95),
        ("neck, sharp", necked(false), 4.0),
        ("neck, filleted", necked(true), 4.0),
        ("neck 1 × 2", bodies(2.0), 1.0),
        ("tongue", tongued(), 1.0),
        ("tip of 30°", tip, 1.05),
        ("equilateral", isosceles(12.0, 12.0 * 0.75_f64.sqrt()), 6.928),
        ("ellipse", ellipse(16.0, 6.0), 5.8),
        ("star", star(8.0, 3.06), 1.35),
    ];
    let check = |(name, outline, expected): (&str, Outline, f64)| {
        let what = format!("narrowest width of a {name}, in");
        Check::new(what, OPENED, Status::Computed, expected, width(&outline), 0.02 * expected)
    };
    cases.into_iter().map(check).collect()
}

#[test]
fn narrowest_widths_agree_with_opening_by_a_disc() {
    assert_all(&checks());
}

/// A triangle holds a largest disc of radius b·h/(b + 2·√(h² + b²/4)).
#[test]
fn a_blunt_triangle_is_as_wide_as_its_largest_disc() {
    for (base, height) in [(12.0_f64, 10.0_f64), (10.0, 8.0), (14.0, 11.0)] {
        let disc = 2.0 * base * height / (base + 2.0 * height.hypot(0.5 * base));
        let got = width(&isosceles(base, height));
        // Corners below 60° reach farther than half the width from what stays.
        let tip = 2.0 * (0.5 * base / height).atan();
        if tip.to_degrees() > 60.5 && (height / (0.5 * base)).atan().to_degrees() > 60.5 {
            assert!((got / disc - 1.0).abs() < 1e-3, "{base} × {height}: {got}, not {disc}");
        }
        assert!(got <= disc * 1.001, "{base} × {height}: {got}, over {disc}");
    }
}

/// Each was once taken for a plate without a thin place.
#[test]
fn a_fillet_at_the_root_hides_no_neck_and_a_taper_no_leg() {
    let b = -0.414_213_56;
    let one_fillet = plate(&[
        (0.0, 0.0, 0.0),
        (12.0, 0.0, 0.0),
        (12.0, 12.0, 0.0),
        (8.0, 12.0, 0.0),
        (8.0, 20.0, 0.0),
        (8.5, 20.5, 0.0),
        (12.0, 20.5, 0.0),
        (12.0, 30.0, 0.0),
        (0.0, 30.0, 0.0),
        (0.0, 20.5, 0.0),
        (3.5, 20.5, b),
        (4.0, 20.0, 0.0),
        (4.0, 12.0, 0.0),
        (0.0, 12.0, 0.0),
    ]);
    assert!((width(&one_fillet) / 4.0 - 1.0).abs() < 1e-3, "{}", width(&one_fillet));
    assert!((width(&necked(true)) / width(&necked(false)) - 1.0).abs() < 1e-3);
    assert_eq!(necked(true).thinnest().expect("a width").what, Thin::Neck);
    assert!(width(&legged(0.85)) < width(&legged(1.25)) && width(&legged(1.65)) < 1.4);
}

#[test]
fn a_neck_of_an_inch_is_an_inch_wide_whatever_its_length() {
    for neck in [0.01, 0.1, 0.3, 0.5, 1.0, 1.5, 2.0, 5.0, 10.0] {
        let got = width(&bodies(neck));
        assert!((got - 1.0).abs() < 0.002, "{neck}: {got}");
    }
}
