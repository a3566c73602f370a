//! The loads of a question: named, of a cartridge, or described.

use super::super::books::Books;
use super::super::error::at;
use super::super::question::{LoadAsked, LoadDescription, Model as ModelAsked, SpreadPart};
use super::taken::Taken;
use crate::catalog::{
    AS_WRITTEN, Beside, BuildError, Catalog, Coefficients, Described, Entry, Model, known_of_cartridge, moved_to_barrel,
};
use crate::drag::DragModel;
use crate::load::{Construction, Load, MuzzleSpread};
use crate::order::Order;
use crate::quantity::{Length, Measure, Ratio, Text, parse, unit};
use crate::rules::{RuleSet, Verdict};
use crate::source::{Diagnostic, clean, is_unsafe_char, sanitize};
use crate::words::{self, Units};
use std::borrow::Cow;
use std::path::Path;
use std::sync::Arc;

/// A load that was asked for, or any ammunition of a cartridge; with a distance of its own where it has one.
#[derive(Debug, Clone)]
pub(crate) struct Asked {
    /// One load, or all that stand for a cartridge.
    pub loads: Vec<Arc<Load>>,
    /// What they stand for, where it is a cartridge.
    pub any: Option<AnyAmmunition>,
    pub distance: Option<Length>,
}

/// Any ammunition of a cartridge.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct AnyAmmunition {
    pub cartridge: String,
    /// How many loads are listed for it.
    pub listed: usize,
    /// Whether the extremes of its usual ammunition are known; else it is borderline at best.
    pub has_envelope: bool,
    /// The one construction that was asked for.
    pub only: Option<Construction>,
    /// Constructions that are listed for it and set apart, since they never suit steel; it is borderline at best then.
    pub apart: Vec<Construction>,
    /// Constructions that are not, of its extremes where those are known.
    pub kinds: Vec<Construction>,
    /// The construction that the question can be asked of instead; none where not all that it asks come so.
    pub narrower: Option<Construction>,
}

impl AnyAmmunition {
    /// Whether only a part of its ammunition is judged.
    pub fn is_in_part(&self) -> bool {
        !self.has_envelope || !self.apart.is_empty()
    }

    /// `any .308 Win`, where what is never shot of it was said before.
    pub fn in_short(&self) -> String {
        self.only.map_or_else(|| format!("any {}", self.cartridge), |_| self.called())
    }

    /// `any .308 Win (solid copper never)`: what is set apart is never allowed, whatever list it stands in.
    pub fn called(&self) -> String {
        let cartridge = &self.cartridge;
        match &self.only {
            Some(only) => format!("any {} {cartridge}", only.words()),
            None if self.apart.is_empty() => format!("any {cartridge}"),
            None => format!("any {cartridge} ({} never)", self.apart_words()),
        }
    }

    /// What is set apart, `solid copper and steel-jacketed`.
    pub fn apart_words(&self) -> String {
        let plain = |kind: &Construction| if *kind == Construction::Unknown { "unmarked" } else { kind.words() };
        words::listed(&self.apart.iter().map(|kind| plain(kind).to_owned()).collect::<Vec<_>>())
    }
}

/// Which one construction all ammunition that is asked comes in: jacketed lead where it does, else the first that does.
pub(crate) fn tell_narrower(asked: &mut [Asked]) {
    let kinds: Vec<&[Construction]> =
        asked.iter().filter_map(|one| one.any.as_ref()).map(|any| any.kinds.as_slice()).collect();
    let Some((first, others)) = kinds.split_first() else { return };
    let of_all = |kind: &&Construction| others.iter().all(|kinds| kinds.contains(kind));
    let usual = |kind: &&Construction| **kind != Construction::JacketedLead;
    let narrower = first.iter().filter(of_all).min_by_key(usual).copied();
    asked.iter_mut().filter_map(|one| one.any.as_mut()).for_each(|any| any.narrower = narrower);
}

impl Asked {
    fn one(load: Arc<Load>, distance: Option<Length>) -> Self {
        Self { loads: vec![load], any: None, distance }
    }
}

/// What loads are resolved with.
#[derive(Debug, Clone, Copy)]
pub(crate) struct LoadSource<'a> {
    pub catalog: &'a Catalog,
    pub rules: &'a RuleSet,
    pub spread: &'a SpreadPart,
    /// The construction asked of any ammunition.
    pub of: Option<Construction>,
    pub units: Units,
    /// Whether files that are referred to may be read.
    pub reads_files: bool,
}

