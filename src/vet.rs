//! Does this load suit this target, and what would make it suit.

use crate::flight::FlightError;
use crate::load::Load;
use crate::numeric::bisect;
use crate::order::Order;
use crate::plate::{Ladder, Mount, Plate};
use crate::quantity::{Angle, Length, Measure, Range, Velocity, unit};
use crate::rules::{Finding, Judgement, MAX_TILT_DEG, Rule, RuleSet, Sense, Setup, Subject, Verdict};
use crate::spread::{FlightConditions, Flights, day_muzzle};
use crate::strike::Strike;

/// A load, a plate, a setup and a distance, judged.
#[derive(Debug, Clone)]
pub struct Vetting<'r> {
    /// What arrives.
    pub strike: Strike,
    /// The verdict and what governs it.
    pub judgement: Judgement<'r>,
    /// Every rule that speaks of the case.
    pub findings: Vec<Finding<'r>>,
    /// What would make it suit.
    pub remedies: Remedies<'r>,
}

/// What would make a load suit, one change at a time; each `None` where that change alone would not.
#[derive(Debug, Clone)]
pub struct Remedies<'r> {
    /// The distance from which on this load suits this plate.
    pub distance: Option<Length>,
    /// The rule that fixes that distance.
    pub distance_by: Option<&'r Rule>,
    /// The thinnest plate of the ladder that suits at this distance.
    pub plate: Option<Plate>,
    /// The highest muzzle velocity of this bullet that suits, not above the load's own.
    pub muzzle_velocity: Option<Velocity>,
    /// The lean of the face toward the shooter that suits, in whole degrees, the least change first.
    pub tilt: Option<Angle>,
    /// The turn of the face that suits, in whole degrees, the least change first.
    pub oblique: Option<Angle>,
    /// A mount that suits.
    pub mount: Option<Mount>,
}

/// What a load is asked of: everything but the load, the plate and the distance.
#[derive(Debug, Clone, Copy)]
pub struct Question<'r> {
    /// The rules to judge by.
    pub rules: &'r RuleSet,
    /// The plates there are.
    pub ladder: &'r Ladder,
    /// How the plate stands.
    pub setup: &'r Setup,
    /// Weather, slope and coverage.
    pub conditions: &'r FlightConditions,
}

/// Judges a load on a plate at a distance.
///
/// # Errors
/// [`FlightError`] where the bullet does not reach the distance.
pub fn vet<'r>(
    question: &Question<'r>,
    load: &Load,
    plate: &Plate,
    distance: Length,
) -> Result<Vetting<'r>, FlightError> {
    let flights = Flights::new(load, question.conditions)?;
    let strike = flights.strike(distance)?;
    let allowance = question.rules.allow(load, plate, question.setup, strike.muzzle);
    let judgement = allowance.judge(&strike);
    // Nearer is no remedy, should it be the far fall that fails.
    let farther = |d: &Length| judgement.verdict == Verdict::Suits || *d > distance;
    let closest = allowance.closest(&flights);
    let from = closest.distance().filter(farther);
    let stand =
        if judgement.verdict == Verdict::Suits { Stand::default() } else { stand(question, load, plate, &strike) };
    let remedies = Remedies {
        distance: from,
        distance_by: from.and(closest.by()),
        plate: question.ladder.plates().iter().find(|plate| suits(question, load, plate, &strike)).cloned(),
        muzzle_velocity: fastest_that_suits(question, load, plate, distance),
        tilt: stand.tilt,
        oblique: stand.oblique,
        mount: stand.mount,
    };
    Ok(Vetting { strike, judgement, findings: allowance.findings(&strike), remedies })
}

/// What would do about how the plate stands.
#[derive(Debug, Clone, Copy, Default)]
struct Stand {
    tilt: Option<Angle>,
    oblique: Option<Angle>,
    mount: Option<Mount>,
}

/// The most that a face is asked to lean toward the shooter, degrees: more glances bullets on (common practice).
const MAX_LEAN_DEG: f64 = 30.0;

/// The leans of a face that are tried, in whole degrees, the least change first: to 30° toward the shooter, from the
/// vertical as from the line of sight, which leans as well where it rises or falls.
#[must_use]
pub fn leans(own: Option<Angle>, slope: Angle) -> Vec<Angle> {
    let (own, slope) = (own.map_or(0.0, |tilt| unit::DEGREE.value(tilt)), unit::DEGREE.value(slope));
    let (least, most) = (slope.clamp(-MAX_TILT_DEG, 0.0), (MAX_LEAN_DEG + slope.max(0.0)).min(MAX_TILT_DEG));
    #[allow(clippy::cast_possible_truncation)] // Within a right angle.
    let mut leans: Vec<i32> = (least.ceil() as i32..=most.floor() as i32).collect();
    leans.order_by(|a, b| (f64::from(*a) - own).abs().total_cmp(&(f64::from(*b) - own).abs()));
    leans.into_iter().map(|lean| unit::DEGREE.of(f64::from(lean))).collect()
}

