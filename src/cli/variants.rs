//! The words of an enum, as its reader knows them.

use serde::de::value::Error;
use serde::de::{Deserialize, Deserializer, Error as _, Visitor};

/// Asks a type what it would read, and gives it nothing.
struct Ask<'a>(&'a mut &'static [&'static str]);

impl<'de> Deserializer<'de> for Ask<'_> {
    type Error = Error;

    fn deserialize_any<V: Visitor<'de>>(self, _: V) -> Result<V::Value, Error> {
        Err(Error::custom("not an enum"))
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        variants: &'static [&'static str],
        _: V,
    ) -> Result<V::Value, Error> {
        *self.0 = variants;
        Err(Error::custom("only asked"))
    }

    serde::forward_to_deserialize_any! {
        bool i8 i16 i32 i64 u8 u16 u32 u64 f32 f64 char str string bytes byte_buf option unit unit_struct
        newtype_struct seq tuple tuple_struct map struct identifier ignored_any
    }
}

/// The words of an enum, in its own order; none for what is no enum.
pub(super) fn words<'de, T: Deserialize<'de>>() -> &'static [&'static str] {
    let mut words: &[&str] = &[];
    let _ = T::deserialize(Ask(&mut words));
    words
}
