//! What the first lines say beyond the targets: what nobody read, what names say, how far a search went, other air.

use super::item::made;
use super::words::{place, shooters, some};
use super::{Told, elsewhere};
use crate::advisor::answer::CourseRisk;
use crate::advisor::say;
use crate::catalog::is_called_otherwise;
use crate::course::{
    Brought, Case, Fix, KeptFor, Move, SAME, is_moved_nearer, is_sloped, judged_otherwise, line_named, named_narrower,
    named_nearer, named_thinner, speaks_of_rigid, speaks_of_targets, steel_otherwise, without_initials,
};
use crate::drag::DragModel;
use crate::flight::FlightError;
use crate::load::{Load, designates_no_lead, names_no_lead};
use crate::order::Order;
use crate::plate::damage_named;
use crate::quantity::{Angle, Length, Measure, parse, unit};
use crate::words::listed;

/// Things of a kind that are told before the rest is counted.
const TOLD: usize = 3;
/// Cells that nobody judged: each is another's, and none may be hidden by the next.
const TOLD_CELLS: usize = 6;
/// The line under the headline.
pub(super) fn told(told: &Told, risk: Option<&CourseRisk>) -> String {
    let parts = [
        risk.map(|risk| risk.words.clone()),
        unread(told),
        doubted(told),
        ignored(told),
        otherwise(told),
        out_of_reach(told),
        hung(told),
        metres(told),
        searched(told),
    ];
    let mut parts: Vec<String> = parts.into_iter().flatten().collect();
    parts.extend(elsewhere(told));
    parts.extend(fixes_hold(told));
    parts.join(" ")
}

/// In which air alone a target passes as it stands: `passes at sea level up to 88 °F only; for all of 0 to 6000 ft,
/// -10 to 100 °F from 400 yd`.
pub(super) fn only_here(told: &Told, target: usize) -> Option<String> {
    let elsewhere = told.elsewhere.as_ref().filter(|elsewhere| elsewhere.changed.contains(&target))?;
    let there = match elsewhere.all_pass_from(target) {
        Some(Some(at)) => format!("from {}", told.units.distance_up(at)),
        Some(None) => "from nowhere".into(),
        None => "a worse verdict".into(),
    };
    Some(format!("stands {} only; for all of {} {there}", elsewhere.holds, elsewhere.air))
}

/// What air the fixes hold in, where not all was given, and each is more than a look at a plate.
fn fixes_hold(told: &Told) -> Option<String> {
    let whole = told.whole.as_ref().filter(|_| elsewhere::is_wide(told.course))?;
    let moves = |fix: &Fix| fix.moves.iter().any(|(_, moved)| *moved != Move::Keep);
    let weighs = |fix: &Fix| moves(fix) || fix.change.plate.is_some() || !fix.refuse.is_empty();
    let any = told.home.is_some() || made(told).any(|(_, fix)| weighs(fix));
    let uneven = elsewhere::is_uneven(told.course);
    any.then(|| match (&told.elsewhere, uneven) {
        (Some(_), false) => "The fixes hold for all of that air.".into(),
        (None, false) => format!("The fixes hold for {whole}: the air was not given in full."),
        (_, true) => format!("The fixes hold for {whole} where it was not given, else for the air that was."),
    })
}

/// How far a yes goes, where something was given that nobody read, or that speaks against what was judged.
pub(super) fn as_far_as(told: &Told) -> &'static str {
    if [unread(told), doubted(told), ignored(told), otherwise(told), metres(told)].iter().any(Option::is_some) {
        " as far as read"
    } else if out_of_reach(told).is_some() {
        " as far as judged"
    } else {
        ""
    }
}

/// The air that a verdict holds for, where another one that was not ruled out has a worse: ` up to 3400 ft`.
pub(super) fn air(told: &Told) -> String {
    told.elsewhere.as_ref().map(|elsewhere| format!(" {}", elsewhere.holds)).unwrap_or_default()
}

/// The first of a list, and how many more there are.
fn first(list: &[String]) -> String {
    first_of(list, TOLD)
}

fn first_of(list: &[String], most: usize) -> String {
    if list.len() <= most {
        return list.join("; ");
    }
    format!("{}; {} more", list[..most].join("; "), list.len() - most)
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
    (!titles.is_empty()).then(|| format!("Not read: {columns} {}; read them yourself.", listed(&titles)))
}

/// What stands in columns that nothing reads and may be of another gun, load or speed than was judged.
fn doubted(told: &Told) -> Option<String> {
    let doubted = told.course.tables.iter().flat_map(|table| &table.doubted);
    let doubted: Vec<String> = doubted.map(|words| crate::source::clean(words)).collect();
    (!doubted.is_empty())
        .then(|| format!("Maybe of another gun, load or speed than judged: {}.", first_of(&doubted, TOLD_CELLS)))
}

