//! The rules compiled: those that speak of a load on a plate in a setup, distance left open. Numbers are SI.

use super::allow::Allowance;
use super::check::{Check, CompiledRule, Gauge, Power, Projectile, Together, level, margin};
use super::factors::Factors;
use super::filter::{NOMINAL_SHARE, Shot, Standing};
use super::rule::{Rule, Sense, Side, Step, Verdict};
use super::setup::Setup;
use super::subject::Subject;
use super::value::{Value, at_least};
use crate::load::Load;
use crate::plate::Plate;
use crate::quantity::{Length, Measure, Range, Velocity};

/// The rules that speak of a plate in a setup, the load left open: what many loads are held against.
#[derive(Debug)]
pub struct OnPlate<'r, 's> {
    /// Each with its limit, where that goes by the thickness.
    rules: Vec<(&'r Rule, Option<f64>)>,
    setup: &'s Setup,
    thickness: Length,
    width: f64,
    hung_by: Option<f64>,
}

impl<'r, 's> OnPlate<'r, 's> {
    pub(super) fn new(rules: &'r [Rule], plate: &Plate, setup: &'s Setup) -> Self {
        let standing = Standing::of(plate, setup);
        let limit = |rule: &Rule| match &rule.sense {
            Sense::ByThickness { steps, .. } => Some(by_thickness(steps, plate.thickness.si())),
            _ => None,
        };
        let speak = rules.iter().filter(|rule| rule.filter.admits_plate(&standing));
        Self {
            rules: speak.map(|rule| (rule, limit(rule))).collect(),
            setup,
            thickness: plate.thickness,
            width: setup.face.narrowest_width().si(),
            hung_by: setup.face.hung_by().map(Measure::si),
        }
    }

    /// The same but for what a range asks of plates and of how they stand: what it says of loads alone.
    #[must_use]
    pub fn of_loads(mut self) -> Self {
        self.rules.retain(|(rule, _)| !rule.asks_of_the_stand());
        self
    }

