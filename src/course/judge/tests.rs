//! Drawn matches, judged at a glance and by every pair on exact flights.

use super::super::tests::many;
use super::super::{Brought, Course, Target};
use super::*;
use crate::catalog::Catalog;
use crate::load::MuzzleSpread;
use crate::plate::{Condition, Mount};
use crate::quantity::draws::{exhaustive, uniform};
use crate::quantity::{Range, Velocity, unit};
use crate::rules::Finding;
use crate::source::SourceText;
use std::sync::Arc;

/// A range that asks for a slow shot and for a face that leans little toward the bullet besides: what grows stricter with
/// distance.
const RANGE: &str = "schema = \"thickset/rules/1\"\nname = \"r\"\n[[rule]]\nid = \"slow\"\nwhy = \"x\"\n\
    subject = \"slow-speed\"\nsense = \"at-least\"\nsuits = \"900 ft/s\"\nborderline = \"700 ft/s\"\nwithin = \"400 yd\"\n\
    class = [\"rifle\"]\n[[rule]]\nid = \"leans\"\nwhy = \"x\"\nsubject = \"lean\"\nsense = \"at-most\"\nsuits = \"24 deg\"\n\
    borderline = \"26 deg\"\n";

struct Draw<'d>(&'d mut dyn FnMut() -> f64);

impl Draw<'_> {
    fn from(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.0)()
    }

    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // A share of a small count.
    fn of<T: Clone>(&mut self, list: &[T]) -> T {
        list[((self.0)() * list.len() as f64) as usize].clone()
    }

    /// A load of the catalogue, faster or slower, as it spreads or worse.
    fn load(&mut self, catalog: &Catalog) -> Brought {
        let entry = self.of(catalog.entries());
        let faster = self.from(0.8, 1.1);
        let sd = self.of(&[None, Some(5.0), Some(60.0)]);
        let load = entry.load.with(|facts| {
            facts.muzzle_velocity = Velocity::from_si(facts.muzzle_velocity.si() * faster);
            if let Some(sd) = sd {
                facts.spread.muzzle = MuzzleSpread::Sd(unit::FOOT_PER_SECOND.of(sd));
            }
        });
        let best = self.of(&[Verdict::Suits, Verdict::Suits, Verdict::Suits, Verdict::Borderline]);
        Brought { load: load.map_or_else(|_| Arc::clone(&entry.load), Arc::new), who: Vec::new(), best }
    }

    /// A target as it hangs well, or as it should not, on any slope.
    fn target(&mut self, like: &Target, loads: usize, ladder: &crate::plate::Ladder, slopes: &[f64]) -> Target {
        let mut target = like.clone();
        let yards = self.of(&[60.0, 300.0, 900.0, 2500.0]);
        target.at = unit::YARD.of(self.from(3.0, yards));
        target.slope = unit::DEGREE.of(self.of(slopes));
        target.plate = self.of(ladder.plates());
        target.setup.tilt = self.of(&[None, Some(0.0), Some(20.0)]).map(|degrees| unit::DEGREE.of(degrees));
        target.setup.mount = self.of(&[Mount::OpenHook, Mount::Bolted]);
        target.setup.condition = self.of(&[Condition::Sound, Condition::Sound, Condition::Sound, Condition::Pitted]);
        target.without = if (self.0)() < 0.2 { vec![0, loads - 1] } else { Vec::new() };
        target
    }
}

/// What every load comes to in a case, by itself and on exact flights; and whether it passes.
fn exact(course: &Course, case: &Case, rules: &RuleSet, on: Conditions) -> Vec<(usize, Verdict, Option<f64>, bool)> {
    let target = &course.targets[case.target];
    let conditions = on(&course.airs[target.air], case.slope).unwrap();
    let shoots = |load: &usize| case.classes.has(course.loads[*load].class()) && !case.without.contains(load);
    let of = |load: usize| {
        let flown = &course.loads[load].load;
        let strike = Flights::new(flown, &conditions).ok()?.strike(case.distance).ok()?;
        let allowance = rules.allow(flown, &target.plate, &target.setup, strike.muzzle);
        let judged = allowance.judge(&strike);
        // What is borderline on any plate must suit by every rule that speaks of the plate.
        let of_plate =
            |finding: &Finding| !["monolithic", "construction-unknown"].contains(&finding.rule().id.as_str());
        let suits = |finding: &Finding| finding.verdict == Verdict::Suits || !of_plate(finding);
        let passes = match course.loads[load].best {
            Verdict::Borderline => {
                allowance.findings(&strike).iter().all(suits) && judged.verdict <= Verdict::Borderline
            }
            floor => judged.verdict <= floor,
        };
        Some((load, judged.verdict, judged.margin, passes))
    };
    (0..course.loads.len()).filter(shoots).filter_map(of).collect()
}

