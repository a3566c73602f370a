//! A chronograph string, and with the rest of a load how close it may be shot.

mod beside;
mod weighed;

use super::answer::{Apart, ChronoAnswer, ChronoInputs, PlateDistance};
use super::books::{Books, Brought, units};
use super::elsewhere;
use super::error::{Faults, at, refuse};
use super::found::{held, nearer};
use super::judge::Judge;
use super::lean::Lean;
use super::nearest::{Nearest, One};
use super::preamble::{Said, stands_on};
use super::question::{ChronoQuestion, LoadAsked};
use super::resolve::air::air;
use super::resolve::loads::{LoadSource, coverage, tell_spread};
use super::resolve::plates;
use super::resolve::taken::Taken;
use super::resolve::target::stand;
use super::safety::Occasion;
use super::worst::flight_fault;
use super::{carry, facts, say};
use crate::catalog::{self, SCHEMA, render_load};
use crate::chrono::{Above, Oddity, Reading, Readings, SetApart, Strings, Summary, Warmth};
use crate::drag::DragModel;
use crate::load::{Load, MeasuredString, MuzzleSpread, assumed_measured_at};
use crate::plate::Condition;
use crate::quantity::unit::Unit;
use crate::quantity::{Given, Measure, Number, Ratio, Si, Velocity, show, unit};
use crate::rules::{Closest, Verdict};
use crate::source::{Diagnostic, SourceText, clean};
use crate::spread::normal::quantile;
use crate::spread::{FlightConditions, KEPT_FOR, beyond_saved};
use crate::standoff::{Cell, Chart};
use crate::words::{self, Units};
use beside::{Heard, Powder};
use std::sync::Arc;

/// A string read and summed up.
struct Read {
    readings: Readings,
    summary: Summary,
    apart: Option<SetApart>,
    left_out: Vec<String>,
    above: Vec<Above>,
    /// What may speak of the load elsewhere.
    beside: Vec<Above>,
    warmth: Vec<Warmth>,
    coverage: Ratio,
    confidence: Ratio,
}

/// The load a string was shot with.
struct Measured {
    load: Arc<Load>,
    /// What the file says of the load.
    heard: Heard,
    /// What is said of the powder's temperature, where the file tells one.
    powder: Option<Powder>,
}

pub(crate) fn answer(books: &Books, question: &ChronoQuestion) -> Result<ChronoAnswer, Faults> {
    let mut taken = Taken::default();
    let units = units(question.units);
    let brought = Brought {
        range_rules: &question.range_rules,
        plates: question.plates.as_ref(),
        loads: &question.loads,
        shop: None,
    };
    let books = books.with(&brought, units)?;
    books.tell(&mut taken);
    let read = read(books_unit(question)?, question, &mut taken)?;
    let measured = measured(&books, question, &read, units, &mut taken)?;
    if measured.is_none() {
        refuse_without_load(question)?;
    }
    let mut said = Said { headline: headline(&read, units), left_out: read.left_out.clone(), ..Said::default() };
    if let Some(measured) = &measured {
        if let Some(powder) = &measured.powder {
            powder.tell(&read.warmth, &mut said);
        }
        measured.heard.tell(&measured.load, &mut said);
    }
    beside::shorten(&mut said.left_out);
    let load = measured.map(|of| of.load);
    let load_file = load_file(question, load.as_deref(), &read, &mut taken)?;
    let (distances, occasion_of) = match &load {
        Some(load) => how_close(&books, question, load, units, &mut taken, &mut said)?,
        None => (Vec::new(), None),
    };
    let loads: Vec<&Load> = load.iter().map(|l| &**l).collect();
    let occasion = occasion_of.as_ref().map_or_else(
        || Occasion {
            loads: Vec::new(),
            setups: Vec::new(),
            nearest: Nearest::nothing(),
            is_shot: true,
            lean: None,
            shot_from: None,
            coldest: unit::FAHRENHEIT.of(59.0),
            carry: None,
            units,
        },
        |of| Occasion {
            loads: loads.clone(),
            setups: vec![&of.setup],
            nearest: of.nearest.clone(),
            is_shot: of.verdict != Verdict::Unsuitable,
            lean: of.lean,
            shot_from: of.nearest.least(),
            coldest: of.coldest,
            carry: of.carry,
            units,
        },
    );
    let summary = &read.summary;
    let suspicions = read.apart.iter().flat_map(|apart| &apart.readings);
    let apart: Vec<Apart> = suspicions
        .map(|odd| Apart {
            reading: odd.index + 1,
            speed: Si(odd.reading),
            why: match odd.oddity {
                Oddity::UnitSlip => "it would fit in the other unit of speed".into(),
                Oddity::Outlier => "Grubbs' two-sided test at 1 % sets it apart".into(),
            },
        })
        .collect();
    let inputs = ChronoInputs {
        readings: read.readings.readings().iter().map(|v| Si(*v)).collect(),
        load: load.as_ref().map(|l| facts::load(l)),
    };
    let (low, high) = summary.sd_interval;
    Ok(ChronoAnswer {
        preamble: said.preamble("chrono", units, inputs, taken, &occasion),
        verdict: occasion_of.as_ref().map_or(Verdict::Suits, |of| of.verdict),
        n: summary.n,
        mean: Si(summary.mean),
        sd: Si(summary.sd),
        sd_interval: [Si(low), Si(high)],
        spread: Si(summary.extreme_spread),
        coverage: Si(read.coverage),
        confidence: Si(read.confidence),
        k: Number(summary.factor),
        bound: Si(summary.fast_bound),
        slow_bound: Si(summary.slow_bound),
        suspicions: apart
            .iter()
            .map(|a| {
                format!(
                    "Reading {}, {}: {}; it is counted all the same.",
                    a.reading,
                    units.small_speed(*a.speed),
                    a.why
                )
            })
            .chain(beyond(summary))
            .collect(),
        apart,
        standoff: distances,
        load_file,
    })
}

