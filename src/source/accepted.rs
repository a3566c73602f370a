//! What a reader accepts, as it says itself: the keys of a record, the words of an enum.

use serde::de::value::Error;
use serde::de::{Deserialize, Deserializer, Error as _, Visitor};

/// Asks a type what it would read, and gives it nothing.
struct Ask<'a>(&'a mut &'static [&'static str]);

impl<'de> Deserializer<'de> for Ask<'_> {
    type Error = Error;

    fn deserialize_any<V: Visitor<'de>>(self, _: V) -> Result<V::Value, Error> {
        Err(Error::custom("neither a record nor an enum"))
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

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        fields: &'static [&'static str],
        _: V,
    ) -> Result<V::Value, Error> {
        *self.0 = fields;
        Err(Error::custom("only asked"))
    }

    serde::forward_to_deserialize_any! {
        bool i8 i16 i32 i64 u8 u16 u32 u64 f32 f64 char str string bytes byte_buf option unit unit_struct
        newtype_struct seq tuple tuple_struct map identifier ignored_any
    }
}

/// The keys of a record or the words of an enum, in its own order; none for what is neither.
#[must_use]
pub fn accepted<'de, T: Deserialize<'de>>() -> &'static [&'static str] {
    let mut words: &[&str] = &[];
    let _ = T::deserialize(Ask(&mut words));
    words
}

/// A table of a file, `[[rule]]`, and the keys that its reader accepts; of the file's own keys the name is empty.
#[derive(Debug, Clone, Copy)]
pub struct Keys {
    /// The table's name in the file.
    pub table: &'static str,
    /// What its reader takes.
    pub keys: &'static [&'static str],
}

impl Keys {
    /// Those of the record that a table is read as.
    #[must_use]
    pub fn of<'de, T: Deserialize<'de>>(table: &'static str) -> Self {
        Self { table, keys: accepted::<T>() }
    }
}
