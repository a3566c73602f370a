use super::*;
use crate::air::Weather;
use crate::catalog::Catalog;
use crate::spread::{FlightConditions, Flights};
use sight::Visible;

const GLASS: f64 = 20.0;

fn face(inches: f64) -> Face {
    Face::round(unit::INCH.of(inches)).unwrap()
}

fn plate(inches: f64) -> Plate {
    Plate::new("test", unit::INCH.of(inches)).unwrap()
}

fn hit(id: &str, yards: f64, face: &Face, oblique: f64) -> Hit {
    let load = &Catalog::builtin().unwrap().load(id).unwrap().load.clone();
    let level = unit::DEGREE.of(0.0);
    let conditions = FlightConditions::new(&Weather::default(), level, unit::PERCENT.of(99.0)).unwrap();
    let strike = Flights::new(load, &conditions).unwrap().strike(unit::YARD.of(yards)).unwrap();
    Hit::of(load, &strike, face, None, unit::DEGREE.of(oblique))
}

fn reaction(id: &str, yards: f64, face: &Face, thickness: f64, hung: Suspension) -> Reaction {
    Reaction::of(face, &plate(thickness), hung, &[hit(id, yards, face, 0.0)], GLASS).unwrap()
}

#[test]
fn a_turned_face_swings_by_the_cosine() {
    // Derived: 80° leave 17 % of the momentum, and the swing from 64° falls to about a sixth of it.
    let swing = |oblique: f64| {
        let face = face(12.0);
        let hits = [hit("308-168-match", 100.0, &face, oblique)];
        let reaction = Reaction::of(&face, &plate(0.375), Suspension::Hooks, &hits, GLASS).unwrap();
        unit::DEGREE.value(reaction.swing.angle().unwrap())
    };
    assert!((55.0..75.0).contains(&swing(0.0)), "{}", swing(0.0));
    assert!((7.0..14.0).contains(&swing(80.0)), "{}", swing(80.0));
    assert!(swing(45.0) < swing(0.0) && swing(45.0) > swing(80.0));
}

#[test]
fn the_angle_of_incidence_is_that_of_lean_fall_and_turn_together() {
    let degrees = |tilt: f64, turn: f64, fall: f64| {
        let of = |value| unit::DEGREE.of(value);
        unit::DEGREE.value(incidence(of(tilt), of(turn), of(fall)))
    };
    for (tilt, turn, fall, expected) in [
        (0.0, 0.0, 0.0, 0.0),
        (20.0, 0.0, 5.0, 25.0),
        (0.0, 80.0, 0.0, 80.0),
        (-3.0, 0.0, 3.0, 0.0),
        (60.0, 60.0, 0.0, 75.522),
    ] {
        assert!(
            (degrees(tilt, turn, fall) - expected).abs() < 1e-3,
            "{tilt} {turn} {fall}: {}",
            degrees(tilt, turn, fall)
        );
    }
}

#[test]
fn birdshot_from_afar_moves_a_small_plate_by_the_pellets_that_meet_it() {
    // Common practice: at 40 yd a few pellets of a charge meet an 8 in plate, which hardly stirs.
    let catalog = Catalog::builtin().unwrap();
    let birdshot = catalog.entries().iter().find(|e| {
        e.load.facts().projectiles > 100 && e.load.facts().construction == crate::load::Construction::LeadShot
    });
    let id = birdshot.unwrap().load.id().to_owned();
    let small = face(8.0);
    let near = hit(&id, 10.0, &small, 0.0);
    let far = hit(&id, 40.0, &small, 0.0);
    assert!(far.momentum < near.momentum * 0.3 && far.slow < far.momentum * 0.6, "{near:?} {far:?}");
    let stirred = reaction(&id, 40.0, &small, 0.375, Suspension::Hooks);
    assert!(stirred.swing.angle().is_some_and(|a| unit::DEGREE.value(a) < 30.0), "{:?}", stirred.swing);
}

