//! Readings from words, from a text of lines, and from a table as chronographs and spreadsheets export it; all in one
//! unit, and every fault at its place.

use super::Readings;
use super::above::Above;
use super::aside::{comments, heard};
use super::export;
use super::string::{
    Growing, Named, Reading, Strings, SummaryRow, agreed, placed, stated_unit, unit_help, unit_spelled,
};
use super::sums::{OTHER_SHOTS, in_line, is_summary, numbers, word_behind};
use super::warmth::of_line;
use crate::quantity::Measure;
use crate::quantity::unit::Unit;
use crate::quantity::{Velocity, unit};
use crate::source::{Diagnostic, SourceText, grid};
use std::ops::Range;

impl Strings {
    /// Reads a text: one reading a line with its unit, or plain numbers below a first line `unit ft/s`; or a table
    /// separated by commas, semicolons or tabs, with lines above its head and sums below its rows.
    ///
    /// # Errors
    /// A [`Diagnostic`] at the place at fault: what can be read in two ways is refused.
    pub fn read(source: &SourceText, reading: &Reading) -> Result<Self, Diagnostic> {
        match export::head(source, reading)? {
            Some(head) => export::read(source, reading, &head),
            None => read_lines(source, reading),
        }
    }
}

impl Readings {
    /// Reads readings with their units, `2648fps 2655fps`, or plain numbers and their one unit behind them,
    /// `2648 2655 fps`.
    ///
    /// # Errors
    /// A [`Diagnostic`] names the reading at fault.
    pub fn from_words<'t>(words: impl IntoIterator<Item = &'t str>) -> Result<Self, Diagnostic> {
        Self::from_words_in(words, None)
    }

    /// As [`Readings::from_words`]; readings without a unit are in `unit`.
    ///
    /// # Errors
    /// A [`Diagnostic`] names the reading at fault.
    pub fn from_words_in<'t>(
        words: impl IntoIterator<Item = &'t str>,
        unit: Option<Unit<Velocity>>,
    ) -> Result<Self, Diagnostic> {
        let words: Vec<&str> = words.into_iter().map(str::trim).collect();
        let (numbers, behind) = match words.split_last() {
            Some((last, numbers)) if !numbers.is_empty() => match unit_spelled(last) {
                Some(unit) => (numbers, Some(unit)),
                None => (words.as_slice(), None),
            },
            _ => (words.as_slice(), None),
        };
        let mut string = Growing { unit: agreed(unit, behind)?, ..Growing::default() };
        for word in numbers {
            string
                .push(word)
                .map_err(|fault| Diagnostic { message: format!("reading `{word}`: {}", fault.message), ..fault })?;
        }
        Self::new(string.readings)
    }

    /// Reads a text that holds one string: see [`Strings::read`].
    ///
    /// # Errors
    /// A [`Diagnostic`] at the place at fault.
    pub fn read(source: &SourceText, column: Option<&str>) -> Result<Self, Diagnostic> {
        Strings::read(source, &Reading { column, unit: None })?.only()
    }
}

