//! What the pages of all answers share.

use super::Detail;
use crate::advisor::answer::{Condition, Curve, Finding, NotJudged, OutlineFacts, Preamble, RoundFacts, StrikeRow};
use crate::quantity::{Length, Si};
use crate::report::figure;
use crate::report::numbers::{self, Numbers};
use crate::report::page::{Block, Page};
use crate::report::table::{Column, Place, Table, Value};
use crate::report::text;
use crate::report::tone::Tone;
use crate::rules::Verdict;
use crate::words::{Units, listed, sentence};

/// How near anyone may come, of every table for a spreadsheet that tells it.
pub(super) fn nearest_column(numbers: Numbers) -> Column {
    numbers.distance().column("nearest", "nearest")
}

/// That distance, rounded up, but no farther than what was asked beyond it.
pub(super) fn nearest_cell(numbers: Numbers, nearest: Option<Si<Length>>, asked: &[Length]) -> Value {
    numbers.kept_cell(nearest.map(|distance| distance.0), asked)
}

/// Which column to go by, where another holds the distance of the air that was taken alone.
pub(super) fn go_by_column() -> Column {
    Column::words("go by")
}

/// The name of the column to go by: how near anyone may come, in all of the air.
pub(super) fn go_by_cell(numbers: Numbers) -> Value {
    nearest_column(numbers).name().into()
}

/// The page with its first lines, and what could not be judged: nothing comes before that.
pub(super) fn open<I>(preamble: &Preamble<I>, tone: Tone) -> Page {
    let mut page = Page::holding_notice(tone, &preamble.headline);
    let lines = [&preamble.nearest, &preamble.stands_on];
    page.lead.extend(lines.into_iter().filter(|line| !line.is_empty()).cloned());
    page.lead.extend(not_judged(&preamble.not_judged));
    page
}

/// A line for each reason.
fn not_judged(items: &[NotJudged]) -> Vec<String> {
    let mut reasons: Vec<(&str, Vec<String>)> = Vec::new();
    for item in items {
        let place = item.place.as_ref().map(|place| format!(" ({place})")).unwrap_or_default();
        let (what, why) = (format!("{}{place}", item.what), item.why.trim_end_matches('.'));
        match reasons.iter_mut().find(|(known, _)| *known == why) {
            Some((_, of)) => of.push(what),
            None => reasons.push((why, vec![what])),
        }
    }
    reasons.iter().map(|(why, of)| format!("Not judged: {}: {why}.", of.join("; "))).collect()
}

/// What was given and is no part of the answer.
pub(in crate::report) const LEFT_OUT: &str = "Left out";

/// The paragraphs every page ends with; in the long form with every list.
pub(super) fn close<I>(page: &mut Page, preamble: &Preamble<I>, detail: Detail) {
    page.push_note(LEFT_OUT, sentences(&preamble.left_out));
    if detail.full {
        page.push_list("What would change it, and what else to know", preamble.remarks.clone());
        page.push_list("Taken, because not given", preamble.assumed.clone());
        page.push_list("Cautions", preamble.cautions.clone());
        page.push_note("Notice", preamble.notice.as_str());
        let rules = preamble.rules.iter().map(|rule| match &rule.overlay {
            Some(range) => format!("{} ({range})", rule.id),
            None => rule.id.clone(),
        });
        page.push_note("Rules that applied", rules.collect::<Vec<_>>().join(", "));
    }
    conditions_of(page, preamble, detail);
    page.push_note("Safety", safety(preamble));
}

/// What was given, and what was assumed; in the short form but for what the first lines say already.
fn conditions_of<I>(page: &mut Page, preamble: &Preamble<I>, detail: Detail) {
    let all: Vec<&Condition> =
        preamble.holds_for.iter().filter(|condition| detail.full || !is_said(preamble, condition)).collect();
    if all.iter().any(|condition| condition.given) {
        page.push_note("Holds for", told(&all));
        return;
    }
    let taken = conditions(&all, false);
    page.push_note("Assumed", if taken.is_empty() { taken } else { taken + "." });
}

