//! The evaluation core: rules compiled once per load × plate × setup, distance left open.

use super::demand;
use super::rule::{Case, Rule, Sense, Side, Subject, Verdict, at_least, at_most};
use crate::load::Load;
use crate::plate::{Condition, Duty, Face, Mount, Plate, Steel};
use crate::quantity::{Angle, Length, Measure, unit};
use crate::strike::Strike;

/// How the plate is shaped, held, used and turned.
#[derive(Debug, Clone, PartialEq)]
pub struct Setup {
    /// The face.
    pub face: Face,
    /// How it is held.
    pub mount: Mount,
    /// Length of the chain it hangs from; `None` for another mount, or where it was not said.
    pub chain: Option<Length>,
    /// What it goes through.
    pub duty: Duty,
    /// The state it is in.
    pub condition: Condition,
    /// What steel it is.
    pub steel: Steel,
    /// Lean of the face toward the shooter; vertical is taken, and said, where it was not given.
    pub tilt: Option<Angle>,
    /// Turn of the face sideways.
    pub oblique: Angle,
}

impl Setup {
    /// A free-hung sound AR500 plate of this face, private duty, square to the shooter, lean not said.
    #[must_use]
    pub fn hung(face: Face) -> Self {
        Self {
            face,
            mount: Mount::OpenHook,
            chain: None,
            duty: Duty::Private,
            condition: Condition::Sound,
            steel: Steel::Ar500,
            tilt: None,
            oblique: unit::DEGREE.of(0.0),
        }
    }
}

/// Factors on demand and energy; 1 where no rule sets one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Factors {
    /// What the plate goes through.
    pub duty: f64,
    /// How it is held.
    pub mount: f64,
    /// A small face.
    pub face: f64,
}

impl Factors {
    /// All of them multiplied.
    #[must_use]
    pub fn all(&self) -> f64 {
        self.duty * self.without_duty()
    }

    /// Those that are not wear: failing through duty alone is borderline.
    #[must_use]
    pub fn without_duty(&self) -> f64 {
        self.mount * self.face
    }
}

/// What a moving rule is measured on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Gauge {
    Distance,
    Fast,
    Slow,
    Lean,
}

/// One rule that applies, compiled. Numbers are SI.
#[derive(Debug, Clone)]
pub(super) struct Term<'r> {
    pub rule: &'r Rule,
    pub within: f64,
    pub kind: Kind,
}

/// How a subject grows with what is measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Power {
    One,
    /// Energy with speed.
    Two,
    /// Demand with speed.
    FourThirds,
}

impl Power {
    fn of(self, x: f64) -> f64 {
        match self {
            Self::One => x,
            Self::Two => x * x,
            Self::FourThirds => x.cbrt() * x,
        }
    }

    fn root(self, x: f64) -> f64 {
        match self {
            Self::One => x,
            Self::Two => x.sqrt(),
            Self::FourThirds => x.powf(0.75),
        }
    }
}

#[derive(Debug, Clone, Copy)]
pub(super) enum Kind {
    /// The same at every distance.
    Fixed { verdict: Verdict, actual: Option<f64>, margin: Option<f64> },
    /// A limit on what is measured; energy and demand are turned into a speed, `power` turns back.
    Moving { gauge: Gauge, side: Side, suits: f64, borderline: f64, power: Power },
    /// Something to say.
    Caution { gauge: Option<Gauge>, below: f64, above: f64 },
    /// A factor that was taken.
    Factor(f64),
}

/// What the rules allow a load on a plate in a setup, at any distance.
#[derive(Debug, Clone)]
pub struct Allowance<'r> {
    pub(super) terms: Vec<Term<'r>>,
    factors: Factors,
    tilt_rad: f64,
    charge_kg: f64,
    load: DemandOf,
}

#[derive(Debug, Clone, Copy)]
struct DemandOf {
    bullet: crate::quantity::Mass,
    thickness: Length,
}

/// The outcome of a judgement: the worst verdict, the rule that governs it, and how much is in hand.
#[derive(Debug, Clone, Copy)]
pub struct Judgement<'r> {
    /// The worst finding's.
    pub verdict: Verdict,
    /// The rule of the worst finding; among rules that are met, the one that weighs the hit with least in hand.
    pub rule: Option<&'r Rule>,
    /// Share of the limit in hand, negative where it is passed; `None` where the rule has no number.
    pub margin: Option<f64>,
}

