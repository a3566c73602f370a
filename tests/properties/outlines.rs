//! Outlines with holes of every kind: where they lie and how they are turned changes nothing but their place,
//! and what is printed reads back equal.

use super::support::config;
use proptest::prelude::*;
use proptest::test_runner::Config;
use thickset::plate::{Contour, Hole, Outline, Point, Section, Vertex};
use thickset::quantity::{Length, Measure, unit};
use thickset::source::SourceText;

/// A plate drawn around the origin: its corners by direction and distance, and what is cut out of it.
#[derive(Debug, Clone)]
struct Drawn {
    /// Distance from the middle in inches, and bulge.
    corners: Vec<(f64, f64)>,
    cuts: Vec<Cut>,
}

/// A cut-out: its kind, its place, a size in inches, a direction, and a bulge.
#[derive(Debug, Clone, Copy)]
struct Cut {
    kind: u8,
    place: (f64, f64),
    size: f64,
    turn: f64,
    bulge: f64,
}

/// Where a plate is moved to: turned by an angle, then shifted.
#[derive(Debug, Clone, Copy)]
struct Motion {
    turn: f64,
    shift: (f64, f64),
}

impl Motion {
    fn of(self, (x, y): (f64, f64)) -> Point {
        let (sin, cos) = self.turn.sin_cos();
        let inches = |v: f64| unit::INCH.of(v);
        Point { x: inches(cos * x - sin * y + self.shift.0), y: inches(sin * x + cos * y + self.shift.1) }
    }
}

const STILL: Motion = Motion { turn: 0.0, shift: (0.0, 0.0) };

impl Cut {
    fn hole(self, motion: Motion) -> Option<Hole> {
        let (sin, cos) = self.turn.sin_cos();
        let off = |along: f64, across: f64| {
            (self.place.0 + along * cos - across * sin, self.place.1 + along * sin + across * cos)
        };
        let s = self.size;
        Some(match self.kind {
            0 => Hole::Round { centre: motion.of(self.place), diameter: unit::INCH.of(s) },
            1 => Hole::Slot { from: motion.of(self.place), to: motion.of(off(2.0 * s, 0.0)), width: unit::INCH.of(s) },
            _ => {
                let knots = [(0.0, 0.0, 0.0), (2.0 * s, 0.0, self.bulge), (1.5 * s, s, 0.0), (0.0, s, -self.bulge)];
                let vertex = |(x, y, bulge): (f64, f64, f64)| Vertex { at: motion.of(off(x, y)), bulge };
                Hole::Cut(Contour::new(knots.map(vertex).to_vec()).ok()?)
            }
        })
    }
}

impl Drawn {
    fn contour(&self, motion: Motion) -> Option<Contour> {
        let step = std::f64::consts::TAU / self.corners.len() as f64;
        let vertex = |(i, &(far, bulge)): (usize, &(f64, f64))| {
            let (sin, cos) = (step * i as f64).sin_cos();
            Vertex { at: motion.of((far * cos, far * sin)), bulge }
        };
        Contour::new(self.corners.iter().enumerate().map(vertex).collect()).ok()
    }

    /// The plate, with those cut-outs that fit it at rest.
    fn outline(&self, motion: Motion) -> Option<Outline> {
        let still = self.contour(STILL)?;
        let mut holes: Vec<Hole> = Vec::new();
        let mut moved = Vec::new();
        for cut in &self.cuts {
            let Some(hole) = cut.hole(STILL) else { continue };
            holes.push(hole);
            if Outline::new("drawn", still.clone(), holes.clone(), Vec::new()).is_ok() {
                moved.push(cut.hole(motion)?);
            } else {
                holes.pop();
            }
        }
        Outline::new("drawn", self.contour(motion)?, moved, vec![motion.of((0.0, 3.0))]).ok()
    }
}

fn drawn() -> impl Strategy<Value = Drawn> {
    let corner = (4.0..9.0_f64, prop_oneof![Just(0.0), -0.2..0.5_f64]);
    let cut = (0..3_u8, (-5.0..5.0_f64, -5.0..5.0_f64), 0.2..1.5_f64, 0.0..6.3_f64, -0.6..0.6_f64)
        .prop_map(|(kind, place, size, turn, bulge)| Cut { kind, place, size, turn, bulge });
    (prop::collection::vec(corner, 3..9), prop::collection::vec(cut, 0..6))
        .prop_map(|(corners, cuts)| Drawn { corners, cuts })
}

fn near(a: f64, b: f64, share: f64) -> bool {
    (a - b).abs() <= share * b.abs()
}

fn lengths(section: &Section) -> [f64; 3] {
    [section.area.si(), section.perimeter.si(), (section.i_xx + section.i_yy).si()]
}