/// What is to be said of readings that the spread alone would leave out.
fn beyond(summary: &Summary) -> Option<String> {
    let (count, of) = (summary.beyond, summary.n);
    let which = if count == 1 { "1 reading lies".to_owned() } else { format!("{count} readings lie") };
    (count > 0).then(|| {
        format!(
            "{which} beyond what the spread of all {of} allows: the bound is the farthest of them. Was it one load, one lot?"
        )
    })
}

/// The unit of readings without one.
fn books_unit(question: &ChronoQuestion) -> Result<Option<Unit<Velocity>>, Diagnostic> {
    let Some(text) = &question.unit else { return Ok(None) };
    let found = Velocity::UNITS.iter().find(|unit| unit.is_spelled_loosely(text.trim())).copied();
    found.map(Some).ok_or_else(|| at("unit", format!("`{text}` is not a unit of speed"), "write `fps` or `m/s`"))
}

fn read(unit: Option<Unit<Velocity>>, question: &ChronoQuestion, taken: &mut Taken) -> Result<Read, Diagnostic> {
    let source = SourceText::new("readings", question.readings.as_str());
    let named = |fault: Diagnostic| if fault.field.is_none() { fault.field("readings") } else { fault };
    // Words on one line, or a text of lines.
    let one_line = !question.readings.trim().contains('\n') && question.column.is_none();
    let (readings, left_out, above, beside, warmth) = if one_line {
        let words = question.readings.split_whitespace();
        (Readings::from_words_in(words, unit).map_err(named)?, Vec::new(), Vec::new(), Vec::new(), Vec::new())
    } else {
        let strings = Strings::read(&source, &Reading { column: question.column.as_deref(), unit }).map_err(named)?;
        let mut left_out: Vec<String> = strings.left_out.iter().map(|c| beside::left_out_column(c)).collect();
        left_out.extend(strings.summary_rows.iter().map(|r| format!("row {}, `{}`", r.row, clean(&r.text))));
        left_out.extend(strings.missing.iter().map(|number| format!("shot {number}, which is not in the table")));
        let (above, beside, warmth) = (strings.above.clone(), strings.beside.clone(), strings.warmth.clone());
        left_out.extend(above.iter().filter(|line| !line.is_read).map(|line| beside::left_out_line(&line.text)));
        (strings.only().map_err(named)?, left_out, above, beside, warmth)
    };
    let given = question.coverage.as_ref().map(Given::value);
    let coverage = coverage(given, taken);
    let given = question.confidence.as_ref().map(Given::value);
    let confidence = given.unwrap_or_else(|| unit::ONE.of(USUAL_CONFIDENCE));
    let told = words::percent(confidence);
    taken.take("confidence", told.clone(), given.is_some(), &format!("a confidence of {told}"));
    let fault = |e: crate::spread::tolerance::ToleranceError| at(e.field(), &e, e.help());
    let summary = readings.summary(coverage.si(), confidence.si()).map_err(fault)?;
    let apart = readings.set_apart(coverage.si(), confidence.si()).map_err(fault)?;
    Ok(Read { readings, summary, apart, left_out, above, beside, warmth, coverage, confidence })
}

