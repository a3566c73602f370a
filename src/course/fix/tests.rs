//! What mends a target, part by part: what it costs, which rule it answers to, and what it leaves alone.

use super::super::tests::{RULES, judged, on, read};
use super::super::*;
use super::*;
use crate::plate::{Condition, Steel};

/// What mends a match.
pub(in crate::course) fn mended_of(course: &Course) -> Vec<Mending<'static>> {
    mended_keeping(course, &Kept::new(Vec::new()))
}

fn mended_keeping(course: &Course, keep: &Kept) -> Vec<Mending<'static>> {
    mended_by(course, &judged(course, 2).0, &Ladder::builtin().unwrap(), &on, keep)
}

fn mended_by(
    course: &Course,
    outcomes: &[Outcome<'static>],
    ladder: &Ladder,
    conditions: Conditions,
    keep: &Kept,
) -> Vec<Mending<'static>> {
    let (cases, step, rules) = (&course.cases(), unit::YARD.of(1.0), Books::from(&*RULES));
    let (here, keep_here) = (course, keep);
    let is_stock = false;
    mendings(&Asked { course, here, cases, outcomes, rules, ladder, is_stock, conditions, keep, keep_here, step })
        .unwrap()
}

/// A stage of one target.
fn stage(name: &str, plate: &str, at: &str, stand: &str) -> String {
    format!("[[stage]]\nname = \"{name}\"\n{}", target(name, plate, at, stand))
}

fn target(name: &str, plate: &str, at: &str, stand: &str) -> String {
    format!("[[stage.target]]\nname = \"{name}\"\nplate = \"{plate}\"\n{at}\nstand = {{ {stand} }}\n")
}

const SOUND: &str = "tilt = \"15 deg\", condition = \"sound\"";

fn ids(rules: &[&Rule]) -> Vec<String> {
    rules.iter().map(|rule| rule.id.clone()).collect()
}

fn yards(length: Length) -> f64 {
    unit::YARD.value(length)
}

fn back(fix: &Fix) -> Option<f64> {
    fix.moves.iter().find_map(|(_, moved)| if let Move::Back(by) = moved { Some(yards(*by)) } else { None })
}

#[test]
fn a_fault_of_how_a_target_stands_is_set_right_and_nothing_else() {
    let tilt = |degrees: f64| Change { tilt: Some(unit::DEGREE.of(degrees)), ..Change::default() };
    let fresh = Change { fresh: true, ..Change::default() };
    for (stand, change, cost, rule) in [
        (
            "tilt = \"15 deg\", condition = \"sound\", oblique = \"30 deg\"",
            Change { square: true, ..Change::default() },
            1.0,
            "oblique",
        ),
        ("tilt = \"-8 deg\", condition = \"sound\"", tilt(10.0), 1.0, "lean-back"),
        ("tilt = \"-8 deg\", slope = \"3.5 deg\", condition = \"sound\"", tilt(14.0), 1.0, "lean-back"),
        (
            "tilt = \"15 deg\", condition = \"sound\", mount = \"welded\"",
            Change { mount: Some(Mount::CaptiveHook), ..Change::default() },
            2.0,
            "mount-weld-bracket",
        ),
        (
            "tilt = \"15 deg\", condition = \"sound\", steel = \"unknown\"",
            Change { look: true, ..Change::default() },
            1.0,
            "steel-unknown",
        ),
        ("tilt = \"15 deg\", condition = \"sound\", steel = \"other\"", fresh.clone(), 6.0, "steel-other"),
        ("tilt = \"15 deg\", condition = \"cratered\"", fresh, 6.0, "condition-retire"),
    ] {
        let course = read(&format!("loads = [\"308-168-match\"]\n{}", stage("s", "1/2 in", "at = \"300 yd\"", stand)));
        let found = mended_of(&course.unwrap());
        let [mending] = found.as_slice() else { panic!("{stand}: {found:?}") };
        let fix = mending.fix.as_ref().unwrap_or_else(|| panic!("{stand}"));
        assert_eq!((&fix.change, fix.cost), (&change, cost), "{stand}");
        assert_eq!(ids(&fix.reasons.changed), [rule], "{stand}");
        assert_eq!(fix.reason.map(|r| r.id.clone()).as_deref(), Some(rule), "{stand}");
        assert!(fix.moves.iter().all(|(_, moved)| *moved == Move::Keep) && fix.refuse.is_empty(), "{stand}");
        assert!(fix.reasons.moved.is_empty() && fix.reasons.refused.is_empty() && mending.other.is_none(), "{stand}");
        assert_eq!(mending.distance, None, "{stand}");
    }
}

