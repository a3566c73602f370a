//! A whole match: what a director acts on in a minute.

use super::common::{close, open};
use super::{Detail, Report};
use crate::advisor::answer::{CourseAnswer, TargetVerdict};
use crate::report::numbers::Numbers;
use crate::report::page::{Block, Page};
use crate::report::table::{Column, Place, Table, Value};
use crate::report::tone::Tone;

impl Report for CourseAnswer {
    fn page(&self, detail: Detail) -> Page {
        let tone = if self.ready { Tone::Good } else { self.verdict.into() };
        let mut page = open(&self.preamble, tone);
        page.push(Block::Table(targets(self)));
        page.push(Block::Table(brought(self)));
        page.push(Block::Table(not_shot(self)));
        if detail.full || detail.explain {
            full(&mut page, self);
        } else {
            short(&mut page, self);
        }
        if self.brief.is_crowded && !detail.full && !detail.explain {
            let mut preamble = self.preamble.clone();
            preamble.holds_for.retain(|condition| !condition.is_each_target_s());
            close(&mut page, &preamble, detail);
        } else {
            close(&mut page, &self.preamble, detail);
        }
        page
    }
}

fn tone(verdict: TargetVerdict) -> Tone {
    match verdict {
        TargetVerdict::Suits => Tone::Good,
        TargetVerdict::Borderline => Tone::Doubtful,
        _ => Tone::Bad,
    }
}

fn short(page: &mut Page, answer: &CourseAnswer) {
    let brief = &answer.brief;
    for (heading, items) in [
        ("Fix", brief.fix.clone()),
        ("Good", vec![brief.good.clone()]),
        ("Leave", vec![brief.leave.join(" ")]),
        ("Decide", vec![brief.decide.join(" ")]),
        ("Haul", vec![brief.haul.clone()]),
    ] {
        items.into_iter().for_each(|item| page.push_note(heading, item));
    }
}

fn full(page: &mut Page, answer: &CourseAnswer) {
    page.push_list("Fix", answer.fixes.clone());
    let lines = answer.stages.iter().map(|stage| format!("{}: {}", stage.name, stage.lines.join("; ")));
    page.push_list("No nearer than, the fixes made", lines.collect());
    page.push_list("Good", answer.good.clone());
    page.push_list("Leave", answer.leave.clone());
    page.push_list("Decide", answer.decide.clone());
    page.push_list("Haul", answer.haul.iter().map(|h| h.words.clone()).collect());
    page.push_note("Together", answer.bring.rsplit("; ").next().unwrap_or_default());
    page.push_list("Every target's worst load", answer.explained.clone());
}

/// A row for each target, and one for each thing that was not judged.
fn targets(answer: &CourseAnswer) -> Table {
    let numbers = Numbers(answer.preamble.units);
    let columns = vec![
        Column::words("stage"),
        Column::words("target"),
        numbers.distance().column("from", "from"),
        Column::words("plate"),
        Column::words("face"),
        Column::numbers("count"),
        Column::words("verdict"),
        Column::words("worst load"),
        Column::words("who"),
        Column::words("fix"),
        Column::words("why"),
        Column::words("where"),
    ];
    let mut table = Table::named("targets", Place::Spreadsheet, columns);
    for target in &answer.targets {
        table.push_cells(
            tone(target.verdict),
            vec![
                target.stage.as_str().into(),
                target.target.as_str().into(),
                numbers.distance_cell(target.distance.0),
                target.plate.as_str().into(),
                target.face.as_str().into(),
                Value::count(target.count),
                target.verdict.to_string().into(),
                target.worst_name.clone().into(),
                target.concerns.join("; ").into(),
                target.fix.as_str().into(),
                target.why.clone().into(),
                Value::None,
            ],
        );
    }
    // A target that nobody shoots at has its row already.
    let is_target = |what: &str| answer.targets.iter().any(|t| what == format!("{}, {}", t.stage, t.target));
    for item in answer.preamble.not_judged.iter().filter(|item| !is_target(&item.what)) {
        table.push_cells(
            Tone::Bad,
            vec![
                item.what.as_str().into(),
                Value::None,
                Value::None,
                Value::None,
                Value::None,
                Value::None,
                "not judged".into(),
                Value::None,
                Value::None,
                Value::None,
                item.why.as_str().into(),
                item.place.clone().into(),
            ],
        );
    }
    table
}

/// The plates to bring, for a spreadsheet.
fn brought(answer: &CourseAnswer) -> Table {
    let columns = vec![
        Column::words("plate"),
        Column::words("face"),
        Column::numbers("count"),
        Column::numbers("new"),
        Column::words("in words"),
    ];
    let mut table = Table::named("haul", Place::Spreadsheet, columns);
    for haul in &answer.haul {
        table.push_cells(
            Tone::Plain,
            vec![
                haul.plate.as_str().into(),
                haul.face.as_str().into(),
                Value::count(haul.count),
                Value::count(haul.new),
                haul.words.as_str().into(),
            ],
        );
    }
    table
}

/// The loads to leave at home or to ask the range officer about, for a spreadsheet.
fn not_shot(answer: &CourseAnswer) -> Table {
    let columns = ["load", "name", "who", "verdict", "why"].map(Column::words).to_vec();
    let mut table = Table::named("loads", Place::Spreadsheet, columns);
    let mut push = |load: &str, name: &str, who: Option<String>, verdict: &str, why: &str| {
        let tone = if verdict == "borderline" { Tone::Doubtful } else { Tone::Bad };
        table.push_cells(tone, vec![load.into(), name.into(), who.into(), verdict.into(), why.into()]);
    };
    for one in &answer.refused {
        push(&one.load, &one.name, one.who.clone(), "refused", &one.why);
    }
    for one in &answer.better_left {
        push(&one.load, &one.name, one.who.clone(), "leave", &one.why);
    }
    for one in &answer.barred {
        let who = (!one.all_who.is_empty()).then(|| one.all_who.join("; "));
        push(&one.load, &one.name, who, &one.verdict.to_string(), &one.why);
    }
    table
}
