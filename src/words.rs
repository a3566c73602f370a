//! Quantities in words, in the units asked for. What is printed can be typed in again.

mod metric;

pub use metric::in_units;

use crate::quantity::{
    Angle, Energy, Frequency, Length, Mass, Measure, Momentum, Pressure, Range, Ratio, Temperature, Time, Velocity,
    VelocityPerTemperature, show, unit,
};

/// The units people read.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Units {
    /// Yards, feet per second, foot-pounds, inches, pounds
    #[default]
    Us,
    /// Metres, metres per second, joules, millimetres, kilograms
    Si,
}

crate::quantity::text_form!(Units);

/// Rounding up forgives this much of a unit, so that 100 yd stays 100 yd.
const FORGIVEN: f64 = 1e-6;

impl Units {
    fn pick<Q: Measure>(self, quantity: Q, us: (&unit::Unit<Q>, usize), si: (&unit::Unit<Q>, usize)) -> String {
        let (unit, decimals) = if self == Self::Us { us } else { si };
        show(quantity, unit, decimals)
    }

    /// Speed to the nearest foot or metre per second.
    #[must_use]
    pub fn speed(self, speed: Velocity) -> String {
        self.pick(speed, (&unit::FOOT_PER_SECOND, 0), (&unit::METRE_PER_SECOND, 0))
    }

    /// A small speed, to a tenth.
    #[must_use]
    pub fn small_speed(self, speed: Velocity) -> String {
        self.pick(speed, (&unit::FOOT_PER_SECOND, 1), (&unit::METRE_PER_SECOND, 1))
    }

    /// A speed that must be reached, rounded up.
    #[must_use]
    pub fn speed_up(self, speed: Velocity) -> String {
        let unit = if self == Self::Us { unit::FOOT_PER_SECOND } else { unit::METRE_PER_SECOND };
        show(unit.of((unit.value(speed) - FORGIVEN).ceil()), &unit, 0)
    }

    /// A speed that must not be passed, rounded down.
    #[must_use]
    pub fn speed_down(self, speed: Velocity) -> String {
        let unit = if self == Self::Us { unit::FOOT_PER_SECOND } else { unit::METRE_PER_SECOND };
        show(unit.of((unit.value(speed) + FORGIVEN).floor()), &unit, 0)
    }

    /// Energy.
    #[must_use]
    pub fn energy(self, energy: Energy) -> String {
        self.pick(energy, (&unit::FOOT_POUND, 0), (&unit::JOULE, 0))
    }

    /// An energy that must not be passed, rounded down.
    #[must_use]
    pub fn energy_down(self, energy: Energy) -> String {
        let unit = if self == Self::Us { unit::FOOT_POUND } else { unit::JOULE };
        show(unit.of((unit.value(energy) + FORGIVEN).floor()), &unit, 0)
    }

    /// Momentum.
    #[must_use]
    pub fn momentum(self, momentum: Momentum) -> String {
        self.pick(momentum, (&unit::POUND_FOOT_PER_SECOND, 1), (&unit::KILOGRAM_METRE_PER_SECOND, 2))
    }

    /// What distances are told in.
    #[must_use]
    pub fn distance_unit(self) -> unit::Unit<Length> {
        if self == Self::Us { unit::YARD } else { unit::METRE }
    }

    /// A distance that is asked for: whole, or to a tenth where it is not; one that lacks a hair of a whole one is not
    /// told as that.
    #[must_use]
    pub fn distance(self, distance: Length) -> String {
        const HAIR: f64 = 0.0005;
        let unit = self.distance_unit();
        let value = unit.value(distance);
        let lacks = value.round() - value;
        let decimals = if !(HAIR..=0.05).contains(&lacks) {
            usize::from(lacks.abs() > 0.05)
        } else if lacks < 0.005 {
            3
        } else {
            2
        };
        show(distance, &unit, decimals)
    }

    /// A distance that must be kept, rounded up to a whole yard or metre: what is printed still suits.
    #[must_use]
    pub fn distance_up(self, distance: Length) -> String {
        let unit = self.distance_unit();
        show(unit.of((unit.value(distance) - FORGIVEN).ceil().max(0.0)), &unit, 0)
    }

    /// A distance that must be kept, rounded up to a whole yard or metre, or no farther than what was asked beyond it: a
    /// page that calls a shot from 9.5 m good says no `nobody nearer than 10 m`.
    #[must_use]
    pub fn distance_kept(self, distance: Length, asked: &[Length]) -> String {
        let (value, decimals) = self.kept(distance, asked);
        let unit = self.distance_unit();
        show(unit.of(value), &unit, decimals)
    }