/// The confidence of a plan where none is asked.
const USUAL_CONFIDENCE: f64 = 0.95;

/// A speed rounded up: a plan for it holds.
fn speed_up(speed: Velocity, units: Units) -> String {
    let unit = if units == Units::Us { unit::FOOT_PER_SECOND } else { unit::METRE_PER_SECOND };
    show(unit.of((unit.value(speed) - 1e-6).ceil()), &unit, 0)
}

/// `Plan for 6509 ft/s, if reading 7 (264 ft/s) is no slip; without it 2690 ft/s: …`.
fn headline(read: &Read, units: Units) -> String {
    let bound = speed_up(read.summary.fast_bound, units);
    let apart = read.apart.as_ref().map(|apart| {
        let told: Vec<String> =
            apart.readings.iter().map(|odd| format!("{} ({})", odd.index + 1, units.speed(odd.reading))).collect();
        let (which, are) = if told.len() == 1 { ("reading", "is no slip") } else { ("readings", "are no slips") };
        let without = apart.without.as_ref().map(|w| format!("; without, {}", speed_up(w.fast_bound, units)));
        format!(", if {which} {} {are}{}", words::listed(&told), without.unwrap_or_default())
    });
    format!(
        "Plan for {bound}{}: with {} confidence {} of shots are no faster.",
        apart.unwrap_or_default(),
        words::percent(read.confidence),
        words::percent(read.coverage)
    )
}

/// The load the string was shot with, where its rest was given: mean and bound from the string.
fn measured(
    books: &Books,
    question: &ChronoQuestion,
    read: &Read,
    units: Units,
    taken: &mut Taken,
) -> Result<Option<Measured>, Diagnostic> {
    refuse(!question.any.0.is_empty(), "any", "a string is of one load", "name that load")?;
    refuse(question.velocity_sd.is_some(), "velocity_sd", "the string tells the spread", "leave it out")?;
    let [asked] = question.load.0.as_slice() else {
        if question.load.0.is_empty() {
            return Ok(None);
        }
        return Err(at("load", "more than one load was named", "a string is of one load: name that one"));
    };
    let mut asked = asked.clone();
    if let LoadAsked::Described(described) = &mut asked {
        refuse(described.velocity.is_some(), "velocity", "the string's mean is the velocity", "leave it out")?;
        // In the unit it was read in, which tells a slip of it.
        described.velocity = Some(if is_in_metres(question) {
            Given::of(read.summary.mean.si(), &unit::METRE_PER_SECOND)
        } else {
            Given::of(unit::FOOT_PER_SECOND.value(read.summary.mean), &unit::FOOT_PER_SECOND)
        });
    }
    let mut spread = question.spread_part();
    // What is measured is not moved: the barrel only says what it was shot from.
    let barrel = spread.barrel.take();
    let measured_at = spread.measured_at.take();
    let source = LoadSource::new(books, &spread, None, units);
    let mut found = source.load(&asked, taken)?;
    if let Some(own) = found.distance {
        let message = format!("a load with a distance, {}, and a string has none", units.distance(own));
        return Err(at("load", message, "leave the distance out"));
    }
    let load = found.loads.pop().ok_or_else(|| at("load", "no load was named", super::vet::NO_LOAD))?;
    if let Some(barrel) = barrel {
        taken.given("barrel", units.length(barrel));
    }
    like_the_load(&load, &asked, read.summary.mean, units)?;
    let said: Vec<&Above> = read.above.iter().chain(&read.beside).collect();
    beside::like_the_load(books, &question.readings, &said, &load, units)?;
    beside::like_the_barrel(&question.readings, &said, barrel, units)?;
    let heard = Heard::of(books, &said, &load);
    let bound = kept(&read.readings, &read.summary, read.coverage.si(), read.confidence.si());
    let load = catalog::measured(&load, read.summary.mean, bound, read.summary.n, barrel, units);
    let load =
        load.map_err(|e| if e.field() == SD_FIELD { too_wild(read, units) } else { at(e.field(), &e, e.help()) })?;
    let asks_powder = load.has_powder() && measured_at.is_none();
    let warm = beside::powder_of(&read.warmth, &load).filter(|_| asks_powder);
    // The load's own is that of the velocity which the string's mean replaces: it counts where that is the stricter.
    let own = load.facts().spread.measured_at.filter(|own| *own <= assumed_measured_at());
    let load = load.with(|facts| facts.spread.measured_at = measured_at.or(warm).or(own));
    let load = load.map_err(|e| at(e.field(), &e, e.help()))?;
    tell_spread(std::iter::once(&load), &spread, units, taken);
    let powder = asks_powder.then(|| Powder::of(&read.warmth, warm, &load, units));
    let colder = measured_at.and_then(|given| beside::colder_than(given, &read.warmth, units));
    colder.iter().for_each(|words| taken.remark(words));
    Ok(Some(Measured { load: Arc::new(load), heard, powder }))
}

