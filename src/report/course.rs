//! A match as a page a director can act on in a minute.

use super::page::{Block, Column, Notice, Page, Table, Tone};
use crate::advisor::answer::{Condition, CourseAnswer, TargetVerdict};

/// Lines of a list before the rest is counted, unless everything is asked for.
const SHORT: usize = 8;

/// How much of a match is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Extent {
    /// What a director acts on.
    Short,
    /// Everything there is.
    Full,
    /// A row for each target and each thing that was not judged, for a spreadsheet.
    Rows,
}

fn tone(verdict: TargetVerdict) -> Tone {
    match verdict {
        TargetVerdict::Suits => Tone::Good,
        TargetVerdict::Borderline => Tone::Doubtful,
        TargetVerdict::Unsuitable | TargetVerdict::NotJudged => Tone::Bad,
    }
}

/// The page.
#[must_use]
pub fn page(answer: &CourseAnswer, extent: Extent) -> Page {
    let headline_tone = if answer.ready { Tone::Good } else { answer.verdict.into() };
    let mut page = Page::new(headline_tone, answer.preamble.headline.clone(), Notice::default());
    if extent == Extent::Rows {
        page.push(Block::Table(table(answer)));
        return page;
    }
    if !answer.preamble.nearest.is_empty() {
        page.push(Block::Text(answer.preamble.nearest.clone()));
    }
    if extent == Extent::Full {
        full(&mut page, answer);
    } else {
        page.push(Block::Facts(short(answer)));
    }
    page
}

fn unjudged(answer: &CourseAnswer) -> Vec<String> {
    answer.preamble.not_judged.iter().map(|n| format!("{}: {}", n.what, n.why)).collect()
}

/// What a director acts on, each heading once.
fn short(answer: &CourseAnswer) -> Vec<(String, String)> {
    let parts = [
        ("Not judged", cut(unjudged(answer))),
        ("Fix", cut(answer.fixes.clone())),
        ("Good", good(answer)),
        ("Leave", cut(answer.leave.clone())),
        ("Decide", cut(answer.decide.clone())),
        ("Haul", vec![answer.bring.clone()]),
        ("Holds for", vec![holds_for(answer, false)]),
        ("Safety", vec![answer.preamble.safety.clone()]),
    ];
    let mut facts = Vec::new();
    for (heading, items) in parts {
        for (index, item) in items.into_iter().enumerate() {
            facts.push((if index == 0 { heading.to_owned() } else { String::new() }, item));
        }
    }
    facts
}

fn full(page: &mut Page, answer: &CourseAnswer) {
    page.push_list("Not judged", unjudged(answer));
    page.push_list("Fix", answer.fixes.clone());
    page.push_list("Good", answer.good.clone());
    page.push_list("Leave", answer.leave.clone());
    page.push_list("Decide", answer.decide.clone());
    page.push_list("Haul", haul(answer));
    page.push(Block::Heading("Targets".into()));
    page.push(Block::Table(table(answer)));
    page.push_list("Every target's worst load", answer.explained.clone());
    page.push_list("Worth knowing", answer.preamble.remarks.clone());
    page.push_list("Left out", answer.preamble.left_out.clone());
    page.push(Block::Heading("Holds for".into()));
    page.push(Block::Text(holds_for(answer, true)));
    page.push_list("Cautions", answer.preamble.cautions.clone());
    page.push(Block::Heading("Safety".into()));
    page.push(Block::Text(answer.preamble.safety.clone()));
}

/// The first of a list; what is cut is counted.
fn cut(mut items: Vec<String>) -> Vec<String> {
    let more = items.len().saturating_sub(SHORT + 1);
    if more > 0 {
        items.truncate(SHORT);
        items.push(format!("{} more: see `--full`", more + 1));
    }
    items
}

/// What passes: stages that pass whole by name, the others with the targets that do.
fn good(answer: &CourseAnswer) -> Vec<String> {
    let whole: Vec<&str> =
        answer.stages.iter().filter(|s| s.pass == s.targets && s.targets > 0).map(|s| s.name.as_str()).collect();
    let mut items = Vec::new();
    if !whole.is_empty() {
        items.push(format!("every target on {}.", whole.join(", ")));
    }
    let parts = answer.stages.iter().filter(|s| s.pass < s.targets && !s.good.is_empty());
    items.extend(parts.map(|s| s.good.clone()));
    let more = items.len().saturating_sub(SHORT);
    if more > 0 {
        items.truncate(SHORT - 1);
        items.push(format!("and on {} more stages: see `--full`", more + 1));
    }
    items
}

fn haul(answer: &CourseAnswer) -> Vec<String> {
    let mut items: Vec<String> = answer.haul.iter().map(|h| h.words.clone()).collect();
    items.push(answer.bring.rsplit("; ").next().unwrap_or_default().to_owned());
    items
}

fn holds_for(answer: &CourseAnswer, full: bool) -> String {
    let words = |c: &Condition| {
        let taken = if c.given { "" } else { " (not given)" };
        format!("{} {}{taken}", c.what, c.value)
    };
    let all: Vec<String> = answer.preamble.holds_for.iter().map(words).collect();
    let mut text = format!("{}.", all.join("; "));
    if full && !answer.preamble.assumed.is_empty() {
        text = format!("{text} Taken where nothing was given: {}.", answer.preamble.assumed.join("; "));
    }
    text
}

/// A row for each target, and one for each thing that was not judged.
fn table(answer: &CourseAnswer) -> Table {
    let mut table = Table::new(vec![
        Column::words("stage"),
        Column::words("target"),
        Column::numbers("from"),
        Column::words("plate"),
        Column::words("verdict"),
        Column::words("worst load"),
        Column::words("fix"),
    ]);
    for target in &answer.targets {
        table.push(
            tone(target.verdict),
            vec![
                Some(target.stage.clone()),
                Some(target.target.clone()),
                Some(target.from.clone()),
                Some(target.plate.clone()),
                Some(target.verdict.to_string()),
                target.worst_name.clone(),
                Some(target.fix.clone()),
            ],
        );
    }
    for item in &answer.preamble.not_judged {
        table.push(
            Tone::Bad,
            vec![
                Some(item.what.clone()),
                None,
                None,
                None,
                Some("not judged".into()),
                None,
                Some(item.why.clone()),
            ],
        );
    }
    table
}