    /// The same as a number in yards or metres, with the decimals that it is told with.
    #[must_use]
    pub fn kept(self, distance: Length, asked: &[Length]) -> (f64, usize) {
        const SCALES: [f64; 4] = [1.0, 10.0, 100.0, 1000.0];
        let unit = self.distance_unit();
        let up = |scale: f64| ((unit.value(distance) * scale - FORGIVEN).ceil() / scale).max(0.0);
        let asked = asked.iter().map(|asked| unit.value(*asked)).filter(|a| a + FORGIVEN >= unit.value(distance));
        // What was asked is told to a tenth.
        let told = asked.map(|a| a.max((a * 10.0).round() / 10.0) + FORGIVEN).fold(f64::INFINITY, f64::min);
        let decimals = SCALES.iter().position(|scale| up(*scale) <= told).unwrap_or(SCALES.len() - 1);
        (up(SCALES[decimals]), decimals)
    }

    /// A line that is shot from: whole, or to a tenth upward where it is not.
    #[must_use]
    pub fn line(self, distance: Length) -> String {
        let unit = self.distance_unit();
        let line = (unit.value(distance) * 10.0 - FORGIVEN).ceil().max(0.0) / 10.0;
        show(unit.of(line), &unit, usize::from(line.fract() > 0.0))
    }

    /// A distance that must not be passed, rounded down to a whole yard or metre.
    #[must_use]
    pub fn distance_down(self, distance: Length) -> String {
        let unit = self.distance_unit();
        show(unit.of((unit.value(distance) + FORGIVEN).floor()), &unit, 0)
    }

    /// `100 yd to 340 yd` in a sentence; `100 yd` where that does not end.
    #[must_use]
    pub fn from_to(self, from: Length, to: Option<Length>) -> String {
        let to = to.map(|to| format!(" to {}", self.distance_down(to))).unwrap_or_default();
        self.distance_up(from) + &to
    }

    /// `100 to 340 yd`: from where to where it suits; `100 yd` where it suits from there on.
    #[must_use]
    pub fn stretch(self, from: Length, to: Option<Length>) -> String {
        let from = self.distance_up(from);
        match to {
            None => from,
            Some(to) => {
                let number = from.split(' ').next().unwrap_or_default();
                format!("{number} to {}", self.distance_down(to))
            }
        }
    }

    /// A size on a plate.
    #[must_use]
    pub fn size(self, size: Length) -> String {
        self.pick(size, (&unit::INCH, 1), (&unit::MILLIMETRE, 0))
    }

    /// A thickness; in millimetres to a hundredth upward, so that a plate of what is told is no thinner.
    #[must_use]
    pub fn thickness(self, thickness: Length) -> String {
        if self == Self::Us {
            return show(thickness, &unit::INCH, 3);
        }
        let hundredths = (unit::MILLIMETRE.value(thickness) * 100.0 - FORGIVEN).ceil();
        format!("{} mm", hundredths / 100.0)
    }

    /// Mass of a plate.
    #[must_use]
    pub fn mass(self, mass: Mass) -> String {
        self.pick(mass, (&unit::POUND, 1), (&unit::KILOGRAM, 1))
    }

    /// Mass of a bullet.
    #[must_use]
    pub fn bullet(self, mass: Mass) -> String {
        let grains = format!("{:.2}", unit::GRAIN.value(mass));
        match self {
            Self::Us => format!("{} gr", grains.trim_end_matches('0').trim_end_matches('.')),
            Self::Si => show(mass, &unit::GRAM, 2),
        }
    }

    /// Height above sea level.
    #[must_use]
    pub fn altitude(self, altitude: Length) -> String {
        self.pick(altitude, (&unit::FOOT, 0), (&unit::METRE, 0))
    }

    /// A span of heights above sea level: `500 ft`, `0 to 6000 ft`.
    #[must_use]
    pub fn altitudes(self, range: Range<Length>) -> String {
        let unit = if self == Self::Us { unit::FOOT } else { unit::METRE };
        span(inward(range, &unit), |altitude| self.altitude(altitude))
    }

    /// A span of temperatures: `72 °F`, `20 to 90 °F`.
    #[must_use]
    pub fn temperatures(self, range: Range<Temperature>) -> String {
        let unit = if self == Self::Us { unit::FAHRENHEIT } else { unit::CELSIUS };
        span(inward(range, &unit), |temperature| self.temperature(temperature))
    }

