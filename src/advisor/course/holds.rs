//! What the answer rests on, and the cautions of the day.

use super::words::{self, place, some};
use super::{Told, aloft};
use crate::advisor::answer::{
    AirFacts, AppliedRule, Condition, ConditionsFacts, CourseInputs, NotJudged, Preamble, TableFacts,
};
use crate::advisor::facts;
use crate::advisor::nearest::Nearest;
use crate::advisor::preamble;
use crate::advisor::safety::{self, Occasion};
use crate::air::Air;
use crate::course::REDEFINED;
use crate::load::Load;
use crate::order::Order;
use crate::quantity::{Degrees, Measure, Si, unit};
use crate::rules::Setup;
use crate::source::clean;
use crate::spread::{Carry, FlightConditions, Flights};
use crate::words::{degrees, percent};
use std::collections::BTreeSet;

/// Loads whose carry is flown: those that leave with the most energy.
const CARRIED: usize = 8;
pub(super) fn preamble(told: &Told, not_judged: Vec<NotJudged>, rules: Vec<AppliedRule>) -> Preamble<CourseInputs> {
    let course = told.course;
    let mut alike: Vec<(&[String], Vec<String>)> = Vec::new();
    for table in course.tables.iter().filter(|table| !table.left_out.is_empty()) {
        match alike.iter_mut().find(|(columns, _)| *columns == table.left_out) {
            Some((_, files)) => files.push(short(&table.name)),
            None => alike.push((&table.left_out, vec![short(&table.name)])),
        }
    }
    let left_out = alike.iter().map(|(titles, files)| {
        let columns = if titles.len() == 1 { "column" } else { "columns" };
        format!("{columns} {} of {}", titles.join(", "), crate::words::listed(files))
    });
    let occasion = occasion(told);
    let (range_says, cautions) = cautions(told, &occasion);
    let paragraph = safety::paragraph_after(&super::near::sentence(told), &occasion);
    Preamble {
        schema: crate::course::SCHEMA.into(),
        program: concat!("thickset ", env!("CARGO_PKG_VERSION")).into(),
        units: told.units,
        inputs: inputs(told),
        headline: String::new(),
        nearest: String::new(),
        nearest_distance: None,
        stands_on: stands_on(told),
        assumed: course.assumed.clone(),
        holds_for: holds_for(told),
        remarks: remarks(told),
        not_judged,
        left_out: left_out.chain(unread_notes(told)).collect(),
        rules,
        safety: safety::after_range(&range_says, paragraph),
        cautions,
        doubts: Vec::new(),
        range_says,
        case_says: safety::of_case(&occasion),
        notice: safety::NOTICE.into(),
    }
}

/// Notes are no part of the answer; words in them that speak of what is judged stop it, and others may hide.
fn unread_notes(told: &Told) -> Option<String> {
    let any = told.course.tables.iter().any(|table| !table.left_out.is_empty());
    // The line under the headline names them where they say something.
    let is_named = told.course.tables.iter().any(|table| !table.unread.is_empty());
    (any && !is_named).then(|| "what such columns say is not judged: read them yourself".into())
}

fn short(file: &str) -> String {
    std::path::Path::new(file).file_name().map_or_else(|| file.to_owned(), |n| n.to_string_lossy().into_owned())
}

fn inputs(told: &Told) -> CourseInputs {
    let course = told.course;
    CourseInputs {
        name: course.name.clone(),
        stages: course.stages.len(),
        targets: course.targets.len(),
        loads: course.loads.len(),
        shooters: course.crowd.map(|c| c.shooters),
        rounds: course.crowd.map(|c| c.rounds),
        tables: course
            .tables
            .iter()
            .map(|t| TableFacts {
                file: short(&t.name),
                of: t.of.into(),
                rows: t.rows,
                read: t.read,
                things: t.things,
                words: rows(t),
            })
            .collect(),
        anything: course.anything.iter().map(|a| a.told.clone()).collect(),
        conditions: conditions(told.level, told.units),
    }
}

/// How many rows a table has, how many were read, and what they hold.
fn rows(table: &crate::course::TableRead) -> String {
    let things = words::count(table.things, table.of.trim_end_matches('s'));
    format!("{}: {}, {} read: {things}", short(&table.name), words::count(table.rows, "row"), table.read)
}

