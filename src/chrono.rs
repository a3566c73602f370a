//! Chronograph strings: readings in, mean, spread and tolerance bound out; odd readings pointed at, never
//! dropped.

use crate::quantity::{Measure, Velocity, parse, show, unit};
use crate::source::{Diagnostic, SourceText};
use crate::spread::tolerance::{self, ToleranceError};
use statrs::distribution::{ChiSquared, ContinuousCDF, StudentsT};
use std::ops::Range;

/// The most readings of a string.
pub const MOST_READINGS: usize = tolerance::MOST_READINGS;
/// Bounds of a reading, ft/s.
const READING_FPS: std::ops::RangeInclusive<f64> = 50.0..=6000.0;
/// Significance of Grubbs' two-sided test for an outlier.
const OUTLIER_LEVEL: f64 = 0.01;
/// Feet in a metre: what a unit slip multiplies by.
const SLIP: f64 = 1.0 / 0.3048;
/// How near to the string's median a slipped reading comes when turned back.
const SLIP_NEAR: f64 = 0.1;

/// A string of readings, at least two.
#[derive(Debug, Clone, PartialEq)]
pub struct Readings(Vec<Velocity>);

/// What a string comes to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Summary {
    /// How many readings.
    pub n: usize,
    /// Their mean.
    pub mean: Velocity,
    /// Their standard deviation, n − 1.
    pub sd: Velocity,
    /// The interval that holds the true standard deviation with the confidence (chi-squared, two-sided).
    pub sd_interval: (Velocity, Velocity),
    /// Fastest less slowest.
    pub extreme_spread: Velocity,
    /// The tolerance factor k.
    pub factor: f64,
    /// Mean + k·s: with the confidence, at least the coverage of all shots are no faster.
    pub fast_bound: Velocity,
    /// Mean − k·s, likewise for slow shots.
    pub slow_bound: Velocity,
}

/// Why a reading is odd.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Oddity {
    /// It would fit if it were in the other unit.
    UnitSlip,
    /// Grubbs' two-sided test at 1 % sets it apart.
    Outlier,
}

/// An odd reading: it stays in the string.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Suspicion {
    /// Its place in the string, from 0.
    pub index: usize,
    /// The reading.
    pub reading: Velocity,
    /// Why it is odd.
    pub oddity: Oddity,
}

impl Readings {
    /// A string from readings in order.
    ///
    /// # Errors
    /// A [`Diagnostic`] for fewer than two, too many, or an absurd one.
    pub fn new(readings: Vec<Velocity>) -> Result<Self, Diagnostic> {
        if readings.len() < 2 {
            let message = format!("{} readings make no spread", readings.len());
            return Err(Diagnostic::plain(message).help("give at least 2 readings; 10 or more make a useful bound"));
        }
        if readings.len() > MOST_READINGS {
            return Err(Diagnostic::plain("too many readings").help(format!("a string has at most {MOST_READINGS}")));
        }
        if let Some(reading) = readings.iter().find(|v| !READING_FPS.contains(&unit::FOOT_PER_SECOND.value(**v))) {
            let text = show(*reading, &unit::FOOT_PER_SECOND, 0);
            return Err(Diagnostic::plain(format!("a reading of `{text}`"))
                .help("readings are taken from 50 to 6000 ft/s: check the unit"));
        }
        Ok(Self(readings))
    }