    /// A span of pressures: `29.92 inHg`, `990 to 1013 hPa`.
    #[must_use]
    pub fn pressures(self, range: Range<Pressure>) -> String {
        span(range, |pressure| self.pick(pressure, (&unit::INCH_OF_MERCURY, 2), (&unit::HECTOPASCAL, 0)))
    }

    /// A length of chain or barrel.
    #[must_use]
    pub fn length(self, length: Length) -> String {
        self.pick(length, (&unit::INCH, 1), (&unit::MILLIMETRE, 0))
    }

    /// Change of velocity with powder temperature.
    #[must_use]
    pub fn slope(self, slope: VelocityPerTemperature) -> String {
        let (unit, of) = match self {
            Self::Us => (&unit::FOOT_PER_SECOND_PER_FAHRENHEIT, "ft/s per °F"),
            Self::Si => (&unit::METRE_PER_SECOND_PER_KELVIN, "m/s per °C"),
        };
        let number = format!("{:.2}", unit.value(slope));
        format!("{} {of}", number.trim_end_matches('0').trim_end_matches('.'))
    }

    /// Temperature.
    #[must_use]
    pub fn temperature(self, temperature: Temperature) -> String {
        self.pick(temperature, (&unit::FAHRENHEIT, 0), (&unit::CELSIUS, 0))
    }
}

/// A span to whole numbers of a unit, within what it is; a point goes down, where the air is denser.
fn inward<Q: Measure>(range: Range<Q>, unit: &unit::Unit<Q>) -> Range<Q> {
    let high = (unit.value(range.high) + FORGIVEN).floor();
    let low = (unit.value(range.low) - FORGIVEN).ceil().min(high);
    Range { low: unit.of(low), high: unit.of(high) }
}

/// A span in words, its unit once: `20 to 90 °F`.
fn span<Q: Measure>(range: Range<Q>, words: impl Fn(Q) -> String) -> String {
    let (low, high) = (words(range.low), words(range.high));
    if low == high {
        return high;
    }
    let number = low.split(' ').next().unwrap_or(&low);
    format!("{number} to {high}")
}

/// A sheet by its shorter and its longer side: `4 × 8 ft`, `22.9 × 100 in`, `1500 × 3000 mm`.
#[must_use]
pub fn sheet(length: Length, breadth: Length, units: Units) -> String {
    let (unit, decimals) = match units {
        Units::Si => (unit::MILLIMETRE, 0),
        Units::Us if [length, breadth].iter().all(|side| is_whole(unit::FOOT.value(*side))) => (unit::FOOT, 0),
        Units::Us => (unit::INCH, 2),
    };
    let side = |side: Length| {
        let text = format!("{:.decimals$}", unit.value(side));
        if decimals > 0 { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
    };
    format!("{} × {} {}", side(breadth), side(length), unit.symbol)
}

fn is_whole(value: f64) -> bool {
    (value - value.round()).abs() < FORGIVEN
}

/// An angle in degrees.
#[must_use]
pub fn degrees(angle: Angle) -> String {
    format!("{}°", show(angle, &unit::DEGREE, 1).trim_end_matches(" deg").trim_end_matches(".0"))
}

/// A time in seconds.
#[must_use]
pub fn seconds(time: Time) -> String {
    show(time, &unit::SECOND, 2)
}

/// A pitch, to ten hertz.
#[must_use]
pub fn pitch(frequency: Frequency) -> String {
    format!("{:.0} Hz", (frequency.si() / 10.0).round() * 10.0)
}

/// A share in percent.
#[must_use]
pub fn percent(share: Ratio) -> String {
    let value = format!("{:.2}", unit::PERCENT.value(share));
    format!("{} %", value.trim_end_matches('0').trim_end_matches('.'))
}

/// What is to spare: `4 % to spare`, `12 % over`; a shortfall is never rounded away.
#[must_use]
pub fn to_spare(margin: f64) -> String {
    if margin >= 0.0 {
        format!("{:.0} % to spare", (margin * 100.0 + FORGIVEN).floor())
    } else {
        format!("{:.0} % over", (-margin * 100.0 - FORGIVEN).ceil())
    }
}

/// The same for a table's cell: `4 %`, `-12 %`.
#[must_use]
pub fn margin(margin: f64) -> String {
    let rounded = (margin * 100.0 + FORGIVEN).floor();
    format!("{:.0} %", rounded + 0.0)
}

/// `a`, `a and b`, `a, b and c`.
#[must_use]
pub fn listed(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [start @ .., last] => format!("{} and {last}", start.join(", ")),
    }
}