/// One rule looked at for one strike. Numbers are SI in the subject's quantity.
#[derive(Debug, Clone, Copy)]
pub struct Finding<'r> {
    rule: &'r Rule,
    /// What it comes to.
    pub verdict: Verdict,
    /// The last value that suits.
    pub limit: Option<f64>,
    /// The value found, factors included.
    pub actual: Option<f64>,
    /// Share of the limit in hand, negative where it is passed.
    pub margin: Option<f64>,
    /// Whether it is the duty factor alone that it fails through.
    pub through_duty: bool,
}

impl<'r> Finding<'r> {
    /// The rule; there is no finding without one.
    #[must_use]
    pub fn rule(&self) -> &'r Rule {
        self.rule
    }
}

impl<'r> Allowance<'r> {
    /// Compiles the rules that speak of this case.
    #[must_use]
    pub(super) fn compile(rules: &'r [Rule], load: &Load, plate: &Plate, setup: &Setup) -> Self {
        let case = Case {
            classes: [load.class(), load.judged_class()],
            construction: load.judged_construction(),
            mount: setup.mount,
            duty: setup.duty,
            condition: setup.condition,
            steel: setup.steel,
            thickness: plate.thickness.si(),
            muzzle_speed: load.facts().muzzle_velocity.si(),
            muzzle_energy: load.muzzle_energy().si(),
            tilt_given: setup.tilt.is_some(),
        };
        let applying: Vec<&Rule> = rules.iter().filter(|r| r.filter.admits(&case)).collect();
        let width = setup.face.narrowest_width().si();
        let factors = factors(&applying, width);
        let mut this = Self {
            terms: Vec::with_capacity(applying.len()),
            factors,
            tilt_rad: setup.tilt.map_or(0.0, Measure::si),
            charge_kg: load.charge().si(),
            load: DemandOf { bullet: load.facts().bullet, thickness: plate.thickness },
        };
        for rule in applying {
            if let Some(kind) = this.kind(rule, load, &case, setup, width) {
                let within = rule.filter.within.unwrap_or(f64::INFINITY);
                this.terms.push(Term { rule, within, kind });
            }
        }
        this
    }

    /// The factors that apply.
    #[must_use]
    pub fn factors(&self) -> Factors {
        self.factors
    }

    fn kind(&self, rule: &Rule, load: &Load, case: &Case, setup: &Setup, width: f64) -> Option<Kind> {
        match rule.sense {
            Sense::Outcome(verdict) => Some(Kind::Fixed { verdict, actual: None, margin: None }),
            Sense::Factor(factor) => Some(Kind::Factor(factor)),
            Sense::NarrowFactor { below, per } => (width < below).then(|| Kind::Factor(1.0 + (below - width) / per)),
            Sense::Caution { below, above } => self.caution(rule, load, case, setup, below, above),
            Sense::Limit { side, suits, borderline } => Some(match fixed_value(rule.subject, load, case, setup) {
                Some(actual) => fixed(side, suits, borderline, actual),
                None => self.moving(rule.subject, side, suits, borderline),
            }),
        }
    }

    fn caution(
        &self,
        rule: &Rule,
        load: &Load,
        case: &Case,
        setup: &Setup,
        below: Option<f64>,
        above: Option<f64>,
    ) -> Option<Kind> {
        let (low, high) = (below.unwrap_or(f64::NEG_INFINITY), above.unwrap_or(f64::INFINITY));
        if rule.subject == Subject::Case {
            return Some(Kind::Caution { gauge: None, below: low, above: high });
        }
        if let Some(actual) = fixed_value(rule.subject, load, case, setup) {
            let fires = actual.is_none_or(|v| v < low || v > high);
            fires.then_some(Kind::Caution { gauge: None, below: low, above: high })
        } else {
            let turn = |limit: f64| {
                if limit.is_finite() { self.as_gauge(rule.subject, limit, self.factors.all()) } else { limit }
            };
            Some(Kind::Caution { gauge: Some(gauge(rule.subject)), below: turn(low), above: turn(high) })
        }
    }

    fn moving(&self, subject: Subject, side: Side, suits: f64, borderline: f64) -> Kind {
        let power = match subject {
            Subject::Energy => Power::Two,
            Subject::Demand => Power::FourThirds,
            _ => Power::One,
        };
        Kind::Moving {
            gauge: gauge(subject),
            side,
            suits: self.as_gauge(subject, suits, self.factors.all()),
            borderline: self.as_gauge(subject, borderline, self.factors.without_duty()),
            power,
        }
    }