    /// Reads readings with their units, `2648fps`.
    ///
    /// # Errors
    /// A [`Diagnostic`] names the reading at fault.
    pub fn from_words<'t>(words: impl IntoIterator<Item = &'t str>) -> Result<Self, Diagnostic> {
        let read = |word: &str| {
            parse::<Velocity>(word).map_err(|e| Diagnostic::plain(format!("reading `{word}`: {e}")).help(e.help()))
        };
        Self::new(words.into_iter().map(read).collect::<Result<_, _>>()?)
    }

    /// Reads a text: one reading a line with its unit, or plain numbers below a line `unit ft/s`; or CSV, whose
    /// column is named or is the only one with a unit of speed in its head. `#` begins a comment.
    ///
    /// # Errors
    /// A [`Diagnostic`] at the line at fault.
    pub fn read(source: &SourceText, column: Option<&str>) -> Result<Self, Diagnostic> {
        let first = source.text.lines().map(str::trim).find(|l| !l.is_empty() && !l.starts_with('#'));
        if column.is_some() || first.is_some_and(|line| line.contains([',', '('])) {
            return Self::read_csv(source, column);
        }
        let mut readings = Vec::new();
        let mut unit_word = None;
        for (span, line) in lines(source) {
            if let Some(word) = line.strip_prefix("unit ") {
                parse::<Velocity>(&format!("1 {word}"))
                    .map_err(|e| source.fault(span, e.to_string()).help(e.help()))?;
                unit_word = Some(word.trim());
                continue;
            }
            let bare = line.parse::<f64>().is_ok();
            let text = match (bare, unit_word) {
                (true, Some(word)) => format!("{line} {word}"),
                _ => line.to_owned(),
            };
            let reading = parse::<Velocity>(&text).map_err(|e| {
                let help = if bare { format!("{}, or put a line `unit ft/s` on top", e.help()) } else { e.help() };
                source.fault(span, e.to_string()).help(help)
            })?;
            push(&mut readings, reading)?;
        }
        Self::new(readings)
    }

    fn read_csv(source: &SourceText, column: Option<&str>) -> Result<Self, Diagnostic> {
        let mut reader = csv::ReaderBuilder::new()
            .comment(Some(b'#'))
            .trim(csv::Trim::All)
            .flexible(true)
            .from_reader(source.text.as_bytes());
        let fault = |e: &csv::Error| {
            #[allow(clippy::cast_possible_truncation)] // A position in a text held in memory.
            let at = e.position().map_or(0, |p| p.byte() as usize);
            source.fault(at..at, format!("the table can't be read: {e}")).help("save it as CSV with a head")
        };
        let head: Vec<String> = reader.headers().map_err(|e| fault(&e))?.iter().map(str::to_owned).collect();
        let (index, word) = chosen(source, &head, column)?;
        let mut readings = Vec::new();
        for record in reader.records() {
            let record = record.map_err(|e| fault(&e))?;
            #[allow(clippy::cast_possible_truncation)] // A position in a text held in memory.
            let at = record.position().map_or(0, |p| p.byte() as usize);
            let end = source.text.get(at..).and_then(|t| t.find('\n')).map_or(source.text.len(), |n| at + n);
            let cell = record.get(index).unwrap_or("").trim();
            if cell.is_empty() {
                return Err(source.fault(at..end, "the row has no reading").help("remove the row, or fill the cell"));
            }
            let text = if cell.parse::<f64>().is_ok() { format!("{cell} {word}") } else { cell.to_owned() };
            let reading = parse::<Velocity>(&text).map_err(|e| source.fault(at..end, e.to_string()).help(e.help()))?;
            push(&mut readings, reading)?;
        }
        Self::new(readings)
    }

    /// The readings in order.
    #[must_use]
    pub fn readings(&self) -> &[Velocity] {
        &self.0
    }

    /// Mean, spread, and the tolerance bound for a coverage and a confidence.
    ///
    /// # Errors
    /// [`ToleranceError`] for a coverage or confidence out of bounds.
    pub fn summary(&self, coverage: f64, confidence: f64) -> Result<Summary, ToleranceError> {
        let n = self.0.len();
        let factor = tolerance::factor(n, coverage, confidence)?;
        let (mean, sd) = self.mean_and_sd();
        let (fastest, slowest) = self.0.iter().fold((f64::MIN, f64::MAX), |(a, b), v| (a.max(v.si()), b.min(v.si())));
        let nu = n as f64 - 1.0;
        let interval = |share: f64| {
            let quantile = ChiSquared::new(nu).map_or(f64::NAN, |chi| chi.inverse_cdf(share));
            Velocity::from_si(sd * (nu / quantile).sqrt())
        };
        Ok(Summary {
            n,
            mean: Velocity::from_si(mean),
            sd: Velocity::from_si(sd),
            sd_interval: (interval(0.5 + 0.5 * confidence), interval(0.5 - 0.5 * confidence)),
            extreme_spread: Velocity::from_si(fastest - slowest),
            factor,
            fast_bound: Velocity::from_si(mean + factor * sd),
            slow_bound: Velocity::from_si((mean - factor * sd).max(0.0)),
        })
    }

    fn mean_and_sd(&self) -> (f64, f64) {
        let n = self.0.len() as f64;
        let mean = self.0.iter().map(|v| v.si()).sum::<f64>() / n;
        let squares = self.0.iter().map(|v| (v.si() - mean).powi(2)).sum::<f64>();
        (mean, (squares / (n - 1.0)).sqrt())
    }

    /// Odd readings: unit slips, and the outlier of Grubbs' test.
    #[must_use]
    pub fn suspicions(&self) -> Vec<Suspicion> {
        let median = self.median();
        let slipped = |v: f64| [v * SLIP, v / SLIP].iter().any(|w| (w / median - 1.0).abs() < SLIP_NEAR);
        let mut found: Vec<Suspicion> = Vec::new();
        for (index, &reading) in self.0.iter().enumerate() {
            if slipped(reading.si()) {
                found.push(Suspicion { index, reading, oddity: Oddity::UnitSlip });
            }
        }
        if let Some(index) = self.outlier().filter(|i| found.iter().all(|s| s.index != *i)) {
            found.push(Suspicion { index, reading: self.0[index], oddity: Oddity::Outlier });
        }
        found
    }

    fn median(&self) -> f64 {
        let mut sorted: Vec<f64> = self.0.iter().map(|v| v.si()).collect();
        sorted.sort_by(f64::total_cmp);
        let middle = sorted.len() / 2;
        if sorted.len() % 2 == 1 { sorted[middle] } else { 0.5 * (sorted[middle - 1] + sorted[middle]) }
    }

    /// Grubbs' two-sided test (F. E. Grubbs, Technometrics 11, 1969): the farthest reading, where it is too far.
    fn outlier(&self) -> Option<usize> {
        let (mean, sd) = self.mean_and_sd();
        let far = |v: &Velocity| (v.si() - mean).abs();
        let (index, reading) = self.0.iter().enumerate().max_by(|a, b| far(a.1).total_cmp(&far(b.1)))?;
        let critical = grubbs_critical(self.0.len(), OUTLIER_LEVEL)?;
        (sd > 0.0 && far(reading) / sd > critical).then_some(index)
    }
}

