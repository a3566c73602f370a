//! A shop's own prices. Without its file no cost is invented.

use super::sheet::Cutting;
use crate::plate::same_thickness;
use crate::quantity::{Area, Length, Mass, Measure, Text, unit};
use crate::source::{Diagnostic, SourceText};
use serde::Deserialize;
use toml::Spanned;

/// The schema a price file states.
pub const SCHEMA: &str = "thickset/shop/1";

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct File {
    schema: Spanned<String>,
    name: String,
    currency: String,
    kerf: Option<Text<Length>>,
    web: Option<Text<Length>>,
    margin: Option<Text<Length>>,
    handling: Option<Spanned<f64>>,
    #[serde(default)]
    price: Vec<Spanned<PriceRecord>>,
    #[serde(default)]
    parcel: Vec<Spanned<ParcelRecord>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct PriceRecord {
    thickness: Text<Length>,
    per_pound: Option<f64>,
    per_sheet: Option<f64>,
    cut_per_inch: f64,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct ParcelRecord {
    name: String,
    most: Text<Mass>,
    source: String,
}

/// What a plate of a thickness is priced by.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Price {
    thickness: Length,
    steel: Steel,
    cut_per_inch: f64,
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Steel {
    PerPound(f64),
    PerSheet(f64),
}

/// A carrier's limit on a parcel.
#[derive(Debug, Clone, PartialEq)]
pub struct Parcel {
    /// What it is called.
    pub name: String,
    /// The most it may weigh.
    pub most: Mass,
    /// Where that stands.
    pub source: String,
}

/// A shop: prices by thickness, how it cuts, and what it may ship.
#[derive(Debug, Clone, PartialEq)]
pub struct Shop {
    /// Whose prices they are.
    pub name: String,
    /// What money is called.
    pub currency: String,
    /// How it cuts.
    pub cutting: Cutting,
    /// Carriers' limits.
    pub parcels: Vec<Parcel>,
    handling: f64,
    prices: Vec<Price>,
}

/// Money in hundredths of the currency.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Money(
    /// Hundredths.
    pub i64,
);

impl Money {
    #[allow(clippy::cast_possible_truncation)] // Checked against the dearest below.
    fn of(amount: f64) -> Option<Self> {
        (amount.is_finite() && amount.abs() < 1e12).then(|| Self((amount * 100.0).round() as i64))
    }
}

impl std::fmt::Display for Money {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}.{:02}", self.0 / 100, (self.0 % 100).abs())
    }
}

/// The postal and private carriers' limits (from memory).
#[must_use]
pub fn usual_parcels() -> Vec<Parcel> {
    let parcel = |name: &str, pounds: f64| Parcel {
        name: name.into(),
        most: unit::POUND.of(pounds),
        source: "from memory".into(),
    };
    vec![parcel("postal parcel", 70.0), parcel("private parcel", 150.0)]
}

impl Shop {
    /// Reads a shop's file.
    ///
    /// # Errors
    /// A [`Diagnostic`] at the place of the fault.
    pub fn read(source: &SourceText) -> Result<Self, Diagnostic> {
        let file: File = source.toml_of("shops", SCHEMA, |file: &File| &file.schema)?;
        let amount = |value: f64| (0.0..1e6).contains(&value);
        if let Some(handling) = file.handling.as_ref().filter(|h| !amount(*h.get_ref())) {
            return Err(source
                .fault(handling.span(), "the handling is not an amount of money")
                .help("write zero or more"));
        }
        let mut prices: Vec<Price> = Vec::new();
        for record in &file.price {
            let price = price(source, record)?;
            if prices.iter().any(|p| same_thickness(p.thickness, price.thickness)) {
                return Err(source.fault(record.span(), "this thickness has two prices").help("keep one of them"));
            }
            prices.push(price);
        }
        let defaults = Cutting::default();
        let cutting = Cutting {
            kerf: file.kerf.map_or(defaults.kerf, |t| t.0),
            web: file.web.map_or(defaults.web, |t| t.0),
            margin: file.margin.map_or(defaults.margin, |t| t.0),
        };
        if [cutting.kerf, cutting.web, cutting.margin].iter().any(|l| !(0.0..=0.3).contains(&l.si())) {
            return Err(source
                .fault(file.schema.span(), "kerf, web or margin is not between 0 and 12 in")
                .help("check the unit"));
        }
        let mut parcels: Vec<Parcel> = Vec::new();
        for record in &file.parcel {
            let parcel = record.get_ref();
            if parcel.most.0.si() <= 0.0 {
                return Err(source
                    .fault(record.span(), "the parcel's limit is not above zero")
                    .help("write `most = \"70 lb\"`"));
            }
            parcels.push(Parcel { name: parcel.name.clone(), most: parcel.most.0, source: parcel.source.clone() });
        }
        if parcels.is_empty() {
            parcels = usual_parcels();
        }
        let handling = file.handling.map_or(0.0, Spanned::into_inner);
        Ok(Self { name: file.name, currency: file.currency, cutting, parcels, handling, prices })
    }

