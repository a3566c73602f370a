//! The chance that a match sees a shot above a speed: spread between rifles added to spread within.

use super::normal::above;
use crate::quantity::{Measure, Velocity, unit};
use thiserror::Error;

/// Spread of mean velocity between rifles unless given, 40 ft/s (house assumption).
#[must_use]
pub fn assumed_between_rifles() -> Velocity {
    unit::FOOT_PER_SECOND.of(40.0)
}

/// The most shooters of a match.
pub const MOST_SHOOTERS: u32 = 100_000;
/// The most rounds of a shooter.
pub const MOST_ROUNDS: u32 = 1_000_000;

/// A match's shots: each shooter's rifle has a mean of its own, and spreads about it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Field {
    mean_mps: f64,
    within_mps: f64,
    between_mps: f64,
    shooters: f64,
    rounds: f64,
}

/// A match that can't be. [`FieldError::help`] says what would do.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum FieldError {
    /// No shooter, or more than fit a match.
    #[error("{0} shooters")]
    Shooters(u32),
    /// No round, or more than fit a match.
    #[error("{0} rounds")]
    Rounds(u32),
    /// A spread that is negative or not a number.
    #[error("a spread below zero")]
    Spread,
    /// A risk outside 0 to 1.
    #[error("risk of `{0}` is not between 0 and 1")]
    Risk(f64),
}

impl FieldError {
    /// The option at fault.
    #[must_use]
    pub fn field(&self) -> &'static str {
        match self {
            Self::Shooters(_) => "shooters",
            Self::Rounds(_) => "rounds",
            Self::Spread => "rifle-spread",
            Self::Risk(_) => "risk",
        }
    }

    /// What to write instead.
    #[must_use]
    pub fn help(&self) -> String {
        match self {
            Self::Shooters(_) => format!("write 1 to {MOST_SHOOTERS} shooters"),
            Self::Rounds(_) => format!("write 1 to {MOST_ROUNDS} rounds for each shooter"),
            Self::Spread => "write a speed of zero or more".into(),
            Self::Risk(_) => "write a share such as `1%`".into(),
        }
    }
}

impl Field {
    /// A field of shooters with muzzle velocities of this mean, spread within a rifle and between rifles.
    ///
    /// # Errors
    /// [`FieldError`] names the value out of its bounds.
    pub fn new(
        mean: Velocity,
        within: Velocity,
        between: Velocity,
        shooters: u32,
        rounds: u32,
    ) -> Result<Self, FieldError> {
        if shooters == 0 || shooters > MOST_SHOOTERS {
            return Err(FieldError::Shooters(shooters));
        }
        if rounds == 0 || rounds > MOST_ROUNDS {
            return Err(FieldError::Rounds(rounds));
        }
        if !(within.si() >= 0.0 && between.si() >= 0.0) {
            return Err(FieldError::Spread);
        }
        Ok(Self {
            mean_mps: mean.si(),
            // A spread of nothing is a step; a thousandth of a foot per second keeps it a function.
            within_mps: within.si().max(3e-4),
            between_mps: between.si(),
            shooters: f64::from(shooters),
            rounds: f64::from(rounds),
        })
    }

    /// The chance that at least one shot of the match leaves faster than `limit`:
    /// `1 − [∫ φ(b)·Φ((L − μ − σ_b·b)/σ_w)^M db]^N`, computed from the small side.
    #[must_use]
    pub fn chance_above(&self, limit: Velocity) -> f64 {
        let gap = limit.si() - self.mean_mps;
        let one_rifle = |b: f64| {
            let one_shot = above((gap - self.between_mps * b) / self.within_mps);
            -(self.rounds * (-one_shot).ln_1p()).exp_m1()
        };
        let one_shooter = if self.between_mps > 0.0 { over_normal(one_rifle) } else { one_rifle(0.0) };
        -(self.shooters * (-one_shooter.clamp(0.0, 1.0)).ln_1p()).exp_m1()
    }