/// The text with its first letter in upper case.
#[must_use]
pub fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_distance_that_lacks_a_hair_of_a_whole_one_is_not_told_as_that() {
        let told = |yards| Units::Us.distance(unit::YARD.of(yards));
        let all = [100.0, 99.999_99, 99.999, 99.96, 99.95, 99.9, 100.04, 100.06].map(told);
        assert_eq!(all, ["100 yd", "100 yd", "99.999 yd", "99.96 yd", "99.95 yd", "99.9 yd", "100 yd", "100.1 yd"]);
    }

    #[test]
    fn distances_round_up_but_a_whole_one_stays() {
        assert_eq!(Units::Us.distance_up(unit::YARD.of(100.0)), "100 yd");
        assert_eq!(Units::Us.distance_up(unit::YARD.of(100.01)), "101 yd");
        assert_eq!(Units::Si.distance_up(unit::YARD.of(100.0)), "92 m");
        assert_eq!(Units::Us.distance_up(unit::YARD.of(10.000_000_000_000_002)), "10 yd");
    }

    #[test]
    fn a_distance_to_keep_is_told_no_farther_than_what_was_asked_beyond_it() {
        let kept = |yards: f64, asked: &[f64]| {
            let asked: Vec<Length> = asked.iter().map(|metres| unit::METRE.of(*metres)).collect();
            Units::Si.distance_kept(unit::YARD.of(yards), &asked)
        };
        assert_eq!(kept(10.0, &[]), "10 m");
        assert_eq!(kept(10.0, &[9.0, 10.0, 200.0]), "10 m");
        assert_eq!(kept(10.0, &[200.0, 9.5]), "9.2 m");
        assert_eq!(kept(10.0, &[9.15]), "9.2 m");
        assert_eq!(kept(10.0, &[9.144]), "9.144 m");
        // 100 m are told as 109.4 yd.
        let hundred = unit::METRE.of(100.0);
        assert_eq!(Units::Us.distance_kept(hundred, &[hundred]), "109.4 yd");
    }

    #[test]
    fn a_sheet_is_no_larger_in_words_than_it_is() {
        let told = |a: f64, b: f64, units| sheet(unit::INCH.of(b), unit::INCH.of(a), units);
        assert_eq!(told(22.9, 100.0, Units::Us), "22.9 × 100 in");
        assert_eq!(told(48.0, 96.0, Units::Us), "4 × 8 ft");
        assert_eq!(told(1500.0 / 25.4, 3000.0 / 25.4, Units::Us), "59.06 × 118.11 in");
        assert_eq!(told(1500.0 / 25.4, 3000.0 / 25.4, Units::Si), "1500 × 3000 mm");
    }

    #[test]
    fn a_line_is_told_to_a_tenth_upward() {
        let line = |metres| Units::Si.line(unit::METRE.of(metres));
        assert_eq!([line(10.0), line(9.5), line(12.21), line(9.144)], ["10 m", "9.5 m", "12.3 m", "9.2 m"]);
        assert_eq!(Units::Us.line(unit::YARD.of(100.0)), "100 yd");
    }

    #[test]
    fn a_speed_to_keep_under_rounds_down_and_a_margin_never_flatters() {
        assert_eq!(Units::Us.speed_down(unit::FOOT_PER_SECOND.of(2762.9)), "2762 ft/s");
        assert_eq!(
            (to_spare(0.0376), to_spare(-0.002), to_spare(0.0)),
            ("3 % to spare".into(), "1 % over".into(), "0 % to spare".into())
        );
        assert_eq!((margin(0.0376), margin(-0.002), margin(0.0)), ("3 %".into(), "-1 %".into(), "0 %".into()));
    }

    #[test]
    fn what_is_printed_can_be_typed_in_again() {
        use crate::quantity::parse;
        let speed = unit::FOOT_PER_SECOND.of(2650.0);
        assert!((parse::<Velocity>(&Units::Us.speed(speed)).unwrap().si() / speed.si() - 1.0).abs() < 1e-12);
        assert!(parse::<Energy>(&Units::Us.energy(unit::FOOT_POUND.of(12_000.0))).is_ok());
        assert!(parse::<Length>(&Units::Us.distance(unit::YARD.of(99.5))).is_ok());
        assert!(parse::<Mass>(&Units::Us.mass(unit::POUND.of(12.04))).is_ok());
    }
}
