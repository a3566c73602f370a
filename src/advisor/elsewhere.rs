//! The case judged again at the bad end of the air that was not given, and where on the way the answer changes.

use super::resolve::air::AirAsked;
use crate::air::Weather;
use crate::quantity::{Length, Range, Temperature, unit};
use crate::source::Diagnostic;
use crate::words::Units;

/// A hot day, °F.
const HOT_F: f64 = 100.0;
/// A cold one, which slow shots fly in, °F.
const COLD_F: f64 = -10.0;
/// As high as people shoot without thinking of it, ft.
const HIGH_FT: f64 = 6000.0;
/// Halvings of a span: finer than what is told.
const HALVINGS: u32 = 9;

/// An answer that is another one at the bad end of the air that was not given.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Turn<A> {
    /// The air up to which the answer holds: `up to 3400 ft on a hot day (100 °F)`.
    pub holds: String,
    /// The bad end: `at 6000 ft and 100 °F`.
    pub end: String,
    /// The answer there.
    pub there: A,
}

/// The air at the bad end; none where all of it was given.
pub(crate) fn bad_end(air: &AirAsked) -> Result<Option<Weather>, Diagnostic> {
    if !air.height_is_open() && !air.temperature_is_open() {
        return Ok(None);
    }
    air.with(Some(heights(HIGH_FT)), Some(temperatures(COLD_F, HOT_F))).map(Some)
}

/// The bad end in words.
pub(crate) fn end_words(air: &AirAsked, units: Units) -> String {
    let hot = units.temperature(unit::FAHRENHEIT.of(HOT_F));
    let high = units.altitude(unit::FOOT.of(HIGH_FT));
    match (air.height_is_open(), air.temperature_is_open()) {
        (true, true) => format!("at {high} and {hot}"),
        (true, false) => format!("at {high}"),
        (false, _) => format!("at {hot}"),
    }
}

/// Whether the answer changes on the way to the bad end, and where. `judge` gives the answer in a weather.
pub(crate) fn turn<A: PartialEq>(
    air: &AirAsked,
    here: &A,
    units: Units,
    judge: impl Fn(&Weather) -> Result<A, Diagnostic>,
) -> Result<Option<Turn<A>>, Diagnostic> {
    let Some(worst) = bad_end(air)? else { return Ok(None) };
    // A shot that falls short there hits nothing there: the answer here stands.
    let Ok(there) = judge(&worst) else { return Ok(None) };
    if there == *here {
        return Ok(None);
    }
    let way = Way { air, here, judge };
    let holds = way.holds(units)?;
    Ok(Some(Turn { holds, end: end_words(air, units), there }))
}

/// How near anyone may come: as near as in the air that was taken, and no nearer than at the bad end of what was not
/// given, as far as that is not beyond the distance asked, whose answer tells of it.
pub(crate) fn nearest(here: Option<Length>, there: Option<Option<Length>>, asked: Length) -> Option<Length> {
    let here = here?;
    Some(match there {
        None => here,
        Some(None) => here.max(asked),
        Some(Some(there)) if there <= here => here,
        Some(Some(there)) if asked > here => there.min(asked),
        Some(Some(there)) => there,
    })
}

fn heights(top_ft: f64) -> Range<Length> {
    Range { low: unit::FOOT.of(0.0), high: unit::FOOT.of(top_ft) }
}

fn temperatures(low: f64, high: f64) -> Range<Temperature> {
    Range { low: unit::FAHRENHEIT.of(low), high: unit::FAHRENHEIT.of(high) }
}

/// The way from the air that was taken to the bad end.
struct Way<'a, A, J> {
    air: &'a AirAsked,
    here: &'a A,
    judge: J,
}

