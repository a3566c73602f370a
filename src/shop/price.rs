//! A shop's own prices. Without its file no cost is invented.

use super::money::Money;
use super::product::Product;
use super::sheet::Cutting;
use super::ship::{Freight, Parcel, Shipping, ship};
use crate::order::Order;
use crate::plate::{Face, Plate, STEEL_KG_M3, Section, same_thickness};
use crate::quantity::{Area, Length, Mass, Measure, unit};
use crate::source::nearest;
use thiserror::Error;

/// What a plate of a thickness is priced by.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Price {
    /// What its thickness is written as.
    pub label: String,
    pub thickness: Length,
    pub steel: Steel,
    /// Of a metre of cut.
    pub cut_per_metre: f64,
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Steel {
    PerKilogram(f64),
    PerSheet(f64),
}

/// A shop: prices by thickness, products, how it cuts, and how it ships.
#[derive(Debug, Clone, PartialEq)]
pub struct Shop {
    /// Whose prices they are, plain text.
    pub name: String,
    /// What money is called.
    pub currency: String,
    /// How it cuts.
    pub cutting: Cutting,
    /// Parcels that it ships in.
    pub parcels: Vec<Parcel>,
    /// Freight by weight, where it ships by it.
    pub freight: Option<Freight>,
    /// Whether a price by weight holds the scrap; else, and where nothing is said, the plate's share of the sheet is
    /// paid for.
    pub scrap_included: bool,
    /// What it makes.
    pub products: Vec<Product>,
    pub(super) handling: f64,
    pub(super) prices: Vec<Price>,
}

/// What a price stands on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// The product's own price.
    Product,
    /// By weight, scrap included or charged.
    Weight {
        /// Whether the price by weight holds the scrap.
        scrap_included: bool,
    },
    /// Its share of a sheet: scrap is in it.
    Sheet,
}

/// What a plate costs, and what that is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Cost {
    /// Of one.
    pub each: Money,
    /// What it stands on.
    pub basis: Basis,
    /// Steel, cut and handling of one, where the price is made up of them.
    pub made_of: Option<[Money; 3]>,
}

/// A plate as it is quoted.
#[derive(Debug, Clone, PartialEq)]
pub struct Quote {
    /// Of one.
    pub cost: Cost,
    /// How many.
    pub quantity: u32,
    /// Of all of them, without shipping.
    pub total: Money,
    /// How many full sheets they are cut from.
    pub sheets: u32,
    /// How they ship.
    pub shipping: Shipping,
}

/// Why a plate has no price.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Unpriced {
    /// The shop has no price for its thickness; the next ones that it prices, by label.
    Thickness(Vec<String>),
    /// None comes from a sheet.
    Sheet,
}

/// A product that a shop does not make. [`NoProduct::help`] says what it makes.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("`{shop}` makes no product `{name}`")]
pub struct NoProduct {
    /// What was asked for.
    pub name: String,
    /// Whose products were looked at.
    pub shop: String,
    nearest: Option<String>,
    known: Vec<String>,
}

impl NoProduct {
    /// What to write instead.
    #[must_use]
    pub fn help(&self) -> String {
        match (&self.nearest, self.known.as_slice()) {
            (Some(nearest), _) => format!("did you mean `{nearest}`?"),
            (None, []) => "its file has no products: add a `[[product]]`".into(),
            (None, known) => {
                let named: Vec<String> = known.iter().take(12).map(|name| format!("`{name}`")).collect();
                format!("it makes {}", named.join(", "))
            }
        }
    }
}

/// A plate to be priced.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Part {
    /// Its nominal thickness.
    pub thickness: Length,
    /// Its area, holes taken off.
    pub area: Area,
    /// Length of its cuts.
    pub cut: Length,
    /// How many come from a full sheet.
    pub per_sheet: u32,
}

impl Part {
    /// A plate of a face, of which so many come from a full sheet.
    #[must_use]
    pub fn of(face: &Face, plate: &Plate, per_sheet: u32) -> Self {
        Self { thickness: plate.thickness, area: face.area(), cut: Section::of(face).perimeter, per_sheet }
    }
}

impl std::fmt::Display for Cost {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.each.fmt(f)
    }
}