fn read_lines(source: &SourceText, reading: &Reading) -> Result<Strings, Diagnostic> {
    let mut string = Growing { unit: reading.unit, ..Growing::default() };
    let (mut summary_rows, mut sums) = (Vec::<SummaryRow>::new(), Vec::new());
    if let Some((span, text)) = crossed_out(&source.text) {
        return Err(source
            .fault(span, format!("`{text}` is a reading behind a `#`, below readings"))
            .help("leave the reading in, a slip is found; or remove the line"));
    }
    for (index, Said { row, span, text }) in lines(&source.text).enumerate() {
        if let Some(word) = stated_unit(text) {
            let fault = |message: String, help: &str| Err(source.fault(span.clone(), message).help(help));
            if index > 0 {
                return fault("the unit is stated below a reading".into(), "state it once, on the first line");
            }
            let Some(unit) = unit_spelled(word) else {
                return fault(format!("`{word}` is not a unit of speed"), "write `unit ft/s` or `unit m/s`");
            };
            string.unit = agreed(reading.unit, Some(unit)).map_err(|fault| placed(source, span, fault))?;
        } else if is_summary(text) {
            summary_rows.push(SummaryRow { row, text: text.to_owned() });
        } else {
            string.push(text).map_err(|fault| placed(source, span, unit_help(text, fault)))?;
        }
    }
    // Sums are in the unit that the readings tell, wherever they stand; what else they say is heard as comments are.
    let is_sum = |line: &grid::Line| summary_rows.iter().any(|sum| sum.row == line.number);
    let of_sums = grid::lines(&source.text).filter(is_sum).map(|line| Above::of(source, &line, ',').read());
    let above: Vec<Above> = comments(source).into_iter().chain(of_sums).collect();
    for line in &above {
        let told = heard(source, line, ',', string.unit)?;
        sums.extend(told.into_iter().map(|sum| (line.span.clone(), sum)));
    }
    let shots: Vec<f64> = string.readings.iter().map(|v| v.si()).collect();
    if let Some((span, why)) = sums.into_iter().find_map(|(span, sum)| Some((span, sum.against(&shots, 1)?))) {
        return Err(source.fault(span, why).help(OTHER_SHOTS));
    }
    let readings = Readings::new(string.readings).map_err(|fault| placed(source, 0..0, fault))?;
    let strings = vec![Named { bib: None, readings }];
    Ok(Strings {
        strings,
        left_out: Vec::new(),
        summary_rows,
        missing: Vec::new(),
        warmth: above.iter().filter_map(of_line).collect(),
        above,
        beside: Vec::new(),
    })
}

/// A reading that a `#` takes out of the string, below its first reading or behind one; what stands above is about the
/// day, and sums are held against the shots.
fn crossed_out(text: &str) -> Option<(Range<usize>, &str)> {
    let mut first = None;
    for line in grid::lines(text) {
        let bare = text[line.span.clone()].trim();
        let (before, behind) = bare.split_once('#').unwrap_or((bare, ""));
        if first.is_none() && stated_unit(bare).is_none() {
            first = numbers(before).first().map(|(_, number)| *number);
        }
        let is_sum = || !in_line(behind, Some(unit::FOOT_PER_SECOND)).is_empty();
        if first.is_some_and(|first| holds_a_reading(behind, first, before.is_empty())) && !is_sum() {
            return Some((line.span, bare));
        }
    }
    None
}

/// Whether a text holds a number that could be a reading beside the first: alone on its line, with a unit of speed, or as large as
/// that with no unit of anything else.
fn holds_a_reading(text: &str, first: f64, is_whole_line: bool) -> bool {
    let bare = text.trim();
    numbers(text).into_iter().any(|(span, number)| {
        let behind = word_behind(&text[span.end..]);
        let is_like = LIKE_THE_FIRST.contains(&(number / first));
        let is_alone =
            bare.starts_with(&text[span.clone()]) && (behind.is_empty() || behind.starts_with(char::is_alphabetic));
        number >= SLOWEST
            && ((is_alone && (is_whole_line || is_like))
                || unit_spelled(behind).is_some()
                || (is_like && behind.is_empty()))
    })
}

/// A number that could be of the same string as the first, as factors.
const LIKE_THE_FIRST: std::ops::RangeInclusive<f64> = 0.7..=1.3;

/// What is no smaller could be a reading, in any unit.
const SLOWEST: f64 = 100.0;

/// A line that says something.
struct Said<'t> {
    row: usize,
    span: Range<usize>,
    text: &'t str,
}

/// The lines that say something, without comments.
fn lines(text: &str) -> impl Iterator<Item = Said<'_>> {
    let mut offset = 0;
    text.split_inclusive('\n').enumerate().filter_map(move |(index, line)| {
        let bare = line.split('#').next().unwrap_or_default();
        let start = offset + (bare.len() - bare.trim_start().len());
        offset += line.len();
        let said = bare.trim();
        (!said.is_empty()).then(|| Said { row: index + 1, span: start..start + said.len(), text: said })
    })
}