/// Critical value of Grubbs' two-sided test, `(n−1)/√n·√(t²/(n−2+t²))`; `None` below three readings.
#[must_use]
pub fn grubbs_critical(n: usize, level: f64) -> Option<f64> {
    if n < 3 {
        return None;
    }
    let size = n as f64;
    let student = StudentsT::new(0.0, 1.0, size - 2.0).ok()?;
    let t = student.inverse_cdf(1.0 - level / (2.0 * size));
    Some((size - 1.0) / size.sqrt() * (t * t / (size - 2.0 + t * t)).sqrt())
}

fn push(readings: &mut Vec<Velocity>, reading: Velocity) -> Result<(), Diagnostic> {
    if readings.len() == MOST_READINGS {
        return Err(Diagnostic::plain("too many readings").help(format!("a string has at most {MOST_READINGS}")));
    }
    readings.push(reading);
    Ok(())
}

/// The lines that say something, with their spans.
fn lines(source: &SourceText) -> impl Iterator<Item = (Range<usize>, &str)> {
    let mut offset = 0;
    source.text.split_inclusive('\n').filter_map(move |line| {
        let start = offset;
        offset += line.len();
        let text = line.split('#').next().unwrap_or_default().trim();
        (!text.is_empty()).then(|| (start..start + line.trim_end().len(), text))
    })
}

