//! Odd readings: a slip of the unit, an outlier by Grubbs' test.

use super::{Readings, Summary, mean_and_sd};
use crate::order::Order;
use crate::quantity::{Measure, Velocity, unit};
use crate::spread::tolerance::ToleranceError;
use statrs::distribution::{ContinuousCDF, StudentsT};

/// Significance of Grubbs' two-sided test for an outlier.
const OUTLIER_LEVEL: f64 = 0.01;
/// Feet in a metre: what a unit slip multiplies by.
const SLIP: f64 = 1.0 / unit::FOOT_M;
/// How near to the string's median a slipped reading comes when turned back.
const SLIP_NEAR: f64 = 0.1;

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

/// A string judged twice: the bound holds with its odd readings in it, and would be another without them.
#[derive(Debug, Clone, PartialEq)]
pub struct SetApart {
    /// The odd readings.
    pub readings: Vec<Suspicion>,
    /// What the string comes to without them; `None` where too little is left.
    pub without: Option<Summary>,
}

impl Readings {
    /// The odd readings and what the string comes to without them; `None` where none is odd. The plan is made with
    /// them: whether one is a slip only the shooter knows.
    ///
    /// # Errors
    /// [`ToleranceError`] for a coverage or confidence out of bounds.
    pub fn set_apart(&self, coverage: f64, confidence: f64) -> Result<Option<SetApart>, ToleranceError> {
        let readings = self.suspicions();
        if readings.is_empty() {
            return Ok(None);
        }
        let is_odd = |index: usize| readings.iter().any(|odd| odd.index == index);
        let rest = self.0.iter().enumerate().filter(|(index, _)| !is_odd(*index)).map(|(_, v)| *v).collect();
        let without = Self::new(rest).ok().map(|rest| rest.summary(coverage, confidence)).transpose()?;
        Ok(Some(SetApart { readings, without }))
    }

    /// Odd readings, in their order: unit slips, and the outlier of Grubbs' test among the others, which a slip
    /// would hide. Where half of the readings are slipped each half fits the other, and all are named.
    #[must_use]
    pub fn suspicions(&self) -> Vec<Suspicion> {
        let medians = self.medians();
        let slipped = |v: f64| {
            let turned = [v * SLIP, v / SLIP];
            turned.iter().any(|w| medians.iter().any(|median| (w / median - 1.0).abs() < SLIP_NEAR))
        };
        let (slips, others): (Vec<_>, Vec<_>) = self.0.iter().enumerate().partition(|(_, v)| slipped(v.si()));
        let suspicion = |oddity| move |(index, &reading): (usize, &Velocity)| Suspicion { index, reading, oddity };
        let mut found: Vec<_> = slips.into_iter().map(suspicion(Oddity::UnitSlip)).collect();
        found.extend(outlier(&others).map(suspicion(Oddity::Outlier)));
        found.order_by_key(|s| s.index);
        found
    }

    /// The readings in the middle: one, or two of an even number.
    fn medians(&self) -> Vec<f64> {
        let mut sorted: Vec<f64> = self.0.iter().map(|v| v.si()).collect();
        sorted.order_by(f64::total_cmp);
        let (low, high) = ((sorted.len().saturating_sub(1)) / 2, sorted.len() / 2);
        sorted.get(low..=high).unwrap_or_default().to_vec()
    }
}

/// Grubbs' two-sided test (F. E. Grubbs, Technometrics 11, 1969): the farthest reading, where it is too far.
fn outlier<'r>(readings: &[(usize, &'r Velocity)]) -> Option<(usize, &'r Velocity)> {
    let critical = grubbs_critical(readings.len(), OUTLIER_LEVEL)?;
    let (mean, sd) = mean_and_sd(readings.iter().map(|(_, v)| v.si()));
    let far = |v: &Velocity| (v.si() - mean).abs();
    let farthest = readings.iter().max_by(|a, b| far(a.1).total_cmp(&far(b.1)))?;
    (sd > 0.0 && far(farthest.1) / sd > critical).then_some(*farthest)
}

