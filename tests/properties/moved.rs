//! Outlines with a neck or a leg and a window: drawn in another unit, turned, in chords, or with a corner moved a
//! little, they read as they are.

use super::support::cases;
use proptest::prelude::*;
use proptest::test_runner::{Config, RngSeed};
use thickset::outline::Outline;
use thickset::quantity::{Measure, unit};
use thickset::source::SourceText;

fn few() -> Config {
    Config { cases: cases(24), rng_seed: RngSeed::Fixed(0x51AB), failure_persistence: None, ..Config::default() }
}

type Spot = (f64, f64);

/// A plate with a part that is as wide as `2 half` and long enough to count, and a window that leaves a strip.
#[derive(Debug, Clone, Copy)]
struct Figure {
    /// A neck to a head, or a leg that ends.
    neck: bool,
    half: f64,
    long: f64,
    /// Steel between the window and the left side.
    strip: f64,
}

impl Figure {
    fn corners(self) -> Vec<Spot> {
        let (half, end) = (self.half, 10.0 + self.long);
        let part = if self.neck {
            vec![(half, 10.0), (half, end), (5.0, end), (5.0, end + 7.0)]
        } else {
            vec![(half, 10.0), (half, end)]
        };
        let right = [(-8.0, 0.0), (8.0, 0.0), (8.0, 10.0)].into_iter().chain(part.iter().copied());
        let left = part.iter().rev().map(|&(x, y)| (-x, y));
        right.chain(left).chain([(-8.0, 10.0)]).collect()
    }

    fn window(self) -> Vec<Spot> {
        let left = -8.0 + self.strip;
        vec![(left, 3.0), (left + 4.0, 3.0), (left + 4.0, 7.0), (left, 7.0)]
    }

    /// The narrowest width by construction: the window is three inches off every other side.
    fn width(self) -> f64 {
        (2.0 * self.half).min(self.strip)
    }
}

fn figure() -> impl Strategy<Value = Figure> {
    (any::<bool>(), 0.4..1.4_f64, 2.5..5.0_f64, 0.6..2.6_f64).prop_map(|(neck, half, long, strip)| Figure {
        neck,
        half,
        long,
        strip,
    })
}

/// An outline of these corners with these cut-outs, in a unit of which an inch has so many.
fn drawn(corners: &[Spot], cuts: &[Vec<Spot>], unit_name: &str, in_inch: f64) -> Outline {
    let points = |spots: &[Spot]| {
        let of = |(x, y): &Spot| format!("[{:?}, {:?}]", x * in_inch, y * in_inch);
        spots.iter().map(of).collect::<Vec<_>>().join(", ")
    };
    let cuts: Vec<String> = cuts.iter().map(|cut| format!("[[hole]]\npoints = [{}]\n", points(cut))).collect();
    let cuts = cuts.concat();
    let text = format!(
        "schema = \"thickset/outline/1\"\nname = \"x\"\nunit = \"{unit_name}\"\npoints = [{}]\n{cuts}",
        points(corners)
    );
    Outline::from_toml(&SourceText::new("x.toml", text.clone())).unwrap_or_else(|e| panic!("{e}\n{text}"))
}

fn inches(corners: &[Spot], cuts: &[Vec<Spot>]) -> Outline {
    drawn(corners, cuts, "in", 1.0)
}

fn width(outline: &Outline) -> f64 {
    unit::INCH.value(outline.thinnest().expect("a width").width)
}

/// Area, cut length, sum of moments, width: whatever must not change.
fn read(outline: &Outline) -> [f64; 4] {
    let section = outline.section();
    [outline.area().si(), outline.cut_length().si(), (section.i_xx + section.i_yy).si(), width(outline)]
}

fn same(a: &Outline, b: &Outline) -> Result<(), TestCaseError> {
    for (one, other) in read(a).into_iter().zip(read(b)) {
        prop_assert!((one / other - 1.0).abs() < 1e-3, "{:?} {:?}", read(a), read(b));
    }
    let corners = |o: &Outline| o.sharp_corners(unit::INCH.of(0.375)).len();
    prop_assert_eq!(corners(a), corners(b));
    Ok(())
}

proptest! {
    #![proptest_config(few())]

    #[test]
    fn a_drawing_in_millimetres_is_the_one_in_inches(figure in figure()) {
        let (corners, cuts) = (figure.corners(), [figure.window()]);
        let metric = drawn(&corners, &cuts, "mm", 25.4);
        same(&inches(&corners, &cuts), &metric)?;
        prop_assert!((width(&metric) / figure.width() - 1.0).abs() < 1e-3, "{} {figure:?}", width(&metric));
    }

    #[test]
    fn turned_with_its_window_it_reads_the_same(figure in figure(), turn in 0.0..6.3_f64, shift in -20.0..20.0_f64) {
        let (sin, cos) = turn.sin_cos();
        let turned = |spots: Vec<Spot>| -> Vec<Spot> {
            spots.iter().map(|&(x, y)| (cos * x - sin * y + shift, sin * x + cos * y - shift)).collect()
        };
        let here = inches(&figure.corners(), &[figure.window()]);
        same(&here, &inches(&turned(figure.corners()), &[turned(figure.window())]))?;
    }

    #[test]
    fn a_corner_moved_a_little_moves_the_width_by_no_more_than_that_explains(
        figure in figure(), which in 0..64_usize, far in 0.0..0.05_f64, toward in 0.0..6.3_f64,
    ) {
        let (mut corners, mut window) = (figure.corners(), figure.window());
        let before = width(&inches(&corners, &[window.clone()]));
        let count = corners.len() + window.len();
        let moved = corners.iter_mut().chain(&mut window).nth(which % count).expect("a corner");
        let (sin, cos) = toward.sin_cos();
        *moved = (moved.0 + far * cos, moved.1 + far * sin);
        let after = width(&inches(&corners, &[window]));
        // Both sides of a disc may come nearer by the move; the rest is what a width is found to.
        prop_assert!((after - before).abs() <= 2.0 * far + 2e-3 * before, "{before} to {after} by {far}: {figure:?}");
    }

    #[test]
    fn a_round_window_in_chords_is_the_one_by_its_diameter(
        half in 0.5..2.0_f64, radius in 1.0..2.5_f64, strip in 0.5..2.0_f64, chords in 40..90_u32,
    ) {
        let figure = Figure { neck: true, half, long: 3.0, strip };
        let centre = (-8.0 + strip + radius, 5.0);
        let round: Vec<Spot> = (0..chords)
            .map(|i| (std::f64::consts::TAU * f64::from(i) / f64::from(chords)).sin_cos())
            .map(|(sin, cos)| (centre.0 + radius * cos, centre.1 + radius * sin))
            .collect();
        let chorded = inches(&figure.corners(), &[round]);
        // An outline is printed in metres.
        let [x, y, diameter] = [centre.0, centre.1, 2.0 * radius].map(|inches| inches * 0.0254);
        let hole = format!("\n[[hole]]\nat = [{x:?}, {y:?}]\ndiameter = {diameter:?}\n");
        let text = inches(&figure.corners(), &[]).to_toml() + &hole;
        let by_diameter = Outline::from_toml(&SourceText::new("x.toml", text)).expect("an outline");
        same(&chorded, &by_diameter)?;
        let expected = figure.width();
        prop_assert!((width(&by_diameter) / expected - 1.0).abs() < 3e-3, "{} {expected}", width(&by_diameter));
    }
}
