//! What stands beside a table's readings says of the load that was shot: lines above and below, and columns.

use super::sums::{has, numbers, said, word_behind};
use crate::load::Load;
use crate::quantity::unit::Unit;
use crate::quantity::{Length, Mass, Measure, unit};
use crate::source::grid::{self, Line, SEPARATORS};
use crate::source::table::{MAX_COLUMNS, pointed};
use crate::source::{SourceText, clean};
use std::ops::Range;

/// Beginnings of words that speak of a bullet.
#[rustfmt::skip]
const BULLET: &[&str] = &[
    "bullet", "projectile", "projektil", "geschoss", "geschoß", "balle", "ogive", "proiettile", "palla", "bala",
    "proyectil", "kogel", "kula", "luoti", "pocisk", "střela", "pellet", "slug",
];
/// And of what it is loaded in.
const LOADED: &[&str] = &["ammo", "ammunition", "munition", "cartridge", "patrone", "cartouche"];
/// And of a mass.
const WEIGHT: &[&str] = &["grain", "weight", "mass", "masse", "gewicht", "poids", "peso", "vikt", "vægt", "paino"];
/// Words of what is no bullet's mass.
#[rustfmt::skip]
const POWDER: &[&str] = &[
    "powder", "charge", "propellant", "pulver", "ladung", "treibladung", "poudre", "polvere", "pólvora", "kruit", "krut",
    "rifle", "gun", "gewehr", "waffe",
];
/// Words of a cartridge.
#[rustfmt::skip]
const CARTRIDGE: &[&str] = &[
    "cal", "kal", "cartridge", "caliber", "calibre", "kaliber", "patrone", "cartouche", "calibro", "cartucho", "kalibre", "chambering",
];
/// And of a barrel.
const BARREL: &[&str] = &["barrel", "lauf", "lauflänge", "canon", "canna", "cañón", "loop", "pipa"];
/// What a barrel is long, in: a length beyond is its twist's or its land's.
const BARREL_IN: std::ops::RangeInclusive<f64> = 1.5..=45.0;
/// And a number without a unit, where it is the only one.
const BARE_IN: std::ops::RangeInclusive<f64> = 8.0..=36.0;
/// Words of parts of a cartridge that no bullet is, and of what is counted.
#[rustfmt::skip]
const OF_PARTS: &[&str] = &[
    "primer", "brass", "case", "hülse", "coal", "oal", "lot", "batch", "neck", "seating", "box", "price", "count", "number",
    "length", "bc", "diameter", "speed", "velocity",
];
/// Words of what somebody notes down.
const NOTES: &[&str] = &["note", "notes", "comment", "comments", "name", "profile", "title", "description", "remark"];
/// And of what was loaded.
const LOAD: &[&str] = &["ammo", "ammunition", "munition", "load", "laborierung"];

/// A line above or below a table, or a cell beside its readings: what it is about, and what it says of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Above {
    /// Where it stands.
    pub stands: Stands,
    /// Whether it is read as something else already: the unit of the readings.
    pub is_read: bool,
    /// Its bytes.
    pub span: Range<usize>,
    /// The line as it stands.
    pub text: String,
    name: String,
    value: String,
    /// What energies or power factors make of the bullet, in each way that they may be read.
    weighs: Vec<Mass>,
}

/// What a number beside the readings may weigh.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Weighs {
    /// A bullet.
    ABullet,
    /// What was loaded: a bullet, or its powder.
    ALoad,
    /// Whatever the words behind it say.
    WhatIsSaid,
    /// No bullet.
    Nothing,
}

/// Where something stands beside the readings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stands {
    /// Above the head of the table.
    Above,
    /// Among the sums below its rows.
    Below,
    /// In a column of its own.
    Beside,
}

impl Above {
    /// A cell under a title.
    pub(super) fn cell(span: Range<usize>, title: &str, value: &str) -> Self {
        let text = format!("{title}: {}", value.trim());
        Self::new(Stands::Beside, span, &text, (title.to_owned(), value.trim().to_owned()))
    }

    fn new(stands: Stands, span: Range<usize>, text: &str, (name, value): (String, String)) -> Self {
        Self { stands, is_read: false, span, text: clean(text), name, value, weighs: Vec::new() }
    }

