//! Readings from words, from a text of lines, and from a column of a CSV table; all in one unit, and every
//! fault at its place.

use super::{MAX_READINGS, Readings, absurd, is_a_reading};
use crate::quantity::unit::Unit;
use crate::quantity::{Measure, Velocity, parse};
use crate::source::{Diagnostic, SourceText, nearest};
use std::ops::Range;

/// What a column should be called.
const HEAD_HELP: &str = "head the column of readings with its unit, for instance `velocity (ft/s)`";

impl Readings {
    /// Reads readings with their units, `2648fps 2655fps`, or plain numbers and their one unit behind them,
    /// `2648 2655 fps`.
    ///
    /// # Errors
    /// A [`Diagnostic`] names the reading at fault.
    pub fn from_words<'t>(words: impl IntoIterator<Item = &'t str>) -> Result<Self, Diagnostic> {
        let words: Vec<&str> = words.into_iter().map(str::trim).collect();
        let (numbers, unit) = match words.split_last() {
            Some((last, numbers)) if !numbers.is_empty() => match unit_spelled(last) {
                Some(unit) => (numbers, Some(unit)),
                None => (words.as_slice(), None),
            },
            _ => (words.as_slice(), None),
        };
        let mut string = Growing { unit, ..Growing::default() };
        for word in numbers {
            string
                .push(word)
                .map_err(|fault| Diagnostic { message: format!("reading `{word}`: {}", fault.message), ..fault })?;
        }
        Self::new(string.readings)
    }

    /// Reads a text: one reading a line with its unit, or plain numbers below a first line `unit ft/s`; or CSV,
    /// whose column is named or is the only one with a unit of speed in its head. `#` begins a comment.
    ///
    /// # Errors
    /// A [`Diagnostic`] at the place at fault: what can be read in two ways is refused.
    pub fn read(source: &SourceText, column: Option<&str>) -> Result<Self, Diagnostic> {
        // Spreadsheets mark their CSV so; the mark is no part of the first cell.
        let unmarked = source.text.strip_prefix('\u{feff}').map(|text| SourceText::new(&*source.name, text));
        let source = unmarked.as_ref().unwrap_or(source);
        if column.is_some() || lines(&source.text).next().is_some_and(|(_, line)| is_head(line)) {
            read_table(source, column)
        } else {
            read_lines(source)
        }
    }
}

/// Whether a first line is the head of a table: it has columns or a unit in brackets, and does not begin
/// like a number.
fn is_head(line: &str) -> bool {
    let number = line.starts_with(|c: char| c.is_ascii_digit() || "+-.".contains(c));
    !number && stated_unit(line).is_none() && line.contains([',', ';', '\t', '(', '['])
}

/// The word of a line `unit ft/s`.
fn stated_unit(line: &str) -> Option<&str> {
    let rest = line.strip_prefix("unit").filter(|rest| rest.starts_with(char::is_whitespace))?;
    Some(rest.trim()).filter(|word| !word.contains([',', ';', '\t', '(', '[']))
}

/// A string as it grows.
#[derive(Default)]
struct Growing {
    readings: Vec<Velocity>,
    /// The unit of all its readings: the stated one, or the first reading's.
    unit: Option<Unit<Velocity>>,
}

impl Growing {
    /// Takes a reading, with its unit or in the stated one.
    fn push(&mut self, text: &str) -> Result<(), Diagnostic> {
        let reading = match self.unit {
            Some(unit) if text.parse::<f64>().is_ok() => parse::<Velocity>(&format!("{text} {}", unit.symbol)),
            _ => parse(text),
        };
        let reading: Velocity = reading.map_err(|e| Diagnostic::plain(e.to_string()).help(e.help()))?;
        let unit = unit_behind(text).or(self.unit);
        if let (Some(first), Some(now)) = (self.unit, unit)
            && first.symbol != now.symbol
        {
            return Err(Diagnostic::plain(format!("`{text}` stands in a string in {}", first.symbol))
                .help("write the whole string in one unit"));
        }
        self.unit = unit;
        if !is_a_reading(reading) {
            return Err(absurd(reading));
        }
        if self.readings.len() == MAX_READINGS {
            return Err(Diagnostic::plain(format!("more than {MAX_READINGS} readings")).help("split the string"));
        }
        self.readings.push(reading);
        Ok(())
    }
}