impl<A: PartialEq, J: Fn(&Weather) -> Result<A, Diagnostic>> Way<'_, A, J> {
    fn same(&self, top_ft: f64, low_f: f64, high_f: f64) -> Result<bool, Diagnostic> {
        let weather = self.air.with(Some(heights(top_ft)), Some(temperatures(low_f, high_f)))?;
        Ok((self.judge)(&weather).is_ok_and(|there| there == *self.here))
    }

    /// The air up to which the answer is the one here.
    fn holds(&self, units: Units) -> Result<String, Diagnostic> {
        if self.air.height_is_open() && self.same(0.0, COLD_F, HOT_F)? {
            let top = last(0.0, HIGH_FT, |ft| self.same(ft, COLD_F, HOT_F))?;
            let top = told_height(top, units);
            let hot = units.temperature(unit::FAHRENHEIT.of(HOT_F));
            let day = if self.air.temperature_is_open() { format!(" on a hot day ({hot})") } else { String::new() };
            return Ok(format!("up to {top}{day}"));
        }
        let (thin, dense) = (self.air.weather.thin().temperature(), self.air.weather.dense().temperature());
        let (a, b) = (unit::FAHRENHEIT.value(thin), unit::FAHRENHEIT.value(dense));
        let (low, high) = (a.min(b), a.max(b));
        let hottest = self.end(high, HOT_F, |f| self.same(0.0, low, f))?;
        let coldest = self.end(low, COLD_F, |f| self.same(0.0, f, high))?;
        let place = if self.air.height_is_open() { "at sea level " } else { "" };
        Ok(place.to_owned() + &told_temperatures(coldest, hottest, units))
    }

    /// The last temperature toward an end at which the answer is the one here; none where the end itself is one.
    fn end(
        &self,
        from: f64,
        to: f64,
        same: impl Fn(f64) -> Result<bool, Diagnostic>,
    ) -> Result<Option<f64>, Diagnostic> {
        // Hotter than a hot day, or colder than a cold one, already.
        if (to - from).abs() < 1e-9 || (to > from) != (to > 50.0) || same(to)? {
            return Ok(None);
        }
        last(from, to, same).map(Some)
    }
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

/// A height rounded down to 100 ft or 50 m: what is told still holds.
fn told_height(feet: f64, units: Units) -> String {
    match units {
        Units::Us => units.altitude(unit::FOOT.of((feet / 100.0).floor() * 100.0)),
        Units::Si => {
            let metres = unit::METRE.value(unit::FOOT.of(feet));
            units.altitude(unit::METRE.of((metres / 50.0).floor() * 50.0))
        }
    }
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
        (None, None) => "in the air that was taken alone".into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advisor::question::AirPart;
    use crate::advisor::resolve::air::air;
    use crate::advisor::resolve::taken::Taken;
    use crate::quantity::Measure;

    fn asked(altitude: Option<&str>, temperature: Option<&str>) -> AirAsked {
        let part = AirPart {
            air: None,
            altitude: altitude.map(|t| Range::parse(t).unwrap()),
            temperature: temperature.map(|t| Range::parse(t).unwrap()),
            pressure: None,
            humidity: None,
        };
        air(part, Units::Us, &mut Taken::default()).unwrap()
    }

    /// An answer that changes where the air is thinner than at a height on a hot day.
    fn thin_as(feet: f64, fahrenheit: f64) -> impl Fn(&Weather) -> Result<bool, Diagnostic> {
        let edge = asked(Some(&format!("{feet} ft")), Some(&format!("{fahrenheit} F"))).weather.thin().density();
        move |weather| Ok(weather.thin().density() < edge)
    }

    #[test]
    fn the_edge_is_found_and_told_on_the_side_that_holds() {
        let open = asked(None, None);
        let found = turn(&open, &false, Units::Us, thin_as(3460.0, 100.0)).unwrap().unwrap();
        assert_eq!((found.holds.as_str(), found.there), ("up to 3400 ft on a hot day (100 °F)", true));
        let found = turn(&open, &false, Units::Si, thin_as(3460.0, 100.0)).unwrap().unwrap();
        assert_eq!(found.holds, "up to 1050 m on a hot day (38 °C)");
        let found = turn(&open, &false, Units::Us, thin_as(0.0, 84.6)).unwrap().unwrap();
        assert_eq!(found.holds, "at sea level up to 84 °F");
        let given = asked(None, Some("70 F"));
        let found = turn(&given, &false, Units::Us, thin_as(3460.0, 70.0)).unwrap().unwrap();
        assert_eq!((found.holds.as_str(), found.end.as_str()), ("up to 3400 ft", "at 6000 ft"));
        let given = asked(Some("2000 ft"), None);
        let found = turn(&given, &false, Units::Us, thin_as(2000.0, 80.5)).unwrap().unwrap();
        assert_eq!((found.holds.as_str(), found.end.as_str()), ("up to 80 °F", "at 100 °F"));
    }

    #[test]
    fn slow_limits_are_looked_at_in_the_cold() {
        let open = asked(None, None);
        let cold = |weather: &Weather| Ok(weather.dense().temperature().si() < unit::FAHRENHEIT.of(20.5).si());
        let found = turn(&open, &false, Units::Us, cold).unwrap().unwrap();
        assert_eq!(found.holds, "at sea level down to 21 °F");
    }

    #[test]
    fn nothing_turns_where_all_was_given_or_the_answer_stays() {
        assert_eq!(turn(&asked(Some("0 ft"), Some("59 F")), &false, Units::Us, thin_as(0.0, 0.0)).unwrap(), None);
        assert_eq!(turn(&asked(None, None), &false, Units::Us, thin_as(9000.0, 100.0)).unwrap(), None);
    }
}
