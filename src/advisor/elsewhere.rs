//! The case judged again at the bad end of the air that was not given, and where on the way the answer changes.

use super::worst::Lost;
use crate::air::Weather;
use crate::quantity::{Length, Measure, Range, Ratio, Temperature, unit};
use crate::source::Diagnostic;
use crate::words::Units;

/// A hot day, °F.
pub(crate) const HOT_F: f64 = 100.0;
/// A cold one, which slow shots fly in, °F.
pub(crate) const COLD_F: f64 = -10.0;
/// As high as people shoot without thinking of it, ft.
pub(crate) const HIGH_FT: f64 = 6000.0;
/// The dampest air, %: from rain or over a river.
pub(crate) const DAMP_PERCENT: f64 = 100.0;
/// Where an answer holds nowhere but there.
const TAKEN_ALONE: &str = "in the air that was taken alone";
/// Halvings of a span: finer than what is told.
const HALVINGS: u32 = 9;

/// An answer that is another one at the bad end of the air that was not given.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Turn<A> {
    /// The air up to which the answer holds: `up to 3400 ft on a hot day (100 °F)`.
    pub holds: String,
    /// All of the air that was not given: `for all of 0 to 6000 ft at -10 to 100 °F`.
    pub end: String,
    /// The answer there.
    pub there: A,
}

/// What of the air was not given.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) struct Open {
    /// Neither the altitude nor the pressure at the station.
    pub height: bool,
    pub temperature: bool,
    pub humidity: bool,
}

impl Open {
    pub fn of(air: &Weather) -> Self {
        Self { height: !air.has_altitude(), temperature: !air.has_temperature(), humidity: !air.has_humidity() }
    }

    /// What either leaves open.
    pub fn or(self, other: Self) -> Self {
        Self {
            height: self.height || other.height,
            temperature: self.temperature || other.temperature,
            humidity: self.humidity || other.humidity,
        }
    }

    pub fn is_any(self) -> bool {
        self != Self::default()
    }

    /// Whether more is open than the humidity. What holds from dry to damp needs no word about it.
    pub fn is_more_than_damp(self) -> bool {
        self.height || self.temperature
    }

    /// The height and the temperature that were taken for what was not given: `at sea level and 59 °F`.
    pub fn taken_at(self, heat: Temperature, units: Units) -> Option<String> {
        let place = self.height.then(|| "sea level".to_owned());
        let heat = self.temperature.then(|| units.temperature(heat));
        self.is_more_than_damp()
            .then(|| format!("at {}", place.into_iter().chain(heat).collect::<Vec<_>>().join(" and ")))
    }

    /// What is judged where it was not given: `0 to 6000 ft at -10 to 100 °F`. Each holds from dry to damp, which is
    /// named where nothing else is open.
    pub fn span(self, units: Units) -> String {
        // Metres alone would be read as distances.
        let of = if units == Units::Si { "altitudes " } else { "" };
        let heights = self.height.then(|| format!("{of}{}", units.altitudes(heights(HIGH_FT))));
        let temperatures = self.temperature.then(|| units.temperatures(temperatures(COLD_F, HOT_F)));
        let named: Vec<String> = heights.into_iter().chain(temperatures).collect();
        if self.is_more_than_damp() { named.join(" at ") } else { "dry to damp air".into() }
    }
}

/// What is looked at where it was not given: heights up to one, temperatures to the ends named, and those taken where
/// none is, from dry up to a humidity.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Until {
    pub feet: f64,
    pub coldest: Option<f64>,
    pub hottest: Option<f64>,
    pub damp: f64,
}

impl Until {
    /// The bad end of all of it.
    pub const WORST: Self = Self { feet: HIGH_FT, coldest: Some(COLD_F), hottest: Some(HOT_F), damp: DAMP_PERCENT };

    /// Some air with what was not given of it.
    pub fn of(self, air: &Weather) -> Weather {
        let (low, high) = taken(air);
        let heat = temperatures(self.coldest.unwrap_or(low), self.hottest.unwrap_or(high));
        let damp = Range { low: Ratio::from_si(0.0), high: unit::PERCENT.of(self.damp) };
        air.where_unspecified(heights(self.feet), heat, damp)
    }
}

/// The air at the bad end; none where all of it was given.
pub(crate) fn bad_end(air: &Weather) -> Option<Weather> {
    Open::of(air).is_any().then(|| Until::WORST.of(air))
}

/// The same as what an answer holds for, or not: `for all of 0 to 6000 ft at -10 to 100 °F`.
pub(crate) fn end_words(air: &Weather, units: Units) -> String {
    format!("for all of {}", end(air, units))
}

