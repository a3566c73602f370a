use super::*;
use crate::quantity::{Measure, unit};

fn at(x: f64, y: f64) -> Point {
    Point { x: unit::INCH.of(x), y: unit::INCH.of(y) }
}

fn bulged(points: &[(f64, f64, f64)]) -> Result<Contour, ContourError> {
    Contour::new(points.iter().map(|&(x, y, bulge)| Vertex { at: at(x, y), bulge }).collect())
}

fn contour(points: &[(f64, f64)]) -> Result<Contour, ContourError> {
    bulged(&points.iter().map(|&(x, y)| (x, y, 0.0)).collect::<Vec<_>>())
}

fn square(left: f64, bottom: f64, side: f64) -> Contour {
    let (right, top) = (left + side, bottom + side);
    contour(&[(left, bottom), (right, bottom), (right, top), (left, top)]).unwrap()
}

fn round(x: f64, y: f64, inches: f64) -> Hole {
    Hole::Round { centre: at(x, y), diameter: unit::INCH.of(inches) }
}

fn slot(from: (f64, f64), to: (f64, f64), width: f64) -> Hole {
    Hole::Slot { from: at(from.0, from.1), to: at(to.0, to.1), width: unit::INCH.of(width) }
}

fn plate(contour: Contour, holes: Vec<Hole>) -> Outline {
    Outline::new("x", contour, holes, Vec::new()).unwrap()
}

fn refused(holes: Vec<Hole>) -> OutlineError {
    Outline::new("x", square(0.0, 0.0, 4.0), holes, Vec::new()).unwrap_err()
}

fn width(contour: Contour, holes: Vec<Hole>) -> f64 {
    unit::INCH.value(plate(contour, holes).thinnest().expect("a width").width)
}