fn stand(question: &Question, load: &Load, plate: &Plate, strike: &Strike) -> Stand {
    let own = question.setup;
    let suits = |change: &dyn Fn(&mut Setup)| {
        let mut setup = own.clone();
        change(&mut setup);
        question.rules.allow(load, plate, &setup, strike.muzzle).judge(strike).verdict == Verdict::Suits
    };
    let degrees = |whole: i32| unit::DEGREE.of(f64::from(whole));
    let leans = leans(own.tilt, question.conditions.slope());
    let turned = unit::DEGREE.value(own.oblique);
    #[allow(clippy::cast_possible_truncation)] // A turn is within a right angle.
    let turns = (0..turned.abs().ceil() as i32).rev().map(|turn| if turned < 0.0 { -turn } else { turn });
    Stand {
        tilt: leans.into_iter().find(|&tilt| suits(&|setup| setup.tilt = Some(tilt))),
        oblique: turns.map(degrees).find(|&turn| suits(&|setup| setup.oblique = turn)),
        mount: (!own.mount.is_free() && suits(&|setup| setup.mount = Mount::OpenHook)).then_some(Mount::OpenHook),
    }
}

fn suits(question: &Question, load: &Load, plate: &Plate, strike: &Strike) -> bool {
    question.rules.allow(load, plate, question.setup, strike.muzzle).judge(strike).verdict == Verdict::Suits
}

impl Remedies<'_> {
    /// Whether any one change would do.
    #[must_use]
    pub fn any(&self) -> bool {
        let stands = self.tilt.is_some() || self.oblique.is_some() || self.mount.is_some();
        stands || self.distance.is_some() || self.plate.is_some() || self.muzzle_velocity.is_some()
    }
}

/// The slowest muzzle velocity that is looked at, m/s.
const SLOWEST_MPS: f64 = 60.0;
/// How finely the least muzzle velocity is found, on its fast side, m/s.
const SLOW_MPS: f64 = 0.1;
/// How finely the muzzle velocity is found, m/s.
const RESOLUTION_MPS: f64 = 1e-4;

/// How low the coefficient of other bullets of a cartridge may be, as a share of a listed one's (house assumption).
pub(crate) const LOW_COEFFICIENT: f64 = 0.7;

/// The least muzzle velocity, not above the load's own, with which the slow shot is as fast at a distance as the rules
/// ask there, also of a bullet of this mass that loses more on its way; `None` where they ask nothing.
#[must_use]
pub fn slowest_that_suits(
    rules: &RuleSet,
    conditions: &FlightConditions,
    load: &Load,
    plate: &Plate,
    setup: &Setup,
    distance: Length,
) -> Option<Velocity> {
    let allowance = rules.allow(load, plate, setup, day_muzzle(load, conditions));
    let asked = allowance.slow_limits().filter(|(_, within)| distance < *within).map(|(limit, _)| limit.si());
    let limit = Velocity::from_si(asked.reduce(f64::max)?);
    let is_slow = |mps: f64| {
        let slower = load.with(|facts| {
            facts.muzzle_velocity = Velocity::from_si(mps);
            facts.drag = facts.drag.scaled(LOW_COEFFICIENT);
        });
        let flights = slower.ok().and_then(|load| Flights::new(&load, conditions).ok());
        flights.and_then(|flights| flights.slow_speed(distance).ok()).is_none_or(|slow| slow < limit)
    };
    let own = load.facts().muzzle_velocity;
    if is_slow(own.si()) {
        return Some(own);
    }
    Some(Velocity::from_si(bisect(limit.si(), own.si(), SLOW_MPS, is_slow).1))
}

/// The highest muzzle velocity of this bullet, not above its own, that suits a plate at a distance:
/// the same limits, flown backwards. Rules that depend on the muzzle cut the span into pieces; within
/// a piece slower suits where faster does not.
#[must_use]
pub fn fastest_that_suits(question: &Question, load: &Load, plate: &Plate, distance: Length) -> Option<Velocity> {
    let suits = |speed_mps: f64| {
        let slower = load.with(|facts| facts.muzzle_velocity = Velocity::from_si(speed_mps)).ok()?;
        let strike = Flights::new(&slower, question.conditions).and_then(|f| f.strike(distance)).ok()?;
        Some(suits(question, &slower, plate, &strike))
    };
    let suits = |speed_mps: f64| suits(speed_mps).unwrap_or(false);
    let edges = muzzle_edges(question.rules, load, &day_muzzle(load, question.conditions));
    for pair in edges.windows(2) {
        let (high, low) = (pair[0], pair[1]);
        if suits(high) {
            return Some(Velocity::from_si(high));
        }
        let just_above = low + RESOLUTION_MPS;
        if just_above < high && suits(just_above) {
            return Some(Velocity::from_si(last_that(suits, just_above, high)));
        }
    }
    None
}

