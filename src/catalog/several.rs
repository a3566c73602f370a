//! What people say that may be any of several cartridges: it is asked back, never guessed.

use super::cartridge::{Cartridge, Shipped};
use super::reach::Envelope;
use super::spelling::{holds_in_order, is_number, leading_numbers, tokens};
use crate::load::Load;
use crate::quantity::Measure;

/// Every cartridge that a name may mean, where the one that it leads to may not be what was meant; else none. A number
/// alone, or with a unit or `magnum`, is taken for the cartridge that goes by it unless a hotter one begins so: `308`
/// and `9 mm` are taken, and `270` may be a short magnum.
pub(super) fn others_meant<'s>(asked: &str, found: &'s Cartridge, shipped: &'s Shipped) -> Vec<&'s str> {
    let words = tokens(asked, &shipped.words);
    if words == tokens(found.name(), &shipped.words) {
        return Vec::new();
    }
    if let Some(several) = shipped.several(asked) {
        return several.iter().map(String::as_str).collect();
    }
    if !is_short(&words) {
        return Vec::new();
    }
    let may_be = |cartridge: &&Cartridge| {
        let fits = |name: &[String]| leading_numbers(name) == leading_numbers(&words) && holds_in_order(&words, name);
        cartridge.name() == found.name() || cartridge.names().any(|name| fits(&tokens(name, &shipped.words)))
    };
    let all: Vec<&Cartridge> = shipped.cartridges.iter().map(AsRef::as_ref).filter(may_be).collect();
    if !all.iter().any(|other| is_hotter(other, found)) {
        return Vec::new();
    }
    all.into_iter().map(Cartridge::name).collect()
}

/// The cartridges that a name may mean that leads to none: what people say of several, or names that leave words out
/// (`300 win short` of `.300 Winchester Short Magnum`).
pub(super) fn may_be<'n>(asked: &str, names: &[&'n str], shipped: &'n Shipped) -> Vec<&'n str> {
    let words = tokens(asked, &shipped.words);
    if let Some(several) = shipped.several(asked) {
        return several.iter().map(String::as_str).collect();
    }
    let holds = |name: &str| holds_in_order(&words, &tokens(name, &shipped.words));
    let of_all = |name: &&&str| {
        let called = shipped.cartridges.iter().find(|c| c.name() == **name);
        holds(name) || called.is_some_and(|cartridge| cartridge.names().any(holds))
    };
    if words.is_empty() { Vec::new() } else { names.iter().filter(of_all).copied().collect() }
}

/// The cartridges that a part of a text names: `12 gauge slug`, `my deer rifle`.
pub(super) fn named_within<'s>(asked: &str, shipped: &'s Shipped) -> Vec<&'s str> {
    let words = tokens(asked, &shipped.words);
    let parts = (1..words.len()).rev().flat_map(|count| words.windows(count));
    parts.map(|part| named_by(part, shipped)).find(|named| !named.is_empty()).unwrap_or_default()
}

/// The cartridges that words within a text name.
fn named_by<'s>(part: &[String], shipped: &'s Shipped) -> Vec<&'s str> {
    let text = part.join(" ");
    if let Some(several) = shipped.several(&text) {
        return several.iter().map(String::as_str).collect();
    }
    let Some(found) = shipped.called(&text) else { return Vec::new() };
    let others = others_meant(&text, found, shipped);
    if others.is_empty() { vec![found.name()] } else { others }
}

/// Whether a name is a number, with no more beside it than a unit and `magnum`.
fn is_short(words: &[String]) -> bool {
    words.first().is_some_and(|word| is_number(word))
        && words.iter().all(|word| is_number(word) || word == "mm" || word == "mag")
}

/// Whether usual ammunition of one is faster or stronger than all that is usual of another.
fn is_hotter(one: &Cartridge, than: &Cartridge) -> bool {
    let (one, than) = (hottest(one), hottest(than));
    one.0 > than.0 || one.1 > than.1
}

/// The greatest muzzle velocity and energy of a cartridge's usual ammunition, m/s and J.
fn hottest(cartridge: &Cartridge) -> (f64, f64) {
    let loads = cartridge.envelopes().iter().flat_map(Envelope::loads);
    let numbers = loads.map(|load: &std::sync::Arc<Load>| {
        let (velocity, bullet) = (load.facts().muzzle_velocity.si(), load.facts().bullet.si());
        (velocity, bullet * velocity * velocity / 2.0)
    });
    numbers.fold((0.0, 0.0), |most: (f64, f64), load| (most.0.max(load.0), most.1.max(load.1)))
}
