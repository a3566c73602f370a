//! A tag of 4 by 6 inches that hangs on a stand.

use super::{EYES, NEVER, RETIRE, STOP, above, ceilings, never_shot, plate_words, read_so};
use crate::advisor::answer::StandoffAnswer;
use crate::report::page::{Block, Kind, Page};
use crate::report::tone::Tone;

/// The tag of a plate, with the day it is written.
#[must_use]
pub fn tag(answer: &StandoffAnswer, dated: Option<&str>) -> Page {
    let preamble = &answer.preamble;
    let steel = preamble.inputs.target.steel;
    let mut page = Page::holding_notice(Tone::Plain, format!("{}, {steel}", plate_words(answer)));
    page.kind = Kind::Tag;
    page.lead.push(format!("{}. Nobody nearer while hot. Not listed: ask.", preamble.inputs.target.face));
    page.push_note("Eyes and ears", EYES);
    page.push(Block::Table(ceilings(answer)));
    page.push_note("Not on this plate", never_shot(answer));
    page.push_note("The range", preamble.range_says.join(" "));
    page.push_note("Read so", read_so(answer));
    page.push_note("Stands on", preamble.stands_on.as_str());
    page.push_note("Holds for", holds(answer));
    page.push_note("Never", NEVER);
    page.push_note("Retire it", RETIRE);
    page.push_note("Stop", STOP);
    page.push_note("Clear", "nobody within 20° of the plate's plane; a backstop for every miss.");
    page.push_note("Above this", above(preamble));
    if let Some(dated) = dated.filter(|words| !words.is_empty()) {
        page.push_note("Dated", dated);
    }
    page
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