proptest! {
    #![proptest_config(Config { cases: config().cases.div_ceil(2), ..config() })]

    #[test]
    fn a_plate_shifted_and_turned_keeps_its_section(
        plate in drawn(),
        turn in 0.0..6.3_f64,
        shift in (-60.0..60.0_f64, -60.0..60.0_f64),
    ) {
        let motion = Motion { turn, shift };
        let (Some(here), Some(there)) = (plate.outline(STILL), plate.outline(motion)) else { return Ok(()) };
        prop_assert_eq!(here.holes().len(), there.holes().len());
        for (a, b) in lengths(here.section()).into_iter().zip(lengths(there.section())) {
            prop_assert!(near(b, a, 1e-8), "{a} {b}");
        }
        let centre = here.section().centre;
        let inches = |v: Length| unit::INCH.value(v);
        let expected = motion.of((inches(centre.x), inches(centre.y)));
        let off = (there.section().centre.x - expected.x).hypot(there.section().centre.y - expected.y);
        prop_assert!(off.si() < 1e-9, "{off:?}");
        // The parallel axes: about the origin the moment grows by area × distance².
        let quarter = Motion { turn: std::f64::consts::FRAC_PI_2, shift };
        let Some(turned) = plate.outline(quarter) else { return Ok(()) };
        prop_assert!(near(turned.section().i_xx.si(), here.section().i_yy.si(), 1e-8));
        prop_assert!(near(turned.section().i_yy.si(), here.section().i_xx.si(), 1e-8));
        let corners = |o: &Outline| o.sharp_corners(unit::INCH.of(0.375)).len();
        prop_assert_eq!(corners(&here), corners(&there));
    }

    #[test]
    fn a_hole_takes_off_its_own_plate_s_section(plate in drawn()) {
        // What is cut out is a plate of its own: area and moments about one axis add up.
        let bare = Drawn { cuts: Vec::new(), ..plate.clone() };
        let (Some(cut), Some(whole)) = (plate.outline(STILL), bare.outline(STILL)) else { return Ok(()) };
        let about_origin = |s: &Section| {
            let (area, y) = (s.area.si(), s.centre.y.si());
            [area, area * y, s.i_xx.si() + area * y * y]
        };
        let mut left = about_origin(whole.section());
        for hole in cut.holes() {
            // Ten times as large: a hole may be smaller than any plate.
            let tenfold = |v: &Vertex| Vertex { at: Point { x: 10.0 * v.at.x, y: 10.0 * v.at.y }, ..*v };
            let vertices = hole.contour().expect("a hole").vertices().iter().map(tenfold).collect();
            let contour = Contour::new(vertices).expect("a contour");
            let loose = Outline::new("loose", contour, Vec::new(), Vec::new()).expect("a plate");
            for ((sum, part), scale) in left.iter_mut().zip(about_origin(loose.section())).zip([1e2, 1e3, 1e4]) {
                *sum -= part / scale;
            }
        }
        let scale = about_origin(whole.section());
        for ((a, b), scale) in about_origin(cut.section()).into_iter().zip(left).zip([scale[0], scale[0] * 0.1, scale[2]]) {
            prop_assert!((a - b).abs() <= 1e-11 * scale.abs(), "{a} {b}");
        }
        prop_assert!(cut.section().area <= whole.section().area && cut.section().perimeter >= whole.section().perimeter);
    }

    #[test]
    fn a_printed_outline_reads_back_equal(plate in drawn(), turn in 0.0..6.3_f64) {
        let Some(outline) = plate.outline(Motion { turn, shift: (3.0, -2.0) }) else { return Ok(()) };
        let text = outline.to_toml();
        let back = Outline::from_toml(&SourceText::new("drawn.toml", text.clone()))
            .map_err(|e| TestCaseError::fail(format!("{e}\n{text}")))?;
        prop_assert_eq!(back, outline);
    }

    #[test]
    fn steel_between_holes_is_never_less_than_between_their_circles(
        a in (-3.0..0.0_f64, -3.0..3.0_f64, 0.2..1.0_f64),
        b in (0.0..3.0_f64, -3.0..3.0_f64, 0.2..1.0_f64),
    ) {
        let round = |(x, y, d): (f64, f64, f64)| Hole::Round { centre: STILL.of((x, y)), diameter: unit::INCH.of(d) };
        let gap = (a.0 - b.0).hypot(a.1 - b.1) - 0.5 * (a.2 + b.2);
        let plate = Contour::circle(STILL.of((0.0, 0.0)), unit::INCH.of(20.0)).expect("a plate");
        let webs = match Outline::new("two", plate, vec![round(a), round(b)], Vec::new()) {
            Ok(outline) => outline.thin_webs(),
            Err(error) => {
                prop_assert!(gap < 1e-4, "{gap} {error}");
                return Ok(());
            }
        };
        let asked = a.2.max(b.2);
        prop_assert_eq!(webs.len(), usize::from(gap < asked * (1.0 - 1e-9)));
        prop_assert!(webs.iter().all(|w| (unit::INCH.value(w.gap) - gap).abs() < 1e-9), "{gap} {webs:?}");
    }
}
