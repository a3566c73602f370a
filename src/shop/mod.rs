//! What a plate is to the shop: mass, sheets, cost, shipping, carrying.

mod nest;
pub mod price;
pub mod sheet;

use crate::plate::{Face, Plate, Section, TRADE_LB_FT2_IN};
use crate::quantity::{Area, Length, Mass, unit};
use price::{Money, Parcel, Shop, usual_parcels};
use sheet::{CutPlan, Cutting, plans};

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
    pub cost: Option<Money>,
    /// The smallest parcel it may be shipped in, by name.
    pub parcel: Option<String>,
    /// How many a person may carry by the NIOSH load constant.
    pub carried: u32,
}

impl Material {
    /// A face cut from a plate, at a shop where its file is given.
    #[must_use]
    pub fn of(face: &Face, plate: &Plate, shop: Option<&Shop>) -> Self {
        let section = Section::of(face);
        let cutting = shop.map_or_else(Cutting::default, |s| s.cutting);
        let mass = face.mass(plate.thickness);
        let plans = plans(face, &cutting);
        let per_sheet = plans.each_ref().map(CutPlan::count);
        let cut = section.perimeter;
        let usual = usual_parcels();
        let parcels = shop.map_or(usual.as_slice(), |s| s.parcels.as_slice());
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // A plate weighs more than a gram.
        let carried = (NIOSH_KG / unit::KILOGRAM.value(mass)).min(1e6).floor() as u32;
        Self {
            mass,
            trade_mass: unit::POUND.of(trade_pounds(face.area(), plate.thickness)),
            cut,
            per_sheet,
            utilisation: plans[0].utilisation(face),
            cost: shop.and_then(|s| s.cost(plate.thickness, face.area(), cut, per_sheet[0])),
            parcel: smallest(parcels, mass),
            carried,
        }
    }
}

fn smallest(parcels: &[Parcel], mass: Mass) -> Option<String> {
    let fit = parcels.iter().filter(|p| mass <= p.most);
    fit.reduce(|a, b| if b.most < a.most { b } else { a }).map(|p| p.name.clone())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plate_is_shipped_and_carried_by_its_mass() {
        let material = |inches: f64, thickness: f64| {
            let face = Face::round(unit::INCH.of(inches)).unwrap();
            Material::of(&face, &Plate::new("test", unit::INCH.of(thickness)).unwrap(), None)
        };
        let small = material(12.0, 0.375);
        assert_eq!((small.carried, small.parcel.as_deref(), small.cost), (4, Some("postal parcel"), None));
        assert_eq!(material(30.0, 0.75).parcel.as_deref(), None);
        assert_eq!(material(30.0, 0.75).carried, 0);
        assert!((unit::POUND.value(small.mass) - 12.03).abs() < 0.01);
    }
}
