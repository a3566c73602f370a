//! The face of a plate: what is shot at.

use super::STEEL_KG_M3;
use crate::outline::{HungBy, MAX_FACE_IN, MIN_FACE_IN, Outline, Section, is_a_size};
use crate::quantity::{Area, Length, Mass, Measure, QuantityError, parse, show, unit};
use std::fmt;
use std::str::FromStr;
use std::sync::Arc;
use thiserror::Error;

/// The face of a plate.
#[derive(Debug, Clone, PartialEq)]
pub enum Face {
    /// A round plate of this diameter.
    Round(Length),
    /// A rectangle, width and height.
    Rectangle(Length, Length),
    /// Any other outline.
    Outline(Arc<Outline>),
}

/// A face that can't be. [`FaceError::help`] says what would do.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum FaceError {
    /// A size that is not a quantity.
    #[error("face `{text}`: {error}")]
    Size {
        /// What was written.
        text: String,
        /// What is wrong with it.
        error: QuantityError,
    },
    /// A size out of bounds.
    #[error("face of `{text}` is not between {MIN_FACE_IN} in and {MAX_FACE_IN} in")]
    Bounds {
        /// What was written.
        text: String,
    },
}

impl FaceError {
    /// What to write instead.
    #[must_use]
    pub fn help(&self) -> String {
        let forms = "write a round face as `12in`, a rectangle as `12x20in`";
        match self {
            Self::Size { error: error @ (QuantityError::Comma { .. } | QuantityError::Mark { .. }), .. } => {
                format!("{}; {forms}", error.help())
            }
            Self::Size { .. } | Self::Bounds { .. } => forms.into(),
        }
    }
}

impl Face {
    /// A round face.
    ///
    /// # Errors
    /// [`FaceError::Bounds`].
    pub fn round(diameter: Length) -> Result<Self, FaceError> {
        bounded(diameter).map(Self::Round)
    }

    /// A rectangular face, width and height.
    ///
    /// # Errors
    /// [`FaceError::Bounds`].
    pub fn rectangle(width: Length, height: Length) -> Result<Self, FaceError> {
        Ok(Self::Rectangle(bounded(width)?, bounded(height)?))
    }

    /// Area of the face.
    #[must_use]
    pub fn area(&self) -> Area {
        match self {
            Self::Round(diameter) => std::f64::consts::FRAC_PI_4 * *diameter * *diameter,
            Self::Rectangle(width, height) => *width * *height,
            Self::Outline(outline) => outline.section().area,
        }
    }

    /// Mass of a plate of this face and a thickness.
    #[must_use]
    pub fn mass(&self, thickness: Length) -> Mass {
        unit::KILOGRAM_PER_CUBIC_METRE.of(STEEL_KG_M3) * thickness * self.area()
    }

    /// The narrowest width; zero, the strictest, for an outline whose width is not known
    /// ([`Outline::thinnest`]).
    #[must_use]
    pub fn narrowest_width(&self) -> Length {
        match self {
            Self::Round(diameter) => *diameter,
            Self::Rectangle(width, height) => width.min(*height),
            Self::Outline(outline) => outline.thinnest().map_or(Length::from_si(0.0), |thinnest| thinnest.width),
        }
    }
}

impl Face {
    /// The least steel that it hangs by ([`Outline::hung_by`]): zero, the strictest, where that could not be made sure,
    /// `None` where no part is narrower there than the plate, and where nobody knows where it hangs.
    #[must_use]
    pub fn hung_by(&self) -> Option<Length> {
        let Self::Outline(outline) = self else { return None };
        match outline.hung_by() {
            HungBy::Whole => None,
            HungBy::Unknown => Some(Length::from_si(0.0)),
            HungBy::Steel(steel) => Some(steel.width),
        }
    }
}

impl Section {
    /// The section of a face; round and rectangular faces by their closed forms.
    #[must_use]
    pub fn of(face: &Face) -> Self {
        match face {
            Face::Round(diameter) => Self::of_round(diameter.si()),
            Face::Rectangle(width, height) => Self::of_rectangle(width.si(), height.si()),
            Face::Outline(outline) => *outline.section(),
        }
    }
}

fn bounded(size: Length) -> Result<Length, FaceError> {
    if is_a_size(size) { Ok(size) } else { Err(FaceError::Bounds { text: show(size, &unit::INCH, 2) }) }
}

impl FromStr for Face {
    type Err = FaceError;

    /// Reads `12in`, `12x20in`, `12in x 20in`.
    fn from_str(text: &str) -> Result<Self, FaceError> {
        let fault = |error| FaceError::Size { text: text.trim().into(), error };
        match two_sizes(text) {
            None => Self::round(parse(across(text)).map_err(fault)?),
            Some(sizes) => sizes.map_err(fault).and_then(|(width, height)| Self::rectangle(width, height)),
        }
    }
}

/// A size without the words that say what of: `12 in round`, as pages print it, `12 in dia`.
fn across(text: &str) -> &str {
    const WORDS: [&str; 6] = ["round", "dia", "dia.", "diam", "diameter", "across"];
    let text = text.trim();
    text.rsplit_once(char::is_whitespace).filter(|(_, word)| WORDS.contains(word)).map_or(text, |(size, _)| size)
}

/// Reads `12x20in`, `12in x 20in`; none where there are no two sizes.
pub(crate) fn two_sizes(text: &str) -> Option<Result<(Length, Length), QuantityError>> {
    let (width, height) = text.split_once(['x', 'X', '×'])?;
    let sizes = || {
        let height_size = parse::<Length>(height)?;
        // `12x20in`: the unit behind the second size is the first one's too.
        let unit = height.trim().trim_start_matches(|c: char| c.is_ascii_digit() || "./ -".contains(c));
        let width_size = parse::<Length>(width).or_else(|_| parse(&format!("{} {unit}", width.trim())))?;
        Ok((width_size, height_size))
    };
    Some(sizes())
}

/// A size without trailing zeros.
fn short(size: Length) -> String {
    let text = format!("{:.3}", unit::INCH.value(size));
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

impl fmt::Display for Face {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Round(diameter) => write!(f, "{} in round", short(*diameter)),
            Self::Rectangle(width, height) => write!(f, "{} × {} in", short(*width), short(*height)),
            Self::Outline(outline) => f.write_str(&outline.name),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn faces_are_read_as_the_trade_writes_them() {
        let inch = |n| unit::INCH.of(n);
        assert_eq!("12in".parse(), Ok(Face::Round(inch(12.0))));
        for text in ["12x20in", "12 x 20 in", "12in x 20in", "12inx20in"] {
            assert_eq!(text.parse(), Ok(Face::Rectangle(inch(12.0), inch(20.0))), "{text}");
        }
        let metric = "300x500mm".parse::<Face>().unwrap();
        assert!((metric.narrowest_width().si() - 0.3).abs() < 1e-12);
        assert!(matches!("1/2x4in".parse::<Face>(), Err(FaceError::Bounds { .. })));
    }

    #[test]
    fn a_face_without_a_unit_or_of_no_size_is_refused_with_the_forms_that_would_do() {
        for text in ["12", "x", "", "12x", "x12in", "0in", "-3in", "12'", "12x20", "9999in", "12xin"] {
            let fault = text.parse::<Face>().unwrap_err();
            assert!(fault.help().contains("12x20in"), "{text}: {}", fault.help());
        }
    }
}
