//! The chance that a match sees a shot above a speed: spread between rifles added to spread within.

use super::normal::{above, density};
use crate::numeric::bisect;
use crate::quantity::{Measure, Velocity, unit};
use thiserror::Error;

/// Spread of mean velocity between rifles unless given, 40 ft/s (house assumption).
#[must_use]
pub fn assumed_between_rifles() -> Velocity {
    unit::FOOT_PER_SECOND.of(40.0)
}

/// The most shooters of a match.
pub const MAX_SHOOTERS: u32 = 100_000;
/// The most rounds of a shooter.
pub const MAX_ROUNDS: u32 = 1_000_000;

/// The largest spread that is taken, within a rifle or between rifles, ft/s.
pub const MAX_SPREAD_FPS: f64 = 1000.0;
/// The largest risk that is accepted. Above an even chance more spread would lower the limit.
pub const MAX_RISK: f64 = 0.5;
/// Step of the rule over standard normals, whose integrands are never narrower than a fifth; leaves less than 1e-13.
const STEP: f64 = 0.04;
/// How near a limit is found, m/s.
const FOUND_MPS: f64 = 1e-9;
/// How far beyond its peak an integrand is followed, standard deviations.
const BEYOND: f64 = 12.0;

/// A match's shots: each shooter's rifle has a mean of its own, and spreads about it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShooterPopulation {
    mean_mps: f64,
    within_mps: f64,
    between_mps: f64,
    shooters: f64,
    rounds: f64,
}

/// A match that can't be. [`PopulationError::help`] says what would do.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum PopulationError {
    /// No shooter, or more than fit a match.
    #[error("{0} shooters")]
    Shooters(u32),
    /// No round, or more than fit a match.
    #[error("{0} rounds")]
    Rounds(u32),
    /// A mean that is no number.
    #[error("a mean velocity that is not finite")]
    Mean,
    /// A spread that is negative, absurd or not a number, ft/s.
    #[error("a spread of `{0:.1} ft/s` is not between 0 and {MAX_SPREAD_FPS} ft/s")]
    Spread(f64),
    /// A risk that is none, or more than an even chance.
    #[error("risk of `{0}` is not above 0 and at most {MAX_RISK}")]
    Risk(f64),
}

impl PopulationError {
    /// The option at fault.
    #[must_use]
    pub fn field(&self) -> &'static str {
        match self {
            Self::Shooters(_) => "shooters",
            Self::Rounds(_) => "rounds",
            Self::Mean => "velocity",
            Self::Spread(_) => "rifle-spread",
            Self::Risk(_) => "risk",
        }
    }

    /// What to write instead.
    #[must_use]
    pub fn help(&self) -> String {
        match self {
            Self::Shooters(_) => format!("write 1 to {MAX_SHOOTERS} shooters"),
            Self::Rounds(_) => format!("write 1 to {MAX_ROUNDS} rounds for each shooter"),
            Self::Mean => "write a speed such as `2650 ft/s`".into(),
            Self::Spread(_) => format!("write a speed such as `40 ft/s`, at most {MAX_SPREAD_FPS} ft/s"),
            Self::Risk(_) => "write a share such as `1%`, at most `50%`".into(),
        }
    }
}

/// Whether a risk is one that can be accepted.
///
/// # Errors
/// [`PopulationError::Risk`] unless 0 < risk ≤ [`MAX_RISK`].
pub fn check_risk(risk: f64) -> Result<(), PopulationError> {
    if risk > 0.0 && risk <= MAX_RISK { Ok(()) } else { Err(PopulationError::Risk(risk)) }
}

impl ShooterPopulation {
    /// A field of shooters with muzzle velocities of this mean, spread within a rifle and between rifles.
    ///
    /// # Errors
    /// [`PopulationError`] names the value out of its bounds.
    pub fn new(
        mean: Velocity,
        within: Velocity,
        between: Velocity,
        shooters: u32,
        rounds: u32,
    ) -> Result<Self, PopulationError> {
        if shooters == 0 || shooters > MAX_SHOOTERS {
            return Err(PopulationError::Shooters(shooters));
        }
        if rounds == 0 || rounds > MAX_ROUNDS {
            return Err(PopulationError::Rounds(rounds));
        }
        if !mean.si().is_finite() {
            return Err(PopulationError::Mean);
        }
        for spread in [within, between].map(|s| unit::FOOT_PER_SECOND.value(s)) {
            // The slack lets the bound itself in, whatever unit it was written in.
            if !(0.0..=MAX_SPREAD_FPS * (1.0 + 1e-9)).contains(&spread) {
                return Err(PopulationError::Spread(spread));
            }
        }
        Ok(Self {
            mean_mps: mean.si(),
            within_mps: within.si(),
            between_mps: between.si(),
            shooters: f64::from(shooters),
            rounds: f64::from(rounds),
        })
    }