#[cfg(test)]
mod tests {
    use super::super::MAX_READINGS;
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
            ("# made by hand\n\nshot, speed fps\n1, 2648\n2, 2655\n\n3, 2641\n", None),
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
            ("2648 fps\n9999 fps\n", None, (2, 1), "50 ft/s to 6000 ft/s"),
            ("2648 fps\n", None, (1, 1), "at least 2"),
            ("", None, (1, 1), "at least 2"),
            ("a (ft/s),b (ft/s)\n1,2\n", None, (1, 1), "--column"),
            ("# made by hand\nshot,velocity\n1,2648\n", None, (3, 3), "--unit ft/s"),
            ("shot,time\n1,2648\n", None, (1, 1), "velocity (ft/s)"),
            ("shot,velocity\n1,2648\n", Some("velocity"), (2, 3), "ft/s"),
            ("shot,velocity (ft/s)\n1,2648\n2,\n", None, (1, 1), "at least 2"),
            ("shot,velocity (ft/s)\n1,2648\n2\n", None, (3, 1), "for every column"),
            ("# warm\nshot,velocity (ft/s)\n\n1,2648\n\n2, 807 m/s\n", None, (6, 4), "one unit"),
            ("shot,velocity (ft/s)\n1,2648\n# cold\n2,2650\n", None, (3, 1), "for every column"),
            ("note,velocity (ft/s)\n\"a, b\",2648\n\"c\",\"2,655\"\n", None, (3, 6), "without commas"),
            ("shot,velocity (ft/s)\n1,2648\n2,fast\n", None, (3, 3), "with its unit"),
            ("shot,velocity (ft/s)\n1,2648\n", Some("velocty"), (1, 1), "did you mean `velocity`"),
            ("shot,velocity (ft/s)\n1,2648\nshot,velocity (ft/s)\n1,2650\n", None, (3, 1), "a file of its own"),
            ("shot,velocity (ft/s)\n1,\"2648\n2,2650\n", None, (2, 3), "on one line"),
            ("shot,velocity (ft/s)\n1,2648,2650\n", None, (2, 1), "for every column"),
        ] {
            let fault = read(text, column).unwrap_err();
            assert_eq!(fault.position(), Some(position), "{text}: {fault}");
            assert!(fault.help.as_ref().is_some_and(|help| help.contains(said)), "{text}: {fault}");
        }
    }

    #[test]
    fn a_chronograph_s_own_export_reads_to_its_shots_alone_and_tells_what_it_left_out() {
        let export = "Session;2 May\nBullet weight (gr);168\nUnits;m/s\n\n#;Speed (m/s);\u{394} AVG (m/s);Note\n\
            1;807,1;0,2;max load\n2;809,2;-1,0;\n3;805,0;3,1;\n-;;;\nAverage;807,1\nStd Dev;2,1\nES;4,2;;\n\
            Power factor;445\nDate;\"2 May\"\n";
        let read = Strings::read(&SourceText::new("a.csv", export), &Reading::default()).unwrap();
        let words = Readings::from_words(["807.1", "809.2", "805.0", "m/s"]).unwrap();
        assert_eq!(read.strings, [Named { bib: None, readings: words }]);
        assert_eq!(read.left_out, ["#", "\u{394} AVG (m/s)", "Note"]);
        let rows: Vec<_> = read.summary_rows.iter().map(|sum| sum.row).collect();
        assert_eq!((rows, read.above.len()), (vec![10, 11, 12, 13, 14], 3));
        assert_eq!(read.summary_rows[0].text, "Average;807,1");
    }

    #[test]
    fn an_average_among_the_rows_is_no_shot() {
        let words = Readings::from_words(["2690fps", "2688fps", "2692fps"]).unwrap();
        for text in [
            "shot,velocity (ft/s)\n1,2690\n2,2688\n3,2692\nAverage,2648\n",
            "velocity (ft/s),label\n2690,\n2688,\n2692,\n2648,Avg\n2,SD\n",
            "2690 fps\n2688 fps\n2692 fps\nAverage: 2648 fps\nES 4 fps\n",
        ] {
            let read = Strings::read(&SourceText::new("a.csv", text), &Reading::default()).unwrap();
            assert_eq!(read.strings[0].readings, words, "{text}");
            assert!(!read.summary_rows.is_empty(), "{text}");
        }
    }

    #[test]
    fn a_row_without_a_number_where_the_shots_have_one_is_no_shot_in_any_language() {
        let shots = "Nr;V0 [m/s]\n1;805,1\n2;809,3\n3;802,2\n4;811,0\n5;810,9\n";
        let words = Readings::from_words(["805.1", "809.3", "802.2", "811.0", "810.9", "m/s"]).unwrap();
        let read = |text: &str| Strings::read(&SourceText::new("a.csv", text), &Reading::default());
        let sums =
            ["Mittelwert", "Durchschnitt", "Moyenne", "Media", "Arithmetic mean", "V avg", "Ø", "Total", "", "Kwiek"];
        for label in sums {
            let strings = read(&format!("{shots}{label};807,7\n")).unwrap();
            assert_eq!(strings.strings[0].readings, words, "{label}");
            assert_eq!(strings.summary_rows.iter().map(|r| r.row).collect::<Vec<_>>(), [7], "{label}");
            // Above the shots as well, and a spread.
            let above = shots.replacen("\n1;", &format!("\n{label};807,7\n{label};4,1\n1;"), 1);
            assert_eq!(read(&above).unwrap().strings[0].readings, words, "{label}");
        }
        let fault = read("velocity (ft/s),label\n2690,\n2688,\n2692,\n2689,Kwiek\n").unwrap_err();
        assert_eq!(fault.position(), Some((5, 1)), "{fault}");
        // What could be a shot beyond the others is asked for, not left out.
        for speed in ["813,0", "795,0"] {
            let fault = read(&format!("{shots};{speed}\n")).unwrap_err();
            assert_eq!(fault.position(), Some((7, 1)), "{fault}");
        }
    }

    #[test]
    fn shots_without_a_reading_are_set_apart_and_told() {
        for none in ["ERR", "", "--", "n/a", "Error"] {
            let text = format!("shot,velocity (ft/s)\n1,2648\n2,{none}\n3,2655\n4,2650\n");
            let read = Strings::read(&SourceText::new("a.csv", text.as_str()), &Reading::default()).unwrap();
            assert_eq!(read.strings[0].readings.readings().len(), 3, "{none}");
            assert_eq!(read.summary_rows.iter().map(|r| r.row).collect::<Vec<_>>(), [3], "{none}");
        }
    }

    #[test]
    fn a_unit_given_beside_is_taken_and_one_that_differs_is_refused() {
        let unit = unit_spelled("m/s");
        let words = Readings::from_words(["807.1m/s", "809.2m/s"]).unwrap();
        let given = Reading { column: None, unit };
        for text in ["807.1\n809.2\n", "velocity\n807.1\n809.2\n", "shot;v0\n1;807,1\n2;809,2\n"] {
            assert_eq!(Strings::read(&SourceText::new("a", text), &given).unwrap().only().unwrap(), words, "{text}");
        }
        for text in ["807 fps\n809 fps\n", "v0 (ft/s)\n807\n809\n", "unit ft/s\n807\n809\n"] {
            let fault = Strings::read(&SourceText::new("a", text), &given).unwrap_err();
            assert!(fault.to_string().contains("m/s"), "{text}: {fault}");
        }
        assert_eq!(Readings::from_words_in(["807.1", "809.2"], unit).unwrap(), words);
    }

    #[test]
    fn a_column_of_bibs_makes_a_string_of_each() {
        let text = "bib,velocity (ft/s)\n11,2648\n12,3020\n11,2655\n12,3030\n";
        let read = Strings::read(&SourceText::new("a.csv", text), &Reading::default()).unwrap();
        let bibs: Vec<_> = read.strings.iter().map(|s| (s.bib.as_deref(), s.readings.readings().len())).collect();
        assert_eq!(bibs, [(Some("11"), 2), (Some("12"), 2)]);
        assert!(read.only().is_err());
        let fault =
            Strings::read(&SourceText::new("a", "bib,velocity (ft/s)\n,2648\n"), &Reading::default()).unwrap_err();
        assert_eq!(fault.position(), Some((2, 1)), "{fault}");
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