/// Whether the readings are in metres a second.
fn is_in_metres(question: &ChronoQuestion) -> bool {
    let is_of_metres = |text: &str| ["m/s", "mps"].iter().any(|unit| text.to_lowercase().contains(unit));
    is_of_metres(&question.readings) || question.unit.as_deref().is_some_and(is_of_metres)
}

/// A string's spread as a load keeps it: its factor is that of the usual coverage, or what gives the one asked from it.
fn kept(readings: &Readings, summary: &Summary, coverage: f64, confidence: f64) -> MuzzleSpread {
    let beyond = quantile(coverage).map_or(1.0, beyond_saved);
    MuzzleSpread::Bound {
        sd: summary.sd,
        factor: summary.factor / beyond,
        string: Some(string_of(readings, confidence)),
    }
}

/// What is kept of a string: its factor at any coverage follows from it.
fn string_of(readings: &Readings, confidence: f64) -> MeasuredString {
    MeasuredString { readings: readings.readings().len(), farthest: readings.farthest(), confidence, coverage: None }
}

/// What the spread of a load is called in its faults.
const SD_FIELD: &str = "velocity-sd";

/// The fault of a string that spreads as no load does, with the readings that are set apart.
fn too_wild(read: &Read, units: Units) -> Diagnostic {
    let odd = read.apart.iter().flat_map(|apart| &apart.readings);
    let odd: Vec<String> = odd.map(|odd| format!("reading {} ({})", odd.index + 1, units.speed(odd.reading))).collect();
    let message = format!("the string spreads by {} (SD), as no load does", units.small_speed(read.summary.sd));
    let help = match odd.as_slice() {
        [] => "check the unit of each reading, and give one load's string".into(),
        odd => format!("look at {}: a slip is left out, or the load is", words::listed(odd)),
    };
    at("readings", message, help)
}

/// How far a string's mean may lie from a listed load's velocity, as factors (house assumption): beyond, it is of
/// another load, or in another unit.
const LIKE_LISTED: std::ops::RangeInclusive<f64> = 0.75..=1.25;

/// Refuses a string that is not of the listed load that it is said to be of.
fn like_the_load(load: &Load, asked: &LoadAsked, mean: Velocity, units: Units) -> Result<(), Diagnostic> {
    let listed = load.facts().muzzle_velocity;
    if matches!(asked, LoadAsked::Described(_)) || LIKE_LISTED.contains(&(mean.si() / listed.si())) {
        return Ok(());
    }
    let message = format!(
        "the string's mean is {}, and {} is listed at {}",
        units.speed(mean),
        load.facts().name,
        units.speed(listed)
    );
    Err(at("load", message, "check the unit of the readings; describe a load of your own by its numbers"))
}

/// What belongs to a distance is refused where there is no load to have one.
fn refuse_without_load(question: &ChronoQuestion) -> Result<(), Diagnostic> {
    let target = question.target_part();
    let air = question.air_part();
    let spread = question.spread_part();
    for (given, key) in [
        (!question.plate.0.is_empty(), "plate"),
        (question.plates.is_some(), "plates"),
        (!question.range_rules.0.is_empty(), "range_rules"),
        (!question.loads.0.is_empty(), "loads"),
        (question.id.is_some(), "id"),
        (target.face.is_some(), "face"),
        (target.outline.is_some(), "outline"),
        (target.mount.is_some(), "mount"),
        (target.chain.is_some(), "chain"),
        (target.duty.is_some(), "duty"),
        (target.condition.is_some(), "condition"),
        (target.steel.is_some(), "steel"),
        (target.tilt.is_some(), "tilt"),
        (target.oblique.is_some(), "oblique"),
        (target.slope.is_some(), "slope"),
        (air.air.is_some(), "air"),
        (air.altitude.is_some(), "altitude"),
        (air.temperature.is_some(), "temperature"),
        (air.pressure.is_some(), "pressure"),
        (air.humidity.is_some(), "humidity"),
        (spread.bc_sd.is_some(), "bc_sd"),
        (spread.velocity_temperature_slope.is_some(), "velocity_temperature_slope"),
        (spread.measured_at.is_some(), "measured_at"),
        (spread.barrel.is_some(), "barrel"),
    ] {
        refuse(given, key, "no load is given, and a string alone has no distance", "name the load, or leave it out")?;
    }
    Ok(())
}