    /// The chance that at least one shot of the match leaves faster than `limit`:
    /// `1 − [∫ φ(b)·Φ((L − μ − σ_b·b)/σ_w)^M db]^N`, computed from the small side, so that a chance of
    /// 1e-100 keeps its digits.
    #[must_use]
    pub fn chance_above(&self, limit: Velocity) -> f64 {
        let one_shooter = self.one_shooter(limit.si() - self.mean_mps);
        any(one_shooter, self.shooters)
    }

    /// The chance that the fastest of one shooter's rounds passes the mean by more than `gap`.
    fn one_shooter(&self, gap: f64) -> f64 {
        let (within, between) = (self.within_mps, self.between_mps);
        if within == 0.0 && between == 0.0 {
            return if gap < 0.0 { 1.0 } else { 0.0 };
        }
        if between == 0.0 {
            return any(above(gap / within), self.rounds);
        }
        // The wider spread makes the smooth factor of each integrand, so that neither has a step in it.
        if between < within {
            let peak = gap * between / (between * between + within * within);
            return over_normal(peak, |b| density(b) * any(above((gap - between * b) / within), self.rounds));
        }
        let peak = gap * within / (between * between + within * within);
        over_normal(peak, |x| self.fastest(x) * above((gap - within * x) / between))
    }

    /// The density of the largest of M standard normals, `M·φ(x)·Φ(x)^(M−1)`.
    fn fastest(&self, x: f64) -> f64 {
        let others_below = if self.rounds > 1.0 { (self.rounds - 1.0) * (-above(x)).ln_1p() } else { 0.0 };
        self.rounds * density(x) * others_below.exp()
    }

    /// The speed that a match passes with the chance `risk` at most; the least such speed.
    ///
    /// # Errors
    /// [`PopulationError::Risk`] unless 0 < risk ≤ [`MAX_RISK`].
    pub fn limit_for(&self, risk: f64) -> Result<Velocity, PopulationError> {
        check_risk(risk)?;
        // Beyond forty deviations no chance is left that a number could hold.
        let reach = 40.0 * (self.within_mps + self.between_mps);
        let (low, high) = (self.mean_mps - reach, self.mean_mps + reach);
        let limit = bisect(low, high, FOUND_MPS, |mps| self.chance_above(Velocity::from_si(mps)) > risk).1;
        Ok(Velocity::from_si(limit))
    }
}

/// The chance of at least one success in `tries` independent ones of the chance `each`.
fn any(each: f64, tries: f64) -> f64 {
    -(tries * (-each.clamp(0.0, 1.0)).ln_1p()).exp_m1()
}

/// The integral of a function that is at its largest about 0 or `peak`, and falls like a normal density
/// beyond them, by the trapezoidal rule, which gains digits as `exp(−1/h)` on such a one.
fn over_normal(peak: f64, value: impl Fn(f64) -> f64) -> f64 {
    // Beyond forty the density is below the least number there is.
    let (low, high) = (-BEYOND, peak.clamp(0.0, 40.0) + BEYOND);
    // Nodes at whole multiples of the step: a change of the peak adds nodes and moves none.
    let mut node = (low / STEP).floor();
    let mut sum = 0.0;
    while node * STEP <= high {
        sum += value(node * STEP);
        node += 1.0;
    }
    sum * STEP
}

#[cfg(test)]
mod tests {
    use super::super::normal::below;
    use super::*;

