//! One question, one answer: what the program says, the library says.
//!
//! A question is data that options, files and JSON all become; an answer is owned data that other threads and other
//! programs can take, and serialises to the document that the program prints.
//!
//! ```
//! use thickset::advisor::{Advisor, VetQuestion};
//! use thickset::rules::Verdict;
//!
//! # fn main() -> Result<(), Box<dyn std::error::Error>> {
//! let advisor = Advisor::house()?;
//! let question: VetQuestion =
//!     serde_json::from_str(r#"{"load": "308-168-match", "at": "100 yd", "plate": "1/4 in", "condition": "sound"}"#)?;
//! let answer = advisor.vet(&question)?;
//! assert_eq!(answer.verdict, Verdict::Unsuitable);
//! println!("{}", answer.preamble.headline);
//! println!("{}", serde_json::to_string_pretty(&answer)?);
//! # Ok(())
//! # }
//! ```

mod advise;
pub mod answer;
mod books;
mod carry;
mod catalog;
mod chrono;
pub mod course;
mod curve;
mod drawn;
mod elsewhere;
mod error;
mod facts;
mod found;
mod inquiry;
mod judge;
mod keys;
mod lean;
mod nearest;
mod preamble;
pub mod question;
mod remedy;
mod resolve;
mod safety;
mod say;
mod shapes;
mod standoff;
mod strike;
mod vet;
mod worst;

pub use answer::{AdviseAnswer, CatalogAnswer, ChronoAnswer, CourseAnswer, StandoffAnswer, StrikeAnswer, VetAnswer};
pub use error::Faults;
pub use inquiry::inquiry_question;
pub use question::{
    AdviseQuestion, CatalogQuestion, ChronoQuestion, CourseQuestion, StandoffQuestion, StrikeQuestion, VetQuestion,
};
pub use resolve::inline::Resolver;

use crate::catalog::Catalog;
use crate::plate::Ladder;
use crate::shop::price::Shop;
use crate::source::SourceText;
use books::Books;
use resolve::inline::Files;
use std::path::Path;
use std::sync::Arc;

/// Answers questions by rules, plates, loads and, where it is given, a shop's prices. Owned, cheap to clone, and the
/// same for every thread.
#[derive(Debug, Clone)]
pub struct Advisor {
    books: Books,
}

impl Advisor {
    /// By the rules, plates and loads that are built in.
    ///
    /// # Errors
    /// [`Faults`] where what is built in can't be read; tests show that it can.
    pub fn house() -> Result<Self, Faults> {
        Ok(Self { books: Books::house()? })
    }

    /// With loads of one's own, as a file of loads holds them.
    ///
    /// # Errors
    /// [`Faults`] at their places in the text. A drag table that it names is refused unless a resolver was given before.
    pub fn with_loads(mut self, text: &str) -> Result<Self, Faults> {
        let source = SourceText::new("loads", text);
        let mut catalog = Catalog::clone(&self.books.catalog);
        resolve::plates::add_text(&mut catalog, &source, Path::new(""), &self.books.files)?;
        self.books.catalog = Arc::new(catalog);
        Ok(self)
    }

    /// With a range's own rules; the stricter of theirs and the house's wins.
    ///
    /// # Errors
    /// [`Faults`] at their places in the text.
    pub fn with_range_rules(mut self, text: &str) -> Result<Self, Faults> {
        let rules = self.books.rules.as_ref().clone().with_overlay(&SourceText::new("range rules", text))?;
        self.books.rules = Arc::new(rules);
        Ok(self)
    }

    /// With plates of one's own in place of those built in.
    ///
    /// # Errors
    /// [`Faults`] at their places in the text.
    pub fn with_plates(mut self, text: &str) -> Result<Self, Faults> {
        self.books.ladder = Arc::new(Ladder::read(&SourceText::new("plates", text))?);
        self.books.house_plates = false;
        Ok(self)
    }

    /// With a shop's prices and products: where no plates of one's own were given, and none is named, those that it
    /// sells are proposed.
    ///
    /// # Errors
    /// [`Faults`] at their places in the text.
    pub fn with_shop(mut self, text: &str) -> Result<Self, Faults> {
        self.books.shop = Some(Arc::new(Shop::read(&SourceText::new("shop", text))?));
        Ok(self)
    }

    /// With a way to read the files that questions refer to. Without one every reference is refused.
    #[must_use]
    pub fn with_resolver(mut self, resolver: impl Resolver + 'static) -> Self {
        self.books.files = Files::new(resolver);
        self
    }

    /// A whole match.
    ///
    /// # Errors
    /// [`Faults`] where the match as a whole can't be read; what of it can't be is told in the answer.
    pub fn course(&self, question: &CourseQuestion) -> Result<CourseAnswer, Faults> {
        self.course_with(question, &|_, _| ())
    }

    /// A whole match, as [`Advisor::course`]; `progress` hears how many loads are done, of how many.
    ///
    /// # Errors
    /// As [`Advisor::course`].
    pub fn course_with(
        &self,
        question: &CourseQuestion,
        progress: &(dyn Fn(usize, usize) + Sync),
    ) -> Result<CourseAnswer, Faults> {
        Ok(course::of(&self.books, question, progress)?)
    }

    /// Does this load suit this target.
    ///
    /// # Errors
    /// [`Faults`] name the key of the question, what is wrong with it, and what would do.
    pub fn vet(&self, question: &VetQuestion) -> Result<VetAnswer, Faults> {
        vet::answer(&self.books, question)
    }

    /// Which plate.
    ///
    /// # Errors
    /// As [`Advisor::vet`].
    pub fn advise(&self, question: &AdviseQuestion) -> Result<AdviseAnswer, Faults> {
        advise::answer(&self.books, question)
    }

    /// How close: one load on one plate, or the chart of loads and plates.
    ///
    /// # Errors
    /// As [`Advisor::vet`].
    pub fn standoff(&self, question: &StandoffQuestion) -> Result<StandoffAnswer, Faults> {
        standoff::answer(&self.books, question)
    }

    /// What arrives at each distance.
    ///
    /// # Errors
    /// As [`Advisor::vet`].
    pub fn strike(&self, question: &StrikeQuestion) -> Result<StrikeAnswer, Faults> {
        strike::answer(&self.books, question)
    }

    /// A chronograph string summed up, and with the rest of a load how close it may be shot.
    ///
    /// # Errors
    /// As [`Advisor::vet`].
    pub fn chrono(&self, question: &ChronoQuestion) -> Result<ChronoAnswer, Faults> {
        chrono::answer(&self.books, question)
    }

    /// What is built in or given: loads, cartridges, plates, rules, sources.
    ///
    /// # Errors
    /// As [`Advisor::vet`].
    pub fn catalog(&self, question: &CatalogQuestion) -> Result<CatalogAnswer, Faults> {
        catalog::answer(&self.books, question)
    }

    /// The loads that can be asked for by name.
    #[must_use]
    pub fn loads(&self) -> Arc<Catalog> {
        Arc::clone(&self.books.catalog)
    }
}