/// The unit of speed that is spelled so.
fn unit_spelled(word: &str) -> Option<Unit<Velocity>> {
    Velocity::UNITS.iter().find(|unit| unit.is_spelled_loosely(word)).copied()
}

/// The unit behind a reading's number, where there is one.
fn unit_behind(text: &str) -> Option<Unit<Velocity>> {
    unit_spelled(text.rsplit(|c: char| c.is_ascii_digit() || c == '.').next()?.trim())
}

/// Puts a fault in its place.
fn placed(source: &SourceText, span: Range<usize>, fault: Diagnostic) -> Diagnostic {
    let place = source.fault(span, "").place;
    Diagnostic { place, ..fault }
}

fn read_lines(source: &SourceText) -> Result<Readings, Diagnostic> {
    let mut string = Growing::default();
    for (number, (span, line)) in lines(&source.text).enumerate() {
        if let Some(word) = stated_unit(line) {
            let fault = |message: String, help: &str| Err(source.fault(span.clone(), message).help(help));
            if number > 0 {
                return fault("the unit is stated below a reading".into(), "state it once, on the first line");
            }
            string.unit = unit_spelled(word);
            if string.unit.is_none() {
                return fault(format!("`{word}` is not a unit of speed"), "write `unit ft/s` or `unit m/s`");
            }
            continue;
        }
        string.push(line).map_err(|fault| placed(source, span, unit_help(line, fault)))?;
    }
    Readings::new(string.readings).map_err(|fault| placed(source, 0..0, fault))
}

/// Adds the other way to state a unit to the help of a bare number's fault.
fn unit_help(line: &str, fault: Diagnostic) -> Diagnostic {
    match &fault.help {
        Some(help) if line.parse::<f64>().is_ok_and(f64::is_finite) && help.contains("ft/s` or") => {
            let help = format!("{help}, or put a line `unit ft/s` on top");
            fault.help(help)
        }
        _ => fault,
    }
}

/// The lines that say something, without comments, each with its span.
fn lines(text: &str) -> impl Iterator<Item = (Range<usize>, &str)> {
    let mut offset = 0;
    text.split_inclusive('\n').filter_map(move |line| {
        let bare = line.split('#').next().unwrap_or_default();
        let start = offset + (bare.len() - bare.trim_start().len());
        offset += line.len();
        let said = bare.trim();
        (!said.is_empty()).then(|| (start..start + said.len(), said))
    })
}

fn read_table(source: &SourceText, column: Option<&str>) -> Result<Readings, Diagnostic> {
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .trim(csv::Trim::All)
        .flexible(true)
        .from_reader(source.text.as_bytes());
    let unread = |e: &csv::Error| {
        let at = offset(e.position());
        source.fault(at..at, format!("the table can't be read: {e}")).help("save it as CSV with a head")
    };
    let head: Vec<String> = reader.headers().map_err(|e| unread(&e))?.iter().map(str::to_owned).collect();
    let (index, unit) = chosen(source, &head, column)?;
    let mut string = Growing { unit, ..Growing::default() };
    for record in reader.records() {
        let record = record.map_err(|e| unread(&e))?;
        let span = cell_span(&source.text, offset(record.position()), index);
        let cell = record.get(index).unwrap_or_default();
        if cell.is_empty() {
            return Err(source.fault(span, "the row has no reading").help("remove the row, or fill the cell"));
        }
        string.push(cell).map_err(|fault| placed(source, span, fault))?;
    }
    Readings::new(string.readings).map_err(|fault| placed(source, 0..0, fault))
}

/// A position in a text held in memory.
fn offset(position: Option<&csv::Position>) -> usize {
    position.and_then(|p| usize::try_from(p.byte()).ok()).unwrap_or(0)
}

