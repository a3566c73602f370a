//! What the answer rests on, and the cautions of the day.

use super::words::{place, some};
use super::Told;
use crate::advisor::answer::{
    AirFacts, AppliedRule, Condition, ConditionsFacts, CourseInputs, NotJudged, Preamble, TableFacts,
};
use crate::air::Air;
use crate::load::{Construction, Load};
use crate::plate::Mount;
use crate::quantity::{Degrees, Measure, Si, unit};
use crate::rules::Verdict;
use crate::spread::{FlightConditions, Flights};
use crate::words::{degrees, percent};

/// Loads whose carry is flown: those that leave with the most energy.
const CARRIED: usize = 8;
/// What these limits are, and what stands above them.
const NOTICE: &str = "Eye and ear protection for everyone, spectators too. These limits are rules of thumb for AR500 \
    plate and guarantee nothing. The range's own rules, local codes and law, licensed professionals and the range \
    officer stand above this advice: the stricter wins.";

pub(super) fn preamble(told: &Told, not_judged: Vec<NotJudged>, rules: Vec<AppliedRule>) -> Preamble<CourseInputs> {
    let course = told.course;
    let left_out = course.tables.iter().filter(|t| !t.left_out.is_empty());
    let left_out = left_out.map(|t| format!("{}: columns {}", short(&t.name), t.left_out.join(", ")));
    let cautions = cautions(told);
    Preamble {
        schema: crate::course::SCHEMA.into(),
        program: concat!("thickset ", env!("CARGO_PKG_VERSION")).into(),
        units: told.units,
        inputs: inputs(told),
        headline: String::new(),
        nearest: String::new(),
        stands_on: "Only if every plate is as the file says, sound on both faces and marked AR500, and nobody brings \
                    another load."
            .into(),
        assumed: course.assumed.clone(),
        holds_for: holds_for(told),
        remarks: remarks(told),
        not_judged,
        left_out: left_out.collect(),
        rules,
        safety: safety(told),
        cautions,
        notice: NOTICE.into(),
    }
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
                words: format!("{}: {} rows read, {} {}", short(&t.name), t.rows, t.read, t.of),
            })
            .collect(),
        anything: course.anything.iter().map(|a| a.told.clone()).collect(),
        conditions: conditions(told.level),
    }
}

fn conditions(of: &FlightConditions) -> ConditionsFacts {
    let air = |air: &Air| AirFacts {
        density: Si(air.density()),
        sound_speed: Si(air.sound_speed()),
        temperature: Si(air.temperature()),
        pressure: Si(air.pressure()),
    };
    ConditionsFacts {
        thin_air: of.thin().to_string(),
        dense_air: of.dense().to_string(),
        thin: air(of.thin()),
        dense: air(of.dense()),
        slope: Degrees(of.slope()),
        coverage: Si(of.coverage()),
    }
}

fn altitude(told: &Told, air: &Air) -> String {
    match told.units {
        crate::words::Units::Us => crate::quantity::show(air.altitude(), &unit::FOOT, 0),
        crate::words::Units::Si => crate::quantity::show(air.altitude(), &unit::METRE, 0),
    }
}

fn range(low: String, high: String) -> String {
    if low == high { low } else { format!("{low} to {high}") }
}

/// The values of a kind that targets have, the first few.
fn values(told: &Told, value: impl Fn(&crate::course::Target) -> String) -> String {
    let mut values: Vec<String> = Vec::new();
    for target in &told.course.targets {
        let value = value(target);
        if !values.contains(&value) {
            values.push(value);
        }
    }
    some(&values)
}

