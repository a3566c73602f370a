//! The plates to bring, the fixes made.

use super::Told;
use super::words::{self, count};
use crate::advisor::answer::Haul;
use crate::advisor::say;
use crate::order::Order;
use crate::plate::{Face, Plate};
use crate::quantity::{Mass, Measure, Si};
use crate::shop::Material;
use crate::shop::price::{Part, Shop};
use crate::words::Units;

/// The plates by thickness and size, thin and small first, and the mass of all.
pub(super) fn of(told: &Told) -> (Vec<Haul>, Mass) {
    let mut kinds: Vec<(Plate, Face, u32, u32)> = Vec::new();
    for (index, target) in told.course.targets.iter().enumerate() {
        let fix = told.fix(index);
        let plate = fix.and_then(|f| f.change.plate.clone()).unwrap_or_else(|| target.plate.clone());
        let new = if fix.is_some_and(|f| f.change.fresh) { target.count } else { 0 };
        let face = &target.setup.face;
        match kinds.iter_mut().find(|(p, f, ..)| p.thickness == plate.thickness && f == face) {
            Some(kind) => (kind.2, kind.3) = (kind.2 + target.count, kind.3 + new),
            None => kinds.push((plate, face.clone(), target.count, new)),
        }
    }
    kinds.order_by(|a, b| {
        let area = |face: &Face| face.area().si();
        a.0.thickness.si().total_cmp(&b.0.thickness.si()).then(area(&a.1).total_cmp(&area(&b.1)))
    });
    let mut total = Mass::from_si(0.0);
    let hauls = kinds.into_iter().map(|(plate, face, count, new)| {
        let mass = face.mass(plate.thickness);
        let all = mass * f64::from(count);
        total += all;
        let (price, not_priced) = told.shop.map_or((None, None), |shop| priced(shop, &face, &plate, told.units));
        let fresh = if new > 0 { format!(", {new} of them new") } else { String::new() };
        let each = price.as_ref().map(|p| format!(", {p} each"));
        let each = each.or(not_priced.map(|why| format!(" ({why})"))).unwrap_or_default();
        Haul {
            words: format!(
                "{count} × {} {}, {}{fresh}{each}",
                words::plate(told, &plate),
                words::face(told, &face),
                told.units.mass(all)
            ),
            plate: words::plate(told, &plate),
            face: words::face(told, &face),
            count,
            new,
            mass: Si(mass),
            total: Si(all),
            price,
        }
    });
    let hauls: Vec<Haul> = hauls.collect();
    (hauls, total)
}

/// What one costs, or why it has no price.
fn priced(shop: &Shop, face: &Face, plate: &Plate, units: Units) -> (Option<String>, Option<String>) {
    let material = Material::of(face, plate, Some(shop));
    let unpriced = || shop.unpriced(None, &Part::of(face, plate, material.per_sheet[0]));
    match material.cost {
        Some(cost) => (Some(format!("{}{}", shop.currency, cost.each)), None),
        None => (None, unpriced().map(|unpriced| say::not_priced(shop, &unpriced, units))),
    }
}

/// All of it in one sentence.
pub(super) fn told(told: &Told, hauls: &[Haul], total: Mass) -> String {
    if hauls.is_empty() {
        return String::new();
    }
    let plates: u32 = hauls.iter().map(|h| h.count).sum();
    let list: Vec<String> = hauls.iter().map(|h| h.words.clone()).collect();
    format!("{}; {}", list.join("; "), together(told, plates, total))
}

/// How many and how heavy, and what was counted where a plate could be changed in a line's stead.
fn together(told: &Told, plates: u32, total: Mass) -> String {
    let instead = told.mendings.iter().filter(|m| !told.is_lifted(m.target));
    let instead = instead.filter_map(|m| m.other.as_ref()).any(|other| other.change.plate.is_some());
    let counted = if instead { ", counted with the lines moved, not with plates changed instead" } else { "" };
    format!("{} in all, {}{counted}.", count(plates as usize, "plate"), told.units.mass(total))
}

/// Kinds of plates that a short line lists by size.
const FEW: usize = 4;

/// The same in short: by thickness where there are many sizes.
pub(super) fn brief(told: &Told, hauls: &[Haul], total: Mass) -> String {
    if hauls.len() <= FEW { self::told(told, hauls, total) } else { by_thickness(told, hauls, total) }
}

/// How many of each thickness.
pub(super) fn by_thickness(told: &Told, hauls: &[Haul], total: Mass) -> String {
    if hauls.is_empty() {
        return String::new();
    }
    let mut by: Vec<(&str, u32, u32)> = Vec::new();
    for haul in hauls {
        match by.iter_mut().find(|(plate, ..)| *plate == haul.plate) {
            Some(known) => (known.1, known.2) = (known.1 + haul.count, known.2 + haul.new),
            None => by.push((&haul.plate, haul.count, haul.new)),
        }
    }
    let list = by.iter().map(|(plate, count, new)| {
        let fresh = if *new > 0 { format!(" ({new} new)") } else { String::new() };
        format!("{count} × {plate}{fresh}")
    });
    let plates: u32 = hauls.iter().map(|h| h.count).sum();
    format!("{}; {}", list.collect::<Vec<_>>().join(", "), together(told, plates, total))
}