/// The load as a file of loads holds it, where it is to have a name.
fn load_file(
    question: &ChronoQuestion,
    load: Option<&Load>,
    read: &Read,
    taken: &mut Taken,
) -> Result<Option<String>, Diagnostic> {
    let (Some(id), Some(load)) = (&question.id, load) else { return Ok(None) };
    if id.is_empty() || id.contains('@') || id.contains(|c: char| c.is_whitespace() || crate::source::is_unsafe_char(c))
    {
        let message = format!("`{}` can't be read back as a load's name", id.escape_debug());
        return Err(at("id", message, "write letters, digits and `-`, without spaces and `@`"));
    }
    if load.facts().drag.model() == DragModel::Own {
        return Err(at(
            "id",
            "a load with a drag table of its own is not written",
            "write its record by hand, with `drag-table` naming the file",
        ));
    }
    // What is kept is asked later with the usual coverage, whatever this plan was made for.
    let coverage = read.coverage.si().max(KEPT_FOR);
    let confidence = read.confidence.si().max(USUAL_CONFIDENCE);
    if coverage > read.coverage.si() || confidence > read.confidence.si() {
        taken
            .remark("The load is kept for 99 % of shots with 95 % confidence at least, for what is asked of it later.");
    }
    let summary = read.readings.summary(coverage, confidence).map_err(|e| at(e.field(), &e, e.help()))?;
    let mut facts = load.facts().clone();
    // With the coverage of this plan where it is more than the usual one: read back, the load is judged no weaker.
    let planned = Some(coverage).filter(|coverage| *coverage > KEPT_FOR);
    let string = MeasuredString { coverage: planned, ..string_of(&read.readings, confidence) };
    facts.spread.muzzle = MuzzleSpread::Bound { sd: summary.sd, factor: summary.factor, string: Some(string) };
    let named = Load::checked(id.as_str(), facts).map_err(|e| at(e.field(), &e, e.help()))?;
    let basis = format!("measured, {} readings", summary.n);
    Ok(Some(format!("schema = \"{SCHEMA}\"\n\n{}", render_load(&named, &basis, None))))
}

/// What the distances rest on.
struct Rest {
    /// Whether there is a distance on any of the plates, in the air that was taken: what the exit status tells.
    verdict: Verdict,
    setup: crate::rules::Setup,
    nearest: Nearest,
    lean: Option<Lean>,
    coldest: crate::quantity::Temperature,
    carry: Option<crate::spread::Carry>,
}