    /// The speed that a match passes with the chance `risk` only.
    ///
    /// # Errors
    /// [`FieldError::Risk`] unless 0 < risk < 1.
    pub fn limit_for(&self, risk: f64) -> Result<Velocity, FieldError> {
        if !(risk > 0.0 && risk < 1.0) {
            return Err(FieldError::Risk(risk));
        }
        let reach = 40.0 * (self.within_mps + self.between_mps);
        let (mut low, mut high) = (self.mean_mps - reach, self.mean_mps + reach);
        while high - low > 1e-9 {
            let middle = 0.5 * (low + high);
            if self.chance_above(Velocity::from_si(middle)) > risk {
                low = middle;
            } else {
                high = middle;
            }
        }
        Ok(Velocity::from_si(high))
    }
}

/// The mean of a function over a standard normal, by Simpson's rule over ±9.
fn over_normal(value: impl Fn(f64) -> f64) -> f64 {
    const INTERVALS: u32 = 2000;
    let h = 18.0 / f64::from(INTERVALS);
    let mut sum = 0.0;
    for i in 0..=INTERVALS {
        let b = -9.0 + h * f64::from(i);
        let weight = if i == 0 || i == INTERVALS {
            1.0
        } else if i % 2 == 1 {
            4.0
        } else {
            2.0
        };
        sum += weight * (-0.5 * b * b).exp() * value(b);
    }
    sum * h / 3.0 / (2.0 * std::f64::consts::PI).sqrt()
}

#[cfg(test)]
mod tests {
    use super::super::normal::below;
    use super::*;

    fn field(within: f64, between: f64, shooters: u32, rounds: u32) -> Field {
        let mps = Velocity::from_si;
        Field::new(mps(800.0), mps(within), mps(between), shooters, rounds).unwrap()
    }

    #[test]
    fn without_spread_between_rifles_it_is_the_power_of_the_normal() {
        for (gap, shots) in [(0.0, 1), (10.0, 5), (30.0, 100)] {
            let got = field(10.0, 0.0, 1, shots).chance_above(Velocity::from_si(800.0 + gap));
            let expected = 1.0 - below(gap / 10.0).powi(i32::try_from(shots).unwrap());
            assert!((got - expected).abs() < 1e-12, "{gap} {shots}: {got} {expected}");
        }
    }

    #[test]
    fn one_shot_of_one_shooter_spreads_by_the_root_of_the_squares() {
        let got = field(9.0, 12.0, 1, 1).chance_above(Velocity::from_si(830.0));
        assert!((got - above(2.0)).abs() < 1e-10, "{got}");
    }

    #[test]
    fn a_seeded_match_shot_many_times_agrees() {
        let field = field(9.0, 12.0, 20, 30);
        let (limit, mut seed) = (845.0, 0x2545_F491_4F6C_DD1D_u64);
        let mut uniform = move || {
            seed ^= seed << 13;
            seed ^= seed >> 7;
            seed ^= seed << 17;
            (seed >> 11) as f64 / (1u64 << 53) as f64
        };
        let mut normal = move || (-2.0 * uniform().max(1e-300).ln()).sqrt() * (std::f64::consts::TAU * uniform()).cos();
        let matches = 4000;
        let mut passed = 0;
        for _ in 0..matches {
            let any = (0..20).any(|_| {
                let rifle = 800.0 + 12.0 * normal();
                (0..30).any(|_| rifle + 9.0 * normal() > limit)
            });
            passed += u32::from(any);
        }
        let (drawn, exact) = (f64::from(passed) / f64::from(matches), field.chance_above(Velocity::from_si(limit)));
        // Four standard errors of 4,000 draws.
        assert!((drawn - exact).abs() < 0.032, "{drawn} {exact}");
    }

    #[test]
    fn more_shooters_rounds_or_spread_never_lower_the_chance_and_the_limit_turns_back() {
        let limit = Velocity::from_si(850.0);
        let base = field(9.0, 12.0, 20, 30).chance_above(limit);
        for more in
            [field(9.0, 12.0, 21, 30), field(9.0, 12.0, 20, 60), field(11.0, 12.0, 20, 30), field(9.0, 15.0, 20, 30)]
        {
            assert!(more.chance_above(limit) > base);
        }
        let field = field(9.0, 12.0, 20, 30);
        for risk in [1e-6, 0.01, 0.5] {
            assert!((field.chance_above(field.limit_for(risk).unwrap()) / risk - 1.0).abs() < 1e-5, "{risk}");
        }
        assert!(field.limit_for(0.0).is_err() && field.limit_for(f64::NAN).is_err());
    }
}
