//! What a stage's sign says: who may shoot what from where, and whether it is open.

use super::words::{self, brought, brought_by, count, shooters};
use super::{Told, aloft, beyond, elsewhere, leave, near};
use crate::advisor::answer::{BroughtLoad, TargetAnswer, TargetVerdict};
use crate::advisor::preamble;
use crate::course::{ClassSet, is_damaged};
use crate::load::{Class, Load};
use crate::order::Order;
use crate::quantity::Angle;
use crate::quantity::Measure;
use crate::rules::{Rule, Setup, Subject, Verdict, words as rule_words};
use crate::source::clean;
use crate::words::{Units, degrees, listed};
use std::collections::HashMap;

/// Why a stage is closed until the officer signs: what is to be mended, and whatever was not read or not judged.
pub(super) fn closed(told: &Told, targets: &[TargetAnswer], stage: usize, mine: &[usize]) -> Vec<String> {
    let course = told.course;
    let to_fix = mine.iter().filter(|target| told.mending(**target).is_some()).count();
    let mut reasons: Vec<String> = Vec::new();
    if to_fix > 0 {
        reasons.push(format!("{to_fix} of {} to fix", count(mine.len(), "target")));
    }
    let mut say = |n: usize, words: &dyn Fn(&str) -> String, word: &str| {
        if n > 0 {
            reasons.push(words(&count(n, word)));
        }
    };
    let not_judged = |verdict: TargetVerdict| verdict == TargetVerdict::NotJudged;
    let unjudged = mine.iter().filter(|target| not_judged(targets[**target].verdict)).count();
    say(unjudged, &|n| format!("{n} not judged"), "target");
    let unused = mine.iter().map(|&target| &targets[target]).filter(|target| !not_judged(target.verdict));
    let unused = unused.flat_map(|target| &target.positions).filter(|p| not_judged(p.verdict)).count();
    say(unused, &|n| format!("{n} not judged"), "position");
    say(course.unread_on.on(&course.stages[stage].name), &|n| format!("{n} of this stage not read"), "row");
    say(course.unread_on.everywhere, &|n| format!("{n} of the match not read"), "load or row");
    say(course.known_in_part(), &|n| format!("{n} known in part"), "cartridge");
    let looks = beyond::named_otherwise(told).iter().filter(|look| look.is_on(mine)).count();
    say(looks, &|n| format!("{n} to look into"), "name");
    if mine.is_empty() {
        reasons.push("no target was read".into());
    }
    reasons
}

/// The classes that are brought and shoot on a stage.
fn classes(told: &Told, mine: &[usize]) -> Vec<Class> {
    let mut classes: Vec<Class> = mine.iter().flat_map(|&target| told.classes_at(target)).collect();
    classes.order();
    classes.dedup();
    classes
}

/// Whether a load's class may shoot at a target of the stage.
fn may_shoot(told: &Told, mine: &[usize], load: &Load) -> bool {
    mine.iter().any(|&target| ClassSet::or_all(&told.course.targets[target].classes).has(load.class()))
}

/// The same words for several targets stand once.
fn grouped(pairs: impl Iterator<Item = (String, String)>) -> Vec<String> {
    let mut alike: Vec<(String, Vec<String>)> = Vec::new();
    for (name, words) in pairs {
        match alike.iter_mut().find(|(other, _)| *other == words) {
            Some((_, names)) => names.push(name),
            None => alike.push((words, vec![name])),
        }
    }
    alike.into_iter().map(|(words, names)| format!("{}: {words}", listed(&names))).collect()
}

