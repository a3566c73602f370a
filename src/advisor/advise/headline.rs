//! The advice in one line. It names every load it excludes, and says no more than was judged.

use super::super::elsewhere::Turn;
use super::super::say;
use super::matrix::{Matrix, Pick};
use super::telling::Telling;
use crate::rules::Verdict;
use crate::source::clean;
use crate::words;

/// What is excluded, told in words: the case, why, and from where it suits.
pub(super) struct ExcludedWords {
    pub case: String,
    pub why: String,
    pub fix: Option<String>,
}

pub(super) fn headline(telling: &Telling, turn: Option<&Turn<Pick>>, excluded: &[ExcludedWords]) -> String {
    let pick = &telling.matrix.pick;
    match (pick.recommended, pick.borderline) {
        (Some(plate), _) => hang(telling, plate, turn),
        (None, Some(plate)) => borderline(telling, plate, turn),
        (None, None) if excluded.is_empty() => "No one plate takes all that is asked.".into(),
        (None, None) => no_plate(telling, turn, excluded),
    }
}

fn label(telling: &Telling, plate: usize) -> String {
    clean(&telling.case.plates[plate].label)
}

/// `Hang 3/8 in`, with the air it holds for where the answer changes in the air that was not given.
fn lead(telling: &Telling, plate: usize, turn: Option<&Turn<Pick>>) -> String {
    let own = label(telling, plate);
    let pick = &telling.matrix.pick;
    let is_other = |t: &&Turn<Pick>| (t.there.recommended, t.there.borderline) != (pick.recommended, pick.borderline);
    let Some(turn) = turn.filter(is_other) else { return own };
    let there = match (turn.there.recommended, turn.there.borderline) {
        (Some(other), _) => label(telling, other),
        (None, Some(other)) => format!("{} at best borderline", label(telling, other)),
        (None, None) => "no plate".into(),
    };
    format!("{own} {}, else {there}", turn.holds)
}

fn hang(telling: &Telling, plate: usize, turn: Option<&Turn<Pick>>) -> String {
    let all: Vec<usize> = (0..telling.matrix.lines.len()).collect();
    let worst = telling.matrix.worst_on(plate, &all).unwrap_or(0);
    let case = telling.case_words(plate, worst);
    let lead = lead(telling, plate, turn);
    let spare = spare(telling, plate, worst);
    match all.len() {
        1 => format!("Hang {lead}: {case}{spare}"),
        n => format!("Hang {lead}: it takes all {n}; tightest is {case}{spare}"),
    }
}

/// `, 14 % to spare.`, or how little, and what the next plate has.
fn spare(telling: &Telling, plate: usize, line: usize) -> String {
    let margin_on = |plate: usize, line: usize| telling.matrix.judged[plate][line].judged.of.margin;
    let Some(margin) = margin_on(plate, line) else { return ", within every rule.".into() };
    if margin >= say::JUST {
        return format!(", {}.", words::to_spare(margin));
    }
    let more = (plate + 1..telling.matrix.judged.len()).find_map(|thicker| {
        // Of every line: another may be the tightest there.
        let worst = telling.matrix.worst_on(thicker, &telling.matrix.left())?;
        let more = margin_on(thicker, worst).filter(|more| *more > margin)?;
        Some(format!("; {} has {}", label(telling, thicker), words::margin(more)))
    });
    format!(". Just {}{}.", words::to_spare(margin), more.unwrap_or_default())
}

fn borderline(telling: &Telling, plate: usize, turn: Option<&Turn<Pick>>) -> String {
    let matrix: &Matrix = telling.matrix;
    let doubtful: Vec<String> = matrix
        .pick
        .doubtful
        .iter()
        .map(|&line| format!("{}: {}", telling.case_words(plate, line), telling.why(plate, line)))
        .collect();
    let lead = lead(telling, plate, turn);
    // No line is borderline on every plate, and yet no plate suits all: the worst on the one that is named.
    let told = if doubtful.is_empty() {
        let all: Vec<usize> = (0..matrix.lines.len()).collect();
        let worst = matrix.worst_on(plate, &all).unwrap_or(0);
        format!("{}: {}", telling.case_words(plate, worst), telling.why(plate, worst))
    } else {
        doubtful.join("; ")
    };
    format!("Borderline at best, {lead}: {told}.")
}

fn no_plate(telling: &Telling, turn: Option<&Turn<Pick>>, excluded: &[ExcludedWords]) -> String {
    let told: Vec<String> = excluded
        .iter()
        .map(|one| {
            let fix = one.fix.as_ref().map(|fix| format!("; {fix}")).unwrap_or_default();
            format!("{}: {}{fix}", one.case, one.why)
        })
        .collect();
    let text = format!("No plate for {}.", told.join(". Nor for "));
    let Some((plate, verdict)) = telling.matrix.pick.rest else { return text };
    let label = label(telling, plate);
    let turned = turn.map(|t| format!(" {}, else {}", t.holds, rest_there(telling, &t.there))).unwrap_or_default();
    match verdict {
        Verdict::Suits => format!("{text} {label} takes the rest{turned}."),
        _ => format!("{text} {label} is borderline at best for the rest{turned}."),
    }
}

/// What the other air leaves of the answer: never a word that reads as the answer here.
fn rest_there(telling: &Telling, there: &Pick) -> String {
    let here = &telling.matrix.pick;
    if there.excluded != here.excluded {
        return "more loads are excluded".into();
    }
    match (there.rest, here.rest) {
        (None, _) => "no one plate does".into(),
        (there, here) if there == here => "more of them are borderline".into(),
        (Some((plate, Verdict::Borderline)), Some((_, Verdict::Suits))) => {
            format!("{} at best borderline", label(telling, plate))
        }
        (Some((plate, _)), _) => label(telling, plate),
    }
}