impl<'a> LoadSource<'a> {
    /// By the books of a question.
    pub fn new(books: &'a Books, spread: &'a SpreadPart, of: Option<Construction>, units: Units) -> Self {
        let reads_files = books.files.are_read();
        Self { catalog: &books.catalog, rules: &books.rules, spread, of, units, reads_files }
    }

    /// Every load that was asked for.
    pub fn all(&self, load: &[LoadAsked], any: &[String], taken: &mut Taken) -> Result<Vec<Asked>, Diagnostic> {
        let mut asked = load.iter().map(|one| self.load(one, taken)).collect::<Result<Vec<_>, _>>()?;
        if self.of.is_some() && any.is_empty() {
            let help = "name a cartridge, `any`, or leave it out; a described load has its own `construction`";
            return Err(at("of", "it narrows any ammunition of a cartridge, and none is asked", help));
        }
        let own = [
            (self.spread.velocity_sd.is_some(), "velocity_sd"),
            (self.spread.bc_sd.is_some(), "bc_sd"),
            (self.spread.measured_at.is_some(), "measured_at"),
            (self.spread.velocity_temperature_slope.is_some(), "velocity_temperature_slope"),
        ];
        if let Some((_, key)) = own.iter().find(|(is_given, _)| *is_given && !any.is_empty()) {
            let message = format!("`{key}` is one load's, and any ammunition is asked for");
            return Err(at(key, message, "leave it out, or describe the load that it is of"));
        }
        for text in any {
            asked.push(self.any(text, taken)?);
        }
        tell_narrower(&mut asked);
        Ok(asked)
    }

    /// A load by its name or its numbers.
    pub fn load(&self, asked: &LoadAsked, taken: &mut Taken) -> Result<Asked, Diagnostic> {
        match asked {
            LoadAsked::Named(text) => {
                let (name, distance) = with_distance(text, "load")?;
                let entry = self.catalog.load(name).map_err(|e| at("load", &e, e.help()))?;
                Ok(Asked::one(self.finished(entry, taken)?, distance))
            }
            LoadAsked::Described(description) => Ok(Asked::one(self.described(description, taken)?, None)),
        }
    }

    /// Any ammunition of a cartridge.
    pub fn any(&self, text: &str, taken: &mut Taken) -> Result<Asked, Diagnostic> {
        let (name, distance) = with_distance(text, "any")?;
        let any = self.catalog.any(name).map_err(|e| at("any", &e, e.help()))?;
        let basis = any.cartridge.basis().to_owned();
        let extreme = |load| Entry { load, basis: basis.clone(), assumed: Vec::new() };
        let lacks_steel = any.lacks_steel();
        let extremes: Vec<Entry> = any.envelope.into_iter().map(extreme).collect();
        let listed = any.listed.iter().copied().filter(|entry| self.is_asked(&entry.load)).count();
        let all: Vec<&Entry> = any.listed.iter().copied().chain(&extremes).collect();
        let (kept, apart) = self.of_construction(&all, lacks_steel);
        let (Some(of), []) = (self.of, kept.as_slice()) else {
            let loads = kept.iter().map(|entry| self.finished(entry, taken)).collect::<Result<Vec<_>, _>>()?;
            let known: Vec<&Arc<Load>> = match extremes.iter().filter(|entry| self.is_asked(&entry.load)).count() {
                0 => kept.iter().map(|entry| &entry.load).collect(),
                _ => extremes.iter().map(|entry| &entry.load).collect(),
            };
            let mut kinds: Vec<Construction> = known.iter().map(|load| load.facts().construction).collect();
            kinds.retain(|kind| !apart.contains(kind));
            kinds.order();
            kinds.dedup();
            let any = AnyAmmunition {
                cartridge: any.cartridge.name().into(),
                listed,
                has_envelope: extremes.iter().any(|entry| self.is_asked(&entry.load)),
                only: self.of,
                apart,
                kinds,
                narrower: None,
            };
            return Ok(Asked { loads, any: Some(any), distance });
        };
        let mut listed: Vec<String> = all.iter().map(|entry| entry.load.facts().construction.to_string()).collect();
        listed.order();
        listed.dedup();
        let message = format!("no {of} ammunition is listed for {}", any.cartridge.name());
        Err(at("of", message, format!("listed: {}; or describe the load", listed.join(", "))))
    }

    /// Whether a load is of the construction that was asked for.
    fn is_asked(&self, load: &Load) -> bool {
        self.of.is_none_or(|of| load.facts().construction == of)
    }

