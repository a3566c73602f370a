//! The plates to bring, the fixes made.

use super::Told;
use super::words::count;
use crate::advisor::answer::Haul;
use crate::plate::{Face, Plate};
use crate::quantity::{Mass, Measure, Si};
use crate::shop::Material;

/// The plates by thickness and size, thin and small first, and the mass of all.
pub(super) fn of(told: &Told) -> (Vec<Haul>, Mass) {
    let mut kinds: Vec<(Plate, Face, u32, u32)> = Vec::new();
    for (index, target) in told.course.targets.iter().enumerate() {
        let fix = told.mending(index).filter(|_| !told.is_lifted(index)).and_then(|m| m.fix.as_ref());
        let plate = fix.and_then(|f| f.change.plate.clone()).unwrap_or_else(|| target.plate.clone());
        let new = if fix.is_some_and(|f| f.change.fresh) { target.count } else { 0 };
        let face = &target.setup.face;
        match kinds.iter_mut().find(|(p, f, ..)| p.thickness == plate.thickness && f == face) {
            Some(kind) => (kind.2, kind.3) = (kind.2 + target.count, kind.3 + new),
            None => kinds.push((plate, face.clone(), target.count, new)),
        }
    }
    kinds.sort_by(|a, b| {
        let area = |face: &Face| face.area().si();
        a.0.thickness.si().total_cmp(&b.0.thickness.si()).then(area(&a.1).total_cmp(&area(&b.1)))
    });
    let mut total = Mass::from_si(0.0);
    let hauls = kinds.into_iter().map(|(plate, face, count, new)| {
        let mass = face.mass(plate.thickness);
        let all = mass * f64::from(count);
        total += all;
        let price = told.shop.and_then(|shop| {
            let cost = Material::of(&face, &plate, Some(shop)).cost?.each;
            Some(format!("{}{cost}", shop.currency))
        });
        let fresh = if new > 0 { format!(", {new} of them new") } else { String::new() };
        let each = price.as_ref().map(|p| format!(", {p} each")).unwrap_or_default();
        Haul {
            words: format!("{count} × {} {face}, {}{fresh}{each}", plate.label, told.units.mass(all)),
            plate: plate.label,
            face: face.to_string(),
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

/// All of it in one sentence.
pub(super) fn words(told: &Told, hauls: &[Haul], total: Mass) -> String {
    let plates: u32 = hauls.iter().map(|h| h.count).sum();
    let list: Vec<String> = hauls.iter().map(|h| h.words.clone()).collect();
    format!("{}; {} in all, {}.", list.join("; "), count(plates as usize, "plate"), told.units.mass(total))
}