/// Whether the first lines say a condition, or another condition does.
fn is_said<I>(preamble: &Preamble<I>, condition: &Condition) -> bool {
    let alone = |what: &str| preamble.holds_for.iter().filter(|c| c.what == what).count() == 1;
    let stands = |words: &str| preamble.stands_on.contains(words);
    let value = condition.value.as_str();
    match condition.what.as_str() {
        "condition" => alone("condition") && value == "sound" && stands("sound on both faces"),
        "steel" => alone("steel") && stands(&format!("marked {value}")),
        "lean" if alone("lean") => match value.split_once(" toward") {
            Some((lean, _)) => stands(&format!("leaning {lean} toward you")),
            None => value == "plumb" && stands("plumb"),
        },
        "face" => preamble.nearest.contains(&value.replace(".0 ", " ")),
        // What the standard has at the altitude that is told.
        "pressure" => !condition.given && preamble.holds_for.iter().any(|c| c.what == "altitude"),
        "mount" => {
            let chain = |c: &Condition| c.what == "chain" && c.of == condition.of && c.given == condition.given;
            value == "hung from chain" && preamble.holds_for.iter().any(chain)
        }
        _ => false,
    }
}

/// Every condition, those given first.
pub(in crate::report) fn holds_for<I>(preamble: &Preamble<I>) -> String {
    told(&preamble.holds_for.iter().collect::<Vec<_>>())
}

/// The same of what holds in all of the air that was not given, which is told beside it: of that air nothing was taken.
pub(in crate::report) fn holds_for_all_air<I>(preamble: &Preamble<I>) -> String {
    let is_given = |what: &str| preamble.holds_for.iter().any(|c| c.given && c.what == what);
    let is_replaced = |c: &&Condition| match c.what.as_str() {
        "altitude" | "temperature" | "humidity" => !c.given,
        // Of an altitude that was given it is that of the standard.
        "pressure" => !c.given && !is_given("altitude"),
        _ => false,
    };
    told(&preamble.holds_for.iter().filter(|c| !is_replaced(c)).collect::<Vec<_>>())
}

/// What was given, and what was taken of how the plate stands, but for what another line says: as short as a tag is.
pub(in crate::report) fn holds_briefly<I>(preamble: &Preamble<I>) -> String {
    let stands = ["mount", "chain", "duty", "condition", "lean", "turn", "slope", "air"];
    let is_told = |c: &&Condition| (c.given || stands.contains(&c.what.as_str())) && c.what != "face";
    told(&preamble.holds_for.iter().filter(is_told).filter(|c| !is_said(preamble, c)).collect::<Vec<_>>())
}

fn told(all: &[&Condition]) -> String {
    let (given, taken) = (conditions(all, true), conditions(all, false));
    match (given.is_empty(), taken.is_empty()) {
        (true, true) => String::new(),
        (false, true) => format!("{given}."),
        (true, false) => format!("assumed: {taken}."),
        (false, false) => format!("{given}. Assumed: {taken}."),
    }
}

/// Conditions in words: those of all targets, then those of each.
fn conditions(all: &[&Condition], given: bool) -> String {
    let of = |target: Option<&String>, between: &str| {
        let own = all.iter().filter(|c| c.given == given && c.of.as_ref() == target);
        own.map(|c| condition_words(c)).collect::<Vec<_>>().join(between)
    };
    let mut told: Vec<String> = Some(of(None, "; ")).filter(|words| !words.is_empty()).into_iter().collect();
    let mut targets: Vec<&String> = Vec::new();
    for target in all.iter().filter(|c| c.given == given).filter_map(|c| c.of.as_ref()) {
        if !targets.contains(&target) {
            targets.push(target);
        }
    }
    told.extend(targets.into_iter().map(|target| format!("{target}: {}", of(Some(target), ", "))));
    told.join("; ")
}