/// All of the air that was not given, since it may be its heat, its height or its cold that is bad:
/// `0 to 6000 ft at -10 to 100 °F`.
pub(crate) fn end(air: &Weather, units: Units) -> String {
    Open::of(air).span(units)
}

/// A hot day, no hotter than it is judged.
fn hot_day(units: Units) -> String {
    units.temperatures(Range::single(unit::FAHRENHEIT.of(HOT_F)))
}

/// Whether the answer changes on the way to the bad end, and where. `judge` gives the answer in a weather.
pub(crate) fn turn<A: PartialEq>(
    air: &Weather,
    here: &A,
    units: Units,
    judge: impl Fn(&Weather) -> Result<A, Lost>,
) -> Result<Option<Turn<A>>, Diagnostic> {
    let open = Open::of(air);
    if !open.is_any() {
        return Ok(None);
    }
    // None where the shot falls short.
    let judged = |until: Until| match judge(&until.of(air)) {
        Ok(there) => Ok(Some(there)),
        Err(Lost::Short(_)) => Ok(None),
        Err(Lost::Fault(fault)) => Err(fault),
    };
    let (mut worst, mut there) = (Until::WORST, judged(Until::WORST)?);
    if there.is_none() {
        // The slow shot falls short in the cold and hits nothing there; the fast one still flies in hot thin air.
        worst.coldest = None;
        there = judged(worst)?;
    }
    // What falls short there as well hits nothing there: the answer here stands.
    let Some(there) = there.filter(|there| there != here) else { return Ok(None) };
    let same = |until: Until| Ok(judged(until)?.is_some_and(|there| there == *here));
    let holds = holds(open, Some(air), worst, units, same)?.unwrap_or_else(|| TAKEN_ALONE.into());
    Ok(Some(Turn { holds, end: end_words(air, units), there }))
}

/// The air up to which an answer is the `same` as here, on the way to the worst that is looked at, found by halving.
/// Where no one air stands for all of it, no more is told than the height; none where that says nothing.
pub(crate) fn holds(
    open: Open,
    air: Option<&Weather>,
    worst: Until,
    units: Units,
    same: impl Fn(Until) -> Result<bool, Diagnostic>,
) -> Result<Option<String>, Diagnostic> {
    if open.height && same(Until { feet: 0.0, ..worst })? {
        let top = last(0.0, HIGH_FT, |feet| same(Until { feet, ..worst }))?;
        return Ok(Some(told_top(top, open, units)));
    }
    let Some(air) = air else { return Ok(None) };
    let own = Until { feet: 0.0, coldest: None, hottest: None, ..worst };
    if !same(own)? {
        return told_damp(air, units, |damp| same(Until { damp, ..own })).map(Some);
    }
    if !open.temperature {
        return Ok(None);
    }
    let (low, high) = taken(air);
    let hottest = last_same(high, HOT_F, |fahrenheit| same(Until { hottest: Some(fahrenheit), ..own }))?;
    let cold = worst.coldest.unwrap_or(low);
    let coldest = last_same(low, cold, |fahrenheit| same(Until { coldest: Some(fahrenheit), ..own }))?;
    let place = if open.height { "at sea level " } else { "" };
    Ok(Some(format!("{place}{}", told_temperatures(coldest, hottest, units))))
}

/// The coldest and the hottest of the air that was taken, °F.
pub(crate) fn taken(air: &Weather) -> (f64, f64) {
    let (thin, dense) = (air.thin().temperature(), air.dense().temperature());
    let (a, b) = (unit::FAHRENHEIT.value(thin), unit::FAHRENHEIT.value(dense));
    (a.min(b), a.max(b))
}

fn heights(top_ft: f64) -> Range<Length> {
    Range { low: unit::FOOT.of(0.0), high: unit::FOOT.of(top_ft) }
}

fn temperatures(low: f64, high: f64) -> Range<Temperature> {
    Range { low: unit::FAHRENHEIT.of(low), high: unit::FAHRENHEIT.of(high) }
}

/// The last value from `good` toward `bad` at which the answer is the same, by halving; on the good side.
fn last(good: f64, bad: f64, same: impl Fn(f64) -> Result<bool, Diagnostic>) -> Result<f64, Diagnostic> {
    let (mut good, mut bad) = (good, bad);
    for _ in 0..HALVINGS {
        let middle = 0.5 * (good + bad);
        if same(middle)? {
            good = middle;
        } else {
            bad = middle;
        }
    }
    Ok(good)
}