    fn field(within: f64, between: f64, shooters: u32, rounds: u32) -> ShooterPopulation {
        let mps = Velocity::from_si;
        ShooterPopulation::new(mps(800.0), mps(within), mps(between), shooters, rounds).unwrap()
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
    fn chances_of_every_size_and_every_proportion_of_the_spreads_keep_their_digits() {
        // Gap, spread within, between, shooters, rounds; computed to forty digits with a general-purpose library.
        for (gap, within, between, shooters, rounds, chance) in [
            (45.0, 9.0, 12.0, 20, 30, 0.324_624_107_586_066_85),
            (45.0, 12.0, 9.0, 20, 30, 0.471_226_950_096_917_2),
            (30.0, 0.5, 12.0, 40, 100, 0.283_714_774_510_089),
            (30.0, 12.0, 0.5, 40, 100, 0.999_999_999_985_570_4),
            (30.0, 10.0, 10.0, 1, 1000, 0.588_509_575_212_167_9),
            (150.0, 9.0, 12.0, 20, 30, 4.571_762_939_519_78e-21),
            (-20.0, 9.0, 12.0, 1, 1, 0.908_788_780_274_132_1),
            (40.0, 0.01, 12.2, 100, 1000, 0.051_290_152_659_826_83),
            (200.0, 9.144, 12.192, 40, 100, 4.839_313_156_503_565e-36),
            // Far out the integrand's peak lies far from nothing, whichever spread is the wider.
            (400.0, 12.0, 9.0, 20, 30, 3.440_869_501_201_733e-154),
            (400.0, 9.0, 12.0, 20, 30, 3.440_869_501_201_733e-154),
            (400.0, 12.0, 5.0, 40, 100, 1.352_724_014_113_904e-204),
        ] {
            let got = field(within, between, shooters, rounds).chance_above(Velocity::from_si(800.0 + gap));
            assert!((got / chance - 1.0).abs() < 1e-11, "{gap} {within} {between}: {got} {chance}");
        }
    }

    #[test]
    fn a_spread_of_nothing_is_a_limit_and_no_fault() {
        let over =
            |within, between, gap: f64| field(within, between, 3, 7).chance_above(Velocity::from_si(800.0 + gap));
        assert_eq!((over(0.0, 0.0, -1.0), over(0.0, 0.0, 0.0), over(0.0, 0.0, 1.0)), (1.0, 0.0, 0.0));
        let rifles_alone = 1.0 - below(2.0).powi(3);
        assert!((over(0.0, 12.0, 24.0) - rifles_alone).abs() < 1e-12);
        assert!((over(1e-9, 12.0, 24.0) - rifles_alone).abs() < 1e-8);
        assert!((over(12.0, 1e-9, 24.0) - over(12.0, 0.0, 24.0)).abs() < 1e-8);
        assert_eq!(field(0.0, 0.0, 3, 7).limit_for(0.01).unwrap().si(), 800.0);
    }

    #[test]
    fn a_seeded_match_shot_many_times_agrees() {
        let field = field(9.0, 12.0, 20, 30);
        let (limit, mut uniform) = (845.0, crate::quantity::draws::uniform(0x2545_F491_4F6C_DD1D));
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
        assert!(field.limit_for(0.9).unwrap_err().help().contains("50%"));
    }

    #[test]
    fn what_no_match_can_be_is_refused_by_name() {
        let new = |mean, within, between, shooters, rounds| {
            let mps = Velocity::from_si;
            ShooterPopulation::new(mps(mean), mps(within), mps(between), shooters, rounds).unwrap_err().field()
        };
        assert_eq!(new(f64::NAN, 9.0, 12.0, 1, 1), "velocity");
        assert_eq!(new(800.0, -1.0, 12.0, 1, 1), "rifle-spread");
        assert_eq!(new(800.0, 9.0, f64::INFINITY, 1, 1), "rifle-spread");
        assert_eq!(new(800.0, 9.0, 1e300, 1, 1), "rifle-spread");
        assert_eq!(new(800.0, 9.0, 12.0, 0, 1), "shooters");
        assert_eq!(new(800.0, 9.0, 12.0, 1, MAX_ROUNDS + 1), "rounds");
    }

    #[test]
    fn the_largest_match_spread_and_risk_are_taken_and_no_larger() {
        let mps = Velocity::from_si;
        let new = |between: Velocity, shooters, rounds| {
            ShooterPopulation::new(mps(800.0), mps(9.0), between, shooters, rounds)
        };
        assert!((unit::FOOT_PER_SECOND.value(assumed_between_rifles()) - 40.0).abs() < 1e-9);
        assert!(new(mps(12.0), 100_000, 1_000_000).is_ok());
        assert_eq!(new(mps(12.0), 100_001, 1).unwrap_err(), PopulationError::Shooters(100_001));
        assert_eq!(new(mps(12.0), 1, 1_000_001).unwrap_err(), PopulationError::Rounds(1_000_001));
        for bound in [unit::FOOT_PER_SECOND.of(1000.0), mps(304.8)] {
            assert!(new(bound, 1, 1).is_ok());
        }
        assert!(new(unit::FOOT_PER_SECOND.of(1000.1), 1, 1).is_err());
        let field = field(9.0, 12.0, 20, 30);
        assert!(field.limit_for(0.5).is_ok() && field.limit_for(0.501).is_err());
        // A chance so small that few shots of few shooters have it is still found.
        let limit = self::field(9.0, 12.0, 1, 1).limit_for(1e-300).unwrap();
        assert!((500.0..600.0).contains(&(limit.si() - 800.0)), "{}", limit.si());
    }
}