/// The nearest line of each target for each class, the fixes made.
pub(super) fn lines(told: &Told, mine: &[usize]) -> Vec<String> {
    grouped(mine.iter().map(|&target| {
        let place = &told.course.targets[target];
        let mut by: Vec<(String, Vec<String>)> = Vec::new();
        for class in told.classes_at(target) {
            let Some(at) = near::from(told, target, class) else { continue };
            let at = near::at_words(told, target, class, at) + &near::without(told, target, class);
            match by.iter_mut().find(|(known, _)| *known == at) {
                Some(entry) => entry.1.push(shooters(class)),
                None => by.push((at, vec![shooters(class)])),
            }
        }
        let parts = by.iter().map(|(at, who)| format!("{} {at}", listed(who)));
        let lost = near::is_lost(told, target);
        let words = match (by.is_empty(), lost) {
            (true, _) => "not judged".into(),
            (_, true) => "no line was found: nobody shoots it".into(),
            _ => parts.collect::<Vec<_>>().join("; "),
        };
        (place.name.clone(), words)
    }))
}

/// Its plates, the fixes made.
pub(super) fn plates(told: &Told, mine: &[usize]) -> Vec<String> {
    grouped(mine.iter().map(|&target| {
        let place = &told.course.targets[target];
        let change = told.fix(target).map(|fix| &fix.change);
        let plate = change.and_then(|change| change.plate.as_ref()).unwrap_or(&place.plate);
        let count = if place.count > 1 { format!("{} × ", place.count) } else { String::new() };
        let state = place.setup.condition;
        let new = match change {
            Some(change) if change.fresh && is_damaged(state) => format!(", new: the {state} one is retired"),
            Some(change) if change.fresh => ", new".into(),
            _ => String::new(),
        };
        let steel = if change.is_some_and(|change| change.fresh) { words::steel(place) } else { "" };
        let words =
            format!("{count}{}{steel}, {}{new}", words::plate(told, plate), words::face(told, &place.setup.face));
        (place.name.clone(), words)
    }))
}

/// How each face stands, the fixes made.
pub(super) fn faces(told: &Told, mine: &[usize]) -> Vec<String> {
    let all = grouped(mine.iter().map(|&target| (told.course.targets[target].name.clone(), face(told, target))));
    match all.as_slice() {
        [_] if mine.len() > 1 => vec![format!("all {}", face(told, mine[0]))],
        _ => all,
    }
}

fn face(told: &Told, target: usize) -> String {
    let place = &told.course.targets[target];
    let setup = setup(told, target);
    let lean = match setup.tilt {
        Some(tilt) if tilt.si() < -1e-9 => format!("leaning back {}", degrees(-tilt)),
        Some(tilt) if tilt.si() > 1e-9 => format!("leaning {} toward the shooter", degrees(tilt)),
        Some(_) => "plumb".into(),
        None => "plumb, never leaning back (its lean was not given)".into(),
    };
    let turn = setup.oblique.si().abs();
    let turn = if turn > 1e-9 { format!("turned {}", degrees(Angle::from_si(turn))) } else { "square".into() };
    let is_replaced = told.fix(target).is_some_and(|fix| fix.change.mount.is_some());
    let held = if is_replaced { setup.mount.words() } else { words::held(place, setup.mount) };
    format!("{lean}, {turn}, {held}")
}

/// How a target stands, the fixes made.
pub(super) fn setup(told: &Told, target: usize) -> Setup {
    let own = &told.course.targets[target].setup;
    told.fix(target).map_or_else(|| own.clone(), |fix| fix.change.apply(own))
}