/// Bytes of a cell of the row that begins at or after `from`: the reader's position stands before the blank and
/// comment lines above the row. The whole row where it has no such cell.
fn cell_span(text: &str, from: usize, index: usize) -> Range<usize> {
    let rest = text.get(from..).unwrap_or_default();
    let passed = |line: &&str| line.starts_with('#') || line.trim_end_matches(['\r', '\n']).is_empty();
    let start = from + rest.split_inclusive('\n').take_while(passed).map(str::len).sum::<usize>();
    let (mut quoted, mut cell, mut cell_start, mut end) = (false, 0, start, text.len());
    for (at, byte) in text.bytes().enumerate().skip(start) {
        match byte {
            b'"' => quoted = !quoted,
            b',' if !quoted && cell == index => {
                end = at;
                break;
            }
            b',' if !quoted => (cell, cell_start) = (cell + 1, at + 1),
            b'\n' | b'\r' if !quoted => {
                end = at;
                break;
            }
            _ => {}
        }
    }
    let begin = if cell == index { cell_start } else { start };
    let inside = text.get(begin..end).unwrap_or_default();
    if inside.trim().is_empty() {
        return begin.min(end)..end;
    }
    let begin = begin + (inside.len() - inside.trim_start().len());
    begin..begin + inside.trim().len()
}

/// A column's name and, in brackets or as its last word, its unit of speed.
fn heading(title: &str) -> (String, Option<Unit<Velocity>>) {
    let (name, word) = match title.split_once(['(', '[']) {
        Some((name, word)) => (name, word.trim_end_matches([')', ']'])),
        None => title.rsplit_once(char::is_whitespace).unwrap_or(("", title)),
    };
    match unit_spelled(word.trim()) {
        Some(unit) => (name.trim().to_lowercase(), Some(unit)),
        None if title.contains(['(', '[']) => (name.trim().to_lowercase(), None),
        None => (title.trim().to_lowercase(), None),
    }
}