/// A condition; what its value says by itself goes without its name.
fn condition_words(condition: &Condition) -> String {
    let (what, value) = (condition.what.as_str(), condition.value.replace(".0 ", " "));
    let is_words = value.starts_with(char::is_alphabetic);
    match what {
        "mount" => value.replace("hung from ", ""),
        "range rules" if value.to_lowercase().contains("range") => value,
        "range rules" => format!("range {value}"),
        "velocity SD" if value.starts_with(|c: char| c.is_ascii_digit()) => format!("SD {value}"),
        "turn" if value == "square on" => "square".into(),
        "lean" | "turn" | "slope" if is_words => value,
        "condition" | "steel" if value != "unknown" && value != "other" => value,
        "chain" if value == "too short to matter" => "short chain".into(),
        "temperature" | "pressure" | "face" => value,
        "duty" => format!("{value} use"),
        "air" => format!("{} air", value.trim_end_matches(" standard")),
        "humidity" if value == "0 %" => "dry".into(),
        "altitude" if ["0 ft", "0 m"].contains(&value.as_str()) => "sea level".into(),
        _ => format!("{what} {value}"),
    }
}

/// The cautions of the case, which end with what stands above these limits; where there is no paragraph, every
/// caution and the notice.
pub(in crate::report) fn safety<I>(preamble: &Preamble<I>) -> String {
    let safety = preamble.safety.trim();
    if safety.is_empty() {
        return format!("{} {}", sentences(&preamble.cautions), preamble.notice).trim().to_owned();
    }
    safety.into()
}

/// Sentences one behind the other, each with its full stop.
pub(in crate::report) fn sentences(list: &[String]) -> String {
    let ended = list.iter().filter(|words| !words.trim().is_empty()).map(|words| {
        let words = sentence(words.trim());
        if words.ends_with(['.', '!', '?']) { words } else { words + "." }
    });
    ended.collect::<Vec<_>>().join(" ")
}

/// What limits were divided by, each once.
pub(super) fn divided_by<'f>(findings: impl IntoIterator<Item = &'f Finding>) -> String {
    let mut told: Vec<&str> = Vec::new();
    for by in findings.into_iter().flat_map(|finding| &finding.divided_by) {
        if !told.contains(&by.as_str()) {
            told.push(by);
        }
    }
    if told.is_empty() { String::new() } else { format!("{}.", told.join(", ")) }
}

/// Findings on a page, and what is not met besides; where their rows would wrap, what limits were divided by is told once below.
pub(super) fn push_findings(page: &mut Page, few: &[&Finding], others: &str) {
    let whole = findings("", few, Place::Page, false);
    let by = divided_by(few.iter().copied());
    if by.is_empty() || !text::wraps(&whole) {
        page.push(Block::Table(whole));
        page.push_note("Not met either", others);
        return;
    }
    page.push(Block::Table(table_of("", few, Place::Page, false, |finding| &finding.limit_brief)));
    if others.is_empty() {
        page.push_note("Limits divided by", by);
    } else {
        let by = by.trim_end_matches('.');
        page.push_note("Not met either", format!("{others} Limits divided by {by}."));
    }
}

/// Findings as a table.
pub(super) fn findings(name: &str, findings: &[&Finding], place: Place, with_case: bool) -> Table {
    table_of(name, findings, place, with_case, |finding| &finding.limit_words)
}

fn table_of(
    name: &str,
    findings: &[&Finding],
    place: Place,
    with_case: bool,
    limit: impl Fn(&Finding) -> &String,
) -> Table {
    let columns = vec![
        Column::words("rule"),
        Column::words("verdict"),
        Column::words("found"),
        Column::words("limit"),
        Column::measured("margin", "margin", "%"),
        Column::words("case"),
    ];
    let mut table = Table::named(name, place, columns);
    for finding in findings {
        let case = if with_case { finding.case.as_str().into() } else { Value::None };
        table.push_cells(
            finding.verdict.into(),
            vec![
                finding.rule.as_str().into(),
                finding.verdict.to_string().into(),
                words(&finding.found_words),
                words(limit(finding)),
                numbers::margin(finding.margin.map(|m| m.0)),
                case,
            ],
        );
    }
    if place == Place::Spreadsheet { table } else { table.without_empty_columns() }
}

