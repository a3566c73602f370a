//! What questions are made of.

use crate::load::{Construction, Firearm};
use crate::plate::{Condition, Duty, Kind, Mount, Steel};
use crate::quantity::{
    Angle, BallisticCoefficient, Given, Length, Mass, Pressure, Range, Ratio, Temperature, Velocity,
    VelocityPerTemperature,
};
use serde::{Deserialize, Deserializer, Serialize, Serializer, de};
use std::fmt;
use std::marker::PhantomData;

/// Whether a key was left out: the value is the one a question without it has.
pub(crate) fn is_unspecified<T: Default + PartialEq>(value: &T) -> bool {
    *value == T::default()
}

/// One thing or a list of them.
#[derive(Debug, Clone, PartialEq)]
pub struct OneOrMany<T>(
    /// The things, in order.
    pub Vec<T>,
);

impl<T> Default for OneOrMany<T> {
    fn default() -> Self {
        Self(Vec::new())
    }
}

impl<T> From<Vec<T>> for OneOrMany<T> {
    fn from(list: Vec<T>) -> Self {
        Self(list)
    }
}

impl<T: Serialize> Serialize for OneOrMany<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self.0.as_slice() {
            [one] => one.serialize(serializer),
            list => list.serialize(serializer),
        }
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for OneOrMany<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Either<T>(PhantomData<T>);
        impl<'de, T: Deserialize<'de>> de::Visitor<'de> for Either<T> {
            type Value = OneOrMany<T>;

            fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
                f.write_str("one, or a list")
            }

            fn visit_str<E: de::Error>(self, text: &str) -> Result<Self::Value, E> {
                T::deserialize(de::value::StrDeserializer::new(text)).map(|one| OneOrMany(vec![one]))
            }

            fn visit_map<A: de::MapAccess<'de>>(self, map: A) -> Result<Self::Value, A::Error> {
                T::deserialize(de::value::MapAccessDeserializer::new(map)).map(|one| OneOrMany(vec![one]))
            }

            fn visit_seq<A: de::SeqAccess<'de>>(self, seq: A) -> Result<Self::Value, A::Error> {
                Vec::deserialize(de::value::SeqAccessDeserializer::new(seq)).map(OneOrMany)
            }
        }
        deserializer.deserialize_any(Either(PhantomData))
    }
}

#[cfg(feature = "schema")]
impl<T: schemars::JsonSchema> schemars::JsonSchema for OneOrMany<T> {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        format!("one or more of: {}", T::schema_name()).into()
    }

    fn inline_schema() -> bool {
        true
    }

    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let one = generator.subschema_for::<T>();
        schemars::json_schema!({"anyOf": [one, {"type": "array", "items": one}]})
    }
}

/// A file's content in a question: the same object that the file holds, or, as a text, a reference to a file, which is
/// refused unless the caller passed a resolver.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(untagged)]
pub enum Inline {
    /// A reference that a resolver reads.
    File(String),
    /// The object itself. A drawing's text stands as `{"dxf": "…"}` or `{"svg": "…"}`.
    Object(serde_json::Map<String, serde_json::Value>),
}

/// A standard projectile by name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Model {
    /// The G1 standard projectile.
    #[serde(alias = "g1")]
    G1,
    /// The G7 standard projectile.
    #[serde(alias = "g7")]
    G7,
}

/// A standard air.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum StandardAir {
    /// ICAO standard atmosphere, ISO 2533.
    #[serde(rename = "ICAO", alias = "icao")]
    Icao,
    /// Army Standard Metro.
    #[serde(rename = "ASM", alias = "asm")]
    Asm,
}

/// A load by its name, with its distance if it has one of its own, or by its numbers.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(untagged)]
pub enum LoadAsked {
    /// `308-168-match`, `308-168-match@100 yd`.
    Named(String),
    /// By its numbers.
    Described(Box<LoadDescription>),
}

impl<'de> Deserialize<'de> for LoadAsked {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Either;
        impl<'de> de::Visitor<'de> for Either {
            type Value = LoadAsked;

            fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
                f.write_str("a load's name, or an object that describes it")
            }

            fn visit_str<E: de::Error>(self, text: &str) -> Result<LoadAsked, E> {
                Ok(LoadAsked::Named(text.to_owned()))
            }

            fn visit_map<A: de::MapAccess<'de>>(self, map: A) -> Result<LoadAsked, A::Error> {
                LoadDescription::deserialize(de::value::MapAccessDeserializer::new(map))
                    .map(|described| LoadAsked::Described(Box::new(described)))
            }
        }
        deserializer.deserialize_any(Either)
    }
}