#[test]
fn what_is_changed_at_a_target_costs_what_each_part_of_it_does() {
    let plate = || Some(Ladder::builtin().unwrap().plates()[3].clone());
    let angle = Some(unit::DEGREE.of(10.0));
    let of = |change: Change, steps| change.cost(steps);
    assert_eq!(of(Change::default(), 3), 0.0);
    assert_eq!(of(Change { tilt: angle, ..Change::default() }, 0), 1.0);
    assert_eq!(of(Change { square: true, ..Change::default() }, 0), 1.0);
    assert_eq!(of(Change { mount: Some(Mount::CaptiveHook), ..Change::default() }, 0), 2.0);
    assert_eq!(of(Change { look: true, ..Change::default() }, 0), 1.0);
    assert_eq!(of(Change { fresh: true, ..Change::default() }, 0), 6.0);
    assert_eq!(of(Change { plate: plate(), ..Change::default() }, 1), 6.5);
    // A plate of another thickness is new as well, and paid once.
    assert_eq!(of(Change { plate: plate(), fresh: true, ..Change::default() }, 2), 7.0);
    let all =
        Change { tilt: angle, square: true, mount: Some(Mount::CaptiveHook), plate: plate(), ..Change::default() };
    assert_eq!(of(all, 1), 10.5);
}

#[test]
fn a_move_back_is_far_by_its_share_or_by_its_yards_and_dearer_by_each_yard_beyond() {
    for (share, by, cost) in [
        (0.5, 100.0, 4.05),
        (0.5, 100.5, 12.05),
        (0.6, 100.0, 12.06),
        (2.0, 200.0, 12.2),
        (2.1, 200.0, 20.21),
        (2.0, 201.0, 20.3),
        (1.0, 300.0, 30.1),
        (10.0, 90.0, 21.0),
        (30.0, 90.0, 21.0),
    ] {
        assert!((cost::back(share, by) - cost).abs() < 1e-9, "{share} {by}: {}", cost::back(share, by));
    }
}

#[test]
fn a_new_plate_s_rule_sets_a_fix_then_the_move_s_then_another_change_s_then_a_load_s() {
    let [plate, moved, refused] = ["energy-cap", "floor-rifle", "floor-magnum"]
        .map(|id| RULES.rules().iter().find(|rule| rule.id == id).unwrap());
    let mut reasons =
        Reasons { moved: vec![(Class::Rifle, moved)], changed: vec![plate, refused], refused: vec![(0, refused)] };
    let first = |reasons: &Reasons, change: &Change| reasons.first(change).map(|rule| rule.id.clone());
    let thicker = Change { plate: Some(Ladder::builtin().unwrap().plates()[3].clone()), ..Change::default() };
    let fresh = Change { fresh: true, ..Change::default() };
    let square = Change { square: true, ..Change::default() };
    assert_eq!(first(&reasons, &thicker).as_deref(), Some("energy-cap"));
    assert_eq!(first(&reasons, &fresh).as_deref(), Some("energy-cap"));
    assert_eq!(first(&reasons, &square).as_deref(), Some("floor-rifle"));
    reasons.moved.clear();
    assert_eq!(first(&reasons, &square).as_deref(), Some("energy-cap"));
    reasons.changed.clear();
    assert_eq!(first(&reasons, &square).as_deref(), Some("floor-magnum"));
    reasons.refused.push((1, moved));
    assert_eq!(first(&reasons, &square).as_deref(), Some("floor-magnum"));
    assert_eq!(first(&Reasons::default(), &square), None);
}