#[test]
fn a_rimfire_pistol_throws_no_six_inch_plate_over_and_off_no_hook() {
    // Common practice: such plates hang from hooks every weekend. The very edge with its splash backward is another
    // matter, and kept apart.
    let small = reaction("22lr-hv-40", 10.0, &face(6.0), 0.375, Suspension::Hooks);
    assert!(!small.thrown_over() && !small.leaves_open_hook(), "{small:?}");
    let angle = |swing: Swing| swing.angle().map_or(std::f64::consts::PI, Measure::si);
    assert!(angle(small.edge.swing) > angle(small.swing_low) && angle(small.swing_low) > angle(small.swing));
    assert!(small.edge.plate_speed > small.plate_speed);
}

#[test]
fn a_face_on_a_chain_flips_and_is_not_thrown_over() {
    let chain = Suspension::Chain(unit::INCH.of(6.0));
    let small = reaction("308-168-match", 100.0, &face(4.0), 0.375, chain);
    assert!(small.flips() && !small.thrown_over(), "{small:?}");
    assert_eq!(small.liveliness(), Liveliness::Over);
}

#[test]
fn a_swing_is_seen_by_day_near_and_hardly_at_a_thousand_yards() {
    // Common practice: a .308 on a 12 in plate is spotted at 300 yd by anybody, near 1,000 yd on a good day only.
    let seen = |yards: f64| reaction("308-168-match", yards, &face(12.0), 0.375, Suspension::Hooks).seen.visible();
    assert_eq!(seen(300.0), Visible::Visible);
    assert_ne!(seen(1000.0), Visible::Visible);
    assert_eq!(seen(1500.0), Visible::No);
}

#[test]
fn a_spotting_range_by_day_is_within_that_at_best_and_both_within_what_the_glass_shows() {
    let load = &Catalog::builtin().unwrap().load("308-168-match").unwrap().load.clone();
    let level = unit::DEGREE.of(0.0);
    let conditions = FlightConditions::new(&Weather::default(), level, unit::PERCENT.of(99.0)).unwrap();
    let flights = Flights::new(load, &conditions).unwrap();
    let to = |range: sight::SpottingRange| match range {
        sight::SpottingRange::To(far) => unit::YARD.value(far),
        other => panic!("{other:?}"),
    };
    for (size, glass_yd) in [(4.0, 764.0), (12.0, 2292.0)] {
        let pendulum = Pendulum::hung(&face(size), &plate(0.375), Suspension::Hooks);
        let spotting = sight::spotting(&pendulum, &face(size), load, &flights, level, GLASS);
        let (day, best) = (to(spotting.by_day), to(spotting.at_best));
        assert!(day <= best && best <= glass_yd, "{size}: {day} {best}");
        assert!(day > 400.0, "{size}: {day}");
    }
}

#[test]
fn what_is_no_pitch_is_left_out() {
    let rung = |size: f64, thickness: f64| {
        reaction("308-168-match", 100.0, &face(size), thickness, Suspension::Hooks).pitch().map(Measure::si)
    };
    assert!(rung(12.0, 0.375).is_some_and(|hz| (850.0..980.0).contains(&hz)));
    assert_eq!(rung(4.0, 0.75), None);
}

#[test]
fn the_edge_case_is_a_hit_at_the_lower_edge_with_a_fifth_more_momentum() {
    let face = face(12.0);
    let hit = hit("9mm-115", 10.0, &face, 20.0);
    let reaction = Reaction::of(&face, &plate(0.375), Suspension::Hooks, &[hit], GLASS).unwrap();
    let pendulum = Pendulum::hung(&face, &plate(0.375), Suspension::Hooks);
    let expected = pendulum.swing(hit.momentum * 1.2, hit.incidence, 1.0, HitPoint::LowerEdge).angle().unwrap();
    let near = |swing: Swing| (swing.angle().unwrap().si() / expected.si() - 1.0).abs() < 1e-9;
    assert!(near(reaction.edge.swing) && near(reaction.edge.turn), "{reaction:?} {expected:?}");
}
