//! What a plate is to the shop: products, mass, sheets, cost, shipping, carrying.

mod file;
mod least;
pub mod money;
mod nest;
pub mod price;
pub mod product;
pub mod sheet;
pub mod ship;

use crate::plate::{Face, Plate, TRADE_LB_FT2_IN};
use crate::quantity::{Area, Length, Mass, unit};
pub use file::SCHEMA;
pub use file::keys;
use price::{Cost, Part, Shop};
use sheet::{CutPlan, Cutting, plans};
use ship::{smallest, usual_parcels};

/// The load constant of the NIOSH lifting equation: 23 kg, the stricter of the two that are printed (51 lb).
pub const NIOSH_KG: f64 = 23.0;

/// Pounds by the trade's 40.8 lb/ft² per inch.
pub(crate) fn trade_pounds(area: Area, thickness: Length) -> f64 {
    TRADE_LB_FT2_IN * unit::SQUARE_FOOT.value(area) * unit::INCH.value(thickness)
}

/// A plate as material.
#[derive(Debug, Clone, PartialEq)]
pub struct Material {
    /// Mass by the exact density.
    pub mass: Mass,
    /// Mass by the trade's 40.8 lb/ft² per inch.
    pub trade_mass: Mass,
    /// Length of its cuts.
    pub cut: Length,
    /// How many come from a full, a half and a quarter sheet.
    pub per_sheet: [u32; 3],
    /// Share of a full sheet that becomes plates.
    pub utilisation: f64,
    /// What it costs, where the shop's prices say.
    pub cost: Option<Cost>,
    /// The smallest parcel it may be shipped in, by name.
    pub parcel: Option<String>,
    /// How many a person may carry by the NIOSH load constant.
    pub carried: u32,
}

impl Material {
    /// A face cut from a plate, at a shop where its file is given.
    #[must_use]
    pub fn of(face: &Face, plate: &Plate, shop: Option<&Shop>) -> Self {
        let cutting = shop.map_or_else(Cutting::default, |s| s.cutting);
        Self::with_plans(face, plate, shop, &plans(face, &cutting))
    }

    /// The same, by plans of the face that are known: they are alike for every thickness.
    #[must_use]
    pub fn with_plans(face: &Face, plate: &Plate, shop: Option<&Shop>, plans: &[CutPlan; 3]) -> Self {
        let mass = face.mass(plate.thickness);
        let per_sheet = plans.each_ref().map(CutPlan::count);
        let part = Part::of(face, plate, per_sheet[0]);
        let usual = usual_parcels();
        let parcels = shop.map_or(usual.as_slice(), |s| s.parcels.as_slice());
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // A plate weighs more than a gram.
        let carried = (NIOSH_KG / unit::KILOGRAM.value(mass)).min(1e6).floor() as u32;
        Self {
            mass,
            trade_mass: unit::POUND.of(trade_pounds(face.area(), plate.thickness)),
            cut: part.cut,
            per_sheet,
            utilisation: plans[0].utilisation(face),
            cost: shop.and_then(|s| s.cost(&part)),
            parcel: smallest(parcels, mass).map(|parcel| parcel.name.clone()),
            carried,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plate::{Contour, Outline, Point};
    use crate::source::SourceText;
    use std::sync::Arc;

    fn plate(thickness: f64) -> Plate {
        Plate::new("test", unit::INCH.of(thickness)).unwrap()
    }

    #[test]
    fn a_plate_is_shipped_and_carried_by_its_mass() {
        let material = |inches: f64, thickness: f64| {
            let face = Face::round(unit::INCH.of(inches)).unwrap();
            Material::of(&face, &plate(thickness), None)
        };
        let small = material(12.0, 0.375);
        assert_eq!((small.carried, small.parcel.as_deref(), small.cost), (4, Some("postal parcel"), None));
        assert_eq!(material(30.0, 0.75).parcel.as_deref(), None);
        assert_eq!(material(30.0, 0.75).carried, 0);
        assert!((unit::POUND.value(small.mass) - 12.03).abs() < 0.01);
    }

    #[test]
    fn a_round_drawn_as_an_outline_costs_what_a_round_costs() {
        let text = "schema = \"thickset/shop/1\"\nname = \"x\"\ncurrency = \"$\"\n[[price]]\nthickness = \"3/8 in\"\nper-sheet = 999\ncut-per-inch = 0.123\n";
        let shop = Shop::read(&SourceText::new("shop.toml", text)).unwrap();
        let centre = Point { x: unit::INCH.of(7.3), y: unit::INCH.of(-2.0) };
        for inches in [6.0, 12.0, 18.0] {
            let contour = Contour::circle(centre, unit::INCH.of(inches)).unwrap();
            let drawn = Face::Outline(Arc::new(Outline::new("x", contour, Vec::new(), Vec::new()).unwrap()));
            let round = Face::round(unit::INCH.of(inches)).unwrap();
            let material = |face: &Face| Material::of(face, &plate(0.375), Some(&shop));
            assert_eq!(material(&drawn).cost, material(&round).cost);
            assert_eq!(material(&drawn).per_sheet, material(&round).per_sheet);
        }
    }
}