/// A cell of words; empty ones are none.
pub(super) fn words(words: &str) -> Value {
    if words.is_empty() { Value::None } else { words.into() }
}

/// Every finding in a sentence, with what it rests on.
pub(super) fn explained(findings: &[&Finding], with_case: bool) -> Vec<String> {
    let line = |finding: &&Finding| {
        let range = finding.overlay.as_ref().map(|range| format!("{range}; ")).unwrap_or_default();
        let source = match (finding.source.is_empty(), finding.source.starts_with(&finding.basis.to_string())) {
            (true, _) => finding.basis.to_string(),
            (false, true) => finding.source.clone(),
            (false, false) => format!("{}: {}", finding.basis, finding.source),
        };
        let next = if finding.verdict == Verdict::Suits { "" } else { &finding.next };
        let said = sentences(&[finding.text.clone(), finding.why.clone(), next.to_owned()]);
        let case = if with_case { format!(", {}", finding.case) } else { String::new() };
        format!("{}{case}: {said} ({range}{source})", finding.rule)
    };
    findings.iter().map(line).collect()
}

/// What arrives, a row for each distance; momentum, Mach number and fall where all is told.
pub(super) fn arrivals(
    name: &str,
    rows: &[(Option<&str>, &StrikeRow)],
    place: Place,
    units: Units,
    full: bool,
) -> Table {
    let numbers = Numbers(units);
    let mut columns = vec![
        Column::words("load"),
        numbers.distance().column("distance", ""),
        numbers.speed().column("mean_speed", "mean"),
        numbers.energy().column("mean_energy", ""),
        numbers.speed().column("fast_speed", "fast"),
        numbers.energy().column("fast_energy", ""),
        numbers.speed().column("slow_speed", "slow"),
        numbers.seconds().column("time", ""),
        Column::measured("descent", "falls", "°"),
        numbers.momentum().column("momentum", ""),
        Column::numbers("Mach").keyed("mach"),
    ];
    if place == Place::Spreadsheet {
        columns.push(energy_of_column());
    }
    for column in &mut columns {
        column.unit_in_head = true;
    }
    let mut table = Table::named(name, place, columns);
    for (load, row) in rows {
        let told = |value: Value| if full || place == Place::Spreadsheet { value } else { Value::None };
        let slow =
            if row.slow_speed.0 > crate::quantity::Measure::from_si(0.0) { Some(row.slow_speed.0) } else { None };
        let mut cells = vec![
            Value::from(load.map(str::to_owned)),
            numbers.distance_cell(row.distance.0),
            numbers.speed().cell(row.speed.0),
            numbers.energy().cell(row.energy.0),
            numbers.speed().cell(row.fast_speed.0),
            numbers.energy().cell(row.fast_energy.0),
            numbers.speed().cell(slow),
            numbers.seconds().cell(row.time.0),
            numbers.degrees().cell(row.descent.0),
            told(numbers.momentum().cell(row.momentum.0)),
            told(Value::number(row.mach.0, 2, crate::report::table::Rounding::Near)),
        ];
        if place == Place::Spreadsheet {
            cells.push(energy_of_all(row.projectiles));
        }
        table.push_cells(Tone::Plain, cells);
    }
    if place == Place::Spreadsheet { table } else { table.without_empty_columns() }
}

/// What the energies of arrivals are of, where a shot has several projectiles.
pub(super) fn energy_of(rows: &[(Option<&str>, &StrikeRow)]) -> String {
    let mut counts: Vec<u32> = rows.iter().map(|(_, row)| row.projectiles).collect();
    counts.dedup();
    match counts.as_slice() {
        [n] if *n > 1 => format!("of all {n} pellets together; a plate is judged by one."),
        several if several.iter().any(|n| *n > 1) => "of shot, all pellets together; a plate is judged by one.".into(),
        _ => String::new(),
    }
}