    /// A limit on the subject as one on what is measured: energy and demand become a speed.
    fn as_gauge(&self, subject: Subject, limit: f64, factor: f64) -> f64 {
        match subject {
            Subject::Energy => (2.0 * limit / (factor * self.charge_kg)).sqrt(),
            Subject::Demand => {
                let energy = demand::energy(self.load.thickness * (limit / factor), self.load.bullet);
                (2.0 * energy.si() / self.load.bullet.si()).sqrt()
            }
            _ => limit,
        }
    }

    /// What is measured, for a strike.
    pub(super) fn measure(&self, gauge: Gauge, strike: &Strike) -> f64 {
        match gauge {
            Gauge::Distance => strike.distance.si(),
            Gauge::Fast => strike.fast.si(),
            Gauge::Slow => strike.slow.si(),
            Gauge::Lean => self.lean(strike.fall),
        }
    }

    /// Lean of the face to a bullet that falls at an angle, rad.
    pub(super) fn lean(&self, fall: Angle) -> f64 {
        self.tilt_rad + fall.si()
    }

    /// The value in the subject's own quantity, factors included.
    fn actual(&self, subject: Subject, measured: f64) -> f64 {
        match subject {
            Subject::Energy => 0.5 * self.charge_kg * measured * measured * self.factors.all(),
            Subject::Demand => {
                let energy = crate::quantity::Energy::from_si(0.5 * self.load.bullet.si() * measured * measured);
                demand::thickness(energy, self.load.bullet).si() * self.factors.all() / self.load.thickness.si()
            }
            _ => measured,
        }
    }

    /// Verdict, governing rule and margin for a strike; allocates nothing.
    #[must_use]
    pub fn judge(&self, strike: &Strike) -> Judgement<'r> {
        let mut worst = Judgement { verdict: Verdict::Suits, rule: None, margin: None };
        let mut least = f64::INFINITY;
        for term in &self.terms {
            let Some((verdict, margin)) = self.outcome(term, strike) else {
                continue;
            };
            if verdict == Verdict::Suits && !term.rule.subject.weighs() {
                continue;
            }
            let hold = if verdict == Verdict::Suits {
                margin.unwrap_or(f64::INFINITY)
            } else {
                margin.unwrap_or(f64::NEG_INFINITY)
            };
            if verdict > worst.verdict || (verdict == worst.verdict && hold < least) {
                worst = Judgement { verdict, rule: Some(term.rule), margin };
                least = hold;
            }
        }
        worst
    }

    /// Verdict and margin of one term; `None` for what gives no verdict or does not apply at this distance.
    fn outcome(&self, term: &Term<'r>, strike: &Strike) -> Option<(Verdict, Option<f64>)> {
        if at_least(strike.distance.si(), term.within) {
            return None;
        }
        match term.kind {
            Kind::Fixed { verdict, margin, .. } => Some((verdict, margin)),
            Kind::Moving { gauge, side, suits, borderline, power } => {
                let value = self.measure(gauge, strike);
                Some((level(side, suits, borderline, value), margin(side, suits, value, power)))
            }
            Kind::Caution { .. } | Kind::Factor(_) => None,
        }
    }

    /// Whether a rule speaks of the slow shot at this distance.
    #[must_use]
    pub fn asks_slow(&self, distance: Length) -> bool {
        let slow = |kind: &Kind| {
            matches!(kind, Kind::Moving { gauge: Gauge::Slow, .. } | Kind::Caution { gauge: Some(Gauge::Slow), .. })
        };
        self.terms.iter().any(|t| slow(&t.kind) && !at_least(distance.si(), t.within))
    }

    /// Every rule that speaks of this strike, with its numbers: for what is printed.
    #[must_use]
    pub fn findings(&self, strike: &Strike) -> Vec<Finding<'r>> {
        self.terms.iter().filter_map(|term| self.finding(term, strike)).collect()
    }

    fn finding(&self, term: &Term<'r>, strike: &Strike) -> Option<Finding<'r>> {
        let rule = term.rule;
        if let Kind::Factor(factor) = term.kind {
            return Some(Finding {
                rule,
                verdict: Verdict::Suits,
                limit: None,
                actual: Some(factor),
                margin: None,
                through_duty: false,
            });
        }
        let (verdict, margin) = self.outcome(term, strike)?;
        let limit = match rule.sense {
            Sense::Limit { suits, .. } => Some(suits),
            _ => None,
        };
        let (actual, through_duty) = match term.kind {
            Kind::Fixed { actual, .. } => (actual, false),
            Kind::Moving { gauge, power, suits, .. } => {
                let measured = self.measure(gauge, strike);
                let eased = suits * power.root(self.factors.duty);
                let through = verdict != Verdict::Suits
                    && self.factors.duty > 1.0
                    && gauge == Gauge::Fast
                    && power != Power::One
                    && at_most(measured, eased);
                (Some(self.actual(rule.subject, measured)), through)
            }
            Kind::Caution { .. } | Kind::Factor(_) => (None, false),
        };
        Some(Finding { rule, verdict, limit, actual, margin, through_duty })
    }

    /// The cautions that this strike calls for.
    pub fn cautions<'a>(&'a self, strike: &'a Strike) -> impl Iterator<Item = &'r Rule> + 'a {
        self.terms.iter().filter(|term| self.warns(term, strike)).map(|term| term.rule)
    }

    fn warns(&self, term: &Term<'r>, strike: &Strike) -> bool {
        let Kind::Caution { gauge, below, above } = term.kind else {
            return false;
        };
        let near = !at_least(strike.distance.si(), term.within);
        near && gauge.is_none_or(|gauge| {
            let value = self.measure(gauge, strike);
            value < below || value > above
        })
    }
}