/// What the match leaves out on purpose, and that speaks of what is judged all the same.
fn ignored(told: &Told) -> Option<String> {
    let ignored: Vec<String> = told.course.tables.iter().flat_map(|table| table.ignored.iter().cloned()).collect();
    let ignored: Vec<String> = ignored.iter().map(|words| crate::source::clean(words)).collect();
    (!ignored.is_empty()).then(|| {
        format!("Ignored as the match says, though it speaks of what is judged: {}.", first_of(&ignored, TOLD_CELLS))
    })
}

/// Names of stages and people that speak of something else than what was judged, and may be no more than names.
fn otherwise(told: &Told) -> Option<String> {
    let course = told.course;
    let stages = course.targets.iter().enumerate().filter_map(|(index, target)| {
        Some(format!("{} ({})", place(told, index), another(told, index, &course.stages[target.stage].name)?))
    });
    let milder = course.targets.iter().enumerate().filter_map(|(index, target)| {
        let names = [target.name.as_str(), target.plate.label.as_str(), course.stages[target.stage].name.as_str()];
        let judged = names.into_iter().find_map(|name| for_milder(told, index, name))?;
        Some(format!("{} ({judged})", place(told, index)))
    });
    let open = named_otherwise(told);
    let mut names: Vec<String> =
        stages.chain(milder).filter(|stage| !open.iter().any(|look| look.words == *stage)).collect();
    names.dedup();
    for load in course.loads.iter().filter(|load| load.load.facts().construction.is_lead()) {
        let who = load.who.iter().filter(|who| names_no_lead(without_initials(who)) && !says_no_lead(who));
        names.extend(who.map(|who| format!("{who} (judged as {})", load.load.facts().name)));
    }
    (!names.is_empty()).then(|| format!("Judged otherwise than the name says: {}.", first(&names)))
}

/// A name that speaks of something else than what was judged.
pub(super) struct Look {
    /// Whose it is, where it is a target's; a shooter's is of every stage.
    target: Option<usize>,
    /// What is called so, and what it was judged as.
    pub words: String,
}

impl Look {
    /// Whether it is of one of some targets, or of a shooter.
    pub fn is_on(&self, targets: &[usize]) -> bool {
        self.target.is_none_or(|target| targets.contains(&target))
    }

    pub fn is_of(&self, target: usize) -> bool {
        self.target == Some(target)
    }

    /// What to do about a target's name.
    pub fn fix(&self) -> Option<String> {
        self.target.map(|_| format!("look into {}", self.words))
    }
}

/// Targets whose names speak of another plate, and shooters who are called by another load, than what was judged:
/// somebody must look. They are looked for once.
pub(super) fn named_otherwise<'t>(told: &'t Told) -> &'t [Look] {
    told.called_otherwise.get_or_init(|| called_otherwise(told))
}

fn called_otherwise(told: &Told) -> Vec<Look> {
    let course = told.course;
    let targets = course.targets.iter().enumerate().filter_map(|(index, target)| {
        let positions = || course.lines[target.line].positions.iter().filter_map(|position| position.name.as_deref());
        let of_position = || positions().find_map(|name| for_others(told, index, name));
        let judged =
            another(told, index, &target.name).or_else(|| of_a_stage(told, index)).or_else(|| labelled(told, index));
        let judged = judged.or_else(of_position)?;
        Some(Look { target: Some(index), words: format!("{} ({judged})", place(told, index)) })
    });
    let who = course.loads.iter().flat_map(|load| {
        let is_lead = load.load.facts().construction.is_lead();
        let is_other = move |who: &&String| {
            (is_lead && says_no_lead(who))
                || is_called_otherwise(who, &load.load)
                || course.called_more.contains(&((*who).clone(), load.load.id().to_owned()))
        };
        let who = load.who.iter().filter(is_other);
        let judged = move |who: &String| format!("{who} (judged as {})", load.load.facts().name);
        who.map(move |who| Look { target: None, words: judged(who) })
    });
    targets.chain(who).collect()
}

/// What a target is judged as where its stage's name says of other plates, or is for others. A place may be called by
/// damage and by a distance as well: that is told, and stops nothing.
fn of_a_stage(told: &Told, target: usize) -> Option<String> {
    let own = &told.course.targets[target];
    let stage = told.course.stages[own.stage].name.as_str();
    let says_nothing_else = || damage_named(stage).is_some_and(|damage| damage == stage.trim().to_lowercase());
    let judged =
        if speaks_of_targets(stage) || says_nothing_else() { judged_otherwise(stage, &own.setup) } else { None };
    let judged = judged.or_else(|| steel_otherwise(stage, &own.setup)).map(|judged| format!("judged as {judged}"));
    let thinner = || named_thinner(stage, own.plate.thickness).then(|| super::words::plate(told, &own.plate));
    let judged = judged.or_else(|| thinner().map(|plate| format!("judged as {plate}")));
    judged.or_else(|| for_others(told, target, stage))
}