impl Shop {
    /// A product by its name, without regard to case.
    ///
    /// # Errors
    /// [`NoProduct`].
    pub fn product(&self, name: &str) -> Result<&Product, NoProduct> {
        let wanted = name.trim();
        self.products.iter().find(|p| p.name.eq_ignore_ascii_case(wanted)).ok_or_else(|| {
            let known = || self.products.iter().map(|p| p.name.as_str());
            NoProduct {
                name: wanted.into(),
                shop: self.name.clone(),
                nearest: nearest(wanted, known()).map(str::to_owned),
                known: known().map(str::to_owned).collect(),
            }
        })
    }

    /// The price of a thickness: its own alone. What a mill sells as another size is another plate, by its rules and by
    /// its weight.
    fn price(&self, thickness: Length) -> Option<&Price> {
        self.prices.iter().find(|price| same_thickness(price.thickness, thickness))
    }

    /// The thicknesses that it sells any part in, thin to thick: those that it prices, and where it prices none those that
    /// its products are made in.
    #[must_use]
    pub fn plates(&self) -> Vec<Plate> {
        let priced = self.prices.iter().filter_map(|price| Plate::new(price.label.as_str(), price.thickness).ok());
        let mut plates: Vec<Plate> = priced.collect();
        if plates.is_empty() {
            plates = self.products.iter().flat_map(Product::plates).collect();
        }
        plates.order_by(|a, b| a.thickness.si().total_cmp(&b.thickness.si()));
        plates.dedup_by(|b, a| same_thickness(a.thickness, b.thickness));
        plates
    }

    /// Why a plate of a product, or of none, has no price; none where it has one.
    #[must_use]
    pub fn unpriced(&self, product: Option<&Product>, part: &Part) -> Option<Unpriced> {
        let own = product.map_or_else(|| self.cost(part), |product| self.product_cost(product, part));
        if own.is_some() {
            return None;
        }
        let is_priced = self.price(part.thickness).is_some()
            || product.and_then(|product| product.made(part.thickness)).is_some_and(|made| made.price.is_some());
        if is_priced && part.per_sheet == 0 {
            return Some(Unpriced::Sheet);
        }
        let thinner = self.prices.iter().filter(|price| price.thickness < part.thickness);
        let thicker = self.prices.iter().filter(|price| price.thickness > part.thickness);
        let by = |a: &&Price, b: &&Price| a.thickness.si().total_cmp(&b.thickness.si());
        let near = [thinner.max_by(by), thicker.min_by(by)];
        Some(Unpriced::Thickness(near.into_iter().flatten().map(|price| price.label.clone()).collect()))
    }

    /// What a plate costs: its steel, its cuts, handling. `None` where the shop has no price for the thickness, or
    /// none comes from a sheet.
    #[must_use]
    pub fn cost(&self, part: &Part) -> Option<Cost> {
        let price = self.price(part.thickness).filter(|_| part.per_sheet > 0)?;
        // Paid for by the weight that is told.
        let mass = |area: Area| (unit::KILOGRAM_PER_CUBIC_METRE.of(STEEL_KG_M3) * part.thickness * area).si();
        let (steel, basis) = match price.steel {
            Steel::PerSheet(amount) => (amount / f64::from(part.per_sheet), Basis::Sheet),
            Steel::PerKilogram(amount) => {
                let share = self.cutting.sheet.area() / f64::from(part.per_sheet);
                let paid = if self.scrap_included { part.area } else { share };
                (amount * mass(paid), Basis::Weight { scrap_included: self.scrap_included })
            }
        };
        let cut = price.cut_per_metre * part.cut.si();
        let made_of = [Money::of(steel)?, Money::of(cut)?, Money::of(self.handling)?];
        Some(Cost { each: Money::of(steel + cut + self.handling)?, basis, made_of: Some(made_of) })
    }

    /// What a product of a thickness costs: its own price, else by weight. `None` where it is not made so, and as
    /// [`Shop::cost`].
    #[must_use]
    pub fn product_cost(&self, product: &Product, part: &Part) -> Option<Cost> {
        let made = product.made(part.thickness)?;
        match made.price {
            Some(each) if part.per_sheet > 0 => Some(Cost { each, basis: Basis::Product, made_of: None }),
            Some(_) => None,
            None => self.cost(part),
        }
    }

    /// So many plates of a mass, by what one costs.
    #[must_use]
    pub fn quote(&self, cost: Cost, part: &Part, mass: Mass, quantity: u32) -> Option<Quote> {
        let sheets = quantity.checked_add(part.per_sheet.checked_sub(1)?)? / part.per_sheet;
        let shipping = ship(&self.parcels, self.freight.as_ref(), mass, quantity);
        Some(Quote { cost, quantity, total: cost.each.times(quantity)?, sheets, shipping })
    }
}