#[test]
fn a_target_that_suits_is_moved_where_one_load_must_keep_farther_off() {
    let text = format!("loads = [\"223-77\", \"308-168-match\"]\n{}", stage("s", "1/2 in", "at = \"150 yd\"", SOUND));
    let course = read(&text).unwrap();
    assert!(mended_of(&course).is_empty());
    let metres = |yards: f64| unit::YARD.of(yards).si();
    for kept in [vec![metres(180.0)], vec![0.0, metres(180.0)]] {
        let found = mended_keeping(&course, &Kept::new(vec![kept]));
        assert_eq!(found.len(), 1);
        // No rule blocks what suits as it stands.
        assert_eq!(ids(&found[0].blocking), [""; 0]);
        let fix = found[0].fix.as_ref().unwrap();
        assert!((back(fix).unwrap() - 30.0).abs() < 1e-6, "{fix:?}");
        assert!((yards(found[0].distance.unwrap()) - 180.0).abs() < 1e-6);
        assert_eq!(fix.reasons.moved.iter().map(|(_, rule)| rule.id.as_str()).collect::<Vec<_>>(), ["speed-ceiling"]);
        assert!((fix.cost - (4.0 + 0.1 * 30.0 / 150.0)).abs() < 1e-9, "{}", fix.cost);
    }
}

/// A magnum at 150 yd, which its rule keeps 200 yd off whatever the plate.
fn magnums(loads: &str, limit: u32, ats: &[u32]) -> Vec<Mending<'static>> {
    let rule = format!("[[ammunition]]\nclass = [\"rifle\"]\ndistance-at-most = \"{limit} yd\"\n");
    let targets: String =
        ats.iter().map(|at| target(&format!("t{at}"), "1/2 in", &format!("at = \"{at} yd\""), SOUND)).collect();
    mended_of(&read(&format!("loads = [{loads}]\n{rule}[[stage]]\nname = \"s\"\n{targets}")).unwrap())
}

#[test]
fn no_class_is_moved_beyond_what_the_match_lets_it_shoot_over_from_any_of_the_targets() {
    let moved = |limit: u32, ats: &[u32]| -> Vec<Option<f64>> {
        let found = magnums("\"300wm-180\"", limit, ats);
        found.iter().map(|m| m.fix.as_ref().map(|fix| back(fix).unwrap().round())).collect()
    };
    assert_eq!(moved(200, &[150]), [Some(50.0)]);
    assert_eq!(moved(199, &[150]), [None]);
    assert_eq!(moved(220, &[150, 170]), [Some(50.0), Some(50.0)]);
    assert_eq!(moved(210, &[150, 170]), [None, Some(30.0)]);
}

#[test]
fn no_line_is_moved_farther_than_a_match_has_place_for() {
    let moved = |at: u32| {
        let text =
            format!("loads = [\"308-168-match\"]\n{}", stage("s", "3/4 in", &format!("at = \"{at} yd\""), SOUND));
        let kept = Kept::new(vec![vec![unit::YARD.of(500.0).si()]]);
        let found = mended_keeping(&read(&text).unwrap(), &kept);
        found[0].fix.as_ref().and_then(back).map(f64::round)
    };
    // To three times its distance, or by 330 yd.
    assert_eq!([moved(167), moved(166)], [Some(333.0), None]);
}

#[test]
fn a_load_left_out_costs_a_shooter_and_a_class_left_out_whole_costs_more() {
    let found = magnums("\"308-168-match\", \"300wm-180\"", 160, &[150]);
    let fix = found[0].fix.as_ref().unwrap();
    assert_eq!((&fix.refuse, fix.cost), (&vec![1], 7.0));
    assert_eq!(fix.reason.map(|rule| rule.id.as_str()), Some("floor-magnum"));
    assert_eq!(
        fix.reasons.refused.iter().map(|(load, rule)| (*load, rule.id.as_str())).collect::<Vec<_>>(),
        [(1, "floor-magnum")]
    );
    let found = magnums("\"9mm-124\", \"300wm-180\"", 160, &[150]);
    let fix = found[0].fix.as_ref().unwrap();
    assert_eq!((&fix.refuse, fix.cost), (&vec![1], 13.0));
}

