//! How close, in a line.

use super::super::elsewhere;
use super::super::error::at;
use super::super::found::Found;
use super::super::nearest::{Nearest, is_nearer};
use super::super::resolve::loads::AnyAmmunition;
use super::super::say;
use super::super::worst::{self, Lost};
use super::ceiling::Airs;
use super::{Case, Rows, single};
use crate::quantity::{Length, Measure};
use crate::rules::{Closest, Verdict};
use crate::source::{Diagnostic, clean};
use crate::words;

/// Distances that differ by less are told as one, m.
const SAME_M: f64 = 0.5;
/// Cells that are worse in other air: so many are named.
const MAX_NAMED: usize = 3;

impl Case {
    pub(super) fn headline(&self, rows: &Rows) -> Result<String, Diagnostic> {
        match single(rows) {
            Some(cell) => self.single_headline(cell),
            None => Ok(self.chart_headline(rows)),
        }
    }

    fn single_headline(&self, cell: &Found) -> Result<String, Diagnostic> {
        let load = self.load(0, cell);
        let name = worst::called(&self.asked[0], load);
        let plate = clean(&self.plates[0].label);
        let why = cell.closest.by().map(|rule| clean(&rule.why)).unwrap_or_default();
        if let Some(distance) = self.at {
            let verdict = cell.at.map_or("out of reach".to_owned(), |(_, verdict)| verdict.to_string());
            let closest = self.closest_words(cell);
            let turn = if cell.at.is_some() { self.turn_at(cell)? } else { None };
            let turned = turn.map(|t| format!(" {}, else {}", t.holds, t.there)).unwrap_or_default();
            let at = self.units.distance(distance);
            return Ok(format!("{}{turned}: {name} on {plate} at {at}; {closest}.", words::sentence(&verdict)));
        }
        if cell.listed_only {
            return Ok(format!("Borderline at best: {name} on {plate}; {}.", self.closest_words(cell)));
        }
        let Some(here) = cell.closest.distance() else {
            let from = |(from, to)| format!(", borderline from {}", self.units.from_to(from, to));
            let from = cell.borderline().map(from).unwrap_or_default();
            return Ok(format!("{name} on {plate}: {}{from}: {why}.", self.closest_words(cell)));
        };
        let (_, far) = cell.nearest();
        let why = far.by().map(|rule| clean(&rule.why)).unwrap_or_default();
        let farther = far.distance().is_none_or(|far| far > here + Length::from_si(SAME_M));
        let taken = if farther && elsewhere::Open::of(&self.air).is_more_than_damp() {
            let (end, here) = (elsewhere::end(&self.air, self.units), self.units.distance_up(here));
            format!(" for {end} ({here} in this air)")
        } else {
            String::new()
        };
        Ok(format!("{name} on {plate}: {}{taken}: {why}.", self.closest_words(cell)))
    }

    /// How near anyone may come, whatever distance was asked.
    pub(super) fn nearest_words(&self, cell: &Found, nearest: Option<Length>) -> String {
        if cell.unknown {
            return "No distance is good for all of it.".into();
        }
        if nearest.is_none() && cell.closest.distance().is_some() {
            return format!("No distance is good {}: give the air.", elsewhere::end_words(&self.air, self.units));
        }
        if nearest.is_none() {
            return "No distance is good.".into();
        }
        let suits = cell
            .at
            .is_some_and(|(judgement, verdict)| judgement.verdict == Verdict::Suits && verdict != Verdict::Unsuitable);
        let nearer = suits && self.at.zip(nearest).is_some_and(|(at, nearest)| is_nearer(at, nearest, self.units));
        let tail = if nearer { ", or give the air" } else { "" };
        Nearest::of_any(nearest, cell.farthest_distance(), self.at.as_slice(), cell.listed_only)
            .sentence("Nobody", tail, self.units)
    }

    fn closest_words(&self, cell: &Found) -> String {
        match cell.nearest().1 {
            Closest::At { distance, .. } => {
                let from = self.units.distance_kept(distance, self.at.as_slice());
                let end = cell.farthest_distance().map(|end| self.units.distance_down(end));
                let end = end.map(|end| format!(" and no farther than {end}")).unwrap_or_default();
                format!("no closer than {from}{end}")
            }
            Closest::BeyondReach { .. } => "not within reach".into(),
            Closest::Never { .. } => "at no distance".into(),
        }
    }

