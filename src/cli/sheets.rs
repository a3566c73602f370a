//! Sheets to hand out, in place of the page of an answer.

use super::form::{Form, Sheet};
use crate::advisor::answer::{AdviseAnswer, StandoffAnswer};
use crate::report::Page;
use crate::report::sheet::{self, Order};
use crate::source::Diagnostic;

fn printed(page: &Page, form: &Form) -> String {
    if form.fragment { page.fragment() } else { page.html() }
}

/// A customer's sheet.
pub(super) fn customer(answer: &AdviseAnswer, name: &str, form: &Form) -> String {
    let order = Order { customer: Some(name), dated: form.dated.as_deref() };
    printed(&sheet::customer(answer, order), form)
}

/// A wall chart, or a stand tag of one plate.
pub(super) fn standoff(answer: &StandoffAnswer, asked: &Sheet, form: &Form) -> Result<String, Diagnostic> {
    let page = match asked {
        Sheet::Tag if answer.preamble.inputs.plates.len() != 1 => {
            return Err(Diagnostic::plain("a tag is for one plate").field("--tag").help("name it: `--plate 3/8in`"));
        }
        Sheet::Tag => sheet::tag(answer, form.dated.as_deref()),
        Sheet::Chart | Sheet::Customer(_) => sheet::wall_chart(answer, form.dated.as_deref()),
    };
    Ok(printed(&page, form))
}

/// Why a sheet has no row, and what to give; none where it has one. A chart of few loads tells from where on one is
/// borderline as well.
pub(super) fn without_row<'a>(answer: &'a StandoffAnswer, asked: Option<&Sheet>) -> Option<&'a Diagnostic> {
    let is_chart = matches!(asked, Some(Sheet::Chart | Sheet::Customer(_)));
    answer.none.as_ref().filter(|_| !(is_chart && sheet::wall_chart_has_distance(answer)))
}

/// The distance table of a product.
pub(super) fn product(answer: &StandoffAnswer, product: &str, form: &Form) -> String {
    printed(&sheet::distance_table(answer, Some(product), form.dated.as_deref()), form)
}