#[test]
fn a_match_of_which_no_two_are_alike_comes_to_what_every_pair_does_by_itself() {
    let (house, ladder) = (RuleSet::house().unwrap(), crate::plate::Ladder::builtin().unwrap());
    let strict = house.clone().with_overlay(&SourceText::new("range.toml", RANGE)).unwrap();
    let (base, catalog) = (many(1), Catalog::builtin().unwrap());
    let (mut seen, mut flown, mut pairs) = ([0; 3], 0, 0);
    for seed in 1..=if exhaustive() { 1000 } else { 24 } {
        let mut draws = uniform(seed * 7919);
        let mut draw = Draw(&mut draws);
        let rules = draw.of(&[&house, &strict]);
        let slopes = draw.of(&[[0.0, 7.0], [-9.0, -14.0], [-35.0, 40.0]]);
        let mut course = base.clone();
        let loads = draw.of(&[1, 3, 8]);
        course.loads = (0..loads).map(|_| draw.load(&catalog)).collect();
        course.targets = (0..30).map(|_| draw.target(&base.targets[0], loads, &ladder, &slopes)).collect();
        let days = [(59.0, 59.0), (30.0, 95.0), (100.0, 100.0)].map(|(low, high)| {
            let heat = Range { low: unit::FAHRENHEIT.of(low), high: unit::FAHRENHEIT.of(high) };
            Weather::default().where_unspecified(
                Range::single(unit::FOOT.of(1000.0)),
                heat,
                Range::single(unit::PERCENT.of(0.0)),
            )
        });
        let day = draw.of(&days);
        let on = |_: &Weather, slope: Angle| FlightConditions::new(&day, slope, unit::PERCENT.of(99.0));
        let cases = course.cases();
        let judged = judge(&course, &cases, rules, &on, &|| ()).unwrap();
        let any = any_fails(&course, &cases, rules, &on).unwrap();
        let verdicts = verdicts(&course, &cases, rules, &on).unwrap();
        for (at, (case, outcome)) in cases.iter().zip(&judged.outcomes).enumerate() {
            let exact = exact(&course, case, rules, &on);
            let fails = exact.iter().filter(|one| !one.3);
            let fails: Vec<usize> = fails.map(|(load, ..)| *load).collect();
            assert_eq!((outcome.shot_by, outcome.failing), (exact.len(), fails.len()), "{seed}: {case:?}");
            assert_eq!(outcome.named, fails, "{seed}: {case:?}");
            assert_eq!(outcome.verdict, exact.iter().map(|one| one.1).max(), "{seed}: {case:?}");
            assert_eq!(any[at], !outcome.named.is_empty(), "{seed}: {case:?}");
            assert_eq!(verdicts[at], (outcome.verdict, outcome.shot_by), "{seed}: {case:?}");
            let least = exact.iter().filter(|one| Some(one.1) == outcome.verdict).filter_map(|one| one.2);
            // Among those that suit the worst is named by quick looks.
            let slack = if outcome.verdict == Some(Verdict::Suits) { 0.1 } else { 1e-9 };
            let off = outcome.margin.zip(least.reduce(f64::min)).map_or(0.0, |(own, least)| own - least);
            assert!(off.abs() <= slack, "{seed}: {case:?} {off}");
            seen[outcome.verdict.map_or(0, |verdict| verdict as usize)] += 1;
            pairs += exact.len();
        }
        flown += judged.work.exact;
    }
    assert!(seen.iter().all(|count| *count > 20), "{seen:?}");
    assert!(flown < pairs, "{flown} of {pairs}");
}