    fn turn_at(&self, cell: &Found) -> Result<Option<elsewhere::Turn<Verdict>>, Diagnostic> {
        let here = cell.verdict();
        elsewhere::turn(&self.air, &here, self.units, |weather| {
            let conditions = self.conditions(weather)?;
            let (mut rows, _) = self.rows(Airs { here: &conditions, there: None })?;
            self.keep_off(&mut rows, &conditions, None)?;
            let cell = single(&rows);
            match cell.filter(|cell| cell.at.is_some()) {
                Some(cell) => Ok(cell.verdict()),
                None => Err(Lost::Short(at("at", "the bullet does not get there", "ask for a nearer distance"))),
            }
        })
    }

    fn chart_headline(&self, rows: &Rows) -> String {
        let setup = &self.stand.setup;
        let words = format!(
            "{} {}, {}, {} duty",
            say::face(&setup.face, self.units),
            setup.steel,
            setup.mount.words(),
            setup.duty
        );
        // The table of one load has no column for it.
        let of = match self.asked.as_slice() {
            [one] => {
                let name = || one.loads.first().map(|load| load.facts().name.clone()).unwrap_or_default();
                format!(" of {}", one.any.as_ref().map_or_else(name, AnyAmmunition::called))
            }
            _ => String::new(),
        };
        let lead = match self.at {
            Some(at) => format!("What {words} admits{of} at {}", self.units.distance(at)),
            None => format!("Nearest distances{of}, {words}"),
        };
        let never = |row: &[Found]| row.iter().map(Found::verdict).min() == Some(Verdict::Unsuitable);
        let none = self.called_where(rows, never);
        // With a distance asked, the cells that are worse in other air are named behind it.
        let not_in_all = |row: &[Found]| self.at.is_none() && !never(row) && row.iter().all(Found::is_never_in_all);
        let elsewhere = self.called_where(rows, not_in_all);
        let mut told = String::new();
        if !none.is_empty() {
            told.push_str(&format!("; on none of these plates: {}", words::listed(&none)));
        }
        if !self.named && rows.iter().all(|row| never(row)) {
            told.push_str("; no load suits any of these plates");
        }
        if !elsewhere.is_empty() {
            let end = elsewhere::end_words(&self.air, self.units);
            told.push_str(&format!("; on none of these plates {end}: {}", words::listed(&elsewhere)));
        }
        format!("{lead}{told}.{}", self.grown(rows))
    }

    /// What was named whose row is such a one.
    fn called_where(&self, rows: &Rows, is: impl Fn(&[Found]) -> bool) -> Vec<String> {
        let of = (0..rows.len()).filter(|&row| self.named && is(&rows[row]));
        of.filter_map(|row| Some(worst::called(&self.asked[row], self.load(row, rows[row].first()?)))).collect()
    }

    /// How the chart changes at the bad end of the air that was not given.
    fn grown(&self, rows: &Rows) -> String {
        if !rows.iter().flatten().any(|cell| cell.there.is_some()) {
            return String::new();
        }
        let end = elsewhere::end(&self.air, self.units);
        if self.at.is_none() {
            let wide = elsewhere::Open::of(&self.air).is_more_than_damp();
            return if wide { format!(" They hold for {end}.") } else { String::new() };
        }
        let worse: Vec<String> = (0..rows.len()).flat_map(|row| self.worse_there(row, &rows[row])).collect();
        match worse.len() {
            0 => String::new(),
            1..=MAX_NAMED => format!(" For all of {end} {}.", words::listed(&worse)),
            many => format!(" For all of {end} {many} of the cells are worse: give the air to see which."),
        }
    }

    /// What a load's plates are at the bad end of the air where that is worse than here.
    fn worse_there(&self, row: usize, cells: &[Found]) -> Vec<String> {
        let told = |(plate, cell): (usize, &Found)| {
            let there = cell.there?.at.filter(|there| *there > cell.verdict())?;
            let name = worst::called(&self.asked[row], self.load(row, cell));
            Some(format!("{name} on {} is {there}", clean(&self.plates[plate].label)))
        };
        cells.iter().enumerate().filter_map(told).collect()
    }
}