/// A load by its numbers.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
#[non_exhaustive]
pub struct LoadDescription {
    /// Bullet mass.
    #[serde(skip_serializing_if = "is_unspecified")]
    pub bullet: Option<Given<Mass>>,
    /// Mean muzzle velocity.
    #[serde(alias = "muzzle_velocity", skip_serializing_if = "is_unspecified")]
    pub velocity: Option<Given<Velocity>>,
    /// Ballistic coefficient in lb/in².
    #[serde(skip_serializing_if = "is_unspecified")]
    pub bc: Option<Given<BallisticCoefficient>>,
    /// The standard projectile the coefficient refers to.
    #[serde(skip_serializing_if = "is_unspecified")]
    pub drag: Option<Model>,
    /// The bullet's own drag, Mach and Cd, in place of `bc` and `drag`: a reference to a file.
    #[serde(skip_serializing_if = "is_unspecified")]
    pub drag_table: Option<String>,
    /// Bullet diameter.
    #[serde(skip_serializing_if = "is_unspecified")]
    pub diameter: Option<Given<Length>>,
    /// What the bullet is made of.
    #[serde(skip_serializing_if = "is_unspecified")]
    pub construction: Option<Construction>,
    /// What fires it.
    #[serde(skip_serializing_if = "is_unspecified")]
    pub firearm: Option<Firearm>,
    /// Projectiles in a shot, for pellets.
    #[serde(skip_serializing_if = "is_unspecified")]
    pub projectiles: Option<u32>,
    /// What to call it.
    #[serde(skip_serializing_if = "is_unspecified")]
    pub name: Option<String>,
    /// Its cartridge.
    #[serde(skip_serializing_if = "is_unspecified")]
    pub cartridge: Option<String>,
}

/// One of several targets.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
#[non_exhaustive]
#[allow(missing_docs)] // As the keys of the same names in a question.
pub struct Target {
    pub name: String,
    #[serde(skip_serializing_if = "is_unspecified")]
    pub face: Option<String>,
    #[serde(skip_serializing_if = "is_unspecified")]
    pub outline: Option<Inline>,
    #[serde(skip_serializing_if = "is_unspecified")]
    pub mount: Option<Mount>,
    #[serde(skip_serializing_if = "is_unspecified")]
    pub chain: Option<Given<Length>>,
    #[serde(skip_serializing_if = "is_unspecified")]
    pub duty: Option<Duty>,
    #[serde(skip_serializing_if = "is_unspecified")]
    pub condition: Option<Condition>,
    #[serde(skip_serializing_if = "is_unspecified")]
    pub steel: Option<Steel>,
    #[serde(skip_serializing_if = "is_unspecified")]
    pub tilt: Option<Given<Angle>>,
    #[serde(skip_serializing_if = "is_unspecified")]
    pub oblique: Option<Given<Angle>>,
    #[serde(skip_serializing_if = "is_unspecified")]
    pub slope: Option<Given<Angle>>,
}

/// Loads shot at targets.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
#[non_exhaustive]
pub struct Shot {
    /// A load.
    #[serde(skip_serializing_if = "is_unspecified")]
    pub load: Option<LoadAsked>,
    /// Any ammunition of a cartridge.
    #[serde(skip_serializing_if = "is_unspecified")]
    pub any: Option<String>,
    /// Distances.
    #[serde(skip_serializing_if = "is_unspecified")]
    pub at: OneOrMany<Given<Length>>,
    /// Targets by name; all where none is given.
    #[serde(skip_serializing_if = "is_unspecified")]
    pub target: OneOrMany<String>,
}

/// The spread of a question.
#[derive(Debug, Clone, Copy)]
pub(crate) struct SpreadPart {
    pub velocity_sd: Option<Velocity>,
    pub bc_sd: Option<Ratio>,
    pub coverage: Option<Ratio>,
    pub velocity_temperature_slope: Option<VelocityPerTemperature>,
    pub measured_at: Option<Temperature>,
    pub barrel: Option<Length>,
}

/// The target of a question.
#[derive(Debug, Clone, Copy)]
pub(crate) struct TargetPart<'q> {
    pub face: Option<&'q str>,
    pub outline: Option<&'q Inline>,
    pub outline_unit: Option<&'q str>,
    pub layer: &'q [String],
    pub part: Option<usize>,
    /// What kind of target it is, where the question has the key.
    pub kind: Option<Kind>,
    pub mount: Option<Mount>,
    pub chain: Option<Length>,
    pub duty: Option<Duty>,
    pub condition: Option<Condition>,
    pub steel: Option<Steel>,
    pub tilt: Option<Angle>,
    pub oblique: Option<Angle>,
    pub slope: Option<Angle>,
}

/// The air of a question.
#[derive(Debug, Clone, Copy)]
pub(crate) struct AirPart {
    pub air: Option<StandardAir>,
    pub altitude: Option<Range<Length>>,
    pub temperature: Option<Range<Temperature>>,
    pub pressure: Option<Range<Pressure>>,
    pub humidity: Option<Range<Ratio>>,
}