/// The column of readings and its unit.
fn chosen(
    source: &SourceText,
    head: &[String],
    column: Option<&str>,
) -> Result<(usize, Option<Unit<Velocity>>), Diagnostic> {
    let span = lines(&source.text).next().map_or(0..0, |(span, _)| span);
    let fault = |message: String, help: String| Err(source.fault(span, message).help(help));
    let columns = head.join(", ");
    if let [only] = head
        && let Some(mark) = only.chars().find(|c| matches!(c, ';' | '\t'))
    {
        let mark = if mark == ';' { "semicolons" } else { "tabs" };
        return fault(
            format!("{mark} separate the columns"),
            "separate them with commas, and decimals with points".into(),
        );
    }
    let headings: Vec<_> = head.iter().map(|title| heading(title)).collect();
    let is_meant = |i: &usize| match column {
        Some(name) if head.iter().any(|title| title == name) => head[*i] == name,
        Some(name) => headings[*i].0 == heading(name).0,
        None => headings[*i].1.is_some(),
    };
    let found: Vec<usize> = (0..head.len()).filter(is_meant).collect();
    match (found.as_slice(), column) {
        ([one], _) => Ok((*one, headings[*one].1)),
        ([], Some(name)) => {
            let near = nearest(&heading(name).0, headings.iter().map(|h| h.0.as_str()));
            let meant = near.map(|near| format!("did you mean `{near}`? ")).unwrap_or_default();
            fault(format!("there is no column `{name}`"), format!("{meant}the columns are: {columns}"))
        }
        ([], None) => fault("no column has a unit of speed".into(), HEAD_HELP.into()),
        _ => fault(
            "more than one column could be meant".into(),
            format!("name one with `--column`; the columns are: {columns}"),
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str, column: Option<&str>) -> Result<Readings, Diagnostic> {
        Readings::read(&SourceText::new("string.txt", text), column)
    }

    #[test]
    fn every_form_of_a_string_reads_to_the_same_readings() {
        let words = Readings::from_words(["2648fps", "2655 ft/s", "2641FPS"]).unwrap();
        assert_eq!(Readings::from_words(["2648", "2655", "2641", "ft/s"]).unwrap(), words);
        for (text, column) in [
            ("# a string\n2648 fps\n2655 fps # hot\n\n2641fps\n", None),
            ("unit ft/s\n2648\n2655\n2641\n", None),
            ("# shot in may\r\n\r\nunit\tft/s\r\n 2648\r\n2655 fps\r\n2641", None),
            ("\u{feff}2648 fps\n2655 fps\n2641 fps\n", None),
            ("shot,velocity (ft/s)\n1,2648\n2,2655\n3,2641\n", None),
            ("\u{feff}velocity [fps],shot\r\n2648,1\r\n\"2655\",2\r\n2641 fps,3\r\n", None),
            ("# made by hand\n\nshot, speed fps\n1, 2648\n# a cold one\n2, 2655\n3, 2641\n", None),
            ("ft/s,shot\n2648,1\n2655,2\n2641,3\n", None),
            ("velocity (ft/s)\n2648\n2655\n2641\n", None),
            ("shot,velocity (ft/s),other (m/s)\n1,2648,1\n2,2655,1\n3,2641,1\n", Some("velocity")),
            ("shot,velocity (ft/s),velocity (m/s)\n1,2648,1\n2,2655,1\n3,2641,1\n", Some("velocity (ft/s)")),
            ("shot,Muzzle\n1,2648 fps\n2,2655 fps\n3,2641 fps\n", Some("muzzle")),
        ] {
            assert_eq!(read(text, column).unwrap(), words, "{text}");
        }
    }

    #[test]
    fn what_could_be_read_in_two_ways_is_refused_at_its_place() {
        for (text, column, position, said) in [
            ("2648\n2655\n", None, (1, 1), "`unit ft/s` on top"),
            ("unit ft/s\n2648\n  fast\n", None, (3, 3), "with its unit"),
            ("unit furlong\n1\n", None, (1, 1), "`unit ft/s`"),
            ("unit ft/s\n2648\nunit m/s\n807\n", None, (3, 1), "once"),
            ("2648 fps\n# colder\n807 m/s\n", None, (3, 1), "one unit"),
            ("unit m/s\n807\n2648 fps\n", None, (3, 1), "one unit"),
            ("2,648 fps\n", None, (1, 1), "without commas"),
            ("2648,2655\n", None, (1, 1), "without commas"),
            ("2648 fps 2655 fps\n", None, (1, 1), "units that would do"),
            ("2648 fps\n9999 fps\n", None, (2, 1), "50 to 6000"),
            ("2648 fps\n", None, (1, 1), "at least 2"),
            ("", None, (1, 1), "at least 2"),
            ("a (ft/s),b (ft/s)\n1,2\n", None, (1, 1), "--column"),
            ("# made by hand\nshot,velocity\n1,2648\n", None, (2, 1), "velocity (ft/s)"),
            ("shot,velocity\n1,2648\n", Some("velocity"), (2, 3), "ft/s"),
            ("shot,velocity (ft/s)\n1,2648\n2,\n", None, (3, 3), "fill the cell"),
            ("shot,velocity (ft/s)\n1,2648\n2\n", None, (3, 1), "fill the cell"),
            ("shot,velocity (ft/s)\n\n# warm\n1,2648\n# cold\n\n2, 807 m/s\n", None, (7, 4), "one unit"),
            ("note,velocity (ft/s)\n\"a, b\",2648\n\"c\",\"2,655\"\n", None, (3, 5), "without commas"),
            ("shot,velocity (ft/s)\n1,2648\n2,none\n", None, (3, 3), "with its unit"),
            ("shot,velocity (ft/s)\n1,2648\n", Some("velocty"), (1, 1), "did you mean `velocity`"),
            ("shot;velocity (ft/s)\n1;2648\n", None, (1, 1), "commas"),
        ] {
            let fault = read(text, column).unwrap_err();
            assert_eq!(fault.position(), Some(position), "{text}: {fault}");
            assert!(fault.help.as_ref().is_some_and(|help| help.contains(said)), "{text}: {fault}");
        }
    }

    #[test]
    fn words_in_two_units_or_none_are_refused_by_name() {
        for (words, said) in [
            (["2648fps", "807m/s"], "`807m/s`"),
            (["2648", "2655"], "`2648`"),
            (["2648fps", "2,655fps"], "`2,655fps`"),
            (["807m/s", "fps"], "`807m/s`"),
        ] {
            let fault = Readings::from_words(words).unwrap_err();
            assert!(fault.message.contains(said) && fault.help.is_some(), "{words:?}: {fault}");
        }
    }

    #[test]
    fn a_string_too_long_is_refused_where_it_becomes_so() {
        let text = "unit ft/s\n".to_owned() + &"2648\n2650\n".repeat(MAX_READINGS / 2) + "2649\n";
        assert_eq!(read(&text, None).unwrap_err().position(), Some((MAX_READINGS + 2, 1)));
    }
}
