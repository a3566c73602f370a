//! One flat struct for each question, made of the groups of keys that questions share.
//!
//! Flat, because a flattened group would lose the place of a fault and the refusal of unknown keys.

/// Declares a question: the groups that it shares with others, then its own keys.
macro_rules! question {
    ($(#[$meta:meta])* $name:ident: $($group:ident)+ { $($own:tt)* }) => {
        question!(@ [$(#[$meta])* $name] [$($own)*] $($group)+);
        $(question!(part $group $name);)+
    };
    (@ $head:tt [$($body:tt)*] loads $($rest:ident)*) => {
        question!(@ $head [$($body)*
            /// Loads: by name, `308-168-match` or `308-168-match@100 yd`, or described by their numbers.
            load: OneOrMany<LoadAsked>,
            /// Any ammunition of these cartridges, `.308 Win` or `.308 Win@100 yd`: the worst counts.
            any: OneOrMany<String>,
            /// Only ammunition of this construction, of `any`; else what never suits steel is set apart, and said.
            of: Option<crate::load::Construction>,
            /// Loads of one's own, as the file of loads holds them.
            loads: OneOrMany<Inline>,
        ] $($rest)*);
    };
    (@ $head:tt [$($body:tt)*] spread $($rest:ident)*) => {
        question!(@ $head [$($body)*
            /// Standard deviation of the muzzle velocity.
            velocity_sd: Option<Given<Velocity>>,
            /// Standard deviation of the ballistic coefficient.
            bc_sd: Option<Given<Ratio>>,
            /// Share of shots that the fast and slow bounds cover, one-sided.
            coverage: Option<Given<Ratio>>,
            /// Change of muzzle velocity with powder temperature.
            velocity_temperature_slope: Option<Given<VelocityPerTemperature>>,
            /// Powder temperature that the muzzle velocity was measured at.
            measured_at: Option<Given<Temperature>>,
            /// Barrel length to move a listed velocity to.
            barrel: Option<Given<Length>>,
        ] $($rest)*);
    };
    (@ $head:tt [$($body:tt)*] target $($rest:ident)*) => {
        question!(@ $head [$($body)*
            /// Face: `12 in`, a round; `12x20 in`, a rectangle.
            face: Option<String>,
            /// Face from a drawing.
            outline: Option<Inline>,
            /// Unit of a drawing that names none: `in` or `mm`.
            outline_unit: Option<String>,
            /// Layers of a drawing to read.
            layer: OneOrMany<String>,
            /// Which part of a drawing that holds several, from 1.
            part: Option<usize>,
            /// How it is held.
            mount: Option<Mount>,
            /// Length of the chain above the plate.
            chain: Option<Given<Length>>,
            /// What it goes through.
            duty: Option<Duty>,
            /// The state it is in.
            condition: Option<Condition>,
            /// What steel it is.
            steel: Option<Steel>,
            /// Lean of the face toward the shooter.
            tilt: Option<Given<Angle>>,
            /// Turn of the face sideways.
            oblique: Option<Given<Angle>>,
            /// Slope to the target, uphill positive.
            slope: Option<Given<Angle>>,
        ] $($rest)*);
    };
    (@ $head:tt [$($body:tt)*] air $($rest:ident)*) => {
        question!(@ $head [$($body)*
            /// Standard air.
            air: Option<StandardAir>,
            /// Height above sea level, single or a range.
            altitude: Option<Given<Range<Length>>>,
            /// Temperature, single or a range.
            temperature: Option<Given<Range<Temperature>>>,
            /// Pressure at the station, in place of the altitude.
            pressure: Option<Given<Range<Pressure>>>,
            /// Relative humidity, single or a range.
            humidity: Option<Given<Range<Ratio>>>,
        ] $($rest)*);
    };
    (@ $head:tt [$($body:tt)*] rules $($rest:ident)*) => {
        question!(@ $head [$($body)*
            /// Rules of a range, as their file holds them; the stricter of theirs and the house's wins.
            range_rules: OneOrMany<Inline>,
            /// The shop's plates in place of those built in, as their file holds them.
            plates: Option<Inline>,
        ] $($rest)*);
    };
    (@ $head:tt [$($body:tt)*] hanging $($rest:ident)*) => {
        question!(@ $head [$($body)*
            /// Magnification that the plate is seen through.
            magnification: Option<f64>,
            /// A swing wanted of a centre hit.
            want_swing: Option<Given<Angle>>,
            /// The shop's file.
            shop: Option<Inline>,
            /// A product of the shop's file, in place of the face, the mount and the plates.
            product: Option<String>,
        ] $($rest)*);
    };
    (@ $head:tt [$($body:tt)*] words $($rest:ident)*) => {
        question!(@ $head [$($body)*
            /// Units of the words.
            units: Option<Units>,
            /// Whether the answer carries flights, for figures.
            figures: Option<bool>,
        ] $($rest)*);
    };
    (@ [$(#[$meta:meta])* $name:ident] [$($(#[$doc:meta])* $key:ident: $type:ty,)*]) => {
        $(#[$meta])*
        #[derive(Debug, Clone, PartialEq, Default, serde::Serialize, serde::Deserialize)]
        #[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
        #[serde(deny_unknown_fields, default)]
        #[non_exhaustive]
        pub struct $name {
            $($(#[$doc])* #[serde(skip_serializing_if = "crate::advisor::question::parts::is_unspecified")] pub $key: $type,)*
        }

        impl $name {
            /// The keys, in order.
            pub const KEYS: &'static [&'static str] = &[$(stringify!($key)),*];
        }
    };
    (part spread $name:ident) => {
        impl $name {
            pub(crate) fn spread_part(&self) -> crate::advisor::question::parts::SpreadPart {
                crate::advisor::question::parts::SpreadPart {
                    velocity_sd: self.velocity_sd.as_ref().map(Given::value),
                    bc_sd: self.bc_sd.as_ref().map(Given::value),
                    coverage: self.coverage.as_ref().map(Given::value),
                    velocity_temperature_slope: self.velocity_temperature_slope.as_ref().map(Given::value),
                    measured_at: self.measured_at.as_ref().map(Given::value),
                    barrel: self.barrel.as_ref().map(Given::value),
                }
            }
        }
    };
    (part target $name:ident) => {
        impl $name {
            pub(crate) fn target_part(&self) -> crate::advisor::question::parts::TargetPart<'_> {
                crate::advisor::question::parts::TargetPart {
                    face: self.face.as_deref(),
                    outline: self.outline.as_ref(),
                    outline_unit: self.outline_unit.as_deref(),
                    layer: &self.layer.0,
                    part: self.part,
                    kind: None,
                    mount: self.mount,
                    chain: self.chain.as_ref().map(Given::value),
                    duty: self.duty,
                    condition: self.condition,
                    steel: self.steel,
                    tilt: self.tilt.as_ref().map(Given::value),
                    oblique: self.oblique.as_ref().map(Given::value),
                    slope: self.slope.as_ref().map(Given::value),
                }
            }
        }
    };
    (part air $name:ident) => {
        impl $name {
            pub(crate) fn air_part(&self) -> crate::advisor::question::parts::AirPart {
                crate::advisor::question::parts::AirPart {
                    air: self.air,
                    altitude: self.altitude.as_ref().map(Given::value),
                    temperature: self.temperature.as_ref().map(Given::value),
                    pressure: self.pressure.as_ref().map(Given::value),
                    humidity: self.humidity.as_ref().map(Given::value),
                }
            }
        }
    };
    (part $other:ident $name:ident) => {};
}