/// The loads that are not shot on a stage, each with who brings it.
pub(super) fn refused(told: &Told, mine: &[usize]) -> Vec<BroughtLoad> {
    let course = told.course;
    let refused = course.refused.iter().map(|refused| (&*refused.load, refused.who.as_slice()));
    let barred = told.barred.iter().filter(|barred| barred.verdict == Verdict::Unsuitable);
    let barred = barred.map(|barred| (&*barred.brought.load, barred.brought.who.as_slice()));
    // A load that is left at home lets a target pass as it stands: it is named wherever it could be shot.
    let left = told.home.iter().filter(|home| home.from.is_empty()).flat_map(|home| &home.loads);
    let left = left.map(|load| (&*course.loads[*load].load, course.loads[*load].who.as_slice()));
    let mut at: HashMap<(&str, &str), usize> = HashMap::new();
    let mut loads: Vec<(&Load, Vec<String>)> = Vec::new();
    for (load, who) in refused.chain(barred).chain(left) {
        if may_shoot(told, mine, load) {
            let index = *at.entry((load.id(), &load.facts().name)).or_insert_with(|| {
                loads.push((load, Vec::new()));
                loads.len() - 1
            });
            loads[index].1.extend_from_slice(who);
        }
    }
    let mut list: Vec<BroughtLoad> = loads.iter().map(|(load, who)| brought_by(load, who)).collect();
    for (load, names) in left_out_at(told, mine) {
        let mut load = brought(&course.loads[load]);
        if names.len() < mine.len() {
            load.words = format!("{} at {}", load.words, listed(&names));
        }
        if !list.iter().any(|known| known.load == load.load && known.name == load.name) {
            list.push(load);
        }
    }
    list
}

/// The loads that are left out at targets of a stage, by the match or by a fix, and at which.
fn left_out_at(told: &Told, mine: &[usize]) -> Vec<(usize, Vec<String>)> {
    let mut here: Vec<(usize, Vec<String>)> = Vec::new();
    for &target in mine {
        for load in told.left_out_at(target) {
            let name = told.course.targets[target].name.clone();
            match here.iter_mut().find(|(other, _)| *other == load) {
                Some((_, names)) => names.push(name),
                None => here.push((load, vec![name])),
            }
        }
    }
    here
}

/// Of a class for which there is no rule.
const DECLARED: &str = "only the loads that were declared";

/// What the match and the range admit of each class that shoots on a stage.
pub(super) fn admitted(told: &Told, mine: &[usize]) -> Vec<String> {
    let admission = &told.course.admission;
    let classes = classes(told, mine);
    let stage = mine.first().map_or(0, |target| told.course.targets[*target].rules);
    let rules = told.rules.of(stage).rules();
    let none = |class: Class| {
        if admission.is_silent_on(class) {
            "no rule of the match is for them"
        } else if rules.iter().any(|rule| limits_ammunition(rule, &[class])) {
            "as the range limits them"
        } else if told.course.anything.iter().all(|any| any.class != class) {
            DECLARED
        } else {
            "no limit on bullet or speed here"
        }
    };
    let mut lines: Vec<String> = classes
        .iter()
        .map(|class| {
            let words = admission.words(*class, told.units);
            let from = told.home.iter().flat_map(|home| &home.from).find(|(of, _)| of == class);
            let from = from.map(|(_, speed)| format!(", from {} only", told.units.speed(*speed))).unwrap_or_default();
            let words = words.unwrap_or_else(|| none(*class).into());
            let any = told.course.any.iter().filter(|(_, classes)| classes.contains(class));
            let any: Vec<String> = any.map(|(name, _)| format!("any {}", clean(name))).collect();
            let any = match any.as_slice() {
                [] => String::new(),
                any if words == DECLARED => format!(" and {}", listed(any)),
                any => format!("; {} as far as these let it", listed(any)),
            };
            format!("{}: {words}{any}{from}", shooters(*class))
        })
        .collect();
    lines.extend(rules.iter().filter(|rule| limits_ammunition(rule, &classes)).map(|rule| {
        let range = rule.overlay.as_deref().unwrap_or_default();
        let limit = limit(rule, told.units).map(|limit| format!("{limit}; ")).unwrap_or_default();
        format!("{range}: {limit}{}", rule.why)
    }));
    let at_the_plate = rules.iter().filter(|rule| limits_shooting(rule, &classes));
    lines.extend(at_the_plate.filter_map(|rule| {
        let above = if rule.subject == Subject::Distance { ", and no nearer than above" } else { "" };
        Some(format!("{}: {}{above}", rule.overlay.as_deref()?, limit(rule, told.units)?))
    }));
    lines
}

