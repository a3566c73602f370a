//! Pairs of a group code and a value: two lines each, or binary. The code says what kind of value it is.

use super::super::Fault;
use std::borrow::Cow;

/// How a binary file begins, by the format's definition.
const BINARY: &[u8] = b"AutoCAD Binary DXF\r\n\x1a\x00";
/// The longest number that is shown in a fault.
const SHOWN: usize = 40;

#[derive(Debug, Clone, PartialEq)]
enum Value<'a> {
    Text(Cow<'a, str>),
    Real(f64),
    Whole(i64),
    Bytes,
}

/// A group code and its value.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Pair<'a> {
    pub code: i32,
    value: Value<'a>,
    /// Line or byte, for messages.
    place: usize,
    binary: bool,
}

impl Pair<'_> {
    pub fn text(&self) -> &str {
        self.whole_text().trim()
    }

    /// The text with the spaces at its ends: of a longer one it is a piece.
    pub fn whole_text(&self) -> &str {
        match &self.value {
            Value::Text(text) => text,
            _ => "",
        }
    }

    fn fault(&self) -> Fault {
        let shown: String = self.text().chars().take(SHOWN).collect();
        let place = if self.binary { "byte" } else { "line" };
        (format!("{place} {}: `{shown}` is not the number of group {}", self.place, self.code), "save it anew".into())
    }

    pub fn real(&self) -> Result<f64, Fault> {
        let value = match &self.value {
            Value::Text(text) => text.trim().parse().map_err(|_| self.fault())?,
            Value::Real(value) => *value,
            Value::Whole(value) => *value as f64,
            Value::Bytes => return Err(self.fault()),
        };
        if f64::is_finite(value) && value.abs() < 1e12 { Ok(value) } else { Err(self.fault()) }
    }

    pub fn whole(&self) -> Result<i64, Fault> {
        match &self.value {
            // Some writers give whole numbers with a point.
            Value::Text(text) => match text.trim().parse() {
                Ok(value) => Ok(value),
                #[allow(clippy::cast_possible_truncation)] // Below 1e12.
                Err(_) => self.real().map(|v| v as i64),
            },
            Value::Whole(value) => Ok(*value),
            #[allow(clippy::cast_possible_truncation)] // Below 1e12.
            Value::Real(_) => self.real().map(|v| v as i64),
            Value::Bytes => Err(self.fault()),
        }
    }

    /// Whether this begins a record of a name.
    pub fn begins(&self, name: &str) -> bool {
        self.code == 0 && self.text().eq_ignore_ascii_case(name)
    }
}

/// The pairs of a file.
pub(super) fn pairs(bytes: &[u8]) -> Result<Vec<Pair<'_>>, Fault> {
    match bytes.strip_prefix(BINARY) {
        Some(body) => binary(body),
        None => ascii(bytes),
    }
}

fn ascii(bytes: &[u8]) -> Result<Vec<Pair<'_>>, Fault> {
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    if bytes.starts_with(b"AC10") {
        return Err(("the drawing is not in DXF, though it may be named so".into(), "export it as DXF".into()));
    }
    let mut lines = lines(bytes);
    let mut pairs = Vec::new();
    while let Some((place, code)) = lines.next() {
        let code = latin(code);
        if code.trim().is_empty() && lines.clone().all(|(_, l)| l.trim_ascii().is_empty()) {
            break;
        }
        let Ok(code) = code.trim().parse::<i32>() else {
            let shown: String = code.trim().chars().take(SHOWN).collect();
            return Err((
                format!("line {place}: `{shown}` is not a group code"),
                "the file is not DXF, or was cut short: save it anew".into(),
            ));
        };
        let Some((_, value)) = lines.next() else { break };
        if code != 999 {
            pairs.push(Pair { code, value: Value::Text(latin(value)), place: place + 1, binary: false });
        }
        if code == 0 && value.trim_ascii().eq_ignore_ascii_case(b"EOF") {
            break;
        }
    }
    Ok(pairs)
}

