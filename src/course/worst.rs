//! "Anything the ammunition rules admit": every cartridge of the class, at the extremes of its usual ammunition and a
//! handload's step beyond, clipped to the rules; as slow as the rules let it be, or as the lightest charges make it;
//! and every listed load. A bullet that no cartridge fires stands for nothing.

use super::admit::Admission;
use super::{Anything, Brought, Course};
use crate::catalog::{Cartridge, Catalog};
use crate::load::{Class, Construction, Load, MuzzleSpread};
use crate::order::Order;
use crate::quantity::{Energy, Mass, Measure, Velocity, unit};
use crate::source::SourceText;
use crate::vet::LOW_COEFFICIENT;
use crate::words::Units;
use std::sync::Arc;

/// How much faster a handload is than the usual extremes (house assumption).
const HANDLOAD: f64 = 1.03;
/// The slowest that a clipped load may leave: below it the rules admit no such cartridge, m/s.
const MIN_MPS: f64 = 60.0;
/// The slowest that the lightest charges of a handgun or a carbine make a bullet, ft/s (house assumption: below it
/// bullets stick in barrels); and those of a rimfire.
const LIGHT_CHARGE: f64 = 500.0;
const LIGHT_RIMFIRE: f64 = 650.0;
/// What the weakest air guns fire at, ft/s (house assumption).
const WEAK_AIR: f64 = 400.0;

/// The loads that stand for anything of a class.
pub(super) struct Extremes {
    pub loads: Vec<Arc<Load>>,
    /// The slowest of each cartridge.
    pub slow: Vec<Arc<Load>>,
    /// How many cartridges and loads stand for it, in words.
    pub told: String,
    /// How far they reach, in short.
    pub reach: String,
}

impl Course {
    /// Takes what stands for anything of some classes as brought.
    pub(super) fn admit_anything(&mut self, source: &SourceText, classes: &[Class], catalog: &Catalog) {
        for &class in classes {
            let Extremes { loads, slow, told, reach } = extremes(&self.admission, class, catalog, self.units);
            if loads.is_empty() && slow.is_empty() {
                let at = source.text.find("anything").map_or(0..0, |at| at..at + "anything".len());
                let message = format!("anything of `{class}`: the ammunition rules admit none that is known");
                let help = "take the class out of `anything`, or let the rules admit some of it";
                self.unread_everywhere_one(source.fault(at, message).help(help));
                continue;
            }
            self.anything.push(Anything { class, told, reach });
            self.loads.extend(loads.into_iter().map(Brought::by_nobody));
            self.slow.extend(self.loads.len()..self.loads.len() + slow.len());
            self.loads.extend(slow.into_iter().map(Brought::by_nobody));
        }
    }
}

/// What stands for anything of a class.
pub(super) fn extremes(admission: &Admission, class: Class, catalog: &Catalog, units: Units) -> Extremes {
    let search = Search { admission, class, catalog, units };
    let listed = search.listed();
    let cartridges = search.cartridges();
    let mut loads: Vec<Arc<Load>> = cartridges.iter().flat_map(|(_, loads)| loads.iter().map(Arc::clone)).collect();
    let slow = search.slow();
    let others = search.other_constructions(&loads, &listed);
    let told = search.told(cartridges.len(), listed.len());
    loads.extend(listed);
    loads.extend(others);
    let reach = search.reach(cartridges.len(), loads.iter().chain(&slow));
    Extremes { loads, slow, told, reach }
}

struct Search<'a> {
    admission: &'a Admission,
    class: Class,
    catalog: &'a Catalog,
    units: Units,
}