/// What a range's rule allows, and of what: `distance at least 100 yd (rifle)`.
fn limit(rule: &Rule, units: Units) -> Option<String> {
    let allows = rule_words::allows(rule, units).filter(|_| rule.subject != Subject::Case)?;
    let of = Some(rule_words::applies(rule, units)).filter(|of| of != "always");
    Some(allows + &of.map(|of| format!(" ({of})")).unwrap_or_default())
}

/// Whether it is a range's rule on the distance or the speed at the plate that one of the classes is shot with.
fn limits_shooting(rule: &Rule, classes: &[Class]) -> bool {
    let speaks = matches!(rule.subject, Subject::Distance | Subject::ImpactSpeed | Subject::SlowSpeed);
    speaks && rule.overlay.is_some() && is_for(rule, classes)
}

fn is_for(rule: &Rule, classes: &[Class]) -> bool {
    let of = &rule.filter.class;
    of.is_empty() || of.iter().any(|class| classes.contains(class))
}

/// Whether it is a range's rule on ammunition of one of the classes.
fn limits_ammunition(rule: &Rule, classes: &[Class]) -> bool {
    let speaks = match rule.subject {
        Subject::MuzzleSpeed | Subject::MuzzleEnergy | Subject::Calibre => true,
        Subject::Case => !rule.filter.construction.is_empty(),
        _ => false,
    };
    speaks && rule.overlay.is_some() && is_for(rule, classes)
}

/// Loads that are shot on a stage by the officer's word alone.
pub(super) fn ask(told: &Told, mine: &[usize]) -> Vec<String> {
    let doubtful = told.barred.iter().filter(|barred| barred.verdict != Verdict::Unsuitable);
    let doubtful = doubtful.filter(|barred| may_shoot(told, mine, &barred.brought.load));
    let no = refused(told, mine);
    let mut lines: Vec<String> = doubtful.map(|barred| brought(&barred.brought).words).collect();
    lines.retain(|words| !no.iter().any(|load| load.words == *words));
    let here = classes(told, mine);
    lines.extend(leave::silent(told).into_iter().filter(|class| here.contains(class)).map(shooters));
    lines
}

/// What the sign rests on: plates, lean, bullets, and the air where another changes the answer.
pub(super) fn stands_on(told: &Told, stage: usize, mine: &[usize]) -> String {
    if mine.is_empty() {
        return String::new();
    }
    let setups: Vec<Setup> = mine.iter().map(|&target| setup(told, target)).collect();
    let setups: Vec<&Setup> = setups.iter().collect();
    let classes = classes(told, mine);
    let loads = told.course.loads.iter().filter(|load| classes.contains(&load.class()));
    let loads: Vec<&Load> = loads.map(|load| &*load.load).collect();
    let base = preamble::stands_on(&setups, &loads, None, Vec::new(), told.units);
    let mut words = format!("{}, and nobody brings another load.", base.trim_end_matches('.'));
    let air = &told.course.airs[told.course.targets[mine[0]].air];
    let parts = aloft::conditions(told, air, None);
    let given: Vec<String> =
        parts.iter().filter(|part| part.given).map(|part| format!("{} {}", part.what, part.value)).collect();
    if !given.is_empty() {
        words += &format!(" Only at {}: else ask the officer.", listed(&given));
    }
    if let Some(elsewhere) = &told.elsewhere {
        let holds = &elsewhere.holds;
        let here =
            elsewhere.changed.iter().map(|&target| &told.course.targets[target]).filter(|target| target.stage == stage);
        let names: Vec<String> = here.map(|target| target.name.clone()).collect();
        if !names.is_empty() {
            let verb = if names.len() == 1 { "passes" } else { "pass" };
            let air = format!(" {} {verb} {holds} only: the air was not given in full.", listed(&names));
            words += &air;
        }
    }
    let whole = elsewhere::end_of(air, told.units);
    if let Some(whole) = whole.filter(|_| mine.iter().any(|&target| told.fix(target).is_some())) {
        words += &format!(" The fixes hold for {whole}.");
    }
    words
}