/// Lines, ended by LF, CR LF or CR, with their numbers from 1.
fn lines(bytes: &[u8]) -> impl Iterator<Item = (usize, &[u8])> + Clone {
    let (mut rest, mut number) = (bytes, 0);
    std::iter::from_fn(move || {
        if rest.is_empty() {
            return None;
        }
        number += 1;
        let end = rest.iter().position(|b| matches!(b, b'\n' | b'\r')).unwrap_or(rest.len());
        let line = &rest[..end];
        let skip = if rest[end..].starts_with(b"\r\n") { 2 } else { 1 };
        rest = rest.get(end + skip..).unwrap_or_default();
        Some((number, line))
    })
}

/// Text in UTF-8, or else a letter a byte: names are compared, not printed in their alphabet.
fn latin(bytes: &[u8]) -> Cow<'_, str> {
    match std::str::from_utf8(bytes) {
        Ok(text) => Cow::Borrowed(text),
        Err(_) => Cow::Owned(bytes.iter().map(|b| char::from(*b)).collect()),
    }
}

/// What a binary value is, by its group code.
enum Kind {
    Text,
    Real,
    Bytes,
    Whole(usize),
}

fn kind(code: i32) -> Option<Kind> {
    Some(match code {
        0..=9
        | 100..=105
        | 300..=309
        | 320..=369
        | 390..=399
        | 410..=419
        | 430..=439
        | 470..=481
        | 999..=1003
        | 1005..=1009 => Kind::Text,
        310..=319 | 1004 => Kind::Bytes,
        10..=59 | 110..=149 | 210..=239 | 460..=469 | 1010..=1059 => Kind::Real,
        60..=79 | 170..=179 | 270..=289 | 370..=389 | 400..=409 | 1060..=1070 => Kind::Whole(2),
        90..=99 | 420..=429 | 440..=459 | 1071 => Kind::Whole(4),
        160..=169 => Kind::Whole(8),
        290..=299 => Kind::Whole(1),
        _ => return None,
    })
}

struct Bytes<'a> {
    rest: &'a [u8],
    place: usize,
}

impl<'a> Bytes<'a> {
    fn take(&mut self, count: usize) -> Result<&'a [u8], Fault> {
        let Some((taken, rest)) = self.rest.split_at_checked(count) else {
            return Err((format!("byte {}: the file ends within a value", self.place), "save it anew".into()));
        };
        (self.rest, self.place) = (rest, self.place + count);
        Ok(taken)
    }

    fn whole(&mut self, size: usize) -> Result<i64, Fault> {
        let bytes = self.take(size)?;
        let negative = size > 1 && bytes[size - 1] >= 0x80;
        let mut all = [if negative { 0xff } else { 0 }; 8];
        all[..size].copy_from_slice(bytes);
        Ok(i64::from_le_bytes(all))
    }

    fn text(&mut self) -> Result<Cow<'a, str>, Fault> {
        let length = self.rest.iter().position(|b| *b == 0).unwrap_or(self.rest.len());
        let text = self.take(length)?;
        self.take(1)?;
        Ok(latin(text))
    }
}

fn binary(body: &[u8]) -> Result<Vec<Pair<'_>>, Fault> {
    let mut bytes = Bytes { rest: body, place: BINARY.len() };
    // The older form has codes of one byte, and 255 before one of two: the first pair is group 0.
    let wide = body.get(1) == Some(&0);
    let mut pairs = Vec::new();
    while !bytes.rest.is_empty() {
        let place = bytes.place;
        let mut code = bytes.whole(if wide { 2 } else { 1 })?;
        if !wide && code == 255 {
            code = bytes.whole(2)?;
        }
        let code = i32::try_from(code).unwrap_or(-1);
        let value = match kind(code) {
            Some(Kind::Text) => Value::Text(bytes.text()?),
            Some(Kind::Real) => {
                let mut raw = [0; 8];
                raw.copy_from_slice(bytes.take(8)?);
                Value::Real(f64::from_le_bytes(raw))
            }
            Some(Kind::Whole(size)) => Value::Whole(bytes.whole(size)?),
            Some(Kind::Bytes) => {
                let length = bytes.whole(1)?;
                bytes.take(usize::try_from(length).unwrap_or(0))?;
                Value::Bytes
            }
            None => return Err((format!("byte {place}: {code} is not a group code"), "save it anew".into())),
        };
        let ends = code == 0 && matches!(&value, Value::Text(t) if t.trim().eq_ignore_ascii_case("EOF"));
        pairs.push(Pair { code, value, place, binary: true });
        if ends {
            break;
        }
    }
    Ok(pairs)
}