#[test]
fn classes_that_move_alike_are_moved_once() {
    // Rimfires on 3/16 in stand 50 yd off; to move each class by itself would cost more than a thicker plate.
    let text =
        format!("loads = [\"22lr-std-40\", \"22lr-pistol-40\"]\n{}", stage("s", "3/16 in", "at = \"40 yd\"", SOUND));
    let found = mended_of(&read(&text).unwrap());
    let fix = found[0].fix.as_ref().unwrap();
    assert_eq!(fix.moves.len(), 2, "{fix:?}");
    assert!(fix.moves.iter().all(|(_, m)| matches!(m, Move::Back(by) if (yards(*by) - 10.0).abs() < 1e-6)), "{fix:?}");
}

#[test]
fn how_far_a_class_moves_is_weighed_by_its_own_distance() {
    let positions = "positions = [{ at = \"150 yd\", class = [\"rifle\"] }, { at = \"12 yd\", class = [\"handgun\"] }]";
    let text = format!("loads = [\"300wm-180\", \"9mm-124\"]\n{}", stage("s", "1/2 in", positions, SOUND));
    let found = mended_of(&read(&text).unwrap());
    let fix = found[0].fix.as_ref().unwrap();
    assert!((back(fix).unwrap() - 50.0).abs() < 1e-6, "{fix:?}");
    assert!((fix.cost - (4.0 + 0.1 / 3.0)).abs() < 1e-6, "{}", fix.cost);
}

#[test]
fn a_line_moves_where_another_of_its_targets_is_mended_besides_or_not_at_all() {
    // Moved and set square, the second passes from farther off as it did not as it stood.
    let turned = "tilt = \"15 deg\", condition = \"sound\", oblique = \"30 deg\"";
    let text = format!(
        "loads = [\"308-168-match\"]\n[[stage]]\nname = \"s\"\n{}{}",
        target("a", "1/2 in", "at = \"80 yd\"", SOUND),
        target("b", "1/2 in", "at = \"80 yd\"", turned)
    );
    let found = mended_of(&read(&text).unwrap());
    let fixes: Vec<&Fix> = found.iter().map(|m| m.fix.as_ref().unwrap()).collect();
    assert!(fixes.iter().all(|fix| (back(fix).unwrap() - 20.0).abs() < 1e-6 && !fix.apart), "{fixes:?}");
    assert!(fixes[1].change.square && !fixes[0].change.square, "{fixes:?}");
    // What nothing mends keeps no line where it is.
    let mut course = read(&format!(
        "loads = [\"308-168-match\", \"50bmg-647\"]\n[[stage]]\nname = \"s\"\n{}{}",
        target("a", "3/4 in", "at = \"60 yd\"", SOUND),
        target("b", "3/4 in", "at = \"100 yd\"", SOUND)
    ))
    .unwrap();
    (course.targets[0].without, course.targets[1].without) = (vec![1], vec![0]);
    let found = mended_of(&course);
    assert!(found.len() == 2 && found[1].fix.is_none(), "{found:?}");
    let fix = found[0].fix.as_ref().unwrap();
    assert!((back(fix).unwrap() - 40.0).abs() < 1e-6 && !fix.apart, "{fix:?}");
}

#[test]
fn a_plate_too_thin_is_told_the_thinnest_that_suits_and_from_where_it_suits_itself() {
    let text = format!("loads = [\"338lm-250\"]\n{}", stage("s", "3/8 in", "at = \"300 yd\"", SOUND));
    let course = read(&text).unwrap();
    let found = mended_of(&course);
    let mending = &found[0];
    assert_eq!(mending.plate.as_ref().map(|plate| plate.label.as_str()), Some("1/2 in"));
    let distance = mending.distance.unwrap();
    let conditions = super::super::tests::on(&course.airs[0], course.targets[0].slope).unwrap();
    let flights = Flights::new(&course.loads[0].load, &conditions).unwrap();
    let target = &course.targets[0];
    let allowance = RULES.allow(&course.loads[0].load, &target.plate, &target.setup, flights.muzzle());
    let verdict = |at: Length| allowance.judge(&flights.strike(at).unwrap()).verdict;
    assert_eq!(verdict(distance), Verdict::Suits);
    assert_ne!(verdict(distance - unit::YARD.of(1.0)), Verdict::Suits);
}

