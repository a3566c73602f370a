//! The evaluation core: what the compiled rules say of any strike.

use super::check::{Check, CompiledRule, Gauge, Power, Projectile, Together, level, margin};
use super::factors::{Divisor, Factors};
use super::filter::NOMINAL_SHARE;
use super::rule::{Concern, Rule, Verdict};
use super::subject::Subject;
use super::value::{Value, at_least, at_most};
use crate::quantity::{Length, Measure, Velocity};
use crate::strike::Strike;

/// What rounding makes of an angle, rad, so that a face square to the line of sight leans by no less than nothing.
const SAME_RAD: f64 = 1e-9;

/// What the rules allow a load on a plate in a setup, at any distance.
#[derive(Debug, Clone)]
pub struct Allowance<'r> {
    pub(super) rules: Vec<CompiledRule<'r>>,
    /// Places of those that can come to a verdict or weigh the hit: most of the others are met whatever arrives.
    pub(super) counting: Vec<usize>,
    /// Up to where a rule speaks of the slow shot.
    pub(super) slow_within: f64,
    pub(super) together: Option<Together<'r>>,
    pub(super) factors: Factors<'r>,
    pub(super) tilt_rad: f64,
    pub(super) projectile: Projectile,
}

/// The outcome of a judgement: the worst verdict, the rule that governs it, and how much there is to spare.
#[derive(Debug, Clone, Copy)]
pub struct Judgement<'r> {
    /// The worst finding's.
    pub verdict: Verdict,
    /// The rule of the worst finding; among rules that are met, the one that weighs the hit with least to spare.
    pub rule: Option<&'r Rule>,
    /// Share of the limit to spare, negative where it is passed; `None` where the rule has no number.
    pub margin: Option<f64>,
}

impl Judgement<'_> {
    const NOTHING: Self = Self { verdict: Verdict::Suits, rule: None, margin: None };

    /// Whether it comes before another in a headline: the worse verdict, then the smaller margin; what has no number
    /// comes last.
    #[must_use]
    pub fn is_worse_than(&self, other: &Judgement) -> bool {
        self.verdict > other.verdict || (self.verdict == other.verdict && self.rank() < other.rank())
    }

    /// The margin, for an order of equal verdicts from the worst: infinite where the rule has no number.
    #[must_use]
    pub fn rank(&self) -> f64 {
        self.margin.unwrap_or(f64::INFINITY)
    }
}

/// One rule looked at for one strike.
#[derive(Debug, Clone, Copy)]
pub struct Finding<'r> {
    rule: &'r Rule,
    factors: Option<Factors<'r>>,
    /// What it comes to.
    pub verdict: Verdict,
    /// The last value that suits, divided by the factors.
    pub limit: Option<Value>,
    /// The last value that suits before it is divided; the same where nothing divides it.
    pub undivided: Option<Value>,
    /// The value found, the bullet's own.
    pub actual: Option<Value>,
    /// Share of the limit to spare, negative where it is passed.
    pub margin: Option<f64>,
    /// Whether it is the duty factor alone that it fails through.
    pub through_duty: bool,
    /// What is borderline at once, of a rule that forbids several.
    together: u8,
}

impl<'r> Finding<'r> {
    /// The rule; there is no finding without one.
    #[must_use]
    pub fn rule(&self) -> &'r Rule {
        self.rule
    }

    /// What its limit is divided by.
    pub fn divisors(&self) -> impl Iterator<Item = Divisor<'r>> + use<'r> {
        self.factors.into_iter().flat_map(|factors| factors.divisors())
    }

    /// What is borderline at once, of a rule that forbids several; else nothing.
    pub fn together(&self) -> impl Iterator<Item = Concern> + use<> {
        let bits = self.together;
        Concern::ALL.into_iter().filter(move |concern| bits & concern.bit() != 0)
    }

    /// As [`Judgement::is_worse_than`].
    #[must_use]
    pub fn is_worse_than(&self, other: &Finding) -> bool {
        self.judgement().is_worse_than(&other.judgement())
    }

    fn judgement(&self) -> Judgement<'r> {
        Judgement { verdict: self.verdict, rule: Some(self.rule), margin: self.margin }
    }
}