fn points(knots: &[(f64, f64)]) -> Contour {
    contour(knots).unwrap()
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
    // The arc hangs down by 2 in times its bulge into a strip of 1 in: it stays inside, touches, crosses.
    for (bulge, stands) in [(-0.49, true), (-0.5, false), (-0.6, false)] {
        let strip = bulged(&[(0.0, 0.0, 0.0), (4.0, 0.0, 0.0), (4.0, 1.0, bulge), (0.0, 1.0, 0.0)]);
        assert_eq!(strip.is_ok(), stands, "{bulge}: {strip:?}");
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
        (slot((1.0, 1.0), (5.0, 1.0), 0.4), "hole 1 meets the outline"),
        (slot((1.0, 1.0), (1.0, 1.0), 0.4), "hole 1 has no size"),
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
    for holes in [[round(2.0, 2.0, 2.0), round(2.0, 2.0, 1.0)], [round(2.0, 2.0, 1.0), round(2.0, 2.0, 2.0)]] {
        let nested = refused(holes.to_vec());
        assert!(nested.to_string().contains("hole 1 and hole 2 lie one in the other"), "{nested}");
    }
}

#[test]
fn too_many_points_and_a_hanger_off_the_steel_are_refused() {
    let holes = (0..MAX_POINTS).map(|_| round(2.0, 2.0, 0.1)).collect();
    assert!(matches!(refused(holes), OutlineError::Points { .. }));
    let hung = |hanger: Point| Outline::new("x", square(0.0, 0.0, 4.0), Vec::new(), vec![hanger]);
    let nowhere = Point { x: Length::default(), y: unit::INCH.of(f64::INFINITY) };
    assert_eq!(hung(nowhere).unwrap_err(), OutlineError::Hanger { index: 1 });
    assert!(hung(at(2.0, 4.0)).is_ok());
    assert_eq!(hung(at(2.0, 4.1)).unwrap_err(), OutlineError::OffSteel { index: 1, at: at(2.0, 4.1) });
}

#[test]
fn it_hangs_from_its_two_highest_holes_and_leans_where_its_centre_is_not_below_them() {
    let holes = vec![round(1.0, 1.0, 0.5), round(1.0, 11.0, 0.5), round(11.0, 11.0, 0.5), round(6.0, 11.0, 0.5)];
    let hung = |hangers| Outline::new("x", square(0.0, 0.0, 12.0), holes.clone(), hangers);
    let square = hung(Vec::new()).unwrap();
    let hanging = square.hanging();
    assert_eq!((hanging.from, hanging.points.len()), (HangFrom::Holes, 2));
    assert_eq!((hanging.points[0], hanging.points[1]), (at(1.0, 11.0), at(11.0, 11.0)));
    assert!(unit::DEGREE.value(hanging.lean).abs() < 0.5);
    assert_eq!(square.section().hanger, unit::INCH.of(11.0));
    let given = hung(vec![at(1.0, 11.0), at(6.0, 11.0)]).unwrap();
    // 2.5 in beside the middle, 5 in below.
    assert!((unit::DEGREE.value(given.hanging().lean) - 26.0).abs() < 1.5, "{:?}", given.hanging());
    assert_eq!(given.hanging().from, HangFrom::Given);
    assert!(hung(vec![at(13.0, 11.0)]).is_err());
    let bare = plate(points(&[(0.0, 0.0), (12.0, 0.0), (12.0, 12.0), (6.0, 12.0)]), Vec::new());
    assert_eq!(bare.hanging().from, HangFrom::TopEdge);
    assert_eq!((bare.hanging().points[0], bare.hanging().points[1]), (at(6.0, 12.0), at(12.0, 12.0)));
}

#[test]
fn sharp_corners_are_found_with_their_radius_and_wide_ones_are_not() {
    let l = |r: f64| {
        let bulge = -(std::f64::consts::PI / 8.0).tan();
        bulged(&[
            (0.0, 0.0, 0.0),
            (12.0, 0.0, 0.0),
            (12.0, 4.0, 0.0),
            (4.0 + r, 4.0, bulge),
            (4.0, 4.0 + r, 0.0),
            (4.0, 12.0, 0.0),
            (0.0, 12.0, 0.0),
        ])
    };
    let found = |contour: Contour| plate(contour, Vec::new()).sharp_corners(unit::INCH.of(0.375));
    for (radius, sharp) in [(0.05, true), (0.2, true), (0.375, false), (0.5, false)] {
        let corners = found(l(radius).unwrap());
        assert_eq!(corners.len(), usize::from(sharp), "{radius}: {corners:?}");
        assert!(corners.iter().all(|c| (unit::INCH.value(c.radius) - radius).abs() < 1e-6));
    }
    let sharp = found(points(&[(0.0, 0.0), (12.0, 0.0), (12.0, 4.0), (4.0, 4.0), (4.0, 12.0), (0.0, 12.0)]));
    assert_eq!(sharp.len(), 1);
    assert_eq!((sharp[0].at, sharp[0].radius), (at(4.0, 4.0), Length::from_si(0.0)));
    let window = plate(square(0.0, 0.0, 12.0), vec![Hole::Cut(square(4.0, 4.0, 2.0)), round(9.0, 9.0, 0.5)]);
    let corners = window.sharp_corners(unit::INCH.of(0.375));
    assert_eq!(corners.len(), 4, "{corners:?}");
    assert!(corners.iter().all(|c| c.ring == Ring::Hole(0)));
}

#[test]
fn steel_thinner_beside_a_hole_than_the_hole_is_wide_is_named_with_the_gap() {
    let webs = plate(square(0.0, 0.0, 12.0), vec![round(6.0, 6.0, 0.5), round(6.0, 11.4, 0.5)]).thin_webs();
    assert_eq!((webs.len(), webs[0].hole, webs[0].other), (1, 1, Ring::Outline));
    assert!((unit::INCH.value(webs[0].gap) - 0.35).abs() < 1e-9);
    for (gap, found) in [(0.99, 1), (1.01, 0)] {
        let pair = vec![round(4.0, 6.0, 0.5), round(4.0 + 0.75 + gap, 6.0, 1.0)];
        assert_eq!(plate(square(0.0, 0.0, 12.0), pair).thin_webs().len(), found);
    }
}

/// Widths in print are those of `PUBLISHED` outlines; see the published tests for the rest.
#[test]
fn a_strip_beside_a_large_cut_out_counts_and_holes_for_hardware_do_not() {
    let drilled = |hole: Hole| width(square(0.0, 0.0, 16.0), vec![hole]);
    assert!((drilled(round(8.0, 0.5, 0.5)) - 16.0).abs() < 0.02);
    assert!((drilled(Hole::Cut(square(5.0, 1.0, 6.0))) - 1.0).abs() < 0.005);
    assert!((drilled(slot((5.0, 15.0), (11.0, 15.0), 0.5)) - 0.75).abs() < 0.005);
}

#[test]
fn the_few_holes_of_hardware_with_steel_around_them_do_not_count() {
    let corners = |from: f64, to: f64, wide: f64| {
        vec![round(from, to, wide), round(to, to, wide), round(from, from, wide), round(to, from, wide)]
    };
    for holes in [
        corners(0.75, 11.25, 0.5),
        corners(0.75, 11.25, 0.75),
        corners(1.125, 10.875, 0.75),
        vec![round(2.0, 11.0, 0.5), round(10.0, 11.0, 0.5)],
        vec![round(6.0, 10.5, 1.0)],
        vec![slot((5.5, 10.8), (6.5, 10.8), 0.5)],
        vec![round(5.5, 11.0, 0.5), round(6.5, 11.0, 0.5)],
    ] {
        let plate = plate(square(0.0, 0.0, 12.0), holes);
        assert_eq!(*plate.weakening(), Weakening::default(), "{:?}", plate.holes());
        assert!((unit::INCH.value(plate.thinnest().expect("a width").width) - 12.0).abs() < 0.01);
    }
}

#[test]
fn holes_of_hardware_size_count_that_are_many_or_large_or_near_to_an_edge_or_another() {
    let grid = |along: usize, up: usize, pitch: f64, wide: f64| -> Vec<Hole> {
        let at = |i: usize| ((i % along) as f64 + 1.0, (i / along) as f64 + 1.0);
        (0..along * up).map(at).map(|(x, y)| round(x * pitch, y * pitch, wide)).collect()
    };
    let twelve = || square(0.0, 0.0, 12.0);
    for (contour, holes, why, counted, narrowest) in [
        // 7 by 7 holes of 1.5 in, 0.1 in of steel between them.
        (square(0.0, 0.0, 12.8), grid(7, 7, 1.6, 1.5), Counted::Many, 49, 0.1),
        (square(0.0, 0.0, 24.0), grid(7, 1, 1.6, 1.5), Counted::Near, 7, f64::NAN),
        // As many as are allowed and one more.
        (twelve(), grid(3, 3, 3.0, 0.25), Counted::Many, 9, f64::NAN),
        // Five, of 6 % together.
        (twelve(), grid(5, 1, 2.0, 1.5), Counted::Large, 5, f64::NAN),
        // The least steel to the edge: half a diameter of a bolt's hole, a diameter of a larger one.
        (twelve(), vec![round(6.0, 0.3, 0.5)], Counted::Near, 1, 0.05),
        (twelve(), vec![round(6.0, 0.49, 0.5), round(6.0, 11.0, 0.5)], Counted::Near, 1, f64::NAN),
        (twelve(), vec![round(6.0, 1.4, 1.0)], Counted::Near, 1, f64::NAN),
        // Between two: a diameter of the wider one.
        (twelve(), vec![round(5.0, 6.0, 0.5), round(6.1, 6.0, 0.75)], Counted::Near, 2, 0.475),
        // Beside a window.
        (twelve(), vec![Hole::Cut(square(4.0, 4.0, 4.0)), round(6.0, 8.4, 0.5)], Counted::Near, 1, f64::NAN),
    ] {
        let plate = plate(contour, holes);
        let weakening = plate.weakening();
        assert_eq!((weakening.why, weakening.holes.len()), (Some(why), counted), "{:?}", plate.holes());
        // What counts is a cut-out as any other: a few widths show it.
        if narrowest > 0.0 {
            let width = unit::INCH.value(plate.thinnest().expect("a width").width);
            assert!((width - narrowest).abs() < 0.003, "{width}, not {narrowest}: {:?}", plate.holes());
        }
    }
    // A ring of 1/4 in around a hole.
    let ring = plate(Contour::circle(at(0.0, 0.0), unit::INCH.of(2.0)).unwrap(), vec![round(0.0, 0.0, 1.5)]);
    assert!((unit::INCH.value(ring.thinnest().expect("a width").width) - 0.25).abs() < 0.001);
}

#[test]
fn a_hole_wider_than_an_inch_and_a_half_takes_no_hook_and_counts_as_a_cut_out() {
    let with = |inches: f64| plate(square(0.0, 0.0, 24.0), vec![round(4.0, 20.0, inches), round(20.0, 20.0, inches)]);
    assert_eq!(with(1.5).hanging().from, HangFrom::Holes);
    for inches in [1.51, 2.0, 2.9] {
        assert_eq!(with(inches).hanging().from, HangFrom::TopEdge, "{inches}");
    }
    // Beside a cut-out the plate is as wide as the steel from it to the edge: 4 in less half its width.
    let width = |inches: f64| unit::INCH.value(with(inches).thinnest().unwrap().width);
    assert!(width(1.5) > 12.0, "{}", width(1.5));
    assert!((width(2.0) - 3.0).abs() < 0.05, "{}", width(2.0));
}

#[test]
fn a_fillet_of_less_than_the_thickness_is_sharp_however_little_less() {
    let found = |r: f64, turn: f64, inches: f64| {
        let (bulge, reach) = (-(turn.to_radians() / 4.0).tan(), r * (turn.to_radians() / 2.0).tan());
        let (sin, cos) = turn.to_radians().sin_cos();
        let fillet = [(8.0 + reach, 4.0, bulge), (8.0 - reach * cos, 4.0 + reach * sin, 0.0)];
        let end = (8.0 - 4.0 * cos, 4.0 + 4.0 * sin, 0.0);
        let edge =
            [(0.0, 0.0, 0.0), (16.0, 0.0, 0.0), (16.0, 4.0, 0.0), fillet[0], fillet[1], end, (end.0 - 2.0, end.1, 0.0)];
        plate(bulged(&edge).unwrap(), Vec::new()).sharp_corners(unit::INCH.of(inches)).len()
    };
    for (inches, turn) in [(0.375, 90.0), (0.5, 90.0), (0.5, 40.0), (0.375, 21.0)] {
        assert_eq!(
            [0.2, 0.7, 0.9, 0.999, 1.0, 1.1].map(|share| found(share * inches, turn, inches)),
            [1, 1, 1, 1, 0, 0],
            "{inches} {turn}"
        );
    }
    // A turn of 20 degrees is no corner.
    assert_eq!(found(0.1, 19.9, 0.375), 0);
}

#[test]
fn a_corner_is_told_where_it_turns_the_most() {
    // Two inward turns beside each other: 25 degrees, then 65.
    let (x, y) = (0.05 * 25_f64.to_radians().cos(), 0.05 * 25_f64.to_radians().sin());
    let edge = [(0.0, 0.0), (12.0, 0.0), (12.0, 4.0), (4.0, 4.0), (4.0 - x, 4.0 + y), (4.0 - x, 12.0), (0.0, 12.0)];
    let corners = plate(points(&edge), Vec::new()).sharp_corners(unit::INCH.of(0.375));
    assert_eq!(
        corners.iter().map(|corner| (corner.at, corner.radius.si())).collect::<Vec<_>>(),
        [(at(4.0 - x, 4.0 + y), 0.0)]
    );
}

#[test]
fn a_plate_hangs_by_the_left_point_first_whichever_is_the_higher() {
    for (left, right) in [(11.0, 10.0), (10.0, 11.0), (11.0, 11.0)] {
        let holes = vec![round(11.0, right, 0.5), round(1.0, left, 0.5)];
        let plate = plate(square(0.0, 0.0, 12.0), holes);
        assert_eq!(plate.hanging().points, [at(1.0, left), at(11.0, right)]);
    }
}

#[test]
fn a_hole_above_three_quarters_of_an_inch_asks_for_its_own_width_of_steel() {
    let counts = |wide: f64, steel: f64| {
        let plate = plate(square(0.0, 0.0, 12.0), vec![round(6.0, steel + 0.5 * wide, wide), round(6.0, 6.0, 2.0)]);
        assert_eq!(plate.is_for_hardware(0), plate.weakening().holes.is_empty());
        assert!(!plate.is_for_hardware(1) && !plate.is_for_hardware(2));
        !plate.is_for_hardware(0)
    };
    for (wide, steel, counted) in [
        (0.75, 0.37, true),
        (0.75, 0.38, false),
        (0.76, 0.4, true),
        (0.85, 0.84, true),
        (0.85, 0.86, false),
        (1.5, 1.49, true),
        (1.5, 1.51, false),
    ] {
        assert_eq!(counts(wide, steel), counted, "{wide} {steel}");
    }
}

/// A square of 12 in with two ears on top, each so wide and long, and in each a hole of a diameter, if any, centred so
/// far below its end.
fn with_ears(wide: f64, long: f64, hole: f64, below: f64) -> Outline {
    let ear = |x: f64| {
        [(x + 0.5 * wide, 12.0), (x + 0.5 * wide, 12.0 + long), (x - 0.5 * wide, 12.0 + long), (x - 0.5 * wide, 12.0)]
    };
    let edge = [&[(0.0, 0.0), (12.0, 0.0), (12.0, 12.0)][..], &ear(10.0), &ear(2.0), &[(0.0, 12.0)]].concat();
    let places = [2.0, 10.0].map(|x| (x, 12.0 + long - below));
    let holes = places.iter().filter(|_| hole > 0.0).map(|(x, y)| round(*x, *y, hole)).collect();
    let hangers = if hole > 0.0 { Vec::new() } else { places.iter().map(|(x, y)| at(*x, *y)).collect() };
    Outline::new("ears", points(&edge), holes, hangers).unwrap()
}

fn hung_by(outline: &Outline) -> f64 {
    let HungBy::Steel(steel) = outline.hung_by() else { panic!("{:?}", outline.hung_by()) };
    unit::INCH.value(steel.width)
}

#[test]
fn a_plate_hangs_by_its_ears_however_short_they_are() {
    for (wide, long, hole, below, steel) in [
        // Hung from places: the ear's own width.
        (0.2, 2.2, 0.0, 0.3, 0.2),
        (0.2, 1.5, 0.0, 0.3, 0.2),
        (0.2, 0.5, 0.0, 0.1, 0.2),
        (0.4, 1.0, 0.0, 0.0, 0.4),
        (2.0, 1.4, 0.0, 1.0, 2.0),
        // Hung from holes: the steel on both sides of one.
        (0.4, 1.4, 0.2, 0.2, 0.2),
        (0.4, 1.9, 0.2, 0.2, 0.2),
        (2.0, 1.4, 0.5, 0.75, 1.0),
        (2.0, 1.4, 0.5, 1.0, 1.5),
    ] {
        let found = hung_by(&with_ears(wide, long, hole, below));
        assert!((found / steel - 1.0).abs() < 0.01, "{wide} by {long}, {hole}: {found}, not {steel}");
    }
}

#[test]
fn a_neck_between_a_ring_with_one_hole_and_the_plate_counts_though_it_is_short() {
    // A ring of 0.8 in around a hole of 3/8 in, on a neck of 0.4 by 0.5 in.
    let height = (0.4_f64 * 0.4 - 0.2 * 0.2).sqrt();
    let ring = ((std::f64::consts::PI - 0.5_f64.asin()) / 2.0).tan();
    let knots =
        [(0.0, 0.0), (12.0, 0.0), (12.0, 12.0), (6.2, 12.0), (6.2, 12.5), (5.8, 12.5), (5.8, 12.0), (0.0, 12.0)];
    let edge: Vec<_> = knots.iter().enumerate().map(|(i, (x, y))| (*x, *y, if i == 4 { ring } else { 0.0 })).collect();
    let eye = plate(bulged(&edge).unwrap(), vec![round(6.0, 12.5 + height, 0.375)]);
    assert_eq!(eye.hanging().from, HangFrom::TopEdge);
    assert!((hung_by(&eye) - 0.4).abs() < 0.004, "{}", hung_by(&eye));
    // A second hole in the ear leaves less than the ear is wide.
    let mut holes = with_ears(1.0, 3.0, 0.3, 0.5).holes().to_vec();
    holes.push(round(2.0, 13.0, 0.3));
    let pierced = plate(with_ears(1.0, 3.0, 0.3, 0.5).contour().clone(), holes);
    assert!((hung_by(&pierced) - 0.35).abs() < 0.004, "{}", hung_by(&pierced));
}

#[test]
fn a_plate_with_no_ear_hangs_by_the_steel_beside_its_holes_or_nobody_knows_by_what() {
    let gong =
        plate(square(0.0, 0.0, 12.0), vec![round(1.0, 11.0, 0.5), round(11.0, 11.0, 0.5), round(6.0, 2.0, 0.25)]);
    assert!((hung_by(&gong) - 1.5).abs() < 0.01, "{}", hung_by(&gong));
    assert_eq!(plate(square(0.0, 0.0, 12.0), Vec::new()).hung_by(), HungBy::Whole);
    // A tab at the top counts though nothing is said to hang from it; a tip does not.
    let tab = [(0.0, 0.0), (12.0, 0.0), (12.0, 12.0), (6.2, 12.0), (6.2, 13.0), (5.8, 13.0), (5.8, 12.0), (0.0, 12.0)];
    assert!((hung_by(&plate(points(&tab), Vec::new())) - 0.4).abs() < 0.004);
    let house = [(0.0, 0.0), (12.0, 0.0), (12.0, 12.0), (6.5, 12.0), (6.0, 13.2), (5.5, 12.0), (0.0, 12.0)];
    assert_eq!(plate(points(&house), Vec::new()).hung_by(), HungBy::Whole);
    let corners = Outline::new("x", square(0.0, 0.0, 12.0), Vec::new(), vec![at(0.0, 12.0), at(12.0, 12.0)]).unwrap();
    assert!(hung_by(&corners) > 1.0, "{}", hung_by(&corners));
}

#[test]
fn a_round_plate_hangs_straight_wherever_its_arcs_begin() {
    for turn in [0.0_f64, 10.0, 45.0, 73.0] {
        let quarter = (std::f64::consts::PI / 8.0).tan();
        let knot = |k: u32| (turn.to_radians() + f64::from(k) * std::f64::consts::FRAC_PI_2).sin_cos();
        let knots: Vec<_> = (0..4).map(knot).map(|(sin, cos)| (5.0 * cos, 5.0 * sin, quarter)).collect();
        let hanging = plate(bulged(&knots).unwrap(), Vec::new()).hanging().clone();
        assert_eq!(hanging.from, HangFrom::TopEdge);
        assert!(unit::DEGREE.value(hanging.lean).abs() < 1e-3, "{turn}: {hanging:?}");
    }
}

#[test]
fn it_hangs_from_the_middles_of_two_holes_of_any_form_and_from_round_ones_before_others() {
    let cut = |knots: &[(f64, f64)]| Hole::Cut(points(knots));
    let box_at = |x: f64, y: f64, half: f64| {
        cut(&[(x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half)])
    };
    let slot_at = |x: f64, y: f64, half: f64| Hole::Slot {
        from: at(x, y - half),
        to: at(x, y + half),
        width: unit::INCH.of(0.5),
    };
    let chords = |x: f64, y: f64, n: u32, turn: f64| {
        let angle = |i: u32| turn + std::f64::consts::TAU * f64::from(i) / f64::from(n);
        let corners: Vec<_> = (0..n).map(|i| (x + 0.25 * angle(i).cos(), y + 0.25 * angle(i).sin())).collect();
        cut(&corners)
    };
    let hung = |holes: Vec<Hole>| plate(square(0.0, 0.0, 12.0), holes).hanging().clone();
    let line = |holes: Vec<Hole>| {
        let hanging = hung(holes);
        assert_eq!(hanging.from, HangFrom::Holes);
        unit::INCH.value(hanging.line())
    };
    let pairs = [
        vec![box_at(3.0, 8.0, 0.25), box_at(9.0, 8.0, 0.25)],
        vec![slot_at(3.0, 8.0, 0.2), slot_at(9.0, 8.0, 0.2)],
        // Longer than hardware, no wider.
        vec![slot_at(3.0, 8.0, 1.0), slot_at(9.0, 8.0, 1.0)],
        vec![round(3.0, 8.0, 0.5), box_at(9.0, 8.0, 0.25)],
    ];
    for pair in pairs {
        assert!((line(pair.clone()) - 8.0).abs() < 1e-6, "{pair:?}");
    }
    for n in 8..=23 {
        let pair = vec![chords(3.0, 8.0, n, 0.3), chords(9.0, 8.0, n, 1.1)];
        assert!(pair.iter().all(Hole::is_round), "{n}");
        assert!((line(pair.clone()) - 8.0).abs() < 1e-6, "{n}");
        let corners = plate(square(0.0, 0.0, 12.0), pair).sharp_corners(unit::INCH.of(0.375));
        assert!(corners.is_empty(), "{n}: {corners:?}");
    }
    // Windows above round holes, a long slot above short ones.
    for holes in [
        vec![round(3.0, 8.0, 0.5), round(9.0, 8.0, 0.5), box_at(3.0, 10.0, 0.25), box_at(9.0, 10.0, 0.25)],
        vec![chords(3.0, 8.0, 8, 0.0), round(9.0, 8.0, 0.5), box_at(6.0, 10.0, 0.25)],
        vec![box_at(3.0, 8.0, 0.25), box_at(9.0, 8.0, 0.25), slot_at(6.0, 9.0, 1.0)],
    ] {
        assert!((line(holes.clone()) - 8.0).abs() < 1e-6, "{holes:?}");
    }
    // One, or windows that no hook bears on.
    assert_eq!(hung(vec![box_at(3.0, 8.0, 0.25)]).from, HangFrom::TopEdge);
    assert_eq!(hung(vec![box_at(3.0, 8.0, 1.0), box_at(9.0, 8.0, 1.0)]).from, HangFrom::TopEdge);
    // A hexagon or a square has corners.
    assert!(![4, 6, 7].iter().any(|n| chords(3.0, 8.0, *n, 0.0).is_round()));
}

#[test]
fn steel_beside_a_hanging_hole_is_that_beside_its_own_outline_whatever_its_form() {
    let beside = |half: f64| {
        let square_hole = |x: f64| {
            let knots =
                [(x - half, 11.0 - half), (x + half, 11.0 - half), (x + half, 11.0 + half), (x - half, 11.0 + half)];
            Hole::Cut(points(&knots))
        };
        hung_by(&plate(square(0.0, 0.0, 12.0), vec![square_hole(3.0), square_hole(9.0)]))
    };
    for half in [0.25, 0.4, 0.5] {
        assert!((beside(half) - 2.0 * (1.0 - half)).abs() < 0.01, "{half}: {}", beside(half));
    }
    // Of a bent hole the middle is steel.
    let bent = |x: f64| {
        let knots =
            [(-0.5, 0.0), (0.5, 0.0), (0.5, 0.7), (0.4, 0.7), (0.4, 0.1), (-0.4, 0.1), (-0.4, 0.7), (-0.5, 0.7)];
        Hole::Cut(points(&knots.map(|(dx, dy)| (x + dx, 11.1 + dy))))
    };
    let found = hung_by(&plate(square(0.0, 0.0, 12.0), vec![bent(3.0), bent(9.0)]));
    assert!((found - 0.4).abs() < 0.01, "{found}");
}

#[test]
fn of_two_bodies_as_wide_the_plate_hangs_by_the_lesser_steel_in_any_unit_turned_or_mirrored() {
    // Two bodies of 8 by 4 in on a neck of 0.3 in, the holes in the upper one.
    let half = [(0.0, 0.0), (8.0, 0.0), (8.0, 4.0), (4.15, 4.6), (4.15, 5.4)];
    let upper = |&(x, y): &(f64, f64)| (8.0 - x, 10.0 - y);
    let knots: Vec<(f64, f64)> = half.iter().copied().chain(half.iter().map(upper)).collect();
    for scale in [1.0, 1.0 + 1e-9, 1.003, 0.1 * 9.999] {
        for mirror in [1.0, -1.0] {
            let place = |&(x, y): &(f64, f64)| (mirror * scale * x, scale * y);
            let mut placed: Vec<_> = knots.iter().map(place).collect();
            if mirror < 0.0 {
                placed.reverse();
            }
            let hole = |x: f64| {
                let (x, y) = place(&(x, 8.5));
                round(x, y, 0.5)
            };
            let found = hung_by(&plate(points(&placed), vec![hole(2.0), hole(6.0)]));
            assert!(found < 0.31, "{scale} {mirror}: {found}");
        }
    }
}