/// What the whole match rests on.
fn stands_on(told: &Told) -> String {
    let setups: Vec<Setup> = (0..told.course.targets.len()).map(|target| super::sign::setup(told, target)).collect();
    let setups: Vec<&Setup> = setups.iter().collect();
    let loads: Vec<&Load> = told.course.loads.iter().map(|load| &*load.load).collect();
    let base = preamble::stands_on(&setups, &loads, None, Vec::new(), told.units);
    let base = base.trim_start_matches("Only if ").trim_end_matches('.').to_owned();
    let mended = if told.mendings.is_empty() { "" } else { " with the fixes made" };
    format!("Only if every plate is as the file says{mended}: {base}; and nobody brings another load.")
}

fn conditions(of: &FlightConditions, units: crate::words::Units) -> ConditionsFacts {
    let air = |air: &Air| AirFacts {
        density: Si(air.density()),
        sound_speed: Si(air.sound_speed()),
        temperature: Si(air.temperature()),
        pressure: Si(air.pressure()),
    };
    ConditionsFacts {
        thin_air: facts::air_words(of.thin(), units),
        dense_air: facts::air_words(of.dense(), units),
        thin: air(of.thin()),
        dense: air(of.dense()),
        slope: Degrees(of.slope()),
        coverage: Si(of.coverage()),
    }
}

/// The values that were given, and the one that was taken for the targets of which none was.
fn given_and_taken(what: &str, mut all: Vec<String>, default: &str, is_assumed: bool) -> Vec<Condition> {
    let condition = |value: String, given: bool| Condition { what: what.into(), value, given, of: None };
    if !is_assumed {
        return if all.is_empty() { Vec::new() } else { vec![condition(some(&all), true)] };
    }
    all.retain(|value| value != default);
    if all.is_empty() {
        return vec![condition(default.into(), false)];
    }
    vec![condition(some(&all), true), condition(format!("{default} where none was given"), false)]
}

/// The values of a kind that targets have.
fn values(told: &Told, value: impl Fn(&crate::course::Target) -> String) -> Vec<String> {
    let mut values: Vec<String> = Vec::new();
    for target in &told.course.targets {
        let value = value(target);
        if !values.contains(&value) {
            values.push(value);
        }
    }
    values
}

