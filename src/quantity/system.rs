//! The system of quantities in [`uom`]'s terms: length, mass, time and temperature, in SI. Its own system of seven
//! bases and 110 quantities takes 20 s to compile.

// What the macros make has no words of its own.
#![allow(missing_docs)]

use uom::typenum::{N1, N2, N3, P1, P2, P4, Z0};

#[macro_use]
pub mod length {
    quantity! {
        quantity: Length; "length";
        dimension: Bases<P1, Z0, Z0, Z0>;
        units { @metre: 1.0; "m", "metre", "metres"; }
    }
}

#[macro_use]
pub mod mass {
    quantity! {
        quantity: Mass; "mass";
        dimension: Bases<Z0, P1, Z0, Z0>;
        units { @kilogram: 1.0; "kg", "kilogram", "kilograms"; }
    }
}

#[macro_use]
pub mod time {
    quantity! {
        quantity: Time; "time";
        dimension: Bases<Z0, Z0, P1, Z0>;
        units { @second: 1.0; "s", "second", "seconds"; }
    }
}

#[macro_use]
pub mod temperature {
    quantity! {
        quantity: Temperature; "temperature";
        dimension: Bases<Z0, Z0, Z0, P1>;
        units { @kelvin: 1.0; "K", "kelvin", "kelvins"; }
    }
}

system! {
    quantities: Bases {
        length: metre, L;
        mass: kilogram, M;
        time: second, T;
        temperature: kelvin, Th;
    }
    units: Si {
        mod length::Length,
        mod mass::Mass,
        mod time::Time,
        mod temperature::Temperature,
    }
}

/// A quantity by its exponents of length, mass, time and temperature.
pub type Of<L, M, T, Th> = Quantity<Bases<L, M, T, Th>, Si<f64>, f64>;

pub type Area = Of<P2, Z0, Z0, Z0>;
pub type Energy = Of<P2, P1, N2, Z0>;
pub type Force = Of<P1, P1, N2, Z0>;
pub type Frequency = Of<Z0, Z0, N1, Z0>;
pub type Length = Of<P1, Z0, Z0, Z0>;
pub type Mass = Of<Z0, P1, Z0, Z0>;
pub type MassDensity = Of<N3, P1, Z0, Z0>;
pub type MassPerArea = Of<N2, P1, Z0, Z0>;
pub type MomentOfInertia = Of<P2, P1, Z0, Z0>;
pub type Momentum = Of<P1, P1, N1, Z0>;
pub type Number = Of<Z0, Z0, Z0, Z0>;
pub type Pressure = Of<N1, P1, N2, Z0>;
pub type SecondMomentOfArea = Of<P4, Z0, Z0, Z0>;
pub type Temperature = Of<Z0, Z0, Z0, P1>;
pub type Time = Of<Z0, Z0, P1, Z0>;
pub type Velocity = Of<P1, Z0, N1, Z0>;
pub type VelocityPerTemperature = Of<P1, Z0, N1, N1>;