/// The column of readings and its unit.
fn chosen<'h>(source: &SourceText, head: &'h [String], column: Option<&str>) -> Result<(usize, &'h str), Diagnostic> {
    let unit_of = |title: &'h str| {
        let word = title.split(['(', '[']).nth(1)?.trim_end_matches([')', ']']).trim();
        parse::<Velocity>(&format!("1 {word}")).is_ok().then_some(word)
    };
    let name_of = |title: &str| title.split(['(', '[']).next().unwrap_or_default().trim().to_lowercase();
    let end = source.text.find('\n').unwrap_or(source.text.len());
    let fault = |message: String, help: String| Err(source.fault(0..end, message).help(help));
    let columns = head.join(", ");
    let found: Vec<usize> = match column {
        Some(name) => (0..head.len()).filter(|&i| name_of(&head[i]) == name_of(name) || head[i] == name).collect(),
        None => (0..head.len()).filter(|&i| unit_of(&head[i]).is_some()).collect(),
    };
    match (found.as_slice(), column) {
        ([one], _) => match unit_of(&head[*one]) {
            Some(word) => Ok((*one, word)),
            None => {
                fault(format!("column `{}` has no unit of speed", head[*one]), "head it as `velocity (ft/s)`".into())
            }
        },
        ([], Some(name)) => fault(format!("there is no column `{name}`"), format!("there are: {columns}")),
        ([], None) => fault("no column has a unit of speed".into(), "head it as `velocity (ft/s)`".into()),
        _ => fault(
            "more than one column could be meant".into(),
            format!("name one with `--column`; there are: {columns}"),
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
        let words = Readings::from_words(["2648fps", "2655 ft/s", "2641fps"]).unwrap();
        for (text, column) in [
            ("# a string\n2648 fps\n2655 fps # hot\n\n2641fps\n", None),
            ("unit ft/s\n2648\n2655\n2641\n", None),
            ("shot,velocity (ft/s)\n1,2648\n2,2655\n3,2641\n", None),
            ("shot,velocity (ft/s),other (m/s)\n1,2648,1\n2,2655,1\n3,2641,1\n", Some("velocity")),
        ] {
            assert_eq!(read(text, column).unwrap(), words, "{text}");
        }
    }

    #[test]
    fn what_could_be_read_in_two_ways_is_refused_at_its_place() {
        for (text, column, line) in [
            ("2648\n2655\n", None, 1),
            ("unit ft/s\n2648\nfast\n", None, 3),
            ("unit furlong\n1\n", None, 1),
            ("a (ft/s),b (ft/s)\n1,2\n", None, 1),
            ("shot,velocity\n1,2648\n", None, 1),
            ("shot,velocity (ft/s)\n1,2648\n2,\n", None, 3),
            ("shot,velocity (ft/s)\n1,2648\n", Some("speed"), 1),
        ] {
            let fault = read(text, column).unwrap_err();
            assert_eq!(fault.position().map(|p| p.0), Some(line), "{text}: {fault}");
            assert!(fault.help.is_some());
        }
        assert!(read("2648 fps\n", None).unwrap_err().message.contains("1 readings"));
        assert!(read("2648 fps\n9999 fps\n", None).is_err());
    }

    #[test]
    fn mean_spread_and_bound_are_those_of_the_hand() {
        let readings = Readings::from_words(["100 m/s", "102 m/s", "104 m/s"]).unwrap();
        let summary = readings.summary(0.9, 0.95).unwrap();
        assert!((summary.mean.si() - 102.0).abs() < 1e-12 && (summary.sd.si() - 2.0).abs() < 1e-12);
        assert!((summary.extreme_spread.si() - 4.0).abs() < 1e-12);
        assert!((summary.fast_bound.si() - (102.0 + 2.0 * summary.factor)).abs() < 1e-12);
        // χ²(2) quantiles 0.025 and 0.975 from any table: 0.0506, 7.3778.
        assert!((summary.sd_interval.0.si() - 2.0 * (2.0_f64 / 7.3778).sqrt()).abs() < 1e-3);
        assert!((summary.sd_interval.1.si() - 2.0 * (2.0_f64 / 0.050_636).sqrt()).abs() < 1e-2);
    }

    #[test]
    fn a_unit_slip_and_an_outlier_are_pointed_at_and_stay() {
        let slip = Readings::from_words(["2648fps", "2655fps", "808fps", "2641fps", "2650fps"]).unwrap();
        assert_eq!(slip.suspicions()[0].oddity, Oddity::UnitSlip);
        assert_eq!(slip.suspicions()[0].index, 2);
        let words = ["2648fps", "2655fps", "2651fps", "2641fps", "2650fps", "2647fps", "2652fps", "2760fps"];
        let outlier = Readings::from_words(words).unwrap();
        assert_eq!(
            outlier.suspicions(),
            [Suspicion { index: 7, reading: outlier.readings()[7], oddity: Oddity::Outlier }]
        );
        assert_eq!(outlier.summary(0.99, 0.95).unwrap().n, 8);
        let same = Readings::from_words(["2648fps", "2648fps", "2648fps"]).unwrap();
        assert!(same.suspicions().is_empty());
    }

    #[test]
    fn grubbs_critical_values_are_those_of_the_table() {
        // Two-sided 1 % table values, Grubbs and Beck, Technometrics 14, 1972 (from memory).
        for (n, critical) in [(3, 1.155), (5, 1.764), (10, 2.482), (20, 3.001)] {
            assert!(
                (grubbs_critical(n, 0.01).unwrap() - critical).abs() < 2e-3,
                "{n} {}",
                grubbs_critical(n, 0.01).unwrap()
            );
        }
    }
}
