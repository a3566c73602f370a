//! The quantities: newtypes about those of [`uom`], which checks their algebra here, once.
//!
//! A type of `uom` is a trait object of exponents and base units that the compiler goes through at every mention: a
//! thousand small functions over lengths in its SI took 14 s, and 2 s over these. So these are what the house and
//! its users name, and what may be added, multiplied and divided is what `uom` lets the lines below compile.

use super::{Measure, system};
use std::ops::{Add, AddAssign, Div, DivAssign, Mul, MulAssign, Neg, Sub, SubAssign};

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident($inner:ty)) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
        pub struct $name(pub(super) $inner);

        impl $name {
            /// The greater of the two; the other one where one is not a number.
            #[must_use]
            pub fn max(self, other: Self) -> Self {
                Self(self.0.max(other.0))
            }

            /// The lesser of the two; the other one where one is not a number.
            #[must_use]
            pub fn min(self, other: Self) -> Self {
                Self(self.0.min(other.0))
            }
        }

        impl From<$inner> for $name {
            fn from(quantity: $inner) -> Self {
                Self(quantity)
            }
        }

        impl From<$name> for $inner {
            fn from(quantity: $name) -> Self {
                quantity.0
            }
        }
    };
}

/// What has a zero of its own: it can be summed, scaled and compared by a ratio. A temperature has none.
macro_rules! extensive {
    ($($name:ident)+) => {$(
        impl $name {
            /// The size of it, its sign aside.
            #[must_use]
            pub fn abs(self) -> Self {
                Self(self.0.abs())
            }

            /// The hypotenuse over the two.
            #[must_use]
            pub fn hypot(self, other: Self) -> Self {
                Self(self.0.hypot(other.0))
            }
        }

        impl Add for $name {
            type Output = Self;

            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl Sub for $name {
            type Output = Self;

            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }

        impl Neg for $name {
            type Output = Self;

            fn neg(self) -> Self {
                Self(-self.0)
            }
        }

        impl AddAssign for $name {
            fn add_assign(&mut self, other: Self) {
                self.0 += other.0;
            }
        }

        impl SubAssign for $name {
            fn sub_assign(&mut self, other: Self) {
                self.0 -= other.0;
            }
        }

        impl Mul<f64> for $name {
            type Output = Self;

            fn mul(self, by: f64) -> Self {
                Self(self.0 * by)
            }
        }

        impl Mul<$name> for f64 {
            type Output = $name;

            fn mul(self, of: $name) -> $name {
                $name(self * of.0)
            }
        }

        impl Div<f64> for $name {
            type Output = Self;

            fn div(self, by: f64) -> Self {
                Self(self.0 / by)
            }
        }

        impl MulAssign<f64> for $name {
            fn mul_assign(&mut self, by: f64) {
                self.0 *= by;
            }
        }

        impl DivAssign<f64> for $name {
            fn div_assign(&mut self, by: f64) {
                self.0 /= by;
            }
        }

        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(each: I) -> Self {
                each.fold(Self::from_si(0.0), Add::add)
            }
        }
    )+};
}

/// What one quantity gives when it is multiplied or divided by another.
macro_rules! algebra {
    ($($left:ident $op:tt $right:ident = $result:ident;)+) => {$(
        algebra!(@ $op $left $right $result);
    )+};
    (@ * $left:ident $right:ident $result:ident) => {
        impl Mul<$right> for $left {
            type Output = $result;

            fn mul(self, by: $right) -> $result {
                $result(self.0 * by.0)
            }
        }
    };
    (@ / $left:ident $right:ident $result:ident) => {
        impl Div<$right> for $left {
            type Output = $result;

            fn div(self, by: $right) -> $result {
                $result(self.0 / by.0)
            }
        }
    };
}

quantity! { /// A plane angle.
Angle(system::Number) }
quantity! { /// An area.
Area(system::Area) }
quantity! { /// Ballistic coefficient and areal density: mass per area, kg/m² in SI, lb/in² in the trade.
BallisticCoefficient(system::MassPerArea) }
quantity! { /// An energy.
Energy(system::Energy) }
quantity! { /// A force.
Force(system::Force) }
quantity! { /// A frequency.
Frequency(system::Frequency) }
quantity! { /// A length.
Length(system::Length) }
quantity! { /// A mass.
Mass(system::Mass) }
quantity! { /// A mass per volume.
MassDensity(system::MassDensity) }
quantity! { /// A moment of inertia.
MomentOfInertia(system::MomentOfInertia) }
quantity! { /// A momentum.
Momentum(system::Momentum) }
quantity! { /// A pressure.
Pressure(system::Pressure) }
quantity! { /// A number without a unit.
Ratio(system::Number) }
quantity! { /// Second moment of area, m⁴.
SecondMomentOfArea(system::SecondMomentOfArea) }
quantity! { /// A temperature on the absolute scale.
Temperature(system::Temperature) }
quantity! { /// A time.
Time(system::Time) }
quantity! { /// A velocity, or a speed.
Velocity(system::Velocity) }
quantity! { /// Change of muzzle velocity per change of powder temperature, (m/s)/K.
VelocityPerTemperature(system::VelocityPerTemperature) }

extensive! {
    Angle Area BallisticCoefficient Energy Force Frequency Length Mass MassDensity MomentOfInertia Momentum Pressure
    Ratio SecondMomentOfArea Time Velocity VelocityPerTemperature
}

algebra! {
    Length * Length = Area;
    Mass * Velocity = Momentum;
    Momentum * Velocity = Energy;
    Momentum * Ratio = Momentum;
    MassDensity * Length = BallisticCoefficient;
    BallisticCoefficient * Area = Mass;
    Mass / Area = BallisticCoefficient;
    Length / Velocity = Time;
    BallisticCoefficient / BallisticCoefficient = Ratio;
    Area / Area = Ratio;
    Energy / Energy = Ratio;
    Length / Length = Ratio;
    Mass / Mass = Ratio;
    Time / Time = Ratio;
    Velocity / Velocity = Ratio;
}
