//! What the text layer needs to know of each quantity.

use super::system::Quantity;
use super::unit::{self, Unit};
use super::{
    Angle, Area, BallisticCoefficient, Energy, Force, Frequency, Length, Mass, MassDensity, MomentOfInertia, Momentum,
    Pressure, Ratio, SecondMomentOfArea, Temperature, Time, Velocity, VelocityPerTemperature,
};
use std::marker::PhantomData;

/// A physical quantity that can be read, printed and taken apart to SI.
pub trait Measure: Copy + PartialOrd + Sized + 'static {
    /// What it is called in messages, for instance `speed`.
    const NAME: &'static str;
    /// A text that would be read, for instance `2650 ft/s`.
    const EXAMPLE: &'static str;
    /// Its units; the first is the one a hint names first.
    const UNITS: &'static [Unit<Self>];
    /// The unit of a bare number, where the trade writes one.
    const BARE: Option<Unit<Self>> = None;
    /// The bare numbers that can be read in one way only: `0.99` is a share, and `99` could be 99 %.
    const BARE_NUMBERS: std::ops::RangeInclusive<f64> = f64::NEG_INFINITY..=f64::INFINITY;

    /// From the SI value.
    fn from_si(si: f64) -> Self;
    /// The SI value.
    fn si(self) -> f64;
}

macro_rules! measure {
    ($quantity:ident, $name:literal, $example:literal, [$($unit:ident),+] $(, bare $bare:ident $(within $within:expr)?)?) => {
        impl Measure for $quantity {
            const NAME: &'static str = $name;
            const EXAMPLE: &'static str = $example;
            const UNITS: &'static [Unit<Self>] = &[$(unit::$unit),+];
            $(
                const BARE: Option<Unit<Self>> = Some(unit::$bare);
                $(const BARE_NUMBERS: std::ops::RangeInclusive<f64> = $within;)?
            )?

            fn from_si(si: f64) -> Self {
                Self(Quantity { dimension: PhantomData, units: PhantomData, value: si })
            }

            fn si(self) -> f64 {
                self.0.value
            }
        }
    };
}

measure!(Mass, "mass", "168 gr", [GRAIN, GRAM, KILOGRAM, OUNCE, POUND]);
measure!(Length, "length", "100 yd", [YARD, METRE, INCH, FOOT, MILLIMETRE, CENTIMETRE]);
measure!(Velocity, "speed", "2650 ft/s", [FOOT_PER_SECOND, METRE_PER_SECOND]);
measure!(Energy, "energy", "2800 ft-lbf", [FOOT_POUND, JOULE]);
measure!(Momentum, "momentum", "2 lb-ft/s", [POUND_FOOT_PER_SECOND, KILOGRAM_METRE_PER_SECOND]);
measure!(MomentOfInertia, "moment of inertia", "1 kg-m2", [KILOGRAM_SQUARE_METRE]);
measure!(Temperature, "temperature", "59 F", [FAHRENHEIT, CELSIUS, KELVIN]);
measure!(Pressure, "pressure", "29.92 inHg", [INCH_OF_MERCURY, HECTOPASCAL, PASCAL, KILOPASCAL, PSI]);
measure!(Angle, "angle", "20 deg", [DEGREE, ARCMINUTE, MILLIRADIAN, RADIAN]);
measure!(Ratio, "share", "40 %", [PERCENT, ONE], bare ONE within -1.0..=1.0);
measure!(Time, "time", "1.5 s", [SECOND, MILLISECOND]);
measure!(
    BallisticCoefficient,
    "ballistic coefficient",
    "0.223",
    [POUND_PER_SQUARE_INCH, KILOGRAM_PER_SQUARE_METRE],
    bare POUND_PER_SQUARE_INCH
);
measure!(MassDensity, "density", "7850 kg/m3", [KILOGRAM_PER_CUBIC_METRE, POUND_PER_CUBIC_FOOT]);
measure!(Area, "area", "32 ft2", [SQUARE_INCH, SQUARE_FOOT, SQUARE_METRE]);
measure!(SecondMomentOfArea, "second moment of area", "20 in4", [INCH_TO_THE_FOURTH, METRE_TO_THE_FOURTH]);
measure!(Frequency, "frequency", "910 Hz", [HERTZ]);
measure!(Force, "force", "10 N", [NEWTON]);
measure!(
    VelocityPerTemperature,
    "velocity per temperature",
    "1 ft/s per F",
    [FOOT_PER_SECOND_PER_FAHRENHEIT, METRE_PER_SECOND_PER_KELVIN]
);