/// A height up to which an answer holds: `up to 3400 ft on a hot day (100 °F)`.
fn told_top(feet: f64, open: Open, units: Units) -> String {
    let of = if units == Units::Si { "an altitude of " } else { "" };
    let top = told_height(feet, units).map_or_else(|| "at sea level".into(), |top| format!("up to {of}{top}"));
    let day = if open.temperature { format!(" on a hot day ({})", hot_day(units)) } else { String::new() };
    top + &day
}

/// The humidity up to which an answer is the same in the air that was taken: `at sea level and 59 °F up to 40 %
/// humidity`.
fn told_damp(
    air: &Weather,
    units: Units,
    same: impl Fn(f64) -> Result<bool, Diagnostic>,
) -> Result<String, Diagnostic> {
    let (open, own) = (Open::of(air), unit::PERCENT.value(air.thin().humidity()));
    if !same(own)? {
        return Ok(TAKEN_ALONE.into());
    }
    let percent = last(own, DAMP_PERCENT, same)?.floor();
    let stands = open.taken_at(air.thin().temperature(), units).map(|at| at + " ").unwrap_or_default();
    Ok(if percent < 1.0 { format!("{stands}in dry air") } else { format!("{stands}up to {percent:.0} % humidity") })
}

/// A height rounded down to 100 ft or 50 m: what is told still holds. None where that is sea level.
fn told_height(feet: f64, units: Units) -> Option<String> {
    let told = match units {
        Units::Us => unit::FOOT.of((feet / 100.0).floor() * 100.0),
        Units::Si => unit::METRE.of((unit::METRE.value(unit::FOOT.of(feet)) / 50.0).floor() * 50.0),
    };
    (unit::METRE.value(told) > 1.0).then(|| units.altitude(told))
}

/// Temperatures rounded inward to a whole degree.
fn told_temperatures(coldest: Option<f64>, hottest: Option<f64>, units: Units) -> String {
    let unit = if units == Units::Us { unit::FAHRENHEIT } else { unit::CELSIUS };
    let round = |fahrenheit: f64, up: bool| {
        let value = unit.value(unit::FAHRENHEIT.of(fahrenheit));
        units.temperature(unit.of(if up { value.ceil() } else { value.floor() }))
    };
    match (coldest, hottest) {
        (None, Some(hot)) => format!("up to {}", round(hot, false)),
        (Some(cold), None) => format!("down to {}", round(cold, true)),
        (Some(cold), Some(hot)) => format!("from {} to {}", round(cold, true), round(hot, false)),
        (None, None) => TAKEN_ALONE.into(),
    }
}