fn holds_for(told: &Told) -> Vec<Condition> {
    let course = told.course;
    let assumed = |words: &str| course.assumed.iter().any(|a| a.contains(words));
    let condition = |what: &str, value: String, given: bool| Condition { what: what.into(), value, given, of: None };
    let weather = &course.airs[0];
    let mut list = aloft::conditions(told, weather, None);
    // A load of one's own that goes by a listed one's name is read as the listed one, were it not said.
    let own: Vec<String> = course.assumed.iter().filter_map(|a| a.strip_suffix(REDEFINED).map(str::to_owned)).collect();
    if !own.is_empty() {
        list.insert(0, condition("loads", format!("{} as given, not as listed", some(&own)), true));
    }
    // A stage in air of its own is judged in that alone.
    let own: BTreeSet<(usize, usize)> =
        course.targets.iter().filter(|target| target.air > 0).map(|target| (target.stage, target.air)).collect();
    for (stage, weather) in own {
        list.extend(aloft::conditions(told, &course.airs[weather], Some(&course.stages[stage].name)));
    }
    let ranges = |book: usize| {
        let names: Vec<String> = told.rules.of(book).overlays().iter().map(ToString::to_string).collect();
        condition("range rules", crate::words::listed(&names), true)
    };
    if !told.rules.common().overlays().is_empty() {
        list.push(ranges(0));
    }
    for stage in course.stages.iter().filter(|stage| stage.rules > 0) {
        list.push(Condition { of: Some(stage.name.clone()), ..ranges(stage.rules) });
    }
    list.push(condition("coverage", percent(told.level.coverage()), course.coverage.is_some()));
    let zero = degrees(crate::quantity::Angle::from_si(0.0));
    let face = crate::plate::Face::round(unit::INCH.of(12.0)).map(|face| words::face(told, &face)).unwrap_or_default();
    let faces = values(told, |t| words::face(told, &t.setup.face));
    list.extend(given_and_taken("face", faces, &face, assumed("round face")));
    let open = crate::plate::Mount::OpenHook.words();
    let held = values(told, |t| words::held(t, t.setup.mount).into());
    if assumed("is taken as") {
        // What stands or spins is held as its kind is.
        let by_kind = |words: &String| course.targets.iter().any(|t| t.kind.held() == Some(words.as_str()));
        let (own, hung): (Vec<String>, Vec<String>) = held.into_iter().partition(by_kind);
        list.push(condition("mount", some(&own), false));
        if !hung.is_empty() {
            list.extend(given_and_taken("mount", hung, open, assumed("open hooks")));
        }
    } else {
        list.extend(given_and_taken("mount", held, open, assumed("open hooks")));
    }
    let mut taken = |what: &str, all: Vec<String>, default: &str, is_assumed: bool| {
        list.extend(given_and_taken(what, all, default, is_assumed));
    };
    let duty = crate::plate::Duty::Match.to_string();
    taken("duty", values(told, |t| t.setup.duty.to_string()), &duty, assumed("match duty"));
    let state = crate::plate::Condition::Unknown.to_string();
    let unknown = assumed("condition is not known");
    taken("condition", values(told, |t| t.setup.condition.to_string()), &state, unknown);
    let steel = crate::plate::Steel::Ar500.to_string();
    taken("steel", values(told, |t| t.setup.steel.to_string()), &steel, assumed("AR500 steel"));
    let leans = values(told, |t| t.setup.tilt.map_or_else(|| "plumb".into(), degrees));
    taken("lean", leans, "plumb", course.targets.iter().any(|t| t.setup.tilt.is_none()));
    let turned = values(told, |t| degrees(t.setup.oblique));
    taken("turn", turned, &zero, course.targets.iter().any(|t| t.setup.oblique.si().abs() < 1e-12));
    let mut slopes: Vec<String> = Vec::new();
    for slope in told.cases.iter().map(|case| degrees(case.slope)) {
        if !slopes.contains(&slope) {
            slopes.push(slope);
        }
    }
    taken("slope", slopes, &zero, assumed("level ground"));
    let spread = |is_given: bool, words: &str, what: &str| condition(what, words.into(), is_given);
    let loads = || course.loads.iter().map(|b| &b.load.facts().spread);
    if loads().any(|s| s.muzzle == crate::load::MuzzleSpread::Assumed) {
        let sd = told.units.speed(crate::load::assumed_velocity_sd());
        list.push(spread(false, &format!("{sd} (SD)"), "velocity spread"));
    }
    if loads().any(|s| s.bc_sd.is_none()) {
        list.push(spread(false, "3 % (SD)", "BC spread"));
    }
    let of_air = |load: &crate::load::Load| !load.has_powder() && load.facts().spread.temperature_slope.is_none();
    if course.loads.iter().any(|b| of_air(&b.load)) {
        list.push(spread(false, "the same hot or cold", "air gun's velocity"));
    }
    let loads = || course.loads.iter().filter(|b| !of_air(&b.load)).map(|b| &b.load.facts().spread);
    let measured = loads().any(|s| s.measured_at.is_none()).then(crate::load::assumed_measured_at);
    let slope = loads().any(|s| s.temperature_slope.is_none()).then(crate::load::assumed_velocity_temperature_slope);
    let measured = measured.map(|at| format!("at {}", told.units.temperature(at)));
    let taken: Vec<String> = measured.into_iter().chain(slope.map(|slope| told.units.slope(slope))).collect();
    if !taken.is_empty() {
        list.push(spread(false, &taken.join(", "), "muzzle velocity"));
    }
    let mut measured: Vec<String> = Vec::new();
    for at in loads().filter_map(|s| s.measured_at).map(|at| told.units.temperature(at)) {
        if !measured.contains(&at) {
            measured.push(at);
        }
    }
    if !measured.is_empty() {
        list.push(spread(true, &some(&measured), "muzzle velocity measured at"));
    }
    if let Some(crowd) = course.crowd {
        let rifles = told.units.speed(crowd.between_rifles);
        list.push(condition("shooters", crowd.shooters.to_string(), true));
        list.push(condition("rounds of each", crowd.rounds.to_string(), true));
        list.push(condition("spread between rifles", format!("{rifles} (SD)"), !assumed("between rifles")));
    }
    list
}

fn remarks(told: &Told) -> Vec<String> {
    let course = told.course;
    let mut remarks: Vec<String> = course.anything.iter().map(|a| a.told.clone()).collect();
    let brought = course.classes_brought();
    let mut missing: Vec<String> = Vec::new();
    for class in course.targets.iter().flat_map(|t| &t.classes) {
        let name = super::words::shooters(*class);
        if !brought.contains(class) && !missing.contains(&name) {
            missing.push(name);
        }
    }
    if !missing.is_empty() {
        remarks.push(format!("Nothing is said of {}: no such load was brought.", crate::words::listed(&missing)));
    }
    if let Some(elsewhere) = &told.elsewhere {
        let air = &elsewhere.air;
        let names: Vec<String> = elsewhere.changed.iter().map(|&target| place(told, target)).collect();
        remarks.push(format!("For {air} a worse verdict: {}.", crate::words::listed(&names)));
    }
    for table in &course.tables {
        remarks.push(format!("{}.", rows(table)));
    }
    let dearer = cheaper_thicker(told);
    remarks.extend(dearer);
    for mending in told.mendings {
        if let Some(rule) = mending.blocking.iter().find(|r| r.overlay.is_some()) {
            let range = rule.overlay.as_deref().unwrap_or_default();
            let line = format!("{range}: `{}` blocks {}.", rule.id, place(told, mending.target));
            if remarks.len() < 40 && !remarks.contains(&line) {
                remarks.push(line);
            }
        }
    }
    remarks
}