    /// The loads of the construction asked for, else those whose construction suits steel; and the constructions that
    /// are set apart. Where none suits, all are judged.
    fn of_construction<'e>(&self, all: &[&'e Entry], lacks_steel: bool) -> (Vec<&'e Entry>, Vec<Construction>) {
        if self.of.is_some() {
            return (all.iter().copied().filter(|entry| self.is_asked(&entry.load)).collect(), Vec::new());
        }
        let suits = |entry: &&&Entry| self.rules.of_construction(&entry.load) == Verdict::Suits;
        let (kept, apart): (Vec<&Entry>, Vec<&Entry>) = all.iter().partition(suits);
        if kept.is_empty() {
            return (all.to_vec(), Vec::new());
        }
        let mut apart: Vec<Construction> = apart.iter().map(|entry| entry.load.facts().construction).collect();
        // What often comes with jackets or cores of steel does so whether or not such a load is listed; where it is
        // borderline at best as it is, the cautions tell.
        if lacks_steel && apart.is_empty() {
            apart.push(Construction::SteelJacket);
        }
        apart.order();
        apart.dedup();
        (kept, apart)
    }

    /// Every load of the catalogue.
    pub fn whole_catalog(&self, taken: &mut Taken) -> Result<Vec<Asked>, Diagnostic> {
        self.catalog.entries().iter().map(|entry| Ok(Asked::one(self.finished(entry, taken)?, None))).collect()
    }

    /// A load of the catalogue with what the question says of its spread and barrel.
    fn finished(&self, entry: &Entry, taken: &mut Taken) -> Result<Arc<Load>, Diagnostic> {
        let id = entry.load.id();
        let entry = &*self.told_apart(entry, taken)?;
        for text in &entry.assumed {
            taken.note(format!("{id}: {text}"));
        }
        let spread = self.spread;
        let mut load = safe(&as_written(&entry.load, &entry.assumed));
        if let Some(barrel) = spread.barrel {
            let (moved, told) = moved_to_barrel(&load, barrel).map_err(|e| at("barrel", &e, e.help()))?;
            taken.given("barrel", self.units.length(barrel));
            taken.note(format!("{}: {told}", load.id()));
            load = Arc::new(moved);
        }
        let changed = spread.velocity_sd.is_some()
            || spread.bc_sd.is_some()
            || spread.velocity_temperature_slope.is_some()
            || spread.measured_at.is_some();
        if !changed {
            return Ok(load);
        }
        if spread.velocity_sd.is_some() && matches!(load.facts().spread.muzzle, MuzzleSpread::Bound { .. }) {
            let why = format!("`velocity_sd` is not used here: the string of {id} tells the spread");
            return Err(at("velocity_sd", why, "leave it out"));
        }
        let own = load.facts().spread.measured_at;
        if let (Some(own), Some(given), MuzzleSpread::Bound { .. }) =
            (own, spread.measured_at, load.facts().spread.muzzle)
            && given > own
        {
            let own = self.units.temperature(own);
            let why = format!("`measured_at` is not used here: the string of {id} was shot with its powder at {own}");
            return Err(at("measured_at", why, "leave it out"));
        }
        let load = load.with(|facts| {
            if let Some(sd) = spread.velocity_sd {
                facts.spread.muzzle = MuzzleSpread::Sd(sd);
            }
            facts.spread.bc_sd = spread.bc_sd.or(facts.spread.bc_sd);
            facts.spread.temperature_slope = spread.velocity_temperature_slope.or(facts.spread.temperature_slope);
            facts.spread.measured_at = spread.measured_at.or(facts.spread.measured_at);
        });
        load.map(Arc::new).map_err(|e| at(e.field(), &e, e.help()))
    }

    /// A load that takes the place of a listed one says so wherever it is named.
    fn told_apart<'e>(&self, entry: &'e Entry, taken: &mut Taken) -> Result<Cow<'e, Entry>, Diagnostic> {
        let id = entry.load.id();
        if !self.catalog.redefined().iter().any(|redefined| redefined == id) {
            return Ok(Cow::Borrowed(entry));
        }
        taken.note(format!("{id}: the load given under this name, not the one listed before"));
        let load = entry.load.with(|facts| facts.name = format!("{} (given, not the listed {id})", facts.name));
        let load = load.map_err(|e| at(e.field(), &e, e.help()))?;
        Ok(Cow::Owned(Entry { load: Arc::new(load), ..entry.clone() }))
    }

    /// A load by its numbers.
    pub fn described(&self, given: &LoadDescription, taken: &mut Taken) -> Result<Arc<Load>, Diagnostic> {
        if self.spread.barrel.is_some() {
            return Err(at(
                "barrel",
                "`barrel` moves a listed velocity, and this load is described",
                "give the velocity from your own barrel, and leave the barrel out",
            ));
        }
        if let Some(table) = given.drag_table.as_ref().filter(|_| !self.reads_files) {
            let message = format!("`{table}` names a file, and no file is read here");
            return Err(at("drag_table", message, "give a coefficient with its model in place of the table"));
        }
        let built =
            self.description(given).build("described", Some(&Beside::folder(Path::new("")))).map_err(|error| {
                match error {
                    BuildError::Description(error) => {
                        let key = if error.key == "muzzle-velocity" { "velocity" } else { error.key };
                        at(key, &error.message, error.help)
                    }
                    BuildError::File(fault) => fault.field("drag_table"),
                }
            })?;
        built.assumed.iter().for_each(|text| taken.note(text.clone()));
        Ok(safe(&as_written(&Arc::new(known_of_cartridge(built.load)), &built.assumed)))
    }

    /// What a load without a name is called, in the question's units: `168 gr at 2650 ft/s`.
    fn name_of(&self, given: &LoadDescription) -> Option<String> {
        let (bullet, velocity) = (given.bullet.as_ref()?.value(), given.velocity.as_ref()?.value());
        Some(format!("{} at {}", self.units.bullet(bullet), self.units.speed(velocity)))
    }

    fn description(&self, given: &LoadDescription) -> Described {
        let spread = self.spread;
        Described {
            name: given.name.clone().or_else(|| self.name_of(given)),
            cartridge: given.cartridge.clone(),
            firearm: given.firearm,
            construction: given.construction,
            bullet: given.bullet.as_ref().map(|g| Text(g.value())),
            diameter: given.diameter.as_ref().map(|g| Text(g.value())),
            muzzle_velocity: given.velocity.clone(),
            drag: given.drag.map(|model| {
                Model(match model {
                    ModelAsked::G1 => DragModel::G1,
                    ModelAsked::G7 => DragModel::G7,
                })
            }),
            bc: given.bc.as_ref().map(|g| Coefficients::Single(g.value())),
            drag_table: given.drag_table.as_ref().map(Into::into),
            projectiles: given.projectiles,
            velocity_sd: spread.velocity_sd.map(Text),
            bc_sd: spread.bc_sd.map(Text),
            velocity_temperature_slope: spread.velocity_temperature_slope.map(Text),
            measured_at: spread.measured_at.map(Text),
            ..Described::default()
        }
    }
}

