//! Does this load suit this target.

use super::common::{
    arrival_words, close, drawing, energy_of_all, energy_of_column, explained, findings, flight_figures, go_by_cell,
    go_by_column, nearest_cell, nearest_column, open, outline_figure, push_findings, round_figure, sentences,
};
use super::{Detail, Report};
use crate::advisor::answer::{Finding, VetAnswer};
use crate::order::Order;
use crate::report::numbers::{self, Numbers};
use crate::report::page::{Block, Page};
use crate::report::table::{Column, Place, Table, Value};
use crate::rules::Verdict;

/// Findings in the short form, the worst first.
const FEW: usize = 4;
/// Where all is met, those of the plate; where others are told by name alone, or beside a drawing, no more than these
/// either.
const FEWER: usize = 3;

impl Report for VetAnswer {
    fn page(&self, detail: Detail) -> Page {
        let preamble = &self.preamble;
        let mut page = open(preamble, self.verdict.into());
        page.push(Block::Table(verdict(self)));
        let shown = shown(self, detail);
        push_findings(&mut page, &shown, &not_shown(self, &shown));
        let all: Vec<&Finding> = self.findings.iter().collect();
        page.push(Block::Table(findings("findings", &all, Place::Spreadsheet, true)));
        // Where no distance suits as it stands, the first lines say what would.
        let said = [" as it stands: ", "no change that was tried would do."];
        let is_said = said.iter().any(|words| preamble.nearest.contains(words));
        if self.verdict != Verdict::Suits && (detail.full || !is_said) {
            page.push_note("Would suit", sentences(&self.would_suit.words));
        }
        if detail.full {
            page.push_note("Arrives", arrival_words(&self.strike, preamble.units));
        }
        if let Some(topple) = &self.topple {
            page.push_note("Topples", topple.words.as_str());
        }
        drawing(&mut page, self.outline.as_ref(), detail);
        if detail.explain || detail.full {
            page.push_list("Every finding", explained(&all, false));
        }
        close(&mut page, preamble, detail);
        flight_figures(&mut page, &self.curve, preamble.units, detail);
        outline_figure(&mut page, self.outline.as_ref(), preamble.units);
        round_figure(&mut page, self.round.as_ref(), preamble.units);
        page
    }
}

/// The findings that are not met, of those that measure the same the worst; else those of the plate; all where all
/// is told.
fn shown(answer: &VetAnswer, detail: Detail) -> Vec<&Finding> {
    if detail.full {
        return answer.findings.iter().collect();
    }
    let unmet = answer.findings.iter().any(is_unmet);
    let decides = |finding: &Finding| Some(&finding.rule) == answer.governed_by.as_ref();
    let matters = |finding: &&Finding| decides(finding) || if unmet { is_unmet(finding) } else { finding.of_plate };
    let mut all: Vec<&Finding> = answer.findings.iter().filter(matters).collect();
    all.order_by_key(|finding| !decides(finding));
    let count = all.len();
    let mut few: Vec<&Finding> = Vec::new();
    for finding in all {
        if !(unmet && few.iter().any(|f| measures_the_same(f, finding))) {
            few.push(finding);
        }
    }
    let is_whole = few.len() == count && few.len() <= FEW && unmet && answer.outline.is_none();
    few.truncate(if is_whole { FEW } else { FEWER });
    few
}

fn measures_the_same(one: &Finding, other: &Finding) -> bool {
    !one.found_words.is_empty() && one.found_words == other.found_words
}

fn is_unmet(finding: &Finding) -> bool {
    finding.verdict != Verdict::Suits
}

/// What is not met either and has no row: never left out in silence.
fn not_shown(answer: &VetAnswer, shown: &[&Finding]) -> String {
    let rest = answer.findings.iter().filter(|f| is_unmet(f) && !shown.iter().any(|known| std::ptr::eq(*known, *f)));
    let (weaker, others): (Vec<&Finding>, Vec<&Finding>) =
        rest.partition(|f| shown.iter().any(|known| measures_the_same(known, f)));
    let mut told: Vec<String> = others.iter().map(|finding| finding.rule.clone()).collect();
    match weaker.as_slice() {
        [] => {}
        [one] => told.push(one.rule.clone()),
        several => told.push(format!("{} weaker limits of what is above", several.len())),
    }
    if told.is_empty() { String::new() } else { crate::words::listed(&told) + "." }
}

/// The vetting in a row.
fn verdict(answer: &VetAnswer) -> Table {
    let (inputs, numbers) = (&answer.preamble.inputs, Numbers(answer.preamble.units));
    let columns = vec![
        Column::words("load"),
        Column::words("name"),
        Column::words("plate"),
        numbers.distance().column("distance", "distance"),
        Column::words("verdict"),
        Column::measured("margin", "margin", "%"),
        Column::words("governed by"),
        numbers.speed().column("fast_speed", "fast speed"),
        numbers.energy().column("fast_energy", "fast energy"),
        numbers.distance().column("would_suit_from", "would suit from"),
        Column::words("would suit plate"),
        numbers.speed().column("would_suit_muzzle_velocity", "would suit muzzle velocity"),
        // The verdict as it is told: in which air it holds, and from where else.
        Column::words("headline"),
        nearest_column(numbers),
        go_by_column(),
        energy_of_column(),
    ];
    let mut table = Table::named("verdict", Place::Spreadsheet, columns);
    table.push_cells(
        answer.verdict.into(),
        vec![
            inputs.load.id.as_str().into(),
            inputs.load.name.as_str().into(),
            inputs.plate.label.as_str().into(),
            numbers.distance_cell(inputs.distance.0),
            answer.verdict.to_string().into(),
            numbers::margin(answer.margin.map(|m| m.0)),
            answer.governed_by.clone().into(),
            numbers.speed().cell(answer.strike.fast_speed.0),
            numbers.energy().cell(answer.strike.fast_energy.0),
            numbers.distance_up().cell(answer.would_suit.distance.map(|d| d.0)),
            Value::from(answer.would_suit.plate.as_ref().map(|plate| plate.label.clone())),
            numbers.speed_under().cell(answer.would_suit.muzzle_velocity.map(|v| v.0)),
            answer.preamble.headline.as_str().into(),
            nearest_cell(numbers, answer.preamble.nearest_distance, &[inputs.distance.0]),
            go_by_cell(numbers),
            energy_of_all(answer.strike.projectiles),
        ],
    );
    table
}
