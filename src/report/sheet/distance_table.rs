//! The distances of a product, for a page of one's own.

use super::{EYES, NEVER, NOT_LISTED, RETIRE, above, ceilings, given, holds, never_shot, plate_words, read_so};
use crate::advisor::answer::StandoffAnswer;
use crate::report::answer::{LEFT_OUT, safety, sentences};
use crate::report::page::{Block, Kind, Page};
use crate::report::tone::Tone;

/// The table of a product of a name; without one, of the plates asked. It bears the day it is written where that is given.
#[must_use]
pub fn distance_table(answer: &StandoffAnswer, product: Option<&str>, dated: Option<&str>) -> Page {
    let preamble = &answer.preamble;
    let what = product.filter(|name| !name.is_empty()).map_or_else(|| plate_words(answer), str::to_owned);
    let mut page = Page::holding_notice(Tone::Plain, format!("{what}: nearest distance by load"));
    page.kind = Kind::DistanceTable;
    page.lead.push(NOT_LISTED.into());
    page.push_note("Eyes and ears", EYES);
    let safety = safety(preamble);
    page.push_note("Safety", if safety.is_empty() { above(preamble) } else { safety });
    page.push_note("Never", NEVER);
    page.push_note("Read so", read_so(answer));
    page.push_note(LEFT_OUT, sentences(&preamble.left_out));
    page.push(Block::Table(ceilings(answer)));
    page.push_note("On none of these plates", never_shot(answer));
    page.push_note("Retire it", RETIRE);
    page.push_note("Stands on", preamble.stands_on.as_str());
    page.push_note("Holds for", holds(answer));
    page.push_note("Dated", given(dated).unwrap_or_default());
    page
}
