//! What lines beside the readings, comments among them, say of the readings themselves.

use super::above::Above;
use super::apart::{Whereabouts, speaks_of_a_unit, taken_far};
use super::string::{stated_unit, unit_spelled};
use super::sums::{Sum, in_line, said};
use crate::quantity::Velocity;
use crate::quantity::unit::Unit;
use crate::source::grid::{self, SEPARATORS};
use crate::source::table::pointed;
use crate::source::{Diagnostic, SourceText};

/// What to do about readings that were taken farther out.
pub(super) const AT_THE_MUZZLE: &str = "give readings of the muzzle, within 15 ft of it: farther out the bullet is slower. If this is \
                                        how far the target stood, head it `target distance`";

/// The comments above a line of a table.
pub(super) fn comments_above(source: &SourceText, number: usize, separator: char) -> Vec<Above> {
    let above = grid::lines(&source.text).take_while(|line| line.number < number);
    above.filter(|line| line.is_comment(source)).map(|line| Above::comment(source, &line, separator)).collect()
}

/// The comments of a text without a table, behind its readings as well.
pub(super) fn comments(source: &SourceText) -> Vec<Above> {
    let lines = grid::lines(&source.text).filter(|line| line.text(source).contains('#'));
    // They are no lines of a table that was left out.
    lines.map(|line| Above::comment(source, &line, ',').read()).collect()
}

/// The unit that words beside one of a unit spell: `Units`, `m/s`.
pub(super) fn unit_among(words: &[&str]) -> Option<Unit<Velocity>> {
    let speaks = speaks_of_a_unit(&words.iter().flat_map(|word| said(word)).collect::<Vec<_>>());
    words.iter().find_map(|word| unit_spelled(word)).filter(|_| speaks)
}

/// The sums that a line tells of readings in a unit.
///
/// # Errors
/// A [`Diagnostic`] where it says that they were taken farther out, or in another unit.
pub(super) fn heard(
    source: &SourceText,
    line: &Above,
    separator: char,
    unit: Option<Unit<Velocity>>,
) -> Result<Vec<Sum>, Diagnostic> {
    let (name, value) = line.parts();
    let far = Whereabouts::of(name).and_then(|place| place.far_off(value));
    if let Some(why) = far.or_else(|| taken_far(name, &line.text)) {
        return Err(source.fault(line.span.clone(), why).help(AT_THE_MUZZLE));
    }
    let text = line.text.trim_start_matches(['#', ' ']);
    let words: Vec<&str> = text.split([':', '=']).flat_map(|part| part.split(SEPARATORS)).map(str::trim).collect();
    let stated = unit_among(&words).or_else(|| stated_unit(text).and_then(unit_spelled));
    if let (Some(stated), Some(unit)) = (stated, unit)
        && stated.symbol != unit.symbol
    {
        let message = format!("the line says {}, and the readings are read in {}", stated.symbol, unit.symbol);
        return Err(source.fault(line.span.clone(), message).help("leave in the file the one that holds"));
    }
    let of_parts = Sum::of(&[name.into(), pointed(value, separator).into()], 1, unit);
    let together = if name.is_empty() { text.to_owned() } else { format!("{name}: {value}") };
    Ok(of_parts.into_iter().chain(in_line(&together, unit)).collect())
}