/// A load as slow as metres a second written as feet says so wherever it is named.
fn as_written(load: &Arc<Load>, assumed: &[String]) -> Arc<Load> {
    let Some(doubt) = assumed.iter().find(|text| text.contains(AS_WRITTEN)) else { return Arc::clone(load) };
    let named = load.with(|facts| facts.name = format!("{} ({doubt})", facts.name));
    named.map_or_else(|_| Arc::clone(load), Arc::new)
}

/// The load with names that steer no terminal: answers repeat them.
fn safe(load: &Arc<Load>) -> Arc<Load> {
    let facts = load.facts();
    let texts = [load.id(), &facts.name, &facts.source, facts.cartridge.as_deref().unwrap_or_default()];
    if !texts.iter().any(|text| text.contains(is_unsafe_char)) {
        return Arc::clone(load);
    }
    let mut facts = facts.clone();
    facts.name = clean(&facts.name);
    facts.source = clean(&facts.source);
    facts.cartridge = facts.cartridge.map(|cartridge| clean(&cartridge));
    // The facts were checked before, and names have no bounds.
    Load::checked(sanitize(load.id()), facts).map_or_else(|_| Arc::clone(load), Arc::new)
}

/// A name and the distance behind its `@`.
pub(crate) fn with_distance<'t>(text: &'t str, key: &str) -> Result<(&'t str, Option<Length>), Diagnostic> {
    let Some((name, distance)) = text.rsplit_once('@') else { return Ok((text.trim(), None)) };
    let distance = parse::<Length>(distance).map_err(|e| at(key, format!("distance of `{text}`: {e}"), e.help()))?;
    Ok((name.trim(), Some(positive(distance, key)?)))
}