    /// A comment as the line that it would be without its `#`; it is told with it.
    pub(super) fn comment(source: &SourceText, line: &Line, separator: char) -> Self {
        let text = line.text(source);
        let begin = text.find('#').map_or(0, |at| at + 1);
        let begin = text.len() - text[begin..].trim_start_matches(['#', ' ', '\t']).len();
        let bare = Line { number: line.number, span: line.span.start + begin..line.span.end };
        let of = Self::of(source, &bare, separator);
        Self { text: format!("# {}", of.text), ..of }
    }

    /// The same where nothing is told to be left out.
    pub(super) fn read(self) -> Self {
        Self { is_read: true, ..self }
    }

    /// The same, of energies that a bullet of one of these masses has.
    pub(super) fn weighing(self, weighs: Vec<Mass>) -> Self {
        Self { weighs, ..self }
    }

    /// The same below the table.
    pub(super) fn below(self) -> Self {
        Self { stands: Stands::Below, ..self }
    }

    /// Whether a column of this title speaks of the bullet, the cartridge or the load.
    pub(super) fn heads(title: &str) -> bool {
        let column = Self::cell(0..0, title, "a");
        (column.is_about_the_load() || column.begins(WEIGHT)) && !column.begins(POWDER)
    }

    /// What it is about, and what it says of it.
    #[must_use]
    pub fn parts(&self) -> (&str, &str) {
        (&self.name, &self.value)
    }

    pub(super) fn of(source: &SourceText, line: &Line, separator: char) -> Self {
        let text = line.text(source).trim();
        let trim = |part: &str| {
            part.trim_matches(|c: char| c.is_whitespace() || c == '"' || SEPARATORS.contains(&c)).to_owned()
        };
        let mut cells = Vec::new();
        let is_cut = grid::cut(source, line, separator, MAX_COLUMNS, &mut cells).is_ok() && cells.len() > 1;
        let parts = match text.split_once([':', '=']) {
            Some((name, value)) if !name.contains(SEPARATORS) => (trim(name), trim(value)),
            _ if is_cut => {
                let texts: Vec<_> = cells.iter().map(|cell| cell.text(source)).collect();
                (trim(&texts[0]), trim(&texts[1..].join(" ")))
            }
            _ => (String::new(), trim(text)),
        };
        Self::new(Stands::Above, line.span.clone(), text, parts)
    }

    /// Whether it says that another bullet was shot than the load's: a mass that its own is not, in the unit that is
    /// written or in either where none is.
    #[must_use]
    pub fn is_of_another_bullet(&self, load: &Load) -> bool {
        let own = load.facts().bullet.si();
        let is_like = |mass: &Mass| (mass.si() / own - 1.0).abs() <= LIKE_BY_ENERGY;
        if !self.weighs.is_empty() && load.facts().projectiles == 1 && !self.weighs.iter().any(is_like) {
            return true;
        }
        let is_named = [BULLET, WEIGHT, LOADED].iter().any(|list| self.begins(list));
        let all = if is_named || load.facts().projectiles == 1 { self.masses() } else { Vec::new() };
        // `43.5 gr and 168 hollow point`: what else is weighed is the powder.
        let own = unit::GRAIN.value(load.facts().bullet);
        let words = self.value.split(|c: char| c.is_whitespace() || ",;()[]".contains(c));
        let is_told = words.filter_map(|word| word.parse::<f64>().ok()).any(|number| (number - own).abs() <= LIKE_GR);
        !all.is_empty() && !all.iter().any(|stated| stated.is(load.facts().bullet)) && (is_named || !is_told)
    }

    /// Whether it states the mass of a bullet.
    #[must_use]
    pub fn states_a_bullet(&self) -> bool {
        !self.masses().is_empty()
    }

    /// Whether it is about the bullet, the cartridge or the load, whatever it says of it.
    #[must_use]
    pub fn is_about_the_load(&self) -> bool {
        self.begins(BULLET) || self.begins(LOADED) || self.cartridge().is_some()
    }

    /// What it calls the cartridge or the load, where it is about that; a load's number alone is no name.
    #[must_use]
    pub fn cartridge(&self) -> Option<&str> {
        let names = |list: &[&str]| has(&said(&self.name), list);
        let is_name = self.value.contains(char::is_alphabetic);
        Some(self.value.as_str()).filter(|value| !value.is_empty() && (names(CARTRIDGE) || (is_name && names(LOAD))))
    }

