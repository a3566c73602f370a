//! What the first lines say beyond the targets: what nobody read, what names say, how far a search went, other air.

use super::Told;
use super::words::{place, shooters, some};
use crate::advisor::answer::CourseRisk;
use crate::course::{judged_otherwise, speaks_of_rigid};
use crate::load::Class;
use crate::load::names_no_lead;
use crate::quantity::{Velocity, unit};
use crate::words::listed;

/// Things of a kind that are told before the rest is counted.
const TOLD: usize = 3;
/// Rifle loads of a spreadsheet as slow as this may have been written in metres a second, ft/s.
const SLOW_RIFLE: std::ops::Range<f64> = 500.0..1200.0;

/// The line under the headline.
pub(super) fn told(told: &Told, risk: Option<&CourseRisk>) -> String {
    let parts =
        [risk.map(|risk| risk.words.clone()), unread(told), otherwise(told), hung(told), metres(told), searched(told)];
    let mut parts: Vec<String> = parts.into_iter().flatten().collect();
    parts.extend(elsewhere(told));
    parts.join(" ")
}

/// Whether something was given that nobody read, or that speaks against what was judged.
pub(super) fn is_unread(told: &Told) -> bool {
    unread(told).or_else(|| otherwise(told)).or_else(|| metres(told)).is_some()
}

/// The air that a verdict holds for, where another one that was not ruled out has a worse: ` up to 3400 ft`.
pub(super) fn air(told: &Told) -> String {
    told.elsewhere.as_ref().map(|elsewhere| format!(" {}", elsewhere.holds)).unwrap_or_default()
}

/// The first of a list, and how many more there are.
fn first(list: &[String]) -> String {
    if list.len() <= TOLD {
        return list.join("; ");
    }
    format!("{}; {} more", list[..TOLD].join("; "), list.len() - TOLD)
}

/// `Not read: columns "warped" and "notes".`
fn unread(told: &Told) -> Option<String> {
    let mut titles: Vec<String> = Vec::new();
    for title in told.course.tables.iter().flat_map(|table| &table.unread) {
        let title = format!("\"{title}\"");
        if !titles.contains(&title) {
            titles.push(title);
        }
    }
    let columns = if titles.len() == 1 { "column" } else { "columns" };
    (!titles.is_empty()).then(|| format!("Not read: {columns} {}; read them yourself.", some(&titles)))
}

/// Names that say something else than what was judged: `By name otherwise: A, cracked plate (judged as sound).`
fn otherwise(told: &Told) -> Option<String> {
    let course = told.course;
    let mut names: Vec<String> = Vec::new();
    for (index, target) in course.targets.iter().enumerate() {
        let stage = &course.stages[target.stage].name;
        let by = judged_otherwise(&target.name, &target.setup).or_else(|| judged_otherwise(stage, &target.setup));
        names.extend(by.map(|judged| format!("{} (judged as {judged})", place(told, index))));
    }
    for load in course.loads.iter().filter(|load| load.load.facts().construction.is_lead()) {
        let who = load.who.iter().filter(|who| names_no_lead(who));
        names.extend(who.map(|who| format!("{who} (judged as {})", load.load.facts().name)));
    }
    (!names.is_empty()).then(|| format!("Judged otherwise than the name says: {}.", first(&names)))
}

/// Names that speak of a plate held rigid, where no mount was given: `gong on a post`.
fn hung(told: &Told) -> Option<String> {
    let targets = told.course.targets.iter().enumerate().filter(|(_, target)| target.is_hung_taken);
    let speaks = targets.filter(|(_, target)| {
        speaks_of_rigid(&target.name).is_some() && judged_otherwise(&target.name, &target.setup).is_none()
    });
    let names: Vec<String> = speaks.map(|(index, _)| place(told, index)).collect();
    (!names.is_empty()).then(|| format!("Judged hung from open hooks, no mount was given: {}.", first(&names)))
}

/// Rifle loads of a spreadsheet that are slow in feet a second and usual in metres.
fn metres(told: &Told) -> Option<String> {
    let is_slow = |speed: Velocity| SLOW_RIFLE.contains(&unit::FOOT_PER_SECOND.value(speed));
    let loads = told.course.loads.iter().filter(|load| {
        load.class() == Class::Rifle
            && load.load.id().starts_with("declared-")
            && is_slow(load.load.facts().muzzle_velocity)
    });
    let names: Vec<String> = loads
        .map(|load| {
            let speed = load.load.facts().muzzle_velocity;
            let feet = unit::FOOT_PER_SECOND.value(speed);
            let meant = told.units.speed(unit::METRE_PER_SECOND.of(feet));
            format!("{} at {}, not {meant}", super::words::shortly(load), told.units.speed(speed))
        })
        .collect();
    (!names.is_empty()).then(|| format!("Judged as written: {}.", first(&names)))
}

/// How far the search went where anything is admitted.
fn searched(told: &Told) -> Option<String> {
    let reach: Vec<String> =
        told.course.anything.iter().map(|of| format!("{} {}", shooters(of.class), of.reach)).collect();
    (!reach.is_empty()).then(|| format!("Anything admitted is judged as far as usual extremes: {}.", reach.join("; ")))
}

/// What other air changes: `At 6000 ft and 100 °F from farther only: A, g 572 yd; or give the air.`
fn elsewhere(told: &Told) -> Option<String> {
    let elsewhere = told.elsewhere.as_ref()?;
    let (mut farther, mut worse) = (Vec::new(), Vec::new());
    for &target in &elsewhere.changed {
        match elsewhere.all_pass_from(target) {
            Some(Some(at)) => farther.push(format!("{} {}", place(told, target), told.units.distance_up(at))),
            Some(None) => farther.push(format!("{} from nowhere", place(told, target))),
            None => worse.push(place(told, target)),
        }
    }
    let mut parts = Vec::new();
    if !farther.is_empty() {
        parts.push(format!("nobody nearer than: {}", first(&farther)));
    }
    if !worse.is_empty() {
        let have = if worse.len() == 1 { "has" } else { "have" };
        parts.push(format!("{} {have} a worse verdict", some(&worse)));
    }
    Some(format!("The air was not given in full: at {} {}; or give the air.", elsewhere.air, listed(&parts)))
}