fn how_close(
    books: &Books,
    question: &ChronoQuestion,
    load: &Arc<Load>,
    units: Units,
    taken: &mut Taken,
    said: &mut Said,
) -> Result<(Vec<PlateDistance>, Option<Rest>), Diagnostic> {
    let plates = plates::plates(&question.plate, books)?;
    let stand = stand(&question.target_part(), None, Condition::Unknown, "", &books.files, units, taken)?;
    if !question.plate.0.is_empty() {
        stand.check_plates(&plates, taken)?;
    }
    stand.check_labels(&plates, (&[load], None), units, taken)?;
    let air = air(question.air_part(), units, taken)?;
    let coverage = question.coverage.as_ref().map_or_else(|| unit::PERCENT.of(99.0), Given::value);
    let row = |weather: &crate::air::Weather| {
        let conditions =
            FlightConditions::new(weather, stand.slope, coverage).map_err(|e| at("coverage", &e, e.help()))?;
        let chart =
            Chart { rules: &books.rules, plates: &plates, setup: &stand.setup, conditions: &conditions, at: None };
        let row = chart.row(load).map_err(|e| flight_fault(&e, load))?;
        Ok::<_, Diagnostic>((row, conditions))
    };
    let (here, conditions) = row(&air)?;
    let (there, bad) = elsewhere::bad_end(&air).map(|weather| row(&weather)).transpose()?.unzip();
    let judge = Judge::new(&books.rules, [load], &conditions, bad.as_ref())?;
    if elsewhere::Open::of(&air).is_more_than_damp() {
        said.remark(format!("The distances hold for {}.", elsewhere::end(&air, units)));
    }
    let flights = crate::spread::Flights::new(load, &conditions).map_err(|e| flight_fault(&e, load))?;
    let mut distances = Vec::new();
    let (mut nearest, mut leans) = (Vec::new(), Vec::new());
    for (index, (cell, plate)) in here.cells.iter().zip(&plates).enumerate() {
        let distance = cell.closest.distance();
        let far = there.as_ref().map_or(cell.closest, |row| farthest(cell.closest, row.cells[index].closest));
        let end = nearer(cell.farthest, there.as_ref().and_then(|row| row.cells[index].farthest));
        let far = held(far, end, units);
        if let Some(strike) = far.distance().and_then(|d| flights.strike(d).ok()) {
            said.hear(&books.rules.allow(load, plate, &stand.setup, strike.muzzle), &strike);
            let told: Vec<_> = far.distance().into_iter().chain(end.map(|end| end.distance)).collect();
            leans.push(judge.lean(plate, &stand.setup, &told));
        }
        // It suits in the air that was taken alone.
        let is_here_alone = distance.is_some() && far.distance().is_none();
        let but = is_here_alone.then(|| format!("{}: give the air", elsewhere::end_words(&air, units)));
        let (from, to) = (far.distance(), end.filter(|_| far.distance().is_some()).map(|end| end.distance));
        nearest.push(One { of: clean(&plate.label), from, to, asked: Vec::new(), but, in_part: false });
        distances.push(PlateDistance {
            label: clean(&plate.label),
            distance: distance.map(Si),
            by: cell.closest.by().map(|rule| clean(&rule.id)),
            nearest: from.map(Si),
            farthest: to.map(Si),
            nearest_by: far.by().map(|rule| clean(&rule.id)),
            words: match far.distance() {
                Some(distance) => units.distance_up(distance),
                None if is_here_alone => "give the air".into(),
                None => format!("never: {}", far.by().map(say::short).unwrap_or_default()),
            },
        });
    }
    let verdict = if distances.iter().any(|on| on.distance.is_some()) { Verdict::Suits } else { Verdict::Unsuitable };
    let nearest = Nearest::Each("on", nearest);
    let lean = leans.into_iter().reduce(|a, b| a.zip(b).and_then(|(a, b)| a.and(b))).flatten();
    // Of no there is nothing to stand on.
    if verdict != Verdict::Unsuitable {
        said.stands_on = stands_on(&[&stand.setup], &[&**load], lean, Vec::new(), units);
    }
    let carry = carry::farthest(std::iter::once(&**load), &conditions);
    said.remark(carry.as_ref().map(|c| carry::words(c, units)).unwrap_or_default());
    said.nearest = match verdict {
        Verdict::Unsuitable => no_distance(&here.cells),
        _ => nearest.sentence("Nobody", "", units),
    };
    let coldest = air.dense().temperature();
    Ok((distances, Some(Rest { verdict, setup: stand.setup, nearest, lean, coldest, carry })))
}

/// `No distance is good: centrefire, shot and muzzle-loaders want 1/4 in at least.` Each reason once.
fn no_distance(cells: &[Cell]) -> String {
    let mut why: Vec<String> = Vec::new();
    for rule in cells.iter().filter_map(|cell| cell.closest.by()) {
        let reason = clean(&rule.why);
        if !why.contains(&reason) {
            why.push(reason);
        }
    }
    format!("No distance is good: {}.", why.join("; "))
}

/// The farther of two closest distances; none is farther than any.
fn farthest<'r>(a: Closest<'r>, b: Closest<'r>) -> Closest<'r> {
    match (a.distance(), b.distance()) {
        (Some(here), Some(there)) if here >= there => a,
        (None, _) => a,
        _ => b,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::RuleSet;

    #[test]
    fn the_farther_of_two_distances_counts_and_none_is_farther_than_any() {
        let rules = RuleSet::house().unwrap();
        let at = |yards: f64| Closest::At { distance: unit::YARD.of(yards), by: None, next: None };
        let yards = |closest: Closest| closest.distance().map(|at| unit::YARD.value(at).round());
        for (a, b) in [(100.0, 120.0), (120.0, 100.0), (120.0, 120.0)] {
            assert_eq!(yards(farthest(at(a), at(b))), Some(120.0));
        }
        let never = Closest::Never { by: &rules.rules()[0] };
        assert_eq!((yards(farthest(never, at(100.0))), yards(farthest(at(100.0), never))), (None, None));
    }
}