/// What a target is judged as where a name says of another plate or of a nearer line.
fn another(told: &Told, target: usize, name: &str) -> Option<String> {
    let judged = judged_otherwise(name, &told.course.targets[target].setup);
    let judged = judged.map(|judged| format!("judged as {judged}"));
    let judged = judged.or_else(|| of_another_size(told, target, name));
    judged.or_else(|| shot_from_nearer(told, target, name)).or_else(|| for_others(told, target, name))
}

/// A load that shoots at a target and that a name leaves out.
fn left_out<'t>(told: &'t Told, target: usize, leaves_out: impl Fn(&Load) -> bool) -> Option<&'t Load> {
    let (own, classes) = (&told.course.targets[target], told.classes_at(target));
    let mut loads = told.course.loads.iter().enumerate();
    let shoots = |(index, load): &(usize, &Brought)| classes.contains(&load.class()) && !own.without.contains(index);
    loads.find(|load| shoots(load) && leaves_out(&load.1.load)).map(|(_, load)| &*load.load)
}

/// A name that says that the target is for others than a load that shoots at it.
fn for_others(told: &Told, target: usize, name: &str) -> Option<String> {
    let kept = KeptFor::of(name);
    if kept.is_for_all() {
        return None;
    }
    let load = left_out(told, target, |load| kept.leaves_out(load))?;
    Some(format!("judged for {}", load.facts().name))
}

/// A name that speaks of a milder kind than a load that shoots at it, and may be no more than a name.
fn for_milder(told: &Told, target: usize, name: &str) -> Option<String> {
    let kept = KeptFor::of(name);
    if kept.names_none() {
        return None;
    }
    let load = left_out(told, target, |load| kept.milder_than(load).is_some())?;
    Some(format!("judged for {}", load.facts().name))
}

/// What the label of a target's plate says against it; a label that is a thickness says nothing else.
fn labelled(told: &Told, target: usize) -> Option<String> {
    let label = told.course.targets[target].plate.label.as_str();
    let says = |label: &str| {
        let judged = judged_otherwise(label, &told.course.targets[target].setup);
        let judged = judged.map(|judged| format!("judged as {judged}"));
        judged.or_else(|| shot_from_nearer(told, target, label)).or_else(|| for_others(told, target, label))
    };
    if parse::<Length>(label).is_ok() { None } else { says(label) }
}

/// A name that says of a thinner plate, or of a narrower face.
fn of_another_size(told: &Told, target: usize, name: &str) -> Option<String> {
    let target = &told.course.targets[target];
    if named_thinner(name, target.plate.thickness) {
        return Some(format!("judged as {}", super::words::plate(told, &target.plate)));
    }
    named_narrower(name, &target.setup).then(|| format!("judged as {}", say::face(&target.setup.face, told.units)))
}

/// The name of a target, or of a position, that says from where it is shot, and means from nearer than was judged.
fn shot_from_nearer(told: &Told, target: usize, name: &str) -> Option<String> {
    let target = &told.course.targets[target];
    let positions = told.course.lines[target.line].positions.iter();
    let nearest =
        positions.clone().map(|position| position.distance(target.at)).reduce(|a, b| if b < a { b } else { a })?;
    let own = || positions.clone().filter_map(|p| Some((p.name.as_deref()?, p.distance(target.at), p)));
    // A number without a unit is of the match's.
    let goes_nearer = |name: &str, judged: Length| {
        line_named(name).is_some_and(|line| told.units.distance_unit().of(line) < judged * SAME)
    };
    let nearer = own().find(|(name, judged, _)| named_nearer(name, *judged) || goes_nearer(name, *judged));
    let named = if named_nearer(name, nearest) || is_moved_nearer(name) { Some(nearest) } else { None };
    if let Some(judged) = named.or_else(|| nearer.map(|(_, judged, _)| judged)) {
        return Some(format!("judged from {}", told.units.distance(judged)));
    }
    let is_level = |slope: Option<Angle>| slope.unwrap_or(target.slope).si() == 0.0;
    let sloped = own().any(|(name, _, position)| is_level(position.slope) && is_sloped(name));
    sloped.then(|| "judged on level ground".into())
}

/// Whether what stands behind a shooter's name speaks of a bullet without a lead core: `Joe (steel core)`, and not Ann
/// Pierce.
fn says_no_lead(who: &str) -> bool {
    let who = without_initials(who);
    let behind = |marks: &[char]| who.split(marks).skip(1).any(names_no_lead);
    designates_no_lead(who) || behind(&['(', '[', ',', ';', ':', '/']) || who.split(" - ").skip(1).any(names_no_lead)
}