impl Search<'_> {
    fn admits(&self, load: &Load) -> bool {
        // What stands for anything is driven to the limit as listed, and past it by the day's powder.
        let muzzle = load.facts().muzzle_velocity;
        load.class() == self.class && self.admission.refusal(load, muzzle, self.catalog, self.units).is_none()
    }

    /// Every listed load that the rules admit.
    fn listed(&self) -> Vec<Arc<Load>> {
        let loads = self.catalog.known().map(|entry| &entry.load);
        loads.filter(|load| self.admits(load)).map(Arc::clone).collect()
    }

    /// The cartridges of the class that the rules admit something of, with their clipped extremes.
    fn cartridges(&self) -> Vec<(&'static str, Vec<Arc<Load>>)> {
        let Ok(all) = Cartridge::builtin() else { return Vec::new() };
        let found = all.iter().map(|cartridge| {
            let extremes = cartridge.envelopes().iter().flat_map(crate::catalog::Envelope::loads);
            let loads = extremes.enumerate().filter_map(|(index, load)| self.clipped(cartridge, index, load));
            let mut loads: Vec<Arc<Load>> = loads.collect();
            // Clipped, two extremes may come to the same.
            loads.dedup_by(|a, b| {
                a.facts().bullet == b.facts().bullet && a.facts().muzzle_velocity == b.facts().muzzle_velocity
            });
            (cartridge.name(), loads)
        });
        found.filter(|(_, loads)| !loads.is_empty()).collect()
    }

    /// An extreme as fast as a handload, or as the rules let it be, in a construction that they leave open.
    fn clipped(&self, cartridge: &Cartridge, index: usize, extreme: &Load) -> Option<Arc<Load>> {
        if extreme.class() != self.class {
            return None;
        }
        let own = extreme.facts();
        let construction = self.plain(own.construction)?;
        let mass = self.mass(own.bullet.si());
        // Of a lighter bullet the same charge makes a faster one, of the same energy at most.
        let handload = own.muzzle_velocity.si() * HANDLOAD * (own.bullet.si() / mass).sqrt();
        let speed = handload.min(self.fastest(mass));
        let (bullet, fast) = (self.bullet(mass), self.units.speed(Velocity::from_si(speed)));
        let load = made(
            extreme,
            &format!("any-{}-{index}", cartridge.name()),
            &format!("{} {bullet} at {fast}", cartridge.name()),
            (mass, speed),
            construction,
        )?;
        self.admits(&load).then(|| Arc::new(load))
    }

    /// The cartridges of the class as slow as the rules admit them: slow bullets come back, and a rack stays up.
    fn slow(&self) -> Vec<Arc<Load>> {
        let Ok(all) = Cartridge::builtin() else { return Vec::new() };
        let mut found: Vec<Arc<Load>> = Vec::new();
        for cartridge in all {
            let extremes = cartridge.envelopes().iter().flat_map(crate::catalog::Envelope::loads);
            let mut loads: Vec<Arc<Load>> =
                extremes.enumerate().filter_map(|(index, load)| self.slowest(cartridge, index, load)).collect();
            loads.order_by(|a, b| a.facts().bullet.si().total_cmp(&b.facts().bullet.si()));
            loads.dedup_by(|a, b| a.facts().bullet == b.facts().bullet);
            found.extend(loads);
        }
        found
    }

    fn slowest(&self, cartridge: &Cartridge, index: usize, extreme: &Load) -> Option<Arc<Load>> {
        if extreme.class() != self.class {
            return None;
        }
        let own = extreme.facts();
        // Of the bullets that pistols fire a jacketed one breaks up least, of rimfires' a plated one; light charges of
        // others drive lead.
        let hardest = match self.class {
            Class::Handgun | Class::PistolCarbine => Construction::JacketedLead,
            Class::RimfirePistol | Class::RimfireRifle => Construction::Plated,
            _ => Construction::Lead,
        };
        let least = if self.refuses(hardest) { Construction::Lead } else { hardest };
        let construction =
            if own.construction.is_shot() || self.refuses(least) { self.plain(own.construction)? } else { least };
        let mass = self.mass(own.bullet.si());
        let speed = self.least(mass).or_else(|| self.lightest_charge())?.max(MIN_MPS);
        if speed >= (own.muzzle_velocity.si() * HANDLOAD).min(self.fastest(mass)) {
            return None;
        }
        let (bullet, slow) = (self.bullet(mass), self.units.speed(Velocity::from_si(speed)));
        let load = made(
            extreme,
            &format!("any-{}-slow-{index}", cartridge.name()),
            &format!("{} {bullet} at {slow}", cartridge.name()),
            (mass, speed),
            construction,
        )?;
        // Of the bullets that are admitted some lose more on their way.
        let load = load.with(|facts| facts.drag = facts.drag.scaled(LOW_COEFFICIENT)).ok()?;
        self.admits(&load).then(|| Arc::new(load))
    }

    /// The mass of an extreme, as heavy as the rules let it be, kg.
    fn mass(&self, own_kg: f64) -> f64 {
        self.limit(|r| r.bullet_at_most.map(|t| t.0.si()), f64::min).map_or(own_kg, |most| most.min(own_kg))
    }

    /// The slowest that the rules let a bullet of a mass leave, m/s; none where they say nothing of it.
    fn least(&self, mass_kg: f64) -> Option<f64> {
        let grains = unit::GRAIN.value(Mass::from_si(mass_kg));
        let speed = self.limit(|r| r.muzzle_velocity_at_least.map(|t| t.0.si()), f64::max);
        let factor = self.limit(|r| r.power_factor_at_least.map(|factor| factor.0), f64::max);
        let of_factor = factor.map(|factor| unit::FOOT_PER_SECOND.of(factor * 1000.0 / grains).si());
        // A hair above, so that what is clipped is admitted.
        speed.into_iter().chain(of_factor).reduce(f64::max).map(|least| least * (1.0 + 1e-12))
    }

    /// The slowest that the lightest charges of the class make a bullet, m/s: of other classes the listed loads stand.
    fn lightest_charge(&self) -> Option<f64> {
        let feet = match self.class {
            Class::Handgun | Class::PistolCarbine => LIGHT_CHARGE,
            Class::RimfirePistol | Class::RimfireRifle => LIGHT_RIMFIRE,
            Class::AirGun => WEAK_AIR,
            _ => return None,
        };
        Some(unit::FOOT_PER_SECOND.of(feet).si())
    }

    fn bullet(&self, mass_kg: f64) -> String {
        match self.units {
            Units::Us => format!("{:.0} gr", unit::GRAIN.value(Mass::from_si(mass_kg))),
            Units::Si => self.units.bullet(Mass::from_si(mass_kg)),
        }
    }

    /// The fastest that the rules let a bullet of a mass leave, m/s.
    fn fastest(&self, mass_kg: f64) -> f64 {
        let speed = self.limit(|r| r.muzzle_velocity_at_most.map(|t| t.0.si()), f64::min);
        let energy = self.limit(|r| r.muzzle_energy_at_most.map(|t| t.0.si()), f64::min);
        let factor = self.limit(|r| r.power_factor_at_most.map(|factor| factor.0), f64::min);
        let grains = unit::GRAIN.value(Mass::from_si(mass_kg));
        let of_energy = energy.map(|joules| (2.0 * Energy::from_si(joules).si() / mass_kg).sqrt());
        let of_factor = factor.map(|factor| unit::FOOT_PER_SECOND.of(factor * 1000.0 / grains).si());
        // A hair below, so that what is clipped is admitted.
        let clip = |limit: Option<f64>| limit.map_or(f64::INFINITY, |l| l * (1.0 - 1e-12));
        clip(speed).min(clip(of_energy)).min(clip(of_factor))
    }

    /// The strictest of the limits that rules for the class state.
    fn limit(&self, of: impl Fn(&super::Ammunition) -> Option<f64>, stricter: impl Fn(f64, f64) -> f64) -> Option<f64> {
        self.admission.0.iter().filter(|rule| rule.is_for(self.class)).filter_map(of).reduce(stricter)
    }

    fn refuses(&self, construction: Construction) -> bool {
        self.admission.0.iter().any(|rule| rule.is_for(self.class) && rule.refused.contains(&construction))
    }

    /// The extreme's own construction, or lead in another form where the rules refuse that: what most shooters bring.
    fn plain(&self, own: Construction) -> Option<Construction> {
        const BULLETS: [Construction; 4] =
            [Construction::JacketedLead, Construction::Lead, Construction::Plated, Construction::Frangible];
        const SHOT: [Construction; 1] = [Construction::LeadShot];
        let is_plain = |c: &Construction| BULLETS.contains(c) || SHOT.contains(c);
        if is_plain(&own) && !self.refuses(own) {
            return Some(own);
        }
        let forms: &[Construction] = if own.is_shot() { &SHOT } else { &BULLETS };
        forms.iter().copied().find(|form| !self.refuses(*form))
    }

    /// One load for each group of constructions that the rules leave open: what the rules of steel say of a
    /// construction they say at any speed.
    fn other_constructions(&self, extremes: &[Arc<Load>], listed: &[Arc<Load>]) -> Vec<Arc<Load>> {
        const BULLETS: [&[Construction]; 3] = [
            &[
                Construction::SteelJacket,
                Construction::SteelCore,
                Construction::ArmourPiercing,
                Construction::Incendiary,
                Construction::Tracer,
            ],
            &[Construction::Monolithic],
            &[Construction::Unknown],
        ];
        const SHOT: [&[Construction]; 1] = [&[Construction::SteelShot]];
        let groups: &[&[Construction]] = if self.class == Class::Shot { &SHOT } else { &BULLETS };
        let strongest =
            extremes.iter().chain(listed).reduce(|a, b| if b.muzzle_energy() > a.muzzle_energy() { b } else { a });
        let Some(like) = strongest else { return Vec::new() };
        let facts = like.facts();
        let open = groups.iter().filter_map(|group| {
            let left: Vec<Construction> = group.iter().copied().filter(|c| !self.refuses(*c)).collect();
            let names: Vec<String> = left.iter().map(ToString::to_string).collect();
            let name = format!("any {} load of {} (not refused by the ammunition rules)", self.class, names.join(", "));
            let first = *left.first()?;
            let load = made(
                like,
                &format!("any-{}-{first}", self.class),
                &name,
                (facts.bullet.si(), facts.muzzle_velocity.si()),
                first,
            )?;
            self.admits(&load).then(|| Arc::new(load))
        });
        open.collect()
    }

    /// `9 cartridges, to 350 ft·lbf, 650 to 1300 ft/s`.
    fn reach<'l>(&self, cartridges: usize, loads: impl Iterator<Item = &'l Arc<Load>> + Clone) -> String {
        let speeds = loads.clone().map(|load| load.facts().muzzle_velocity);
        let slowest = speeds.clone().reduce(|a, b| if b < a { b } else { a });
        let fastest = speeds.reduce(|a, b| if b > a { b } else { a });
        let most = loads.map(|load| load.muzzle_energy()).reduce(|a, b| if b > a { b } else { a });
        let cartridges = if cartridges == 1 { "1 cartridge".into() } else { format!("{cartridges} cartridges") };
        let span = most.zip(slowest).zip(fastest).map(|((most, slowest), fastest)| {
            let (slowest, unit) = (self.units.speed(slowest), self.units.speed(fastest));
            let number = slowest.split(' ').next().unwrap_or_default();
            format!(", to {}, {number} to {unit}", self.units.energy(most))
        });
        format!("{cartridges}{}", span.unwrap_or_default())
    }

    fn told(&self, cartridges: usize, listed: usize) -> String {
        format!(
            "Anything admitted of class {}: {cartridges} cartridges at their usual extremes, 3 % faster for handloads, as \
             slow as they are admitted or loaded, and within the ammunition rules, and {listed} listed loads stand for it.",
            self.class
        )
    }
}

fn made(
    like: &Load,
    id: &str,
    name: &str,
    (mass_kg, muzzle_mps): (f64, f64),
    construction: Construction,
) -> Option<Load> {
    if muzzle_mps < MIN_MPS {
        return None;
    }
    let mut facts = like.facts().clone();
    name.clone_into(&mut facts.name);
    facts.bullet = Mass::from_si(mass_kg);
    facts.muzzle_velocity = Velocity::from_si(muzzle_mps);
    facts.construction = construction;
    facts.barrel = None;
    facts.spread.muzzle = MuzzleSpread::Assumed;
    facts.source = "an extreme of the cartridge, within the ammunition rules".into();
    if !construction.is_shot() {
        facts.projectiles = 1;
    }
    Load::checked(id.replace([' ', '@'], "-"), facts).ok()
}

#[cfg(test)]
mod tests;