fn holds_for(told: &Told) -> Vec<Condition> {
    let course = told.course;
    let assumed = |words: &str| course.assumed.iter().any(|a| a.contains(words));
    let condition = |what: &str, value: String, given: bool| Condition { what: what.into(), value, given };
    let weather = &course.airs[0];
    let (thin, dense) = (told.level.thin(), told.level.dense());
    let mut list = vec![
        condition("altitude", range(altitude(told, dense), altitude(told, thin)), weather.has_altitude()),
        condition(
            "temperature",
            range(told.units.temperature(dense.temperature()), told.units.temperature(thin.temperature())),
            weather.has_temperature(),
        ),
        condition("coverage", percent(told.level.coverage()), course.coverage.is_some()),
        condition("face", values(told, |t| t.setup.face.to_string()), !assumed("round face")),
        condition("mount", values(told, |t| t.setup.mount.words().into()), !assumed("open hooks") && !assumed("is taken as")),
        condition("duty", values(told, |t| t.setup.duty.to_string()), !assumed("private use")),
        condition("condition", values(told, |t| t.setup.condition.to_string()), !assumed("condition is not known") && !assumed("a sound plate")),
        condition("steel", values(told, |t| t.setup.steel.to_string()), !assumed("AR500 steel")),
        condition(
            "lean",
            values(told, |t| t.setup.tilt.map_or_else(|| "plumb".into(), degrees)),
            course.targets.iter().all(|t| t.setup.tilt.is_some()),
        ),
        condition("turn", values(told, |t| degrees(t.setup.oblique)), course.targets.iter().any(|t| t.setup.oblique.si().abs() > 0.0)),
        condition("slope", values(told, |t| degrees(t.slope)), !assumed("level ground")),
    ];
    let spread = |is_given: bool, words: &str, what: &str| condition(what, words.into(), is_given);
    let loads = || course.loads.iter().map(|b| &b.load.facts().spread);
    if loads().any(|s| s.muzzle == crate::load::MuzzleSpread::Assumed) {
        list.push(spread(false, "30 ft/s (SD)", "velocity spread"));
    }
    if loads().any(|s| s.bc_sd.is_none()) {
        list.push(spread(false, "3 % (SD)", "BC spread"));
    }
    if loads().any(|s| s.temperature_slope.is_none() || s.measured_at.is_none()) {
        list.push(spread(false, "at 59 °F, 1 ft/s per °F", "muzzle velocity"));
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
    for table in &course.tables {
        remarks.push(format!("{}: {} rows read, {} {}.", short(&table.name), table.rows, table.read, table.of));
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
        crate::shop::Material::of(face, plate, Some(shop)).cost
    };
    let mut lines: Vec<String> = Vec::new();
    for mending in told.mendings {
        let Some(hung) = mending.fix.as_ref().and_then(|f| f.change.plate.as_ref()) else { continue };
        let face = &told.course.targets[mending.target].setup.face;
        let Some(own) = cost(face, hung) else { continue };
        let thicker = told.ladder.plates().iter().filter(|p| p.thickness > hung.thickness);
        let cheaper = thicker.filter_map(|p| cost(face, p).map(|c| (p, c))).filter(|(_, c)| *c < own).min_by_key(|(_, c)| *c);
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

/// Every caution once, the rules' and the range's own with the targets they are for.
fn cautions(told: &Told) -> Vec<String> {
    let mut list: Vec<String> = Vec::new();
    for warning in &told.judged.warnings {
        let mut targets: Vec<usize> = warning.cases.iter().map(|c| told.cases[*c].target).collect();
        targets.dedup();
        let range = warning.rule.overlay.as_ref().map(|r| format!("{r}: ")).unwrap_or_default();
        let whom = if targets.len() == told.course.targets.len() {
            "all targets".to_owned()
        } else {
            some(&targets.iter().map(|t| place(told, *t)).collect::<Vec<_>>())
        };
        let line = format!("{range}{} ({whom}).", crate::words::sentence(&warning.rule.why));
        if !list.contains(&line) {
            list.push(line);
        }
    }
    let mut general = vec![
        "Judge the nearest point a shooter can reach, moving forward or leaning in; kneeling, prone and raised positions change where splash goes.",
        "Look at both faces and at hangers and bolts before every string; never turn a damaged face to the back.",
    ];
    let mounts = |is: &dyn Fn(Mount) -> bool| told.course.targets.iter().any(|t| is(t.setup.mount));
    if mounts(&Mount::is_free) {
        general.push("A swinging plate turns its face: let it settle before the next shot.");
    }
    if told.course.targets.len() > 1 {
        general.push("Plates that face one another, or stand side by side in a rack, splash on each other: set side screens.");
    }
    if told.course.loads.iter().any(|b| b.load.judged_construction() != Construction::Frangible) {
        general.push("Lead dust: wash before you eat.");
    }
    if told.course.loads.iter().any(|b| b.load.judged_construction() != Construction::Lead) {
        general.push("Jackets set dry grass alight: clear it, and have water ready.");
    }
    list.extend(general.into_iter().map(str::to_owned));
    list.extend(carry(told));
    list
}

/// How far a miss carries, and what is kept clear behind.
fn carry(told: &Told) -> Option<String> {
    let mut strongest: Vec<&Load> = told.course.loads.iter().map(|b| &*b.load).collect();
    strongest.sort_by(|a, b| b.muzzle_energy().si().total_cmp(&a.muzzle_energy().si()));
    strongest.truncate(CARRIED);
    let carries = strongest.iter().filter_map(|load| Flights::new(load, told.level).ok()?.carry());
    let farthest = carries.reduce(|a, b| if b.keep_clear > a.keep_clear { b } else { a })?;
    let (about, clear) = (told.units.distance_up(farthest.about), told.units.distance_up(farthest.keep_clear));
    Some(format!(
        "A backstop behind every target. A miss carries about {about}; where there is no backstop, keep {clear} behind \
         the plate clear (30 % added)."
    ))
}

fn safety(told: &Told) -> String {
    let nearest = told.cases.iter().map(|c| c.distance).reduce(|a, b| if b < a { b } else { a });
    let nearest = nearest.map_or_else(|| "the line".into(), |d| told.units.distance_up(d.max(unit::YARD.of(10.0))));
    let mut refused: Vec<String> = vec!["steel core", "steel jacket", "armour-piercing", "tracer"]
        .into_iter()
        .map(str::to_owned)
        .collect();
    if told.barred.iter().any(|b| b.verdict == Verdict::Unsuitable) {
        refused.push("any load listed to leave".into());
    }
    format!(
        "While the line is hot nobody stands forward of it or nearer than {nearest}, and nobody within 20° of a \
         plate's plane. Wrap-around glasses and ears for everyone, spectators too. Never: {}; hold a magnet to every \
         load. Look at both faces first: a crater, crack, hole or bow retires the plate. Anything comes back: stop. \
         Cold line before anybody walks up. Rules of thumb: the range's rules, local codes and law, licensed \
         professionals and the range officer stand above them.",
        crate::words::listed(&refused)
    )
}