fn gauge(subject: Subject) -> Gauge {
    match subject {
        Subject::Distance => Gauge::Distance,
        Subject::SlowSpeed => Gauge::Slow,
        Subject::Lean => Gauge::Lean,
        _ => Gauge::Fast,
    }
}

/// The value of a subject that does not change with distance: `None` for one that does,
/// `Some(None)` where it is not known.
fn fixed_value(subject: Subject, load: &Load, case: &Case, setup: &Setup) -> Option<Option<f64>> {
    match subject {
        Subject::Thickness => Some(Some(case.thickness)),
        Subject::MuzzleSpeed => Some(Some(case.muzzle_speed)),
        Subject::MuzzleEnergy => Some(Some(case.muzzle_energy)),
        Subject::Calibre => Some(load.facts().diameter.map(Measure::si)),
        Subject::Oblique => Some(Some(setup.oblique.si().abs())),
        _ => None,
    }
}

/// A limit on a fixed value; one that is not known is borderline at best.
fn fixed(side: Side, suits: f64, borderline: f64, actual: Option<f64>) -> Kind {
    match actual {
        None => Kind::Fixed { verdict: Verdict::Borderline, actual: None, margin: None },
        Some(value) => Kind::Fixed {
            verdict: level(side, suits, borderline, value),
            actual,
            margin: margin(side, suits, value, Power::One),
        },
    }
}

/// Where a value stands; what is not a number is unsuitable.
fn level(side: Side, suits: f64, borderline: f64, value: f64) -> Verdict {
    let within = |limit| match side {
        Side::AtMost => at_most(value, limit),
        Side::AtLeast => at_least(value, limit),
    };
    if within(suits) {
        Verdict::Suits
    } else if within(borderline) {
        Verdict::Borderline
    } else {
        Verdict::Unsuitable
    }
}

fn margin(side: Side, limit: f64, value: f64, power: Power) -> Option<f64> {
    let share = power.of(value / limit);
    let margin = match side {
        Side::AtMost => 1.0 - share,
        Side::AtLeast => share - 1.0,
    };
    margin.is_finite().then_some(margin)
}

/// The largest factor of each kind among the rules that apply: the stricter wins.
fn factors(rules: &[&Rule], width: f64) -> Factors {
    let factor = |rule: &Rule| match rule.sense {
        Sense::Factor(factor) => factor,
        Sense::NarrowFactor { below, per } if width < below => 1.0 + (below - width) / per,
        _ => 1.0,
    };
    let max = |subject| rules.iter().filter(|r| r.subject == subject).map(|r| factor(r)).fold(1.0, f64::max);
    Factors { duty: max(Subject::DutyFactor), mount: max(Subject::MountFactor), face: max(Subject::FaceFactor) }
}