#[test]
fn each_part_of_a_fix_answers_to_its_own_rule() {
    // Welded, turned and leaning back, of unknown steel: four parts, each with the rule that calls for it.
    let stand =
        "tilt = \"-8 deg\", oblique = \"30 deg\", mount = \"welded\", steel = \"unknown\", condition = \"sound\"";
    let text = format!("loads = [\"308-168-match\"]\n{}", stage("s", "1/2 in", "at = \"300 yd\"", stand));
    let found = mended_of(&read(&text).unwrap());
    let fix = found[0].fix.as_ref().unwrap();
    let change = &fix.change;
    assert!(change.square && change.look && change.tilt.is_some() && change.mount.is_some(), "{change:?}");
    assert_eq!(ids(&fix.reasons.changed), ["steel-unknown", "lean-back", "oblique", "mount-weld-bracket"]);
    let mut blocking = ids(&found[0].blocking);
    blocking.sort_unstable();
    assert_eq!(blocking, ["lean-back", "mount-weld-bracket", "oblique", "steel-unknown", "two-borderlines"]);
    assert_eq!(fix.cost, 5.0);
    // Mended it is sound, of known steel, square and hung free.
    let setup = change.apply(&read(&text).unwrap().targets[0].setup);
    assert_eq!((setup.condition, setup.steel, setup.mount), (Condition::Sound, Steel::Ar500, Mount::CaptiveHook));
    assert_eq!((setup.oblique, setup.chain), (unit::DEGREE.of(0.0), None));
}

#[test]
fn a_thicker_plate_answers_to_what_weighs_the_hit_and_a_damaged_one_to_its_state_as_well() {
    let mended = |stand: &str| {
        // Kept from moving back by what the match lets rifles shoot over.
        let rule = "[[ammunition]]\nclass = [\"rifle\"]\ndistance-at-most = \"300 yd\"\n";
        let course =
            read(&format!("loads = [\"338lm-250\"]\n{rule}{}", stage("s", "3/8 in", "at = \"300 yd\"", stand)));
        let found = mended_of(&course.unwrap());
        let fix = found[0].fix.clone().unwrap();
        assert_eq!(fix.change.plate.as_ref().map(|plate| plate.label.as_str()), Some("1/2 in"), "{fix:?}");
        assert_eq!(fix.cost, 6.5, "{fix:?}");
        (ids(&fix.reasons.changed), fix.reason.map(|rule| rule.id.clone()))
    };
    let weighs = |id: &str| ["energy-cap", "demand"].contains(&id);
    let (changed, reason) = mended(SOUND);
    assert!(changed.len() == 1 && weighs(&changed[0]), "{changed:?}");
    assert_eq!(reason.as_ref(), changed.first());
    let (changed, reason) = mended("tilt = \"15 deg\", condition = \"cratered\"");
    assert!(changed.len() == 2 && changed[0] == "condition-retire" && weighs(&changed[1]), "{changed:?}");
    assert_eq!(reason.as_deref(), Some("condition-retire"));
}

/// What mends a match whose stages are judged each in its own air.
fn mended_in_its_air(text: &str) -> Vec<Mending<'static>> {
    let (course, ladder) = (read(text).unwrap(), Ladder::builtin().unwrap());
    let on = |air: &Weather, slope: Angle| FlightConditions::new(air, slope, unit::PERCENT.of(99.0));
    let outcomes = judge(&course, &course.cases(), &*RULES, &on, &|| ()).unwrap().outcomes;
    let keep = Kept::new(Vec::new());
    mended_by(&course, &outcomes, &ladder, &on, &keep)
}