    /// What a plate costs: its steel (its share of the sheet where the price is per sheet), its cuts, handling.
    /// `None` where the shop has no price for the thickness, or none comes from a sheet.
    #[must_use]
    pub fn cost(&self, thickness: Length, area: Area, perimeter: Length, per_sheet: u32) -> Option<Money> {
        let price = self.prices.iter().find(|p| same_thickness(p.thickness, thickness))?;
        let steel = match price.steel {
            // Steel is sold by the trade's weight.
            Steel::PerPound(amount) => amount * super::trade_pounds(area, thickness),
            Steel::PerSheet(_) if per_sheet == 0 => return None,
            Steel::PerSheet(amount) => amount / f64::from(per_sheet),
        };
        Money::of(steel + price.cut_per_inch * unit::INCH.value(perimeter) + self.handling)
    }
}

fn price(source: &SourceText, record: &Spanned<PriceRecord>) -> Result<Price, Diagnostic> {
    let fault = |message: &str, help: &str| Err(source.fault(record.span(), message).help(help));
    let amount = |value: f64| (0.0..1e6).contains(&value);
    let r = record.get_ref();
    let steel = match (r.per_pound, r.per_sheet) {
        (Some(value), None) if amount(value) => Steel::PerPound(value),
        (None, Some(value)) if amount(value) => Steel::PerSheet(value),
        _ => {
            return fault(
                "the price needs one of `per-pound` and `per-sheet`, zero or more",
                "write `per-pound = 1.85`",
            );
        }
    };
    if !amount(r.cut_per_inch) || r.thickness.0.si() <= 0.0 {
        return fault("`cut-per-inch` or `thickness` is below zero", "write amounts of zero or more");
    }
    Ok(Price { thickness: r.thickness.0, steel, cut_per_inch: r.cut_per_inch })
}

#[cfg(test)]
mod tests {
    use super::*;

    const GOOD: &str = "schema = \"thickset/shop/1\"\nname = \"Foundry Lane\"\ncurrency = \"$\"\nhandling = 4.5\n[[price]]\nthickness = \"3/8 in\"\nper-pound = 2\ncut-per-inch = 0.1\n[[price]]\nthickness = \"1/2 in\"\nper-sheet = 1400\ncut-per-inch = 0.15\n";

    fn read(text: &str) -> Result<Shop, Diagnostic> {
        Shop::read(&SourceText::new("shop.toml", text))
    }

    #[test]
    fn a_plate_costs_its_steel_its_cuts_and_its_handling() {
        let shop = read(GOOD).unwrap();
        let area = unit::SQUARE_FOOT.of(1.0);
        let cost = |inches: f64, sheet| shop.cost(unit::INCH.of(inches), area, unit::INCH.of(48.0), sheet);
        // 15.3 lb at 2, 48 in at 0.1, and 4.5.
        assert_eq!(cost(0.375, 28), Some(Money(3060 + 480 + 450)));
        assert_eq!(cost(0.5, 28), Some(Money(5000 + 720 + 450)));
        assert_eq!((cost(0.5, 0), cost(0.25, 28)), (None, None));
        assert_eq!(Money(3990).to_string(), "39.90");
    }

    #[test]
    fn a_fault_in_the_prices_is_shown_at_its_place() {
        for (from, to, line) in [
            ("per-pound = 2", "per-pound = -2", 5),
            ("per-pound = 2", "per-sheet = 2\nper-pound = 2", 5),
            ("\"1/2 in\"", "\"3/8 in\"", 9),
            ("handling = 4.5", "handling = -1.0", 4),
            ("currency", "currenzy", 3),
        ] {
            let fault = read(&GOOD.replacen(from, to, 1)).unwrap_err();
            assert_eq!(fault.position().map(|p| p.0), Some(line), "{to}: {fault}");
        }
    }
}