    /// What the rules allow a load here, as [`RuleSet::allow`](super::RuleSet::allow) says.
    #[must_use]
    pub fn allow(&self, load: &Load, muzzle: Range<Velocity>) -> Allowance<'r> {
        let shot = Shot::of(load, muzzle);
        let speaks = |(rule, _): &&(&'r Rule, Option<f64>)| rule.filter.admits_shot(&shot, rule.overlay.is_some());
        // A chart asks thousands of times: nothing grows as it is filled.
        let mut applying: Vec<(&'r Rule, Option<f64>)> = Vec::with_capacity(self.rules.len());
        applying.extend(self.rules.iter().filter(speaks));
        let factors = Factors::of(applying.iter().map(|(rule, _)| *rule), self.setup, self.width);
        let projectile = Projectile { mass: load.facts().bullet, thickness: self.thickness, charge: load.charge() };
        let compiler = Compiler { load, shot, here: self, factors, projectile };
        let together = applying.iter().filter_map(|(rule, _)| match rule.sense {
            Sense::Together { concerns, outcome } => Some(Together { rule, concerns, outcome }),
            _ => None,
        });
        let together = together.min_by_key(|t| (t.concerns, std::cmp::Reverse(t.outcome)));
        let mut rules: Vec<CompiledRule> = Vec::with_capacity(applying.len());
        rules.extend(applying.iter().filter_map(|(rule, by_thickness)| compiler.rule(rule, *by_thickness)));
        let mut counting = Vec::with_capacity(rules.len());
        counting.extend((0..rules.len()).filter(|&index| rules[index].check.counts()));
        let slow = rules.iter().filter(|rule| rule.check.asks_slow()).map(|rule| rule.within);
        Allowance {
            counting,
            slow_within: slow.fold(0.0, f64::max),
            together,
            rules,
            factors,
            tilt_rad: self.setup.tilt.map_or(0.0, Measure::si),
            projectile,
        }
    }
}

struct Compiler<'a, 'r> {
    load: &'a Load,
    shot: Shot,
    here: &'a OnPlate<'r, 'a>,
    factors: Factors<'r>,
    projectile: Projectile,
}

impl<'r> Compiler<'_, 'r> {
    fn rule(&self, rule: &'r Rule, by_thickness: Option<f64>) -> Option<CompiledRule<'r>> {
        // By how much steel a plate hangs is seen in a drawing. What a range asks of it is not known without one; the house
        // takes it that a plain face hangs by enough.
        if rule.subject == Subject::HangsBy && self.here.hung_by.is_none() && rule.overlay.is_none() {
            return None;
        }
        let mut limit = None;
        let check = match &rule.sense {
            Sense::Outcome(verdict) => Check::Fixed { verdict: *verdict, actual: None, margin: None },
            Sense::Factor(factor) => Check::Factor(*factor),
            Sense::NarrowFactor { below, per } if self.here.width < below.si() => {
                Check::Factor(1.0 + (below.si() - self.here.width) / per.si())
            }
            Sense::NarrowFactor { .. } | Sense::Together { .. } => return None,
            Sense::Caution { below, above } => self.caution(rule.subject, *below, *above)?,
            Sense::Limit { side, suits, borderline } => {
                limit = Some(suits.si());
                self.limit(rule.subject, *side, suits.si(), borderline.si())
            }
            Sense::ByThickness { borderline, .. } => {
                let suits = by_thickness?;
                limit = Some(suits);
                self.limit(rule.subject, Side::AtMost, suits, suits * borderline.si())
            }
        };
        let within = rule.filter.within.map_or(f64::INFINITY, Measure::si);
        Some(CompiledRule { rule, within, limit, check })
    }

    /// The value of a subject that does not change with distance: `None` for one that does,
    /// `Some(None)` where it is not known.
    fn fixed_value(&self, subject: Subject) -> Option<Option<f64>> {
        match subject {
            Subject::Thickness => Some(Some(self.here.thickness.si())),
            Subject::Width => Some(Some(self.here.width).filter(|width| *width > 0.0)),
            Subject::HangsBy => Some(self.here.hung_by.filter(|width| *width > 0.0)),
            Subject::MuzzleSpeed => Some(Some(self.shot.muzzle_speed.high)),
            Subject::MuzzleEnergy => Some(Some(self.projectile.value(subject, self.shot.muzzle_speed.high))),
            Subject::Calibre => Some(self.load.facts().diameter.map(Measure::si)),
            Subject::Oblique => Some(Some(self.here.setup.oblique.si().abs())),
            _ => None,
        }
    }

    fn limit(&self, subject: Subject, side: Side, suits: f64, borderline: f64) -> Check {
        // On a hot day the powder drives the mean past what is listed.
        if side == Side::AtMost && matches!(subject, Subject::MuzzleSpeed | Subject::MuzzleEnergy) {
            return self.moving(subject, side, suits, borderline);
        }
        let Some(actual) = self.fixed_value(subject) else { return self.moving(subject, side, suits, borderline) };
        // One that is not known is borderline at best.
        let Some(value) = actual else {
            return Check::Fixed { verdict: Verdict::Borderline, actual: None, margin: None };
        };
        let share = if subject == Subject::Thickness { NOMINAL_SHARE } else { 1.0 };
        Check::Fixed {
            verdict: level(side, share * suits, share * borderline, value),
            actual,
            margin: margin(side, share * suits, value, Power::One),
        }
    }

    fn moving(&self, subject: Subject, side: Side, suits: f64, borderline: f64) -> Check {
        let power = match subject {
            Subject::Energy | Subject::MuzzleEnergy => Power::Two,
            Subject::Demand => Power::FourThirds,
            _ => Power::One,
        };
        let (all, without_duty) = match power {
            Power::One => (1.0, 1.0),
            _ if !subject.weighs() => (1.0, 1.0),
            _ => (self.factors.all(), self.factors.without_duty()),
        };
        Check::Moving {
            gauge: gauge(subject, side),
            side,
            suits: self.projectile.speed(subject, suits / all),
            borderline: self.projectile.speed(subject, borderline / without_duty),
            power,
        }
    }

    fn caution(&self, subject: Subject, below: Option<Value>, above: Option<Value>) -> Option<Check> {
        let low = below.map_or(f64::NEG_INFINITY, Value::si);
        let high = above.map_or(f64::INFINITY, Value::si);
        if subject == Subject::Case {
            return Some(Check::Caution { gauge: None, below: low, above: high });
        }
        if let Some(actual) = self.fixed_value(subject) {
            let fires = actual.is_none_or(|v| v < low || v > high);
            return fires.then_some(Check::Caution { gauge: None, below: low, above: high });
        }
        let factor = if matches!(subject, Subject::Energy | Subject::Demand) { self.factors.all() } else { 1.0 };
        let turn = |limit: f64| if limit.is_finite() { self.projectile.speed(subject, limit / factor) } else { limit };
        let side = if below.is_some() { Side::AtLeast } else { Side::AtMost };
        Some(Check::Caution { gauge: Some(gauge(subject, side)), below: turn(low), above: turn(high) })
    }
}

fn gauge(subject: Subject, side: Side) -> Gauge {
    match subject {
        Subject::Distance => Gauge::Distance,
        Subject::SlowSpeed => Gauge::Slow,
        Subject::MuzzleSpeed | Subject::MuzzleEnergy => Gauge::Muzzle,
        Subject::Lean if side == Side::AtLeast => Gauge::LeanToSight,
        Subject::Lean => Gauge::LeanToBullet,
        _ => Gauge::Fast,
    }
}

/// The limit at a thickness, by straight line in log–log; above the last step as there. Below the first the line
/// goes on for as far as a plate may be under its nominal thickness, and thinner plate takes nothing.
pub(super) fn by_thickness(steps: &[Step], thickness: f64) -> f64 {
    let (Some(first), Some(last)) = (steps.first(), steps.last()) else { return 0.0 };
    if !at_least(thickness, NOMINAL_SHARE * first.thickness.si()) {
        return 0.0;
    }
    let pair = steps.windows(2).find(|pair| thickness <= pair[1].thickness.si());
    let Some([thin, thick]) = pair else { return last.suits.si() };
    let slope = (thick.suits.si() / thin.suits.si()).ln() / (thick.thickness.si() / thin.thickness.si()).ln();
    thin.suits.si() * (thickness / thin.thickness.si()).powf(slope)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::unit;
    use crate::rules::RuleSet;

    fn cap(inches: f64) -> f64 {
        let rules = RuleSet::house().unwrap();
        let rule = rules.rules().iter().find(|r| r.id == "energy-cap").unwrap();
        let Sense::ByThickness { steps, .. } = &rule.sense else { panic!("the caps go by thickness") };
        unit::FOOT_POUND.value(crate::quantity::Energy::from_si(by_thickness(steps, unit::INCH.of(inches).si())))
    }

    #[test]
    fn energy_caps_are_those_of_the_table_at_its_thicknesses() {
        for (inches, ft_lbf) in [(0.1875, 250.0), (0.25, 700.0), (0.375, 2800.0), (0.5, 5000.0), (0.75, 12_000.0)] {
            assert!((cap(inches) / ft_lbf - 1.0).abs() < 1e-12, "{inches}");
        }
        // Between 3/8 and 1/2 in, 12 mm by hand: 2800·(0.4724/0.375)^2.0155.
        assert!((cap(12.0 / 25.4) / 4459.0 - 1.0).abs() < 1e-3, "{}", cap(12.0 / 25.4));
        assert!((cap(2.0) / 12_000.0 - 1.0).abs() < 1e-12 && cap(0.17) == 0.0);
    }

    #[test]
    fn energy_caps_grow_without_a_step_from_six_percent_under_the_thinnest() {
        let mut before = cap(0.94 * 0.1875);
        for step in 0..2000 {
            let here = cap(0.94 * 0.1875 + 0.0005 * f64::from(step));
            assert!(here >= before && here < before * 1.02 + 1e-9, "{step}: {before} then {here}");
            before = here;
        }
    }
}