/// The loads that reach the near end of a target's way, of all of its ways or that from one position, and not the whole
/// of it. Where they fall short they were judged
/// nowhere, and come down steepest.
pub(super) fn short_of_the_way(told: &Told, target: usize, position: Option<usize>) -> Option<String> {
    let mine = || told.cases_of(target).iter().map(|&case| (&told.cases[case], &told.judged.outcomes[case]));
    let mut loads: Vec<usize> = Vec::new();
    for (far, outcome) in mine().filter(|(case, _)| position.is_none_or(|position| case.position == position)) {
        let nearer = |near: &Case| near.position == far.position && near.distance < far.distance;
        let is_reached = |load: &usize| mine().any(|(near, at)| nearer(near) && !at.out_of_reach.contains(load));
        loads.extend(outcome.out_of_reach.iter().filter(|load| is_reached(load)));
    }
    loads.order();
    loads.dedup();
    let words: Vec<String> = loads.iter().map(|&load| super::words::shortly(&told.course.loads[load])).collect();
    (!words.is_empty()).then(|| first(&words))
}

/// Loads that are not judged at a target, since they do not reach it.
fn out_of_reach(told: &Told) -> Option<String> {
    let mut found: Vec<(usize, Vec<usize>)> = Vec::new();
    for (case, outcome) in told.cases.iter().zip(&told.judged.outcomes) {
        for &load in &outcome.out_of_reach {
            match found.iter_mut().find(|(known, _)| *known == load) {
                Some((_, targets)) if targets.contains(&case.target) => {}
                Some((_, targets)) => targets.push(case.target),
                None => found.push((load, vec![case.target])),
            }
        }
    }
    let nothing: Vec<usize> = not_followed(told).into_iter().map(|(load, _)| load).collect();
    let judged = found.iter().filter(|(load, _)| !nothing.contains(load));
    let words = judged.map(|(load, targets)| {
        let places: Vec<String> = targets.iter().map(|&target| place(told, target)).collect();
        format!("{} at {}", super::words::shortly(&told.course.loads[*load]), some(&places))
    });
    let words: Vec<String> = words.collect();
    (!words.is_empty()).then(|| {
        format!("Not judged, since it does not reach: {}; name the `class` that each target is for.", first(&words))
    })
}

/// Loads that are judged on none of the targets that they are shot at, or not in all of the air, and why.
pub(super) fn not_followed(told: &Told) -> Vec<(usize, String)> {
    let needs_one_air = no_fast_end(told);
    let short = reaching_nothing(told).into_iter().filter(|load| !needs_one_air.contains(load));
    let short = short.map(|load| (load, "it reaches no target that it is shot at".to_owned()));
    let fault = FlightError::Weather;
    let apart = needs_one_air.iter().map(|load| (*load, format!("{fault}; {}", fault.help())));
    apart.chain(short).collect()
}

/// Loads whose drag table leaves open in which air they are fastest, where the air is more than one.
fn no_fast_end(told: &Told) -> Vec<usize> {
    let is_open = |load: &Load| {
        let drag = &load.facts().drag;
        drag.model() == DragModel::Own
            && !drag.curve().hotter_is_faster()
            && (told.whole.is_some() || told.course.airs.iter().any(|air| air.thin() != air.dense()))
    };
    (0..told.course.loads.len()).filter(|&load| is_open(&told.course.loads[load].load)).collect()
}

/// Loads that reach none of the targets that they are shot at.
fn reaching_nothing(told: &Told) -> Vec<usize> {
    let cases = || told.cases.iter().zip(&told.judged.outcomes);
    let mut loads: Vec<usize> = cases().flat_map(|(_, outcome)| outcome.out_of_reach.iter().copied()).collect();
    loads.order();
    loads.dedup();
    let class = |load: usize| told.course.loads[load].class();
    loads.retain(|&load| {
        let mut mine = cases().filter(|(case, _)| case.classes.has(class(load)) && !case.without.contains(&load));
        mine.all(|(_, outcome)| outcome.out_of_reach.contains(&load))
    });
    loads
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

/// Rifle loads that are slow in feet a second and usual in metres.
fn metres(told: &Told) -> Option<String> {
    let loads = told.course.loads.iter().filter(|load| told.course.as_written.contains(load.load.id()));
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

/// What other air changes: `… for all of 0 to 6000 ft at -10 to 100 °F nobody nearer than: A, g 572 yd; or give the
/// air.`
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
    Some(format!("The air was not given in full: for all of {} {}; or give the air.", elsewhere.air, listed(&parts)))
}
