//! A tag of 4 by 6 inches that hangs on a stand.

use super::{
    EYES, NEVER, RETIRE, STOP, above, called, ceilings_of, is_shot, never_shot, plate_words, push_date, read_so,
};
use crate::advisor::answer::{StandoffAnswer, StandoffRow};
use crate::quantity::Measure;
use crate::report::page::{Block, Kind, Page};
use crate::report::tone::Tone;

/// The tag of a plate, with the day it is written.
#[must_use]
pub fn tag(answer: &StandoffAnswer, dated: Option<&str>) -> Page {
    let preamble = &answer.preamble;
    let steel = preamble.inputs.target.steel;
    let never = never(answer);
    let rows = fitting(answer, room(answer, &never));
    let left = answer.rows.iter().filter(|row| is_shot(row)).count() - rows.len();
    let mut page = Page::holding_notice(Tone::Plain, format!("{}, {steel}", plate_words(answer)));
    page.kind = Kind::Tag;
    page.lead.push(format!("{}. Nobody nearer while hot. Not listed: ask.", preamble.inputs.target.face));
    page.push_note("Eyes and ears", EYES);
    page.push(Block::Table(ceilings_of(answer, rows.iter().copied())));
    if left > 0 {
        page.push_note(&format!("And {left} more"), "see the sheet.");
    }
    page.push_note("Not on this plate", never);
    page.push_note("The range", preamble.range_says.join(" "));
    page.push_note("Read so", read_so(answer));
    page.push_note("Stands on", preamble.stands_on.as_str());
    page.push_note("Holds for", holds(answer));
    page.push_note("Never", NEVER);
    page.push_note("Retire it", RETIRE);
    page.push_note("Stop", STOP);
    page.push_note("Clear", "nobody within 20° of the plate's plane; a backstop for every miss.");
    page.push_note("Above this", above(preamble));
    push_date(&mut page, dated);
    page
}

/// Letters of a paragraph, and of a load's name, on a line of a tag as it is printed.
const LINE: usize = 60;
const NAME: usize = 24;
/// Height that a tag has for its loads and for what not every tag has, in quarters of a row's line, and what a
/// paragraph's line takes of it.
const ROOM: usize = 45;
const NOTE_LINE: usize = 5;
/// Lines of paragraphs that every tag has, for which there is room beside.
const USUAL: usize = 6;
/// Letters of the loads that never go on a plate before they are counted.
const MANY: usize = 3 * LINE;

fn lines(text: &str, letters: usize) -> usize {
    text.chars().count().div_ceil(letters)
}

/// What is left for the rows, once every paragraph has its place.
fn room(answer: &StandoffAnswer, never: &str) -> usize {
    let preamble = &answer.preamble;
    let range = preamble.range_says.join(" ");
    let (read_so, holds) = (read_so(answer), holds(answer));
    let told = [
        ("Not on this plate: ", never),
        ("The range: ", &range),
        ("Read so: ", &read_so),
        ("Stands on: ", &preamble.stands_on),
        ("Holds for: ", &holds),
    ];
    let told = told.iter().filter(|(_, text)| !text.is_empty());
    let told: usize = told.map(|(label, text)| lines(&format!("{label}{text}"), LINE)).sum();
    ROOM.saturating_sub(NOTE_LINE * told.saturating_sub(USUAL))
}

/// The loads that the room holds, in the order asked: where not all of them, those that are good from farthest alone, and
/// always the strictest.
fn fitting(answer: &StandoffAnswer, room: usize) -> Vec<&StandoffRow> {
    let all: Vec<&StandoffRow> = answer.rows.iter().filter(|row| is_shot(row)).collect();
    let height = |row: &StandoffRow| 4 * lines(&called(row), NAME) + 1;
    let farthest = |row: &StandoffRow| {
        let distances = row.plates.iter().filter_map(|cell| cell.nearest).map(|distance| distance.0.si());
        distances.fold(0.0, f64::max)
    };
    if all.iter().map(|row| height(row)).sum::<usize>() <= room {
        return all;
    }
    let mut strictest: Vec<usize> = (0..all.len()).collect();
    strictest.sort_by(|a, b| farthest(all[*b]).total_cmp(&farthest(all[*a])));
    // How many more there are takes a line of its own.
    let mut left = room.saturating_sub(NOTE_LINE);
    let mut kept: Vec<usize> = Vec::new();
    for index in strictest {
        let takes = height(all[index]);
        if takes > left && !kept.is_empty() {
            break;
        }
        left = left.saturating_sub(takes);
        kept.push(index);
    }
    kept.sort_unstable();
    kept.into_iter().map(|index| all[index]).collect()
}

/// The loads that never go on the plate; where they are many, how many, for what is not listed is not shot.
fn never(answer: &StandoffAnswer) -> String {
    let named = never_shot(answer);
    if named.chars().count() <= MANY {
        return named;
    }
    let count = answer.rows.iter().filter(|row| !is_shot(row)).count();
    format!("{count} of the loads asked, see the sheet, and none that is not listed here.")
}

/// What the distances hold for, as short as a tag is: the use, the mount, and all that was given.
fn holds(answer: &StandoffAnswer) -> String {
    let above = ["face", "steel", "condition", "lean"];
    let told = answer.preamble.holds_for.iter().filter(|condition| {
        let what = condition.what.as_str();
        !above.contains(&what) && (condition.given || ["duty", "mount"].contains(&what))
    });
    told.map(|condition| format!("{} {}", condition.what, condition.value)).collect::<Vec<_>>().join("; ")
}
