//! A tag of 4 by 6 inches that hangs on a stand.

use super::{
    EYES, NEVER, RETIRE, STOP, above, called, ceilings_of, is_shot, never_shot, plate_words, push_date, read_so,
};
use crate::advisor::answer::{StandoffAnswer, StandoffRow};
use crate::order::Order;
use crate::quantity::Measure;
use crate::report::answer::{LEFT_OUT, holds_briefly, sentences};
use crate::report::page::{Block, Kind, Page};
use crate::report::tone::Tone;

/// The tag of a plate, with the day it is written.
#[must_use]
pub fn tag(answer: &StandoffAnswer, dated: Option<&str>) -> Page {
    let preamble = &answer.preamble;
    let steel = preamble.inputs.target.steel;
    let all: Vec<&StandoffRow> = answer.rows.iter().filter(|row| is_shot(row)).collect();
    let notes = notes(answer);
    let (kind, rows) = set(&all, &notes);
    let mut page = Page::holding_notice(Tone::Plain, format!("{}, {steel}", plate_words(answer)));
    page.kind = kind;
    page.lead.push(format!("{}. Nobody nearer while hot. Not listed: ask.", preamble.inputs.target.face));
    page.push_note(EYES_LABEL, EYES);
    page.push(Block::Table(ceilings_of(answer, rows.iter().copied())));
    if rows.len() < all.len() {
        page.push_note(SHOWN_LABEL, shown(rows.len(), all.len()));
    }
    notes.into_iter().for_each(|(label, text)| page.push_note(label, text));
    push_date(&mut page, dated);
    page
}

/// What stands below the loads: first what not every tag has.
fn notes(answer: &StandoffAnswer) -> [(&'static str, String); 12] {
    let preamble = &answer.preamble;
    [
        ("Not on this plate", never(answer)),
        (LEFT_OUT, sentences(&preamble.left_out)),
        ("The range", preamble.range_says.join(" ")),
        ("Here", preamble.case_says.clone()),
        ("Read so", read_so(answer)),
        ("Stands on", preamble.stands_on.clone()),
        ("Holds for", holds_briefly(preamble)),
        ("Never", NEVER.into()),
        ("Retire it", RETIRE.into()),
        ("Stop", STOP.into()),
        ("Clear", "nobody behind it or within 20° of its plane; a backstop for every miss.".into()),
        ("Above this", above(preamble)),
    ]
}

const EYES_LABEL: &str = "Eyes and ears";
const SHOWN_LABEL: &str = "Shown";

/// Which of the loads stand on the tag, and where the others do.
fn shown(rows: usize, all: usize) -> String {
    let others = all - rows;
    format!(
        "the {rows} of {all} loads that are to be shot from farthest. The distances of the other {others} stand in the same \
         answer printed without the tag."
    )
}

/// Letters of a paragraph, and of a load's name, on a line of a tag as it is printed.
const LINE: usize = 60;
const NAME: usize = 24;
/// Height that a tag has for its loads and for what not every tag has, in quarters of a row's line, and what a
/// paragraph's line takes of it.
const ROOM: usize = 45;
const NOTE_LINE: usize = 5;
/// Notes that not every tag has, and lines of them for which there is room beside.
const TOLD: usize = 7;
const USUAL: usize = 6;
/// Letters of the loads that never go on a plate before they are counted.
const MANY: usize = 3 * LINE;

/// The same of a tag that is set close, in tenths of a point: its height below the title and the table's head, a
/// paragraph's line and what parts it from the next, a row's line and what parts it.
mod close {
    pub const LINE: usize = 76;
    pub const NAME: usize = 30;
    pub const ROOM: usize = 3450;
    pub const NOTE_LINE: usize = 78;
    pub const NOTE_GAP: usize = 15;
    pub const ROW_LINE: usize = 77;
    pub const ROW_GAP: usize = 18;
}

fn lines(text: &str, letters: usize) -> usize {
    text.chars().count().div_ceil(letters)
}

/// How a tag is set, and the loads that stand on it: all as usual where they fit so, else as many as fit set close.
fn set<'r>(all: &[&'r StandoffRow], notes: &[(&str, String)]) -> (Kind, Vec<&'r StandoffRow>) {
    let told = |(label, text): &(&str, String), letters| {
        if text.is_empty() { 0 } else { lines(&format!("{label}: {text}"), letters) }
    };
    let usual: usize = notes.iter().take(TOLD).map(|note| told(note, LINE)).sum();
    let usual = ROOM.saturating_sub(NOTE_LINE * usual.saturating_sub(USUAL));
    if all.iter().map(|row| 4 * lines(&called(row), NAME) + 1).sum::<usize>() <= usual {
        return (Kind::Tag, all.to_vec());
    }
    let height = |row: &StandoffRow| close::ROW_LINE * lines(&called(row), close::NAME) + close::ROW_GAP;
    let takes = |note: &(&str, String)| match told(note, close::LINE) {
        0 => 0,
        lines => close::NOTE_LINE * lines + close::NOTE_GAP,
    };
    let eyes = takes(&(EYES_LABEL, EYES.into()));
    let date = close::NOTE_LINE + close::NOTE_GAP;
    let room = close::ROOM.saturating_sub(notes.iter().map(takes).sum::<usize>() + eyes + date);
    if all.iter().map(|row| height(row)).sum::<usize>() <= room {
        return (Kind::CloseTag, all.to_vec());
    }
    let room = room.saturating_sub(takes(&(SHOWN_LABEL, shown(all.len(), all.len()))));
    (Kind::CloseTag, farthest(all, room, height))
}

/// The loads that the room holds, in the order asked: those that are good from farthest alone, and always the strictest.
fn farthest<'r>(all: &[&'r StandoffRow], room: usize, height: impl Fn(&StandoffRow) -> usize) -> Vec<&'r StandoffRow> {
    let from = |row: &StandoffRow| {
        let distances = row.plates.iter().filter_map(|cell| cell.nearest).map(|distance| distance.0.si());
        distances.fold(0.0, f64::max)
    };
    let mut strictest: Vec<usize> = (0..all.len()).collect();
    strictest.order_by(|a, b| from(all[*b]).total_cmp(&from(all[*a])));
    let mut left = room;
    let mut kept: Vec<usize> = Vec::new();
    for index in strictest {
        let takes = height(all[index]);
        if takes > left && !kept.is_empty() {
            break;
        }
        left = left.saturating_sub(takes);
        kept.push(index);
    }
    kept.order();
    kept.into_iter().map(|index| all[index]).collect()
}

/// The loads that never go on the plate; where they are many, how many, for what is not listed is not shot.
fn never(answer: &StandoffAnswer) -> String {
    let named = never_shot(answer);
    if named.chars().count() <= MANY {
        return named;
    }
    let count = answer.rows.iter().filter(|row| !is_shot(row)).count();
    format!(
        "{count} of the loads asked, named in the same answer printed without the tag, and none that is not listed here."
    )
}
