//! Columns beside the readings that tell of the same shots: other speeds, energies and power factors.

use super::super::above::Above;
use super::super::string::{Growing, heading};
use super::super::sums::{Sum, has, is_no_speed, said};
use super::judged::Told;
use super::{Head, is_number};
use crate::quantity::unit::Unit;
use crate::quantity::{Energy, Mass, Measure, Velocity, unit};
use crate::source::grid::{Field, Line};
use crate::source::table::pointed;
use std::borrow::Cow;
use std::ops::Range;

/// Words of a column of speeds, whether or not its unit stands there.
const SPEEDS: &[&str] = &["velocity", "speed", "vel", "v0", "mv", "muzzle"];
/// Words of a column of energies, and of power factors.
const ENERGIES: &[&str] = &["energy", "ke", "energie", "énergie", "energia", "energía"];
const FACTORS: &[&str] = &["power", "pf"];
/// What a power factor may be a thousandth, a hundredth, a tenth or the whole of, in grams and metres a second.
const OF_A_FACTOR: [f64; 4] = [1e3, 1e2, 1e1, 1.0];

/// What a column of energies or power factors says that the bullet weighs.
struct Weighing {
    at: usize,
    /// `None` for a power factor.
    energy: Option<Vec<Unit<Energy>>>,
    /// Kilograms added up over the shots, in each way that the column may be read.
    sums: Vec<f64>,
    shots: f64,
    /// Its first cell.
    first: Option<(Range<usize>, String)>,
}

/// The columns, as their rows are read.
pub(super) struct Others {
    speeds: Vec<(usize, Option<Unit<Velocity>>)>,
    weighing: Vec<Weighing>,
}

impl Others {
    /// Of a head; where the column of readings was named, another speed is none of them.
    pub fn of(head: &Head, is_named: bool) -> Self {
        let others = || (0..head.titles.len()).filter(|&at| at != head.at && Some(at) != head.bib);
        let speed = |at: usize| {
            let (title, (_, unit)) = (&head.titles[at].1, heading(&head.titles[at].1));
            let words = said(title);
            let is_speed = has(&words, SPEEDS) && !title.contains(['(', '[']);
            (unit.is_some() || (is_speed && !is_no_speed(&words))).then_some((at, unit))
        };
        let speeds = others().filter(|_| !is_named).filter_map(speed).collect();
        Self { speeds, weighing: others().filter_map(|at| Weighing::of(at, &head.titles[at].1)).collect() }
    }

    /// What a row tells beside its reading: a faster shot may stand in a column that is not read.
    pub fn take(
        &mut self,
        line: &Line,
        (cells, texts): (&[Field], &[Cow<str>]),
        separator: char,
        (reading, unit): (Option<Velocity>, Option<Unit<Velocity>>),
    ) -> Vec<Told> {
        for one in &mut self.weighing {
            let text = texts.get(one.at).map(|text| pointed(text.trim(), separator)).unwrap_or_default();
            let (Some(speed), Ok(number)) = (reading, text.parse::<f64>()) else { continue };
            if number > 0.0 && number.is_finite() {
                one.take(number, speed.si());
                one.first.get_or_insert_with(|| (cells[one.at].span.clone(), text));
            }
        }
        let told = self.speeds.iter().filter_map(|&(at, own)| {
            let speed = Growing::alone(&pointed(texts.get(at)?.trim(), separator), own.or(unit))?;
            Some(Told { row: line.number, span: cells.get(at)?.span.clone(), sum: Sum::Unread(speed.si()) })
        });
        told.collect()
    }

    /// What a row without a reading holds in another column than its own: `3,,2901`.
    pub fn astray(
        line: &Line,
        cells: &[Field],
        texts: &[Cow<str>],
        separator: char,
        numbered: &[usize],
        unit: Option<Unit<Velocity>>,
    ) -> Vec<Told> {
        let free = cells.iter().zip(texts).enumerate().filter(|(at, _)| !numbered.contains(at));
        let told = free.filter_map(|(_, (cell, text))| {
            let text = pointed(text.trim(), separator);
            let speed = Growing::alone(&text, unit).filter(|_| is_number(&text))?;
            Some(Told { row: line.number, span: cell.span.clone(), sum: Sum::Unread(speed.si()) })
        });
        told.collect()
    }

    /// What the columns say that the bullet weighs.
    pub fn weighed(self, head: &Head) -> Vec<Above> {
        let said = self.weighing.into_iter().filter_map(|one| {
            let (span, text) = one.first?;
            let masses = one.sums.iter().map(|sum| Mass::from_si(sum / one.shots)).collect();
            Some(Above::cell(span, &head.titles[one.at].1, &text).weighing(masses))
        });
        said.collect()
    }
}

impl Weighing {
    fn of(at: usize, title: &str) -> Option<Self> {
        let words = said(title);
        let inside = title.split_once(['(', '[']).map(|(_, inside)| inside.trim_end_matches([')', ']']).trim());
        let energy = if has(&words, ENERGIES) {
            let both = [unit::FOOT_POUND, unit::JOULE];
            let of = inside.or_else(|| title.split_whitespace().next_back()).unwrap_or_default();
            let own: Vec<_> = both.into_iter().filter(|unit| unit.is_spelled_loosely(of)).collect();
            Some(if own.is_empty() { both.to_vec() } else { own })
        } else {
            None
        };
        let ways = energy.as_ref().map_or(1 + OF_A_FACTOR.len(), Vec::len);
        let is_told = energy.is_some() || has(&words, FACTORS);
        is_told.then(|| Self { at, energy, sums: vec![0.0; ways], shots: 0.0, first: None })
    }

    fn take(&mut self, number: f64, mps: f64) {
        let kilograms: Vec<f64> = if let Some(units) = &self.energy {
            units.iter().map(|unit| 2.0 * unit.of(number).si() / (mps * mps)).collect()
        } else {
            let fps = unit::FOOT_PER_SECOND.value(Velocity::from_si(mps));
            let grains = unit::GRAIN.of(1e3 * number / fps).si();
            let grams = OF_A_FACTOR.iter().map(|of| unit::GRAM.of(of * number / mps).si());
            std::iter::once(grains).chain(grams).collect()
        };
        self.sums.iter_mut().zip(kilograms).for_each(|(sum, kilograms)| *sum += kilograms);
        self.shots += 1.0;
    }
}