#[test]
fn a_target_is_mended_in_the_air_of_its_own_stage() {
    let stage = |name: &str, feet: u32| {
        let target = target("t", "3/8 in", "at = \"300 yd\"", SOUND);
        format!("[[stage]]\nname = \"{name}\"\nair = {{ altitude = \"{feet} ft\", temperature = \"59 F\" }}\n{target}")
    };
    let of = |stages: &str| -> Vec<f64> {
        let found = mended_in_its_air(&format!("loads = [\"338lm-250\"]\n{stages}"));
        found.iter().map(|mending| yards(mending.distance.unwrap())).collect()
    };
    let (low, high) = (stage("low", 0), stage("high", 8000));
    let (at_low, at_high) = (of(&low)[0], of(&high)[0]);
    assert!(at_high > at_low + 50.0, "{at_low} {at_high}");
    assert_eq!(of(&format!("{low}{high}")), [at_low, at_high]);
    assert_eq!(of(&format!("{high}{low}{}", stage("other", 8000))), [at_high, at_low, at_high]);
}

#[test]
fn from_a_position_on_its_own_slope_a_target_is_shot_where_no_other_passes() {
    // Uphill the face leans away, and set right for there it leans too far over from the level.
    let of = |near: i32, far: i32| {
        let positions = format!(
            "positions = [{{ at = \"150 yd\", slope = \"{near} deg\" }}, {{ at = \"300 yd\", slope = \"{far} deg\" }}]"
        );
        let text = format!("loads = [\"308-168-match\"]\n{}", stage("s", "1/2 in", &positions, SOUND));
        mended_of(&read(&text).unwrap())
    };
    let found = of(25, 0);
    let fix = found[0].fix.as_ref().unwrap();
    assert_eq!((fix.moves.as_slice(), &fix.change), (&[(Class::Rifle, Move::From(1))][..], &Change::default()));
    assert_eq!(fix.distances.iter().map(|(_, at)| yards(*at).round()).collect::<Vec<_>>(), [300.0]);
    assert_eq!(found[0].distance, None);
    // On one slope nothing is moved: the face is set right.
    let found = of(25, 25);
    let fix = found[0].fix.as_ref().unwrap();
    assert!(fix.moves.iter().all(|(_, moved)| *moved == Move::Keep) && fix.change.tilt.is_some(), "{fix:?}");
}

#[test]
fn what_passes_near_and_fails_from_farther_off_is_shot_from_near_alone() {
    let of = |positions: &str, load: &str| {
        let text = format!("loads = [\"{load}\"]\n{}", stage("s", "1/2 in", positions, SOUND));
        mended_of(&read(&text).unwrap())
    };
    // Birdshot comes down too steeply from 250 yd, whatever else is changed, on one slope as on two.
    for slope in ["", ", slope = \"1 deg\""] {
        let near = "{ at = \"100 yd\" }, { at = \"150 yd\" }";
        let found = of(&format!("positions = [{near}, {{ at = \"250 yd\"{slope} }}]"), "12ga-bird-8");
        let fix = found[0].fix.as_ref().unwrap();
        assert_eq!((fix.moves.as_slice(), &fix.change), (&[(Class::Shot, Move::UpTo(1))][..], &Change::default()));
        assert_eq!(fix.distances.iter().map(|(_, at)| yards(*at).round()).collect::<Vec<_>>(), [100.0]);
        assert!(fix.reason.is_some_and(|rule| rule.subject == crate::rules::Subject::Lean), "{fix:?}");
    }
    // From a tower it leans too far over, and no lean serves the road as well.
    let found = of("positions = [{ at = \"200 yd\" }, { at = \"300 yd\", slope = \"-40 deg\" }]", "308-168-match");
    assert_eq!(found[0].fix.as_ref().unwrap().moves, [(Class::Rifle, Move::UpTo(0))]);
    // Where no position passes there is none.
    assert!(of("positions = [{ at = \"250 yd\" }, { at = \"280 yd\" }]", "12ga-bird-8")[0].fix.is_none());
}

