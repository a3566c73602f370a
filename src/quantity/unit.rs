//! Units as exact constants.
//!
//! The library's own conversions are rounded (its pound has seven digits), so every unit used
//! here is defined from the exact definitions of the international yard and pound agreement of
//! 1959 and of the SI brochure, and pinned by a test.

use super::{
    Angle, Area, BallisticCoefficient, Energy, Force, Frequency, Length, Mass, MassDensity, Measure, MomentOfInertia,
    Momentum, Pressure, Ratio, SecondMomentOfArea, Temperature, Time, Velocity, VelocityPerTemperature,
};
use std::marker::PhantomData;

/// A unit of the quantity `Q`: SI value = `scale` × (value + `zero`).
#[derive(Debug, Clone, Copy)]
pub struct Unit<Q> {
    /// The symbol that is printed.
    pub symbol: &'static str,
    /// Other spellings that are read; compared without regard to case where no two units differ by case.
    pub spellings: &'static [&'static str],
    scale: f64,
    zero: f64,
    quantity: PhantomData<Q>,
}

impl<Q> Unit<Q> {
    const fn new(symbol: &'static str, spellings: &'static [&'static str], scale: f64) -> Self {
        Self::shifted(symbol, spellings, scale, 0.0)
    }

    const fn shifted(symbol: &'static str, spellings: &'static [&'static str], scale: f64, zero: f64) -> Self {
        Self { symbol, spellings, scale, zero, quantity: PhantomData }
    }

    /// Whether `text` is this unit's symbol or one of its spellings.
    #[must_use]
    pub fn is_spelled(&self, text: &str) -> bool {
        self.symbol == text || self.spellings.contains(&text)
    }

    /// As [`Unit::is_spelled`], without regard to case.
    #[must_use]
    pub fn is_spelled_loosely(&self, text: &str) -> bool {
        self.symbol.eq_ignore_ascii_case(text) || self.spellings.iter().any(|s| s.eq_ignore_ascii_case(text))
    }
}

impl<Q: Measure> Unit<Q> {
    /// The quantity that is `value` of this unit.
    #[must_use]
    pub fn of(&self, value: f64) -> Q {
        Q::from_si((value + self.zero) * self.scale)
    }

    /// The number of this unit in `quantity`.
    #[must_use]
    pub fn value(&self, quantity: Q) -> f64 {
        quantity.si() / self.scale - self.zero
    }
}

/// Kilograms in a pound: 0.45359237 exactly (international yard and pound agreement, 1959).
pub const POUND_KG: f64 = 0.453_592_37;
/// Metres in a foot: 0.3048 exactly (international yard and pound agreement, 1959).
pub const FOOT_M: f64 = 0.3048;
/// Standard gravity, 9.80665 m/s² exactly (3rd CGPM, 1901).
pub const STANDARD_GRAVITY: f64 = 9.806_65;
/// Newtons in a pound-force, by definition pound × standard gravity.
pub const POUND_FORCE_N: f64 = POUND_KG * STANDARD_GRAVITY;
const INCH_M: f64 = FOOT_M / 12.0;

/// Grain, 1/7000 lb.
pub const GRAIN: Unit<Mass> = Unit::new("gr", &["grain", "grains"], POUND_KG / 7000.0);
/// Gram.
pub const GRAM: Unit<Mass> = Unit::new("g", &["gram", "grams"], 1e-3);
/// Kilogram.
pub const KILOGRAM: Unit<Mass> = Unit::new("kg", &["kilogram", "kilograms"], 1.0);
/// Avoirdupois ounce, 1/16 lb.
pub const OUNCE: Unit<Mass> = Unit::new("oz", &["ounce", "ounces"], POUND_KG / 16.0);
/// Avoirdupois pound.
pub const POUND: Unit<Mass> = Unit::new("lb", &["lbs", "pound", "pounds"], POUND_KG);

/// Inch, 1/12 ft.
pub const INCH: Unit<Length> = Unit::new("in", &["inch", "inches"], INCH_M);
/// Foot.
pub const FOOT: Unit<Length> = Unit::new("ft", &["foot", "feet"], FOOT_M);
/// Yard, 3 ft.
pub const YARD: Unit<Length> = Unit::new("yd", &["yard", "yards", "yds"], 3.0 * FOOT_M);
/// Millimetre.
pub const MILLIMETRE: Unit<Length> = Unit::new("mm", &["millimetre", "millimetres", "millimeter", "millimeters"], 1e-3);
/// Centimetre.
pub const CENTIMETRE: Unit<Length> = Unit::new("cm", &["centimetre", "centimetres", "centimeter", "centimeters"], 1e-2);
/// Metre.
pub const METRE: Unit<Length> = Unit::new("m", &["metre", "metres", "meter", "meters"], 1.0);

/// Foot per second.
pub const FOOT_PER_SECOND: Unit<Velocity> = Unit::new("ft/s", &["fps", "ft/sec"], FOOT_M);
/// Metre per second.
pub const METRE_PER_SECOND: Unit<Velocity> = Unit::new("m/s", &["mps", "m/sec"], 1.0);

/// Foot-pound of energy: foot × pound-force.
pub const FOOT_POUND: Unit<Energy> = Unit::new(
    "ft·lbf",
    &["ft-lbf", "ft-lb", "ft-lbs", "ft.lbf", "ftlbf", "ftlb", "foot-pound", "foot-pounds"],
    FOOT_M * POUND_FORCE_N,
);
/// Joule.
pub const JOULE: Unit<Energy> = Unit::new("J", &["joule", "joules"], 1.0);

/// Pound foot per second, momentum as the trade has it.
pub const POUND_FOOT_PER_SECOND: Unit<Momentum> = Unit::new("lb·ft/s", &["lb-ft/s", "lb.ft/s"], POUND_KG * FOOT_M);
/// Kilogram metre per second.
pub const KILOGRAM_METRE_PER_SECOND: Unit<Momentum> = Unit::new("kg·m/s", &["kg-m/s", "kg.m/s", "N·s", "Ns"], 1.0);

/// Kilogram square metre.
pub const KILOGRAM_SQUARE_METRE: Unit<MomentOfInertia> = Unit::new("kg·m²", &["kg-m2"], 1.0);

/// Degree Fahrenheit as a temperature.
pub const FAHRENHEIT: Unit<Temperature> = Unit::shifted(
    "°F",
    &["F", "degF", "fahrenheit", "deg F", "deg. F", "degrees F", "degree F", "degrees fahrenheit"],
    5.0 / 9.0,
    459.67,
);
/// Degree Celsius as a temperature.
pub const CELSIUS: Unit<Temperature> = Unit::shifted(
    "°C",
    &["C", "degC", "celsius", "centigrade", "deg C", "deg. C", "degrees C", "degree C", "degrees celsius"],
    1.0,
    273.15,
);
/// Kelvin.
pub const KELVIN: Unit<Temperature> = Unit::new("K", &["kelvin"], 1.0);

/// Inch of mercury, 25.4 mm at 13 595.1 kg/m³ (conventional, ISO 80000-4).
pub const INCH_OF_MERCURY: Unit<Pressure> = Unit::new("inHg", &[], INCH_M * 13_595.1 * STANDARD_GRAVITY);
/// Hectopascal, the millibar.
pub const HECTOPASCAL: Unit<Pressure> = Unit::new("hPa", &["mbar", "mb"], 100.0);
/// Pascal.
pub const PASCAL: Unit<Pressure> = Unit::new("Pa", &[], 1.0);
/// Kilopascal.
pub const KILOPASCAL: Unit<Pressure> = Unit::new("kPa", &[], 1000.0);
/// Pound-force per square inch.
pub const PSI: Unit<Pressure> = Unit::new("psi", &[], POUND_FORCE_N / (INCH_M * INCH_M));

/// Degree of arc.
pub const DEGREE: Unit<Angle> = Unit::new("deg", &["°", "degree", "degrees"], std::f64::consts::PI / 180.0);
/// Minute of arc.
pub const ARCMINUTE: Unit<Angle> = Unit::new("arcmin", &["moa", "minute", "minutes"], std::f64::consts::PI / 10_800.0);
/// Radian.
pub const RADIAN: Unit<Angle> = Unit::new("rad", &["radian", "radians"], 1.0);
/// Milliradian, 1/1000 rad.
pub const MILLIRADIAN: Unit<Angle> = Unit::new("mrad", &["mil"], 1e-3);

/// Percent.
pub const PERCENT: Unit<Ratio> = Unit::new("%", &["percent"], 1e-2);
/// A plain number.
pub const ONE: Unit<Ratio> = Unit::new("", &[], 1.0);

/// Second.
pub const SECOND: Unit<Time> = Unit::new("s", &["second", "seconds", "sec"], 1.0);
/// Millisecond.
pub const MILLISECOND: Unit<Time> = Unit::new("ms", &["millisecond", "milliseconds"], 1e-3);

/// Pound per square inch of ballistic coefficient and areal density: 703.0696 kg/m².
pub const POUND_PER_SQUARE_INCH: Unit<BallisticCoefficient> =
    Unit::new("lb/in²", &["lb/in2", "lb/in^2"], POUND_KG / (INCH_M * INCH_M));
/// Kilogram per square metre.
pub const KILOGRAM_PER_SQUARE_METRE: Unit<BallisticCoefficient> = Unit::new("kg/m²", &["kg/m2", "kg/m^2"], 1.0);

/// Kilogram per cubic metre.
pub const KILOGRAM_PER_CUBIC_METRE: Unit<MassDensity> = Unit::new("kg/m³", &["kg/m3", "kg/m^3"], 1.0);
/// Pound per cubic foot.
pub const POUND_PER_CUBIC_FOOT: Unit<MassDensity> =
    Unit::new("lb/ft³", &["lb/ft3", "lb/ft^3"], POUND_KG / (FOOT_M * FOOT_M * FOOT_M));

/// Square inch.
pub const SQUARE_INCH: Unit<Area> = Unit::new("in²", &["in2", "in^2"], INCH_M * INCH_M);
/// Square foot.
pub const SQUARE_FOOT: Unit<Area> = Unit::new("ft²", &["ft2", "ft^2"], FOOT_M * FOOT_M);
/// Square metre.
pub const SQUARE_METRE: Unit<Area> = Unit::new("m²", &["m2", "m^2"], 1.0);

/// Inch to the fourth power.
pub const INCH_TO_THE_FOURTH: Unit<SecondMomentOfArea> =
    Unit::new("in⁴", &["in4", "in^4"], INCH_M * INCH_M * INCH_M * INCH_M);
/// Metre to the fourth power.
pub const METRE_TO_THE_FOURTH: Unit<SecondMomentOfArea> = Unit::new("m⁴", &["m4", "m^4"], 1.0);

/// Hertz.
pub const HERTZ: Unit<Frequency> = Unit::new("Hz", &["hertz"], 1.0);
/// Newton.
pub const NEWTON: Unit<Force> = Unit::new("N", &["newton", "newtons"], 1.0);

/// Foot per second per degree Fahrenheit.
pub const FOOT_PER_SECOND_PER_FAHRENHEIT: Unit<VelocityPerTemperature> =
    Unit::new("ft/s per °F", &["ft/s per F", "fps per F", "fps/F", "ft/s/F"], FOOT_M * 9.0 / 5.0);
/// Metre per second per kelvin.
pub const METRE_PER_SECOND_PER_KELVIN: Unit<VelocityPerTemperature> =
    Unit::new("m/s per °C", &["m/s per C", "m/s per K", "m/s/K", "m/s/C"], 1.0);

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative slack of an independent statement printed with this many digits.
    fn agrees(got: f64, stated: f64, relative: f64) {
        assert!((got - stated).abs() <= relative * stated.abs(), "{got} against {stated}");
    }

    #[test]
    fn units_agree_with_independent_statements() {
        // Read in NIST Special Publication 811, appendix B (from memory), digits as printed there.
        agrees(GRAIN.of(1.0).si(), 6.479_891e-5, 1e-9);
        agrees(FOOT_POUND.of(1.0).si(), 1.355_817_948, 1e-9);
        agrees(INCH_OF_MERCURY.of(1.0).si(), 3386.389, 1e-6);
        agrees(PSI.of(1.0).si(), 6894.757, 1e-6);
        agrees(POUND_PER_SQUARE_INCH.of(1.0).si(), 703.0696, 1e-7);
        agrees(POUND_PER_CUBIC_FOOT.of(1.0).si(), 16.018_46, 1e-6);
        agrees(FAHRENHEIT.of(59.0).si(), 288.15, 1e-12);
        agrees(FAHRENHEIT.of(-40.0).si(), CELSIUS.of(-40.0).si(), 1e-12);
    }

    #[test]
    fn a_milliradian_is_a_thousandth_of_a_radian_and_not_a_6400th_of_a_turn() {
        agrees(MILLIRADIAN.of(1000.0).si(), 1.0, 1e-15);
    }

    #[test]
    fn one_foot_pound_is_450_436_68_grain_square_feet_per_second_squared() {
        // Computed: 2 × 7000 × 32.17404856.
        let unit_energy = 0.5 * GRAIN.of(1.0).si() * FOOT_M * FOOT_M;
        agrees(FOOT_POUND.of(1.0).si() / unit_energy, 450_436.68, 1e-8);
    }
}