    /// The length of the barrel that it tells: `Barrel length: 16 in`, `Barrel 16"`.
    #[must_use]
    pub fn barrel(&self) -> Option<Length> {
        let about = if self.name.is_empty() { &self.value } else { &self.name };
        has(&said(about), BARREL).then_some(())?;
        let unit_in = |text: &str| Length::UNITS.iter().find(|unit| unit.is_spelled_loosely(text)).copied();
        let named = said(&self.name).last().and_then(|word| unit_in(word));
        let all = numbers(&self.value);
        let is_one = all.len() == 1;
        all.into_iter().find_map(|(span, number)| {
            let behind = self.value[span.end..].trim_start();
            let is_inches = behind.starts_with(['"', '″', '”']) || behind.starts_with("''");
            // A mark of inches at the end of a line is taken for a quote.
            let bare = named.or(Some(unit::INCH).filter(|_| is_one && BARE_IN.contains(&number)));
            let alone = if behind.is_empty() { bare } else { None };
            let unit = if is_inches { Some(unit::INCH) } else { unit_in(word_behind(behind)).or(alone) };
            unit.map(|unit| unit.of(number)).filter(|length| BARREL_IN.contains(&unit::INCH.value(*length)))
        })
    }

    /// The calibre that it tells as a length: `Caliber: 6.5 mm`, `Bullet diameter: 0.338 in`. `6.5 CM` is a cartridge.
    #[must_use]
    pub fn calibre(&self) -> Option<Length> {
        let words = said(&self.name);
        let is_told = has(&words, CARTRIDGE) || (has(&words, &["diameter"]) && self.begins(BULLET));
        let [(span, number)] = numbers(&self.value).try_into().ok().filter(|_| is_told)?;
        let behind = self.value[span.end..].trim();
        let unit = [unit::MILLIMETRE, unit::INCH].into_iter().find(|unit| unit.is_spelled_loosely(behind))?;
        Some(unit.of(number)).filter(|_| self.value[..span.start].trim_matches('.').trim().is_empty())
    }

    /// What a number in it may weigh, by its name or, where it has none, by its first word: `Bullet: 175 match`,
    /// `load 175`.
    #[must_use]
    pub fn weighs(&self) -> Weighs {
        let first = if self.name.is_empty() { self.value.split_whitespace().next().unwrap_or_default() } else { "" };
        let words: Vec<String> = said(&self.name).into_iter().chain(said(first)).collect();
        let begins = |list: &[&str]| words.iter().any(|word| list.iter().any(|stem| word.starts_with(stem)));
        match () {
            () if begins(POWDER) || begins(OF_PARTS) => Weighs::Nothing,
            () if begins(BULLET) || begins(WEIGHT) => Weighs::ABullet,
            () if begins(LOADED) || has(&words, LOAD) => Weighs::ALoad,
            () if words.is_empty() || self.name.is_empty() || has(&words, NOTES) => Weighs::WhatIsSaid,
            () => Weighs::Nothing,
        }
    }

    fn begins(&self, list: &[&str]) -> bool {
        said(&self.name).iter().any(|word| list.iter().any(|stem| word.starts_with(stem)))
    }

    fn masses(&self) -> Vec<Stated> {
        // `gr: 175`.
        let is_grains = |words: &[String]| {
            words.len() == 1 && unit_of(&self.name).is_some_and(|unit| unit.symbol == unit::GRAIN.symbol)
        };
        let (is_bullet, is_weight) = (self.begins(BULLET), self.begins(WEIGHT) || is_grains(&said(&self.name)));
        if self.begins(POWDER) {
            return Vec::new();
        }
        if is_bullet || is_weight || self.begins(LOADED) {
            return masses(&self.value, unit_of(&self.name), is_bullet || is_weight);
        }
        // A mass with its unit is the bullet's wherever it stands, unless the line is on something else.
        let is_of_powder = said(&self.value).iter().any(|word| POWDER.iter().any(|stem| word.starts_with(stem)));
        let found = if is_of_powder { Vec::new() } else { masses(&self.value, None, false) };
        found.into_iter().filter(|stated| BULLET_GR.contains(&unit::GRAIN.value(stated.mass))).collect()
    }
}

/// A mass as it is written, with half of its last digit.
struct Stated {
    mass: Mass,
    rounded: Mass,
}