/// A distance above zero and within any flight.
pub(crate) fn positive(distance: Length, key: &str) -> Result<Length, Diagnostic> {
    let yards = unit::YARD.value(distance);
    if yards > 0.0 && yards <= MAX_YD {
        return Ok(distance);
    }
    let text = crate::quantity::show(distance, &unit::YARD, 1);
    let fault = if yards > 0.0 { "is farther than any bullet is followed" } else { "is not above zero" };
    Err(at(key, format!("distance of `{text}` {fault}"), "write a distance such as `100 yd`"))
}

/// The farthest distance that is taken, yd.
const MAX_YD: f64 = 10_000.0;

/// What is known of the spread of the loads, and what is taken where nothing was measured.
pub(crate) fn tell_spread<'l>(
    loads: impl Iterator<Item = &'l Load>,
    spread: &SpreadPart,
    units: Units,
    taken: &mut Taken,
) {
    let (mut told, mut of_air) = (Spreads::default(), false);
    let loads: Vec<&Load> = loads.collect();
    let asked = spread.coverage.unwrap_or_else(usual_coverage).si();
    for load in &loads {
        let own = &load.facts().spread;
        let named = |text: String| if loads.len() == 1 { text } else { format!("{}: {text}", load.id()) };
        let sd = units.small_speed(load.velocity_sd());
        match own.muzzle {
            MuzzleSpread::Assumed => told.velocity = true,
            _ if spread.velocity_sd.is_some() => taken.given("velocity SD", sd),
            MuzzleSpread::Sd(_) => taken.given("velocity SD", named(sd)),
            MuzzleSpread::Bound { factor, string, .. } => {
                // A string that was planned for more is judged at that.
                let own = string.and_then(|string| string.coverage).filter(|own| *own > asked);
                let judged =
                    own.map(|own| format!(", judged at its own coverage of {}", words::percent(unit::ONE.of(own))));
                let judged = judged.unwrap_or_default();
                taken.given("velocity SD", named(format!("{sd}, tolerance factor {factor:.2}{judged}")));
            }
        }
        match own.bc_sd {
            None => told.bc = true,
            Some(share) if spread.bc_sd.is_some() => taken.given("BC SD", words::percent(share)),
            Some(share) => taken.given("BC SD", named(words::percent(share))),
        }
        match (own.temperature_slope, own.measured_at) {
            (Some(_), Some(_)) => taken.given("powder", powder(load, units)),
            (None, None) if load.has_powder() => told.powder = true,
            (None, None) => of_air = true,
            // Half of it was given.
            _ => taken.assume("powder", named(powder(load, units)), format!("velocity at {}", powder(load, units))),
        }
    }
    told.assumed(units, taken);
    if of_air {
        let (what, alike) = ("air gun's velocity", "the same hot or cold");
        taken.assume(what, alike, format!("an {what} is {alike}"));
    }
}

/// What was assumed of any of the loads.
#[derive(Default)]
struct Spreads {
    velocity: bool,
    bc: bool,
    powder: bool,
}

impl Spreads {
    fn assumed(&self, units: Units, taken: &mut Taken) {
        if self.velocity {
            let sd = units.small_speed(crate::load::assumed_velocity_sd());
            taken.assume("velocity SD", sd.clone(), format!("muzzle velocity spread {sd} (SD)"));
        }
        if self.bc {
            let share = words::percent(crate::load::assumed_bc_sd());
            taken.assume("BC SD", share.clone(), format!("BC spread {share} (SD)"));
        }
        if self.powder {
            let at = units.temperature(crate::load::assumed_measured_at());
            let text = format!("{at}, {}", units.slope(crate::load::assumed_velocity_temperature_slope()));
            taken.assume("powder", text.clone(), format!("velocity at {text}"));
        }
    }
}

fn powder(load: &Load, units: Units) -> String {
    format!("{}, {}", units.temperature(load.measured_at()), units.slope(load.temperature_slope()))
}

/// The coverage that is taken where none is asked.
fn usual_coverage() -> Ratio {
    unit::PERCENT.of(99.0)
}

/// The coverage asked, or the usual one.
pub(crate) fn coverage(given: Option<Ratio>, taken: &mut Taken) -> Ratio {
    let coverage = given.unwrap_or_else(usual_coverage);
    let words = words::percent(coverage);
    taken.take("coverage", words.clone(), given.is_some(), &format!("fast and slow shots that {words} keep within"));
    debug_assert!(coverage.si().is_finite());
    coverage
}