/// The last temperature toward an end at which the answer is the one here; none where the end itself is one.
fn last_same(from: f64, to: f64, same: impl Fn(f64) -> Result<bool, Diagnostic>) -> Result<Option<f64>, Diagnostic> {
    // Hotter than a hot day, or colder than a cold one, already.
    if (to - from).abs() < 1e-9 || (to > from) != (to > 50.0) || same(to)? {
        return Ok(None);
    }
    last(from, to, same).map(Some)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advisor::question::AirPart;
    use crate::advisor::resolve::air::air;
    use crate::advisor::resolve::taken::Taken;

    fn asked(altitude: Option<&str>, temperature: Option<&str>) -> Weather {
        humid(altitude, temperature, None)
    }

    fn humid(altitude: Option<&str>, temperature: Option<&str>, humidity: Option<&str>) -> Weather {
        let part = AirPart {
            air: None,
            altitude: altitude.map(|t| Range::parse(t).unwrap()),
            temperature: temperature.map(|t| Range::parse(t).unwrap()),
            pressure: None,
            humidity: humidity.map(|t| Range::parse(t).unwrap()),
        };
        air(part, Units::Us, &mut Taken::default()).unwrap()
    }

    /// An answer that changes where the air is thinner than at a height on a hot day.
    fn thin_as(feet: f64, fahrenheit: f64) -> impl Fn(&Weather) -> Result<bool, Lost> {
        let edge = humid(Some(&format!("{feet} ft")), Some(&format!("{fahrenheit} F")), Some("100 %")).thin().density();
        move |weather| Ok(weather.thin().density() < edge)
    }

    #[test]
    fn the_edge_is_found_and_told_on_the_side_that_holds() {
        let open = asked(None, None);
        let found = turn(&open, &false, Units::Us, thin_as(3460.0, 100.0)).unwrap().unwrap();
        assert_eq!((found.holds.as_str(), found.there), ("up to 3400 ft on a hot day (100 °F)", true));
        let found = turn(&open, &false, Units::Si, thin_as(3460.0, 100.0)).unwrap().unwrap();
        assert_eq!(found.holds, "up to an altitude of 1050 m on a hot day (37 °C)");
        let found = turn(&open, &false, Units::Us, thin_as(0.0, 84.6)).unwrap().unwrap();
        assert_eq!(found.holds, "at sea level up to 84 °F");
        let found = turn(&open, &false, Units::Us, thin_as(60.0, 100.0)).unwrap().unwrap();
        assert_eq!(found.holds, "at sea level on a hot day (100 °F)");
        let given = asked(None, Some("70 F"));
        let found = turn(&given, &false, Units::Us, thin_as(3460.0, 70.0)).unwrap().unwrap();
        assert_eq!((found.holds.as_str(), found.end.as_str()), ("up to 3400 ft", "for all of 0 to 6000 ft"));
        let given = asked(Some("2000 ft"), None);
        let found = turn(&given, &false, Units::Us, thin_as(2000.0, 80.5)).unwrap().unwrap();
        assert_eq!((found.holds.as_str(), found.end.as_str()), ("up to 80 °F", "for all of -10 to 100 °F"));
    }

    #[test]
    fn slow_limits_are_looked_at_in_the_cold() {
        let open = asked(None, None);
        let cold = |weather: &Weather| Ok(weather.dense().temperature().si() < unit::FAHRENHEIT.of(20.5).si());
        let found = turn(&open, &false, Units::Us, cold).unwrap().unwrap();
        assert_eq!(found.holds, "at sea level down to 21 °F");
    }

    #[test]
    fn a_shot_that_falls_short_in_the_cold_alone_is_judged_in_the_heat_and_other_faults_are_told() {
        let open = asked(None, None);
        let hot = thin_as(3460.0, 100.0);
        let short = |weather: &Weather| {
            let cold = weather.dense().temperature().si() < unit::FAHRENHEIT.of(20.0).si();
            if cold { Err(Lost::Short(Diagnostic::plain("short"))) } else { hot(weather) }
        };
        let found = turn(&open, &false, Units::Us, short).unwrap().unwrap();
        assert_eq!((found.holds.as_str(), found.there), ("up to 3400 ft on a hot day (100 °F)", true));
        let nowhere = |_: &Weather| Err::<bool, _>(Lost::Short(Diagnostic::plain("short")));
        assert_eq!(turn(&open, &false, Units::Us, nowhere).unwrap(), None);
        let fault = |_: &Weather| Err::<bool, _>(Lost::Fault(Diagnostic::plain("no fast end")));
        assert_eq!(turn(&open, &false, Units::Us, fault).unwrap_err().message, "no fast end");
    }

    #[test]
    fn nothing_turns_where_all_was_given_or_the_answer_stays() {
        let all = humid(Some("0 ft"), Some("59 F"), Some("40 %"));
        assert_eq!(turn(&all, &false, Units::Us, thin_as(0.0, 0.0)).unwrap(), None);
        assert_eq!(turn(&asked(None, None), &false, Units::Us, thin_as(9000.0, 100.0)).unwrap(), None);
    }

    #[test]
    fn air_whose_humidity_was_not_given_is_judged_from_dry_to_damp() {
        let given = asked(Some("1000 ft"), Some("90 F"));
        let edge = humid(Some("1000 ft"), Some("90 F"), Some("40.5 %")).thin().density();
        let found = turn(&given, &false, Units::Us, |weather| Ok(weather.thin().density() < edge)).unwrap().unwrap();
        assert_eq!((found.holds.as_str(), found.end.as_str()), ("up to 40 % humidity", "for all of dry to damp air"));
        let open = asked(None, None);
        let edge = humid(Some("0 ft"), Some("59 F"), Some("30.5 %")).thin().density();
        let found = turn(&open, &false, Units::Us, |weather| Ok(weather.thin().density() < edge)).unwrap().unwrap();
        assert_eq!(found.holds, "at sea level and 59 °F up to 30 % humidity");
        let all = humid(Some("1000 ft"), Some("90 F"), Some("10 %"));
        assert_eq!(turn(&all, &false, Units::Us, |weather| Ok(weather.thin().density() < edge)).unwrap(), None);
    }

    #[test]
    fn the_air_that_was_taken_lies_between_its_coldest_and_its_hottest() {
        let told = |heat: &str| {
            let (coldest, hottest) = taken(&asked(Some("0 ft"), Some(heat)));
            (coldest.round(), hottest.round())
        };
        assert_eq!((told("59 F"), told("20 F..95 F")), ((59.0, 59.0), (20.0, 95.0)));
    }
}
