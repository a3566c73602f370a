//! A shop's file: prices, products, parcels.

use super::money::Money;
use super::price::{Price, Shop, Steel};
use super::product::{Made, Product, Shape};
use super::sheet::{Cutting, Sheet};
use super::ship::{Freight, Parcel, Rate, usual_parcels};
use crate::order::Order;
use crate::plate::{Face, Kind, MAX_PLATES, Mount, Outline, Plate, same_thickness};
use crate::quantity::{Length, Mass, Measure, Text, unit};
use crate::source::{Diagnostic, Keys, SourceText, is_unsafe_char};
use serde::Deserialize;
use std::ops::Range;
use std::path::Path;
use std::sync::Arc;
use toml::Spanned;

/// The schema a shop's file states.
pub const SCHEMA: &str = "thickset/shop/1";
/// The most products of a shop.
const MAX_PRODUCTS: usize = 2000;
/// The longest name.
const MAX_NAME: usize = 120;
/// Inches in a metre.
const INCHES: f64 = 1.0 / 0.0254;

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct File {
    schema: Spanned<String>,
    name: Spanned<String>,
    currency: Spanned<String>,
    kerf: Option<Text<Length>>,
    web: Option<Text<Length>>,
    margin: Option<Text<Length>>,
    sheet: Option<Spanned<String>>,
    handling: Option<Spanned<f64>>,
    scrap_included: Option<bool>,
    #[serde(default)]
    price: Vec<Spanned<PriceRecord>>,
    #[serde(default)]
    product: Vec<Spanned<ProductRecord>>,
    #[serde(default)]
    parcel: Vec<Spanned<ParcelRecord>>,
    freight: Option<Spanned<FreightRecord>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct PriceRecord {
    thickness: Spanned<Text<Length>>,
    per_pound: Option<f64>,
    per_kilogram: Option<f64>,
    per_sheet: Option<f64>,
    cut_per_inch: Option<f64>,
    cut_per_metre: Option<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct ParcelRecord {
    name: String,
    most: Text<Mass>,
    price: Option<f64>,
    per_pound: Option<f64>,
    per_kilogram: Option<f64>,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct FreightRecord {
    per_pound: Option<f64>,
    per_kilogram: Option<f64>,
    minimum: Option<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct ProductRecord {
    name: String,
    face: Option<String>,
    outline: Option<OutlineRecord>,
    made: Vec<MadeRecord>,
    mount: Option<Mount>,
    chain: Option<Text<Length>>,
    kind: Option<Kind>,
}

/// A reference to a drawing, or the outline's file itself.
#[derive(Deserialize)]
#[serde(untagged)]
enum OutlineRecord {
    Reference(String),
    Inline(toml::Table),
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct MadeRecord {
    thickness: String,
    price: Option<f64>,
}

/// The keys of a shop's file.
#[must_use]
pub fn keys() -> Vec<Keys> {
    vec![
        Keys::of::<File>(""),
        Keys::of::<PriceRecord>("[[price]]"),
        Keys::of::<ProductRecord>("[[product]]"),
        Keys::of::<MadeRecord>("made = [..]"),
        Keys::of::<ParcelRecord>("[[parcel]]"),
        Keys::of::<FreightRecord>("[freight]"),
    ]
}

fn is_amount(value: f64) -> bool {
    (0.0..1e6).contains(&value)
}

/// A price by weight, per kilogram; `None` where there is not exactly one that is an amount.
fn by_weight(per_pound: Option<f64>, per_kilogram: Option<f64>) -> Option<f64> {
    match (per_pound, per_kilogram) {
        (Some(amount), None) if is_amount(amount) => Some(amount / unit::POUND_KG),
        (None, Some(amount)) if is_amount(amount) => Some(amount),
        _ => None,
    }
}

impl Shop {
    /// Reads a shop's file. The drawings that it refers to are not opened: a product's is read when it is asked for.
    ///
    /// # Errors
    /// A [`Diagnostic`] at the place of the fault.
    pub fn read(source: &SourceText) -> Result<Self, Diagnostic> {
        Self::read_in(source, Path::new(""))
    }

    /// The same of a file in a folder, which its drawings are named from.
    ///
    /// # Errors
    /// A [`Diagnostic`] at the place of the fault.
    pub fn read_in(source: &SourceText, folder: &Path) -> Result<Self, Diagnostic> {
        let file: File = source.toml_of("shops", SCHEMA, |file: &File| &file.schema)?;
        let handling = match &file.handling {
            Some(handling) if !is_amount(*handling.get_ref()) => {
                return Err(source
                    .fault(handling.span(), "the handling is not an amount of money")
                    .help("write zero or more"));
            }
            handling => handling.as_ref().map_or(0.0, |h| *h.get_ref()),
        };
        let reader = Reader { source, folder };
        let shop = Self {
            name: reader.plain("name", file.name.get_ref(), MAX_NAME, file.name.span())?,
            currency: reader.plain("currency", file.currency.get_ref(), 8, file.currency.span())?,
            cutting: reader.cutting(&file)?,
            parcels: reader.parcels(&file.parcel)?,
            freight: file.freight.as_ref().map(|record| reader.freight(record)).transpose()?,
            scrap_included: file.scrap_included.unwrap_or(false),
            products: reader.products(&file.product)?,
            handling,
            prices: reader.prices(&file.price)?,
        };
        if shop.plates().len() > MAX_PLATES {
            let message = format!("there are more than {MAX_PLATES} thicknesses");
            return reader.fault(file.schema.span(), message, "leave out what is not sold");
        }
        Ok(shop)
    }
}

struct Reader<'a> {
    source: &'a SourceText,
    folder: &'a Path,
}

impl Reader<'_> {
    fn fault<T>(&self, span: Range<usize>, message: impl Into<String>, help: &str) -> Result<T, Diagnostic> {
        Err(self.source.fault(span, message.into()).help(help))
    }

    /// A text that is printed: not empty, not long, without signs that steer a terminal.
    fn plain(&self, what: &str, text: &str, most: usize, span: Range<usize>) -> Result<String, Diagnostic> {
        let text = text.trim();
        if text.is_empty() || text.chars().count() > most || text.chars().any(|c| c.is_control() || is_unsafe_char(c)) {
            return self.fault(
                span,
                format!("the {what} is empty, longer than {most} letters, or no plain text"),
                "write it in plain letters on one line",
            );
        }
        Ok(text.to_owned())
    }

    fn cutting(&self, file: &File) -> Result<Cutting, Diagnostic> {
        let defaults = Cutting::default();
        let cutting = Cutting {
            kerf: file.kerf.map_or(defaults.kerf, |t| t.0),
            web: file.web.map_or(defaults.web, |t| t.0),
            margin: file.margin.map_or(defaults.margin, |t| t.0),
            sheet: file.sheet.as_ref().map_or(Ok(defaults.sheet), |text| self.sheet(text))?,
        };
        if [cutting.kerf, cutting.web, cutting.margin].iter().any(|l| !(0.0..=0.3).contains(&l.si())) {
            return self.fault(file.schema.span(), "kerf, web or margin is not between 0 and 12 in", "check the unit");
        }
        Ok(cutting)
    }

    fn sheet(&self, text: &Spanned<String>) -> Result<Sheet, Diagnostic> {
        let message = format!("`{}` is no sheet of 12 in to 10 by 20 ft", text.get_ref().trim());
        Sheet::parse(text.get_ref()).map_or_else(
            || self.fault(text.span(), message, "write `sheet = \"4 x 8 ft\"` or `\"1500 x 3000 mm\"`"),
            Ok,
        )
    }

    fn prices(&self, records: &[Spanned<PriceRecord>]) -> Result<Vec<Price>, Diagnostic> {
        let mut prices: Vec<Price> = Vec::new();
        for record in records {
            let price = self.price(record)?;
            if prices.iter().any(|p| same_thickness(p.thickness, price.thickness)) {
                return self.fault(record.span(), "this thickness has two prices", "keep one of them");
            }
            prices.push(price);
        }
        Ok(prices)
    }

    fn price(&self, record: &Spanned<PriceRecord>) -> Result<Price, Diagnostic> {
        let r = record.get_ref();
        let steel = match (by_weight(r.per_pound, r.per_kilogram), r.per_sheet) {
            (Some(amount), None) => Some(Steel::PerKilogram(amount)),
            (None, Some(amount)) if is_amount(amount) && r.per_pound.or(r.per_kilogram).is_none() => {
                Some(Steel::PerSheet(amount))
            }
            _ => None,
        };
        let Some(steel) = steel else {
            return self.fault(
                record.span(),
                "the price needs one of `per-pound`, `per-kilogram` and `per-sheet`, zero or more",
                "write `per-pound = 1.85`",
            );
        };
        let cut = match (r.cut_per_inch, r.cut_per_metre) {
            (Some(amount), None) => amount * INCHES,
            (None, Some(amount)) => amount,
            _ => f64::NAN,
        };
        let thickness = r.thickness.get_ref().0;
        if !(0.0..1e8).contains(&cut) || thickness.si() <= 0.0 {
            return self.fault(
                record.span(),
                "the price needs one of `cut-per-inch` and `cut-per-metre`, zero or more, and a thickness above zero",
                "write `cut-per-inch = 0.12`, or `0` where a cut costs nothing",
            );
        }
        // As it is written, so that what is sold in millimetres is called by them.
        let written = self.source.text.get(r.thickness.span()).unwrap_or_default();
        let label = written.trim_matches(['"', '\'']).trim().to_owned();
        Ok(Price { label, thickness, steel, cut_per_metre: cut })
    }

    fn parcels(&self, records: &[Spanned<ParcelRecord>]) -> Result<Vec<Parcel>, Diagnostic> {
        let mut parcels: Vec<Parcel> = Vec::new();
        for record in records {
            let r = record.get_ref();
            if r.most.0.si() <= 0.0 {
                return self.fault(record.span(), "the parcel's limit is not above zero", "write `most = \"70 lb\"`");
            }
            let weight = by_weight(r.per_pound, r.per_kilogram);
            let by_weight = r.per_pound.or(r.per_kilogram).is_some();
            if r.price.is_some_and(|price| !is_amount(price)) || (by_weight && weight.is_none()) {
                return self.fault(
                    record.span(),
                    "the parcel's price is not an amount of money",
                    "write `price = 18.5`, with `per-pound = 0.4` beside it where it goes by weight",
                );
            }
            let priced = r.price.is_some() || by_weight;
            let rate = Rate { each: r.price.unwrap_or(0.0), per_kilogram: weight.unwrap_or(0.0) };
            parcels.push(Parcel {
                name: self.plain("parcel's name", &r.name, MAX_NAME, record.span())?,
                most: r.most.0,
                rate: priced.then_some(rate),
                source: r.source.clone(),
            });
        }
        Ok(if parcels.is_empty() { usual_parcels() } else { parcels })
    }

    fn freight(&self, record: &Spanned<FreightRecord>) -> Result<Freight, Diagnostic> {
        let r = record.get_ref();
        let minimum = r.minimum.unwrap_or(0.0);
        match by_weight(r.per_pound, r.per_kilogram) {
            Some(per_kilogram) if is_amount(minimum) => Ok(Freight { per_kilogram, minimum }),
            _ => self.fault(
                record.span(),
                "freight needs one of `per-pound` and `per-kilogram`, zero or more",
                "write `per-pound = 0.55` and `minimum = 95`",
            ),
        }
    }

    fn products(&self, records: &[Spanned<ProductRecord>]) -> Result<Vec<Product>, Diagnostic> {
        if let Some(first_beyond) = records.get(MAX_PRODUCTS) {
            let message = format!("there are more than {MAX_PRODUCTS} products");
            return self.fault(first_beyond.span(), message, "split the file");
        }
        let mut products: Vec<Product> = Vec::new();
        for record in records {
            let product = self.product(record)?;
            if products.iter().any(|p| p.name.eq_ignore_ascii_case(&product.name)) {
                let message = format!("product `{}` stands twice", product.name);
                return self.fault(record.span(), message, "give it a name of its own");
            }
            products.push(product);
        }
        Ok(products)
    }

    fn product(&self, record: &Spanned<ProductRecord>) -> Result<Product, Diagnostic> {
        let (r, span) = (record.get_ref(), record.span());
        let name = self.plain("product's name", &r.name, MAX_NAME, span.clone())?;
        let shape = self.shape(&name, r, span.clone())?;
        let mut made = r.made.iter().map(|made| self.made(made, span.clone())).collect::<Result<Vec<_>, _>>()?;
        made.order_by(|a, b| a.plate.thickness.si().total_cmp(&b.plate.thickness.si()));
        let twice = made.windows(2).any(|two| same_thickness(two[0].plate.thickness, two[1].plate.thickness));
        if made.is_empty() || twice {
            return self.fault(
                span,
                format!("product `{name}` is made in no thickness, or twice in one"),
                "write `made = [{ thickness = \"3/8 in\", price = 42 }]`, each thickness once",
            );
        }
        let mount = r.mount.or(r.chain.is_some().then_some(Mount::Chain));
        let kind = r.kind.unwrap_or(Kind::Plate);
        if let Err(e) = kind.mount(mount, None) {
            return self.fault(span, format!("product `{name}`: {e}"), e.help());
        }
        let chain = match mount {
            Some(mount) => {
                mount.chain(r.chain.map(|t| t.0)).map_err(|e| self.source.fault(span, e.to_string()).help(e.help()))?
            }
            None => None,
        };
        Ok(Product { name, shape, made, mount, chain, kind })
    }

    fn shape(&self, name: &str, record: &ProductRecord, span: Range<usize>) -> Result<Shape, Diagnostic> {
        let at = |error: Diagnostic| {
            let help = error.help.clone();
            let fault = self.source.fault(span.clone(), format!("product `{name}`: {error}"));
            help.map_or(fault.clone(), |help| fault.help(help))
        };
        match (&record.face, &record.outline) {
            (Some(face), None) => face
                .parse::<Face>()
                .map(Shape::Face)
                .map_err(|e| self.source.fault(span, format!("product `{name}`: {e}")).help(e.help())),
            (None, Some(OutlineRecord::Inline(table))) => {
                let text = SourceText::new(format!("the outline of {name}"), table.to_string());
                Outline::from_toml(&text).map(|outline| Shape::Face(Face::Outline(Arc::new(outline)))).map_err(at)
            }
            (None, Some(OutlineRecord::Reference(reference))) => {
                Ok(Shape::File(self.folder.join(reference).to_string_lossy().into_owned()))
            }
            _ => self.fault(
                span,
                format!("product `{name}` needs one of `face` and `outline`"),
                "write `face = \"12in\"`",
            ),
        }
    }

    fn made(&self, record: &MadeRecord, span: Range<usize>) -> Result<Made, Diagnostic> {
        let thickness = crate::quantity::parse::<Length>(&record.thickness)
            .map_err(|e| self.source.fault(span.clone(), e.to_string()).help(e.help()))?;
        let plate = Plate::new(record.thickness.trim(), thickness)
            .map_err(|e| self.source.fault(span.clone(), e.to_string()).help(e.help()))?;
        match record.price {
            Some(price) if !is_amount(price) => {
                self.fault(span, "a price is not an amount of money", "write zero or more")
            }
            price => Ok(Made { plate, price: price.and_then(Money::of) }),
        }
    }
}

#[cfg(test)]
mod tests;