/// A column that says what the energies of a table for a spreadsheet are of.
pub(super) fn energy_of_column() -> Column {
    Column::words("energy of")
}

/// All projectiles of a shot together.
pub(super) fn energy_of_all(projectiles: u32) -> Value {
    if projectiles > 1 { format!("{projectiles} pellets together").into() } else { "one bullet".into() }
}

/// One projectile of a shot.
pub(super) fn energy_of_one(projectiles: u32) -> Value {
    if projectiles > 1 { "one pellet" } else { "one bullet" }.into()
}

/// One arrival in a line.
pub(super) fn arrival_words(row: &StrikeRow, units: Units) -> String {
    let numbers = Numbers(units);
    let all = if row.projectiles > 1 { format!(" ({} pellets together)", row.projectiles) } else { String::new() };
    let slow = if row.slow_speed.0 > crate::quantity::Measure::from_si(0.0) {
        format!("slow shot {}", numbers.speed().words(row.slow_speed.0))
    } else {
        "the slow shot does not arrive".into()
    };
    format!(
        "mean shot {}, {}; fast shot {}, {}{all}; {slow}; falls at {}.",
        numbers.speed().words(row.speed.0),
        numbers.energy().words(row.energy.0),
        numbers.speed().words(row.fast_speed.0),
        numbers.energy().words(row.fast_energy.0),
        crate::words::degrees(row.descent.0),
    )
}

/// What was read of a drawing: always told.
pub(super) fn drawing(page: &mut Page, outline: Option<&OutlineFacts>, detail: Detail) {
    let Some(outline) = outline else { return };
    // What a cutter asks of it stands in the long form.
    let is_cutter_s = |part: &&str| part.ends_with("in²") || part.ends_with("cm²") || part.ends_with(" cut");
    let words: Vec<&str> = outline.words.split(", ").filter(|part| detail.full || !is_cutter_s(part)).collect();
    let lean = outline.lean.as_ref().map(|lean| format!(", turned {}", crate::words::degrees(lean.0)));
    // That there is no hole is no news.
    let hangs = match outline.hangs.split_once(" (taken: no two holes") {
        Some((hangs, _)) if !detail.full => format!("{hangs} (taken)"),
        _ if !detail.full => outline.hangs.replace("its two highest holes", "two holes"),
        _ => outline.hangs.clone(),
    };
    let mut said = vec![words.join(", "), format!("{hangs}{}", lean.unwrap_or_default())];
    // Where all of them were read there is nothing to compare.
    if !outline.layers.is_empty() && (detail.full || !outline.left_out.is_empty()) {
        said.push(format!("layers {}", listed(&outline.layers)));
    }
    page.push_note("Drawing", sentences(&said));
}

/// The drawing of an outline.
pub(super) fn outline_figure(page: &mut Page, outline: Option<&OutlineFacts>, units: Units) {
    if let Some(figure) = outline.and_then(|outline| figure::outline(outline, units)) {
        page.push(Block::Figure(figure));
    }
}

/// The drawing of a round face.
pub(super) fn round_figure(page: &mut Page, round: Option<&RoundFacts>, units: Units) {
    if let Some(figure) = round.and_then(|round| figure::round(round, units)) {
        page.push(Block::Figure(figure));
    }
}

/// More figures of flights than this stand in the long form alone.
const FIGURES: usize = 4;

/// The drawings of flights.
pub(super) fn flight_figures<'a>(
    page: &mut Page,
    curves: impl IntoIterator<Item = &'a Curve>,
    units: Units,
    detail: Detail,
) {
    let figures = curves.into_iter().filter_map(|curve| figure::flight(curve, units));
    let most = if detail.full { usize::MAX } else { FIGURES };
    page.blocks.extend(figures.take(most).map(Block::Figure));
}