/// Critical value of Grubbs' two-sided test, `(n−1)/√n·√(t²/(n−2+t²))` with t of Student at `level/(2n)` and
/// n − 2 degrees of freedom; `None` below three readings, or for a level outside 0 to 1.
#[must_use]
pub fn grubbs_critical(n: usize, level: f64) -> Option<f64> {
    if n < 3 || !(level > 0.0 && level < 1.0) {
        return None;
    }
    let size = n as f64;
    let student = StudentsT::new(0.0, 1.0, size - 2.0).ok()?;
    let t = student.inverse_cdf(level / (2.0 * size));
    Some((size - 1.0) / size.sqrt() * (t * t / (size - 2.0 + t * t)).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;

    const GRUBBS: [(usize, f64); 8] = [
        (3, 1.154_684_710_029_975),
        (4, 1.496_25),
        (7, 2.139_105_989_426_473),
        (50, 3.482_461_799_803_816),
        (100, 3.754_004_372_104_031),
        (1000, 4.396_762_527_233_312),
        (10_000, 4.888_835_253_124_598),
        (100_000, 5.326_359_364_382_869),
    ];

    fn odd(words: &[&str]) -> Vec<(usize, Oddity)> {
        let readings = Readings::from_words(words.iter().copied()).unwrap();
        let suspicions = readings.suspicions();
        assert_eq!(readings.readings().len(), words.len(), "none is dropped");
        assert!(suspicions.iter().all(|s| s.reading == readings.readings()[s.index]));
        suspicions.iter().map(|s| (s.index, s.oddity)).collect()
    }

    #[test]
    fn a_unit_slip_is_pointed_at_whichever_way_it_went() {
        assert_eq!(odd(&["2648fps", "2655fps", "808fps", "2641fps", "2650fps"]), [(2, Oddity::UnitSlip)]);
        assert_eq!(odd(&["808fps", "805fps", "2650fps", "810fps"]), [(2, Oddity::UnitSlip)]);
    }

    #[test]
    fn a_slip_set_apart_leaves_the_bound_with_it_and_tells_the_one_without() {
        for slip in ["808fps", "264fps"] {
            let words = ["2648fps", "2655fps", "2641fps", "2650fps", "2652fps", "2645fps", slip];
            let readings = Readings::from_words(words).unwrap();
            let apart = readings.set_apart(0.99, 0.95).unwrap().expect("an odd reading");
            assert_eq!(apart.readings.iter().map(|odd| odd.index).collect::<Vec<_>>(), [6]);
            let without = apart.without.expect("six are left");
            assert_eq!(without, Readings::from_words(words[..6].iter().copied()).unwrap().summary(0.99, 0.95).unwrap());
            assert!(without.fast_bound < readings.summary(0.99, 0.95).unwrap().fast_bound);
        }
        assert_eq!(Readings::from_words(["2648fps", "2655fps"]).unwrap().set_apart(0.99, 0.95), Ok(None));
    }

    #[test]
    fn where_half_is_slipped_every_reading_is_named() {
        assert_eq!(odd(&["808fps", "2650fps"]), [(0, Oddity::UnitSlip), (1, Oddity::UnitSlip)]);
        assert_eq!(odd(&["808fps", "2650fps", "2655fps", "805fps"]).len(), 4);
    }

    #[test]
    fn an_outlier_is_pointed_at_also_beside_a_slip() {
        let string = ["2648fps", "2655fps", "2651fps", "2641fps", "2650fps", "2647fps", "2652fps", "2760fps"];
        assert_eq!(odd(&string), [(7, Oddity::Outlier)]);
        let mut with_slip = string.to_vec();
        with_slip.push("807fps");
        assert_eq!(odd(&with_slip), [(7, Oddity::Outlier), (8, Oddity::UnitSlip)]);
    }

    #[test]
    fn an_honest_string_raises_no_suspicion() {
        assert!(odd(&["2648fps", "2655fps"]).is_empty());
        assert!(odd(&["2648fps", "2655fps", "2641fps", "2660fps", "2637fps"]).is_empty());
    }

    #[test]
    fn grubbs_critical_values_are_found_for_every_size_and_rise_with_it() {
        // Computed with a general-purpose library.
        for (n, critical) in GRUBBS {
            let got = grubbs_critical(n, 0.01).unwrap();
            assert!((got / critical - 1.0).abs() < 1e-9, "{n} {got}");
        }
        let mut last = 0.0;
        for n in (3..300).chain((300..100_000).step_by(997)) {
            let critical = grubbs_critical(n, 0.01).unwrap();
            assert!(critical > last, "{n}");
            last = critical;
        }
        assert!(grubbs_critical(2, 0.01).is_none() && grubbs_critical(10, f64::NAN).is_none());
    }
}
