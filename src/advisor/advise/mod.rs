//! Which plate.

mod hang;
mod headline;
mod matrix;
mod mend;
mod near;
mod swing;
mod telling;
mod told;

use super::answer::AdviseAnswer;
use super::books::{Books, Brought, as_named, units};
use super::elsewhere::{self, Turn};
use super::error::{Faults, at, refuse};
use super::question::AdviseQuestion;
use super::resolve::lines::{Inquiry, inquiry};
use super::resolve::plates;
use super::resolve::taken::Taken;
use super::say;
use super::worst::Lost;
use crate::air::Weather;
use crate::load::Load;
use crate::order::Order;
use crate::plate::{Face, Plate};
use crate::reaction::sight;
use crate::shop::Material;
use crate::shop::price::Part;
use crate::shop::product::Product;
use crate::source::Diagnostic;
use crate::words::Units;
use matrix::{Matrix, Pick};

/// A question as resolved.
pub(super) struct Case<'q> {
    pub question: &'q AdviseQuestion,
    pub books: Books,
    pub units: Units,
    /// The plates to choose from, thin to thick.
    pub plates: Vec<Plate>,
    pub inquiry: Inquiry,
    pub quantity: u32,
    pub magnification: f64,
    pub product: Option<Product>,
}

pub(crate) fn answer(books: &Books, question: &AdviseQuestion) -> Result<AdviseAnswer, Faults> {
    let mut taken = Taken::default();
    let case = resolve(books, question, &mut taken)?;
    let here = case.matrix(&case.inquiry.air).map_err(Diagnostic::from)?;
    case.check_names(&here.pick, &mut taken)?;
    let turn = case.elsewhere(&here)?;
    Ok(told::told(&case, &here, turn.as_ref(), taken)?)
}

fn resolve<'q>(books: &Books, question: &'q AdviseQuestion, taken: &mut Taken) -> Result<Case<'q>, Diagnostic> {
    let units = units(question.units);
    let brought = Brought {
        range_rules: &question.range_rules,
        plates: question.plates.as_ref(),
        loads: &question.loads,
        shop: question.shop.as_ref(),
    };
    let books = books.with(&brought, units)?;
    books.tell(taken);
    let product = books.product(question.product.as_deref())?;
    let made = product.as_ref().filter(|_| question.plate.0.is_empty());
    let mut plates = match made {
        Some(product) => books.made(product)?,
        None if question.plate.0.is_empty() => books.offered().plates().to_vec(),
        None => plates::plates(&question.plate, &books)?,
    };
    for plate in &plates {
        super::vet::made_in(product.as_ref(), plate)?;
    }
    as_named(&mut plates, &question.plate.0, units);
    plates.order_by(
        |a, b| if a.thickness < b.thickness { std::cmp::Ordering::Less } else { std::cmp::Ordering::Greater },
    );
    let inquiry = inquiry(&books, question, product.as_ref(), units, taken)?;
    let magnification = question.magnification.unwrap_or(sight::MAGNIFICATION);
    if !(1.0..=200.0).contains(&magnification) {
        let message = format!("magnification of `{magnification}` is not between 1 and 200");
        return Err(at("magnification", message, "write a number such as 20"));
    }
    let free = inquiry.targets.iter().any(|t| t.stand.setup.mount.is_free());
    refuse(question.want_swing.is_some() && !free, "want_swing", "the plate does not hang free", "leave it out")?;
    refuse(question.magnification.is_some() && !free, "magnification", "the plate does not hang free", "leave it out")?;
    let quantity = question.quantity.unwrap_or(1);
    if quantity == 0 {
        return Err(at("quantity", "quantity of `0`", "write 1 or more"));
    }
    // What changes no verdict is said all the same.
    question.quantity.into_iter().for_each(|pieces| taken.given("quantity", pieces.to_string()));
    question.magnification.into_iter().for_each(|times| taken.given("magnification", format!("{times} ×")));
    Ok(Case { question, books, units, plates, inquiry, quantity, magnification, product })
}

impl Case<'_> {
    /// Why a plate of a face has no price, where it might have one.
    pub fn not_priced(&self, face: &Face, plate: &Plate, per_sheet: u32) -> Option<String> {
        let shop = self.books.shop.as_deref()?;
        let unpriced = shop.unpriced(self.product.as_ref(), &Part::of(face, plate, per_sheet))?;
        Some(say::not_priced(shop, &unpriced, self.units))
    }

    /// The material at the product's own price, where it has one.
    pub fn priced(&self, mut material: Material, face: &Face, plate: &Plate) -> Material {
        if let (Some(shop), Some(product)) = (&self.books.shop, &self.product) {
            material.cost = shop.product_cost(product, &Part::of(face, plate, material.per_sheet[0]));
        }
        material
    }

    /// Refuses to hang a thicker plate than a target's name says it is, or one whose label speaks against it.
    fn check_names(&self, pick: &Pick, taken: &mut Taken) -> Result<(), Diagnostic> {
        let Some(plate) = pick.named().and_then(|index| self.plates.get(index)) else { return Ok(()) };
        let plate = std::slice::from_ref(plate);
        for (index, target) in self.inquiry.targets.iter().enumerate() {
            target.stand.check_plates(plate, taken)?;
            for line in self.inquiry.lines.iter().filter(|line| line.target == index) {
                let loads: Vec<&Load> = self.inquiry.asked[line.asked].loads.iter().map(|load| &**load).collect();
                target.stand.check_labels(plate, (&loads, Some(line.distance)), self.units, taken)?;
            }
        }
        Ok(())
    }

    pub fn matrix(&self, weather: &Weather) -> Result<Matrix<'_>, Lost> {
        Matrix::new(&self.books.rules, &self.plates, &self.inquiry, weather)
    }

    fn elsewhere(&self, here: &Matrix) -> Result<Option<Turn<Pick>>, Diagnostic> {
        let judge = |weather: &Weather| self.matrix(weather).map(|matrix| matrix.pick);
        elsewhere::turn(&self.inquiry.air, &here.pick, self.units, judge)
    }
}