/// Where a shop's prices make a thicker plate the cheaper one.
fn cheaper_thicker(told: &Told) -> Vec<String> {
    let Some(shop) = told.shop else { return Vec::new() };
    let cost = |face: &crate::plate::Face, plate: &crate::plate::Plate| {
        crate::shop::Material::of(face, plate, Some(shop)).cost.map(|c| c.each)
    };
    let mut lines: Vec<String> = Vec::new();
    for mending in told.mendings {
        let Some(hung) = mending.fix.as_ref().and_then(|f| f.change.plate.as_ref()) else { continue };
        let face = &told.course.targets[mending.target].setup.face;
        let Some(own) = cost(face, hung) else { continue };
        let thicker = told.ladder.plates().iter().filter(|p| p.thickness > hung.thickness);
        let cheaper =
            thicker.filter_map(|p| cost(face, p).map(|c| (p, c))).filter(|(_, c)| *c < own).min_by_key(|(_, c)| *c);
        if let Some((plate, price)) = cheaper {
            let line = format!(
                "At {}, {} of {face} costs {}{price}, less than {} at {}{own}.",
                shop.name, plate.label, shop.currency, hung.label, shop.currency
            );
            if !lines.contains(&line) {
                lines.push(line);
            }
        }
    }
    lines
}

/// The day: every load and target of the match.
fn occasion<'t>(told: &'t Told) -> Occasion<'t> {
    let course = told.course;
    let nearest = told.cases.iter().map(|c| c.distance).reduce(|a, b| if b < a { b } else { a });
    // It is a line that is shot from, and told as one.
    let line = super::near::nearest(told).filter(|distance| distance.si() > 0.0);
    let mut setups: Vec<&Setup> = Vec::new();
    for target in &course.targets {
        if !setups.contains(&&target.setup) {
            setups.push(&target.setup);
        }
    }
    Occasion {
        loads: course.loads.iter().map(|b| &*b.load).collect(),
        setups,
        nearest: Nearest::one(line, line.as_slice()),
        is_shot: true,
        lean: None,
        shot_from: nearest,
        coldest: told.level.dense().temperature().min(told.level.thin().temperature()),
        carry: carry(told),
        units: told.units,
    }
}

/// What the range's own rules say, and every caution once, theirs and the house's with the targets they are for.
fn cautions(told: &Told, occasion: &Occasion) -> (Vec<String>, Vec<String>) {
    let (mut of_range, mut list): (Vec<String>, Vec<String>) = (Vec::new(), Vec::new());
    let own = told.judged.warnings.iter().filter(|w| w.rule.overlay.is_some() || !safety::covers(&w.rule.id));
    for warning in own {
        let mut targets: Vec<usize> = warning.cases.iter().map(|c| told.cases[*c].target).collect();
        targets.dedup();
        let range = warning.rule.overlay.as_ref().map(|r| format!("{}: ", clean(r))).unwrap_or_default();
        let all = targets.len() == told.course.targets.len();
        let some = || some(&targets.iter().map(|t| place(told, *t)).collect::<Vec<_>>());
        let whom = if all { "all targets".to_owned() } else { some() };
        let why = clean(&crate::words::sentence(&warning.rule.why));
        let line = format!("{range}{why} ({whom}).");
        if list.contains(&line) {
            continue;
        }
        if warning.rule.overlay.is_some() {
            let whom = if all { String::new() } else { format!(" ({whom})") };
            of_range.push(format!("{range}{why}{whom}."));
        }
        list.push(line);
    }
    list.extend(safety::list_after(&super::near::sentence(told), occasion));
    (of_range, list)
}

/// How far a miss of the strongest loads carries.
fn carry(told: &Told) -> Option<Carry> {
    let mut strongest: Vec<&Load> = told.course.loads.iter().map(|b| &*b.load).collect();
    strongest.order_by(|a, b| b.muzzle_energy().si().total_cmp(&a.muzzle_energy().si()));
    strongest.truncate(CARRIED);
    let carries = strongest.iter().filter_map(|load| Flights::new(load, told.level).ok()?.carry());
    carries.reduce(|a, b| if b.keep_clear > a.keep_clear { b } else { a })
}