impl<'r> Allowance<'r> {
    /// The factors that apply.
    #[must_use]
    pub fn factors(&self) -> Factors<'r> {
        self.factors
    }

    /// What is measured, for a strike.
    pub(super) fn measure(&self, gauge: Gauge, strike: &Strike) -> f64 {
        match gauge {
            Gauge::Distance => strike.distance.si(),
            Gauge::Fast => strike.fast.si(),
            Gauge::Slow => strike.slow.si(),
            Gauge::Muzzle => strike.muzzle.high.si(),
            // The line of sight rises by what the fall to the horizontal lacks of that to the line of slope.
            Gauge::LeanToSight => self.lean_to_sight((strike.descent - strike.fall).si()),
            Gauge::LeanToBullet => self.tilt_rad + strike.steepest.si(),
        }
    }

    /// Lean of the face to the line of sight that rises at a slope, rad.
    pub(super) fn lean_to_sight(&self, slope_rad: f64) -> f64 {
        self.tilt_rad - slope_rad + SAME_RAD
    }

    /// Verdict, governing rule and margin for a strike; allocates nothing.
    #[must_use]
    pub fn judge(&self, strike: &Strike) -> Judgement<'r> {
        let mut worst = Judgement::NOTHING;
        let mut concerns = 0_u8;
        for compiled in self.counting.iter().map(|&index| &self.rules[index]) {
            let Some(judgement) = self.judged(compiled, strike) else { continue };
            if judgement.verdict == Verdict::Borderline {
                concerns |= compiled.rule.concern.map_or(0, Concern::bit);
            }
            if judgement.is_worse_than(&worst) {
                worst = judgement;
            }
        }
        match self.together {
            Some(Together { rule, concerns: many, outcome })
                if concerns.count_ones() >= many && outcome > worst.verdict =>
            {
                Judgement { verdict: outcome, rule: Some(rule), margin: None }
            }
            _ => worst,
        }
    }

    /// One rule's judgement; `None` for what gives no verdict, does not apply at this distance, or is met without
    /// weighing the hit.
    fn judged(&self, compiled: &CompiledRule<'r>, strike: &Strike) -> Option<Judgement<'r>> {
        let counts = |verdict| verdict != Verdict::Suits || compiled.rule.subject.weighs();
        let (verdict, margin) = self.outcome(compiled, strike, counts)?;
        Some(Judgement { verdict, rule: Some(compiled.rule), margin })
    }

    /// Verdict and margin of one rule; `None` for what gives no verdict, does not apply at this distance, or does not
    /// count: its margin is dear.
    pub(super) fn outcome(
        &self,
        compiled: &CompiledRule<'r>,
        strike: &Strike,
        counts: impl Fn(Verdict) -> bool,
    ) -> Option<(Verdict, Option<f64>)> {
        if at_least(strike.distance.si(), compiled.within) {
            return None;
        }
        match compiled.check {
            Check::Fixed { verdict, margin, .. } => counts(verdict).then_some((verdict, margin)),
            Check::Moving { gauge, side, suits, borderline, power } => {
                let value = self.measure(gauge, strike);
                let verdict = level(side, suits, borderline, value);
                counts(verdict).then(|| (verdict, margin(side, suits, value, power)))
            }
            Check::Caution { .. } | Check::Factor(_) => None,
        }
    }

    /// Whether a rule speaks of the slow shot at this distance.
    #[must_use]
    pub fn asks_slow(&self, distance: Length) -> bool {
        !at_least(distance.si(), self.slow_within)
    }

    /// The least speeds of the slow shot that suit, each with the distance within which it is asked.
    pub fn slow_limits(&self) -> impl Iterator<Item = (Velocity, Length)> {
        self.rules.iter().filter_map(|compiled| match compiled.check {
            Check::Moving { gauge: Gauge::Slow, suits, .. } => {
                Some((Velocity::from_si(suits), Length::from_si(compiled.within)))
            }
            _ => None,
        })
    }

    /// Whether a rule is not met that a nearer strike, which is no slower, does not meet either.
    pub(crate) fn fails_nearer(&self, strike: &Strike, floor: Verdict) -> bool {
        let mut counting = self.counting.iter().map(|&index| &self.rules[index]);
        counting.any(|compiled| {
            compiled.check.is_stricter_nearer() && self.outcome(compiled, strike, |verdict| verdict > floor).is_some()
        })
    }

    /// What is allowed beside the rules that speak of the load alone: what a load that is borderline on any plate must
    /// suit all the same.
    pub(crate) fn beside_load(&self) -> Self {
        let rules: Vec<CompiledRule> = self.rules.iter().filter(|compiled| !compiled.is_of_load()).cloned().collect();
        Self {
            counting: (0..rules.len()).filter(|&index| rules[index].check.counts()).collect(),
            rules,
            ..self.clone()
        }
    }

    /// Every rule that speaks of this strike, with its numbers: for what is printed.
    #[must_use]
    pub fn findings(&self, strike: &Strike) -> Vec<Finding<'r>> {
        let mut findings: Vec<Finding> = self.rules.iter().filter_map(|c| self.finding(c, strike)).collect();
        let of = |f: &Finding<'r>| if f.verdict == Verdict::Borderline { f.rule.concern } else { None };
        let concerns = findings.iter().filter_map(of).fold(0_u8, |bits, concern| bits | concern.bit());
        if let Some(together) = self.together.filter(|t| concerns.count_ones() >= t.concerns) {
            findings.push(Finding { together: concerns, ..bare(together.rule, together.outcome, None) });
        }
        findings
    }

    fn finding(&self, compiled: &CompiledRule<'r>, strike: &Strike) -> Option<Finding<'r>> {
        let (rule, subject) = (compiled.rule, compiled.rule.subject);
        if let Check::Factor(factor) = compiled.check {
            return Some(bare(rule, Verdict::Suits, subject.value(factor)));
        }
        let (verdict, margin) = self.outcome(compiled, strike, |_| true)?;
        let (actual, divided, through_duty) = match compiled.check {
            Check::Moving { gauge, power, suits, .. } => {
                let measured = self.measure(gauge, strike);
                let divided = power != Power::One && subject.weighs();
                let through = verdict != Verdict::Suits && divided && self.fails_through_duty(suits, power, measured);
                (Some(self.projectile.value(subject, measured)), divided, through)
            }
            Check::Fixed { actual, .. } => (actual, false, false),
            Check::Caution { .. } | Check::Factor(_) => (None, false, false),
        };
        let by = match subject {
            // What is told is what is asked of the plate in hand, a mill size of the thickness that is named.
            Subject::Thickness => 1.0 / NOMINAL_SHARE,
            _ if divided => self.factors.all(),
            _ => 1.0,
        };
        Some(Finding {
            rule,
            factors: divided.then_some(self.factors),
            verdict,
            limit: compiled.limit.and_then(|limit| subject.value(limit / by)),
            undivided: compiled.limit.and_then(|limit| subject.value(limit)),
            actual: actual.and_then(|actual| subject.value(actual)),
            margin,
            through_duty,
            together: 0,
        })
    }

    /// Whether a speed above what suits would suit without the duty's factor.
    fn fails_through_duty(&self, suits: f64, power: Power, measured: f64) -> bool {
        let duty = self.factors.duty.factor;
        duty > 1.0 && at_most(measured, suits * power.root(duty))
    }

    /// The cautions that this strike calls for.
    pub fn cautions<'a>(&'a self, strike: &'a Strike) -> impl Iterator<Item = &'r Rule> + 'a {
        self.rules.iter().filter(|compiled| self.warns(compiled, strike)).map(|compiled| compiled.rule)
    }

    /// Whether a caution is measured on what arrives by flight, and not on how the plate stands.
    pub(crate) fn warns_by_flight(&self) -> bool {
        self.rules.iter().any(|compiled| compiled.check.warns_by_flight())
    }

    fn warns(&self, compiled: &CompiledRule<'r>, strike: &Strike) -> bool {
        let Check::Caution { gauge, below, above } = compiled.check else {
            return false;
        };
        let near = !at_least(strike.distance.si(), compiled.within);
        near && gauge.is_none_or(|gauge| {
            let value = self.measure(gauge, strike);
            value < below || value > above
        })
    }
}

/// A finding without a limit.
fn bare(rule: &Rule, verdict: Verdict, actual: Option<Value>) -> Finding<'_> {
    Finding {
        rule,
        factors: None,
        verdict,
        limit: None,
        undivided: None,
        actual,
        margin: None,
        through_duty: false,
        together: 0,
    }
}