/// By how much a stated mass may differ from the load's, gr (house assumption).
const LIKE_GR: f64 = 0.5;
/// By how much a bullet's mass may differ from what its energy makes of it, as a share (house assumption): energies are
/// rounded.
const LIKE_BY_ENERGY: f64 = 0.03;
/// What a bullet weighs, gr: a mass beyond is that of a rifle or of a trigger's pull.
const BULLET_GR: std::ops::RangeInclusive<f64> = 2.0..=1000.0;
/// What is no bullet's mass in any unit where none is written: a diameter in inches.
const LEAST: f64 = 2.0;

impl Stated {
    fn is(&self, own: Mass) -> bool {
        let like = unit::GRAIN.of(LIKE_GR).si().max(self.rounded.si());
        (self.mass.si() - own.si()).abs() <= like * (1.0 + 1e-9)
    }
}

/// The unit of a bullet's mass that is spelled so.
fn unit_spelled(word: &str) -> Option<Unit<Mass>> {
    let is_grain = ["grs", "gn"].iter().any(|spelling| spelling.eq_ignore_ascii_case(word));
    let found = [unit::GRAIN, unit::GRAM].into_iter().find(|unit| unit.is_spelled_loosely(word));
    found.or(is_grain.then_some(unit::GRAIN))
}

fn unit_of(name: &str) -> Option<Unit<Mass>> {
    said(name).last().and_then(|word| unit_spelled(word))
}

/// Masses of bullets in a text: those with a unit; else, of a text that is one number, what it is in the unit of its
/// name, or in either where the name says that it is a mass.
fn masses(text: &str, named: Option<Unit<Mass>>, is_mass: bool) -> Vec<Stated> {
    let pointed = pointed(text, ';');
    let bytes = pointed.as_bytes();
    let is_number = |c: char| c.is_ascii_digit() || c == '.';
    let (mut found, mut at) = (Vec::new(), 0);
    while let Some(begin) = pointed[at..].find(|c: char| c.is_ascii_digit()).map(|index| at + index) {
        let end = pointed[begin..].find(|c| !is_number(c)).map_or(pointed.len(), |length| begin + length);
        let behind = pointed[end..].trim_start();
        let word = &behind[..behind.find(|c: char| !c.is_alphanumeric()).unwrap_or(behind.len())];
        let is_whole = begin == 0 || !bytes[begin - 1].is_ascii_alphanumeric();
        if let (true, Some(unit)) = (is_whole, unit_spelled(word)) {
            found.extend(stated(&pointed[begin..end], unit));
        }
        at = end;
    }
    if found.is_empty() && pointed.parse::<f64>().is_ok_and(|number| named.is_some() || number >= LEAST) {
        let either = if is_mass { vec![unit::GRAIN, unit::GRAM] } else { Vec::new() };
        found.extend(named.map_or(either, |unit| vec![unit]).into_iter().filter_map(|unit| stated(&pointed, unit)));
    }
    found
}