#[test]
fn positions_on_their_own_slopes_move_back_by_what_the_nearest_of_them_lacks() {
    for slope in [0, 3] {
        let positions = format!(
            "positions = [{{ at = \"80 yd\" }}, {{ at = \"90 yd\", slope = \"{slope} deg\" }}, {{ at = \"140 yd\", slope = \"-3 deg\" }}]"
        );
        let text = format!("loads = [\"308-168-match\"]\n{}", stage("s", "1/2 in", &positions, SOUND));
        let found = mended_of(&read(&text).unwrap());
        let mending = &found[0];
        assert!((yards(mending.distance.unwrap()) - 100.0).abs() < 1e-6, "{mending:?}");
        let fix = mending.fix.as_ref().unwrap();
        assert_eq!(fix.distances.len(), 1, "{fix:?}");
        assert!((yards(fix.distances[0].1) - 100.0).abs() < 1.0 || fix.moves[0].1 == Move::From(2), "{fix:?}");
    }
}

#[test]
fn what_fails_far_off_by_how_steeply_it_falls_passes_from_no_distance_beyond() {
    let course = read(&format!(
        "loads = [\"308-168-match\"]\n{}",
        stage("s", "1/2 in", "at = \"300 yd\"", "tilt = \"28 deg\", condition = \"sound\"")
    ))
    .unwrap();
    let (target, load) = (&course.targets[0], &course.loads[0].load);
    let conditions = super::super::tests::on(&course.airs[0], target.slope).unwrap();
    let flights = Flights::new(load, &conditions).unwrap();
    let allowance = RULES.allow(load, &target.plate, &target.setup, flights.muzzle());
    let from = |near: f64| {
        let (metres, rule) = passes_from(&allowance, &flights, Verdict::Suits, unit::YARD.of(near).si());
        (yards(Length::from_si(metres)).round(), rule.map(|rule| rule.id.clone()))
    };
    assert_eq!(from(300.0).0, 100.0);
    assert_eq!(from(1300.0), (f64::INFINITY, Some("lean-over".to_owned())));
}

#[test]
fn a_new_plate_of_a_stock_is_of_a_thickness_that_it_has_and_as_thick_where_it_can_be() {
    let cratered = "tilt = \"15 deg\", condition = \"cratered\"";
    let text = format!("loads = [\"308-168-match\"]\n{}", stage("s", "1/2 in", "at = \"300 yd\"", cratered));
    let course = read(&text).unwrap();
    let hung = |millimetres: &[f64], is_stock: bool| {
        let plate = |mm: &f64| Plate::new(format!("{mm} mm"), unit::MILLIMETRE.of(*mm)).unwrap();
        let stock = Ladder::of_shop(millimetres.iter().map(plate).collect()).unwrap();
        let (cases, step, rules) = (&course.cases(), unit::YARD.of(1.0), Books::from(&*RULES));
        let (outcomes, keep) = (&judged(&course, 2).0, &Kept::new(Vec::new()));
        let asked = Asked {
            course: &course,
            here: &course,
            cases,
            outcomes,
            rules,
            ladder: &stock,
            is_stock,
            conditions: &on,
            keep,
            keep_here: keep,
            step,
        };
        let fix = mendings(&asked).unwrap().remove(0).fix?;
        assert!(fix.change.fresh);
        Some(fix.change.plate.map_or_else(|| "its own".to_owned(), |plate| plate.label))
    };
    assert_eq!(hung(&[6.0, 10.0, 20.0], true).as_deref(), Some("20 mm"));
    assert_eq!(hung(&[6.0, 12.7, 20.0], true).as_deref(), Some("its own"));
    assert_eq!(hung(&[6.0, 10.0, 20.0], false).as_deref(), Some("its own"));
    // Nothing is as thick: the thinnest that passes, or none.
    assert_eq!(hung(&[4.0, 10.0, 12.0], true).as_deref(), Some("10 mm"));
    assert_eq!(hung(&[4.0], true), None);
}