/// The last speed between one that suits and one that does not, by bisection, on the side that suits.
fn last_that(suits: impl Fn(f64) -> bool, mut good: f64, mut bad: f64) -> f64 {
    while bad - good > RESOLUTION_MPS {
        let middle = 0.5 * (good + bad);
        if suits(middle) {
            good = middle;
        } else {
            bad = middle;
        }
    }
    good
}

/// Muzzle velocities at which some rule begins or ceases to apply, by what is listed or by the powder of the day, from
/// the load's own downward.
fn muzzle_edges(rules: &RuleSet, load: &Load, day: &Range<Velocity>) -> Vec<f64> {
    let own = load.facts().muzzle_velocity.si();
    // The house's energies are of one projectile, a range's of the whole shot.
    let of_energy = |joules: f64| [load.facts().bullet, load.charge()].map(|mass| (2.0 * joules / mass.si()).sqrt());
    let mut edges = vec![own];
    edges.extend(load.class_edges().into_iter().map(Measure::si));
    for rule in rules.rules() {
        let filter = &rule.filter;
        let speeds = [filter.muzzle_speed_above, filter.muzzle_speed_at_most];
        edges.extend(speeds.into_iter().flatten().map(Measure::si));
        let energies = [filter.muzzle_energy_above, filter.muzzle_energy_at_most];
        edges.extend(energies.into_iter().flatten().flat_map(|e| of_energy(e.si())));
        if let Sense::Limit { suits, borderline, .. } = &rule.sense {
            match rule.subject {
                Subject::MuzzleSpeed => edges.extend([suits.si(), borderline.si()]),
                Subject::MuzzleEnergy => edges.extend([suits, borderline].into_iter().flat_map(|e| of_energy(e.si()))),
                _ => {}
            }
        }
    }
    // What the day's powder adds and takes is the same at every velocity.
    let (adds, takes) = (day.high.si() - own, own - day.low.si());
    edges.extend(edges.clone().into_iter().flat_map(|edge| [edge - adds, edge + takes]));
    edges.push(SLOWEST_MPS);
    edges.retain(|edge| (SLOWEST_MPS..=own).contains(edge));
    edges.order_by(|a, b| b.total_cmp(a));
    edges.dedup();
    edges
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::air::Weather;
    use crate::catalog::Catalog;
    use crate::plate::Face;

    #[test]
    fn the_slowest_that_suits_suits_and_a_little_slower_does_not() {
        let (rules, catalog) = (RuleSet::house().unwrap(), Catalog::builtin().unwrap());
        let (degrees, share) = (|angle: f64| unit::DEGREE.of(angle), unit::PERCENT.of(99.0));
        let conditions = FlightConditions::new(&Weather::default(), degrees(0.0), share).unwrap();
        let ladder = Ladder::builtin().unwrap();
        let plate = ladder.named("3/8 in").unwrap();
        let face = Face::Round(unit::INCH.of(12.0));
        let setup = Setup { tilt: Some(degrees(15.0)), ..Setup::hung(face) };
        let load = &catalog.load("45acp-230").unwrap().load;
        let from = |yards: f64| slowest_that_suits(&rules, &conditions, load, &plate, &setup, unit::YARD.of(yards));
        let slowest = from(40.0).unwrap();
        assert!(slowest < load.facts().muzzle_velocity && slowest > from(10.0).unwrap());
        let speaks = |muzzle: Velocity| {
            let slower = load.with(|facts| {
                facts.muzzle_velocity = muzzle;
                facts.drag = facts.drag.scaled(LOW_COEFFICIENT);
            });
            let slower = slower.unwrap();
            let strike = Flights::new(&slower, &conditions).unwrap().strike(unit::YARD.of(40.0)).unwrap();
            let findings = rules.allow(&slower, &plate, &setup, strike.muzzle).findings(&strike);
            findings.iter().any(|f| f.rule().subject == Subject::SlowSpeed && f.verdict > Verdict::Suits)
        };
        assert!(!speaks(slowest) && speaks(slowest - Velocity::from_si(0.3)));
        // Beyond the window nothing is asked.
        assert_eq!(from(60.0), None);
    }
}