fn stated(number: &str, unit: Unit<Mass>) -> Option<Stated> {
    let value = number.parse::<f64>().ok().filter(|value| value.is_finite())?;
    let decimals = number.split_once('.').map_or(0, |(_, behind)| behind.len());
    let last = 10_f64.powi(-i32::try_from(decimals).unwrap_or(0));
    Some(Stated { mass: unit.of(value), rounded: unit.of(0.5 * last) })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drag::{Drag, DragModel};
    use crate::load::{Construction, Facts, Firearm, Spread};

    fn load() -> Load {
        let facts = Facts {
            name: "drawn".into(),
            cartridge: None,
            firearm: Firearm::Rifle,
            construction: Construction::JacketedLead,
            cartridge_unlisted: false,
            steel_core_common: false,
            steel_common: false,
            bullet: unit::GRAIN.of(168.0),
            diameter: None,
            projectiles: 1,
            muzzle_velocity: unit::FOOT_PER_SECOND.of(2650.0),
            barrel: None,
            drag: Drag::single(DragModel::G1, unit::POUND_PER_SQUARE_INCH.of(0.45)).unwrap(),
            spread: Spread::default(),
            source: "drawn".into(),
        };
        Load::checked("drawn", facts).unwrap()
    }

    fn above(text: &str, separator: char) -> Above {
        let source = SourceText::new("a.csv", text);
        let line = grid::lines(&source.text).next().unwrap();
        Above::of(&source, &line, separator)
    }

    #[test]
    fn a_line_that_states_another_bullet_is_told_from_one_that_states_this_one_or_none() {
        let load = load();
        for (text, separator) in [
            ("Bullet weight;12,3 g", ';'),
            ("Bullet weight (gr),175", ','),
            ("\"Bullet weight: 12,3 g\"", ';'),
            ("Bullet weight;12,3;g", ';'),
            ("Geschoss: 9,07 g", ','),
            ("Projectile Weight\t180.0 grains", '\t'),
            ("Weight,150", ','),
            ("Ammunition;Example 150gr soft point", ';'),
            ("Bullet mass;168 g", ';'),
            ("Bullet: 150", ';'),
            ("Profile Name: 308 Win 150gr", ','),
            ("Notes: .300 Win Mag 190 gr", ','),
            ("Series 1 - 223 55gr", ','),
            ("Session,-20 C,150 gr", ','),
            ("PROJECTILE WEIGHT(GRAINS),150", ','),
            ("Bullet weight,167.4 gr", ','),
        ] {
            assert!(above(text, separator).is_of_another_bullet(&load), "{text}");
        }
        for (text, separator) in [
            ("Bullet weight;10,9 g", ';'),
            ("Bullet weight (gr),168", ','),
            ("Bullet weight,10.886", ','),
            ("Bullet weight;11 g", ';'),
            ("Powder weight;42,5 gr", ';'),
            ("Bullet;Example 168 gr over 42.5 gr", ';'),
            ("Rifle weight;4500 g", ';'),
            ("Session;2 May", ';'),
            ("Bullet;HPBT", ';'),
            ("Bullet;M118", ';'),
            ("Bullet;.308", ';'),
            ("Notes: 42.5 gr of powder", ','),
            ("Bullet BC 0.4 G1", ','),
            ("Trigger 900 g", ','),
            ("Profile Name: 308 Win 168 gr", ','),
            ("Load;30", ';'),
        ] {
            assert!(!above(text, separator).is_of_another_bullet(&load), "{text}");
        }
    }

    #[test]
    fn a_line_tells_the_length_of_a_barrel_and_no_other_length() {
        for (text, inches) in [
            ("Barrel length: 16 in", Some(16.0)),
            ("Barrel,16\"", Some(16.0)),
            ("Barrel (in),24", Some(24.0)),
            ("Barrel: 1:8 twist, 20 inch", Some(20.0)),
            ("Lauf: 61 cm", Some(24.0)),
            ("Barrel temp: 60 C", None),
            ("Barrel: heavy", None),
            ("Barrel: 1:8 twist", None),
            ("Barrel 2", None),
            ("Altitude: 16 ft", None),
        ] {
            let found = above(text, ',').barrel().map(|length| unit::INCH.value(length).round());
            assert_eq!(found, inches, "{text}");
        }
    }

    #[test]
    fn a_line_tells_a_calibre_where_it_is_a_length_alone() {
        for (text, hundredths) in [
            ("Caliber: 6.5 mm", Some(650.0)),
            ("Bullet diameter: 0.338 in", Some(859.0)),
            ("Caliber: 6.5 CM", None),
            ("Caliber: 6.5 mm Creedmoor", None),
            ("Caliber: 308", None),
            ("Group diameter: 20 mm", None),
        ] {
            let found = above(text, ',').calibre().map(|length| (unit::MILLIMETRE.value(length) * 100.0).round());
            assert_eq!(found, hundredths, "{text}");
        }
    }

    #[test]
    fn a_line_about_a_cartridge_names_it() {
        assert_eq!(above("Cartridge;.300 Win Mag", ';').cartridge(), Some(".300 Win Mag"));
        assert_eq!(above("Caliber: 308 Win", ',').cartridge(), Some("308 Win"));
        assert_eq!(above("Session;308 Win", ';').cartridge(), None);
        assert_eq!(above("Cartridge;", ';').cartridge(), None);
        assert_eq!((above("Load;22", ';').cartridge(), above("Load;22 LR", ';').cartridge()), (None, Some("22 LR")));
        assert!(above("Bullet;HPBT", ';').is_about_the_load() && !above("Bullet;HPBT", ';').states_a_bullet());
        assert!(!above("Session;2 May", ';').is_about_the_load());
    }
}