#[test]
fn a_caution_is_told_of_the_targets_it_is_for_and_in_the_order_of_the_rules() {
    let base = many(1);
    let with = |change: &dyn Fn(&mut Target)| {
        let mut target = base.targets[0].clone();
        target.at = unit::YARD.of(300.0);
        change(&mut target);
        target
    };
    let mut course = base.clone();
    course.targets = vec![
        with(&|target| target.setup.condition = Condition::Unknown),
        with(&|target| target.setup.mount = Mount::Chain),
        with(&|target| (target.setup.tilt, target.at) = (None, unit::YARD.of(40.0))),
        // Where a caution is for nearer than 50 yd this is not.
        with(&|target| (target.setup.tilt, target.at) = (None, unit::YARD.of(50.0))),
    ];
    let cases = course.cases();
    let rules = RuleSet::house().unwrap();
    let warnings =
        judge(&course, &cases, &rules, &|_, slope| super::super::tests::on(&Weather::default(), slope), &|| ());
    let warnings = warnings.unwrap().warnings;
    let of = |id: &str| -> Vec<usize> {
        let found = warnings.iter().filter(|w| w.rule.id == id).flat_map(|w| &w.cases);
        found.map(|case| cases[*case].target).collect()
    };
    assert_eq!((of("condition-unknown"), of("mount-chain"), of("lean-not-said")), (vec![0], vec![1], vec![2]));
    let place = |w: &Warning| rules.rules().iter().position(|rule| rule.id == w.rule.id);
    assert!(warnings.is_sorted_by_key(place), "{warnings:?}");
}

#[test]
fn what_gains_speed_steeply_downhill_is_judged_between_the_ends_as_well() {
    // A rule for near targets that a falling bullet meets at first, and no longer once it has gained speed.
    let range = "schema = \"thickset/rules/1\"\nname = \"r\"\n[[rule]]\nid = \"lob\"\nwhy = \"x\"\nsubject = \"impact-speed\"\n\
        sense = \"at-most\"\nsuits = \"374 ft/s\"\nwithin = \"300 yd\"\n";
    let rules = RuleSet::house().unwrap().with_overlay(&SourceText::new("range.toml", range)).unwrap();
    // Beside a load that is the worst at all of them.
    let mut course = super::super::tests::read(
        "loads = [\"50bmg-647\", \"308-168-match\"]\n[[stage]]\nname = \"s\"\n[[stage.target]]\nname = \"t\"\n\
         plate = \"3/8 in\"\nat = \"60 yd\"\n",
    )
    .unwrap();
    let slow = course.loads[1].load.with(|facts| facts.muzzle_velocity = unit::FOOT_PER_SECOND.of(280.0));
    course.loads[1].load = Arc::new(slow.unwrap());
    let at = |yards: u32| {
        let mut target = course.targets[0].clone();
        (target.at, target.slope) = (unit::YARD.of(f64::from(yards)), unit::DEGREE.of(-60.0));
        (target.setup.tilt, target.setup.condition) = (Some(unit::DEGREE.of(-60.0)), Condition::Sound);
        target
    };
    course.targets = (0..16).map(|index| at(60 + 18 * index)).collect();
    let on = |_: &Weather, slope: Angle| super::super::tests::on(&Weather::default(), slope);
    let cases = course.cases();
    let judged = crate::threads::with(Some(1), || judge(&course, &cases, &rules, &on, &|| ()));
    let outcomes = judged.unwrap().unwrap().outcomes;
    let mut fails = Vec::new();
    for (case, outcome) in cases.iter().zip(&outcomes) {
        let exact = exact(&course, case, &rules, &on);
        let failing = exact.iter().filter(|one| one.1 > Verdict::Suits).map(|one| one.0);
        assert_eq!(outcome.named, failing.collect::<Vec<_>>(), "{case:?} {exact:?}");
        fails.push(outcome.named.contains(&1));
    }
    assert!(!fails[0] && !fails[15] && fails.contains(&true), "{fails:?}");
}
