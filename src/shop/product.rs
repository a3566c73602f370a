//! What a shop makes.

use super::money::Money;
use crate::plate::{Face, Kind, Mount, Plate, same_thickness};
use crate::quantity::Length;

/// A product in a thickness that it is made in.
#[derive(Debug, Clone, PartialEq)]
pub struct Made {
    /// The plate.
    pub plate: Plate,
    /// Its own price; by weight where there is none.
    pub price: Option<Money>,
}

/// The shape of a product.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// Its face.
    Face(Face),
    /// The file that its outline is drawn in, which is read when the product is asked for.
    File(String),
}

/// A product of a shop.
#[derive(Debug, Clone, PartialEq)]
pub struct Product {
    /// What it is called, plain text.
    pub name: String,
    /// Its shape.
    pub shape: Shape,
    /// The thicknesses it is made in, thin to thick.
    pub made: Vec<Made>,
    /// How it is held; `None` where that is the customer's affair.
    pub mount: Option<Mount>,
    /// The chain that comes with it.
    pub chain: Option<Length>,
    /// What kind of target it is.
    pub kind: Kind,
}

impl Product {
    /// Its face; none where that is drawn in a file.
    #[must_use]
    pub fn face(&self) -> Option<&Face> {
        match &self.shape {
            Shape::Face(face) => Some(face),
            Shape::File(_) => None,
        }
    }

    /// The product in a thickness; `None` where it is not made in it.
    #[must_use]
    pub fn made(&self, thickness: Length) -> Option<&Made> {
        self.made.iter().find(|made| same_thickness(made.plate.thickness, thickness))
    }

    /// The thicknesses that it is made in, thin to thick.
    #[must_use]
    pub fn plates(&self) -> Vec<Plate> {
        self.made.iter().map(|made| made.plate.clone()).collect()
    }
}
