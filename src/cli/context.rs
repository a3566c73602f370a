//! From options to the things of the domain, with every default that is taken written down.

use super::notes::Notes;
use super::options::{
    AirArgs, CaseArgs, DescribedArgs, LoadArgs, Model as ModelArg, RuleArgs, SpreadArgs, StandardAir, TargetArgs,
};
use crate::air::{Air, Standard, Weather};
use crate::catalog::{BuildError, Catalog, Coefficients, Described, Entry, Model, moved_to_barrel};
use crate::drag::DragModel;
use crate::load::{Load, MuzzleSpread};
use crate::plate::{Condition, Duty, Face, Ladder, Mount, Outline, Plate, Steel};
use crate::quantity::{Angle, Length, Measure, Ratio, Text, parse, unit};
use crate::report::{Units, words};
use crate::rules::{RuleSet, Setup};
use crate::source::{Diagnostic, SourceText};
use crate::spread::{FlightConditions, Flights};
use serde_json::{Value, json};
use std::path::PathBuf;
use std::sync::Arc;

/// A load that was asked for, with a distance of its own where it has one.
#[derive(Debug, Clone)]
pub(super) struct Asked {
    pub load: Arc<Load>,
    pub distance: Option<Length>,
}

pub(super) fn rules(args: &RuleArgs) -> Result<RuleSet, Diagnostic> {
    let mut rules = RuleSet::house()?;
    for path in &args.range_rules {
        rules = rules.with_overlay(&SourceText::read(path)?)?;
    }
    Ok(rules)
}

pub(super) fn ladder(args: &RuleArgs) -> Result<Ladder, Diagnostic> {
    match &args.plate_file {
        Some(path) => Ladder::read(&SourceText::read(path)?),
        None => Ladder::builtin(),
    }
}

/// The loads built in, and those of these files.
pub(super) fn catalog_of(files: &[PathBuf]) -> Result<Catalog, Diagnostic> {
    let mut catalog = Catalog::builtin()?;
    for path in files {
        catalog.add_file(path)?;
    }
    Ok(catalog)
}

/// The setup that the options describe. `condition` is what is taken where none was said.
fn setup(args: &TargetArgs, condition: Condition, assumed: &mut Notes) -> Result<Setup, Diagnostic> {
    let face = face(args, assumed)?;
    let mount = args.mount.unwrap_or_else(|| {
        assumed.note("free-hung from open hooks");
        Mount::OpenHook
    });
    let chain =
        mount.chain(args.chain).map_err(|e| Diagnostic::plain(e.to_string()).field("--chain").help(e.help()))?;
    mount.chain_assumed(chain).into_iter().for_each(|text| assumed.note(text));
    let duty = args.duty.unwrap_or_else(|| {
        assumed.note("private use");
        Duty::Private
    });
    let steel = args.steel.unwrap_or_else(|| {
        assumed.note("AR500 steel");
        Steel::Ar500
    });
    let condition = args.condition.unwrap_or_else(|| {
        assumed.note(if condition == Condition::Sound {
            "a sound plate"
        } else {
            "the plate's condition is not known"
        });
        condition
    });
    if args.tilt.is_none() {
        assumed.note("face hung vertical");
    }
    let oblique = args.oblique.unwrap_or_else(|| {
        assumed.note("face square to the shooter");
        unit::DEGREE.of(0.0)
    });
    bounded_angle("--tilt", args.tilt, 60.0)?;
    bounded_angle("--oblique", args.oblique, 89.0)?;
    Ok(Setup { face, mount, chain, duty, condition, steel, tilt: args.tilt, oblique })
}

fn bounded_angle(field: &str, angle: Option<Angle>, most: f64) -> Result<(), Diagnostic> {
    match angle {
        Some(angle) if !(unit::DEGREE.value(angle).abs() <= most + 1e-9) => {
            let message = format!("{field} of `{}` is beyond {most} deg", words::degrees(angle));
            Err(Diagnostic::plain(message).field(field).help(format!("write an angle from -{most} deg to {most} deg")))
        }
        _ => Ok(()),
    }
}

fn face(args: &TargetArgs, assumed: &mut Notes) -> Result<Face, Diagnostic> {
    if let Some(path) = &args.outline {
        return Outline::read(path).map(|o| Face::Outline(Arc::new(o))).map_err(|e| e.field("--outline"));
    }
    let text = args.face.clone().unwrap_or_else(|| {
        assumed.note("a 12 in round face");
        "12in".into()
    });
    text.parse::<Face>().map_err(|e| Diagnostic::plain(e.to_string()).field("--face").help(e.help()))
}

pub(super) fn weather(args: &AirArgs, assumed: &mut Notes) -> Result<Weather, Diagnostic> {
    let standard = match args.air {
        Some(StandardAir::Asm) => Standard::ArmyStandardMetro,
        Some(StandardAir::Icao) | None => Standard::Icao,
    };
    let weather = Weather::new(standard, args.altitude, args.temperature, args.pressure, args.humidity)
        .map_err(|e| Diagnostic::plain(e.to_string()).field(format!("--{}", e.field())).help(e.help()))?;
    if weather.is_unspecified() && args.air.is_none() {
        assumed.note(weather.thin().to_string());
    }
    Ok(weather)
}

/// How a plate stands, and what a load is flown in to it.
pub(super) struct Surroundings {
    pub setup: Setup,
    pub conditions: FlightConditions,
    /// Whether nothing was said of the air.
    pub air_unspecified: bool,
}

/// The surroundings that the options describe. `condition` is what is taken of the plate where none was said.
pub(super) fn surroundings(
    args: &CaseArgs,
    condition: Condition,
    assumed: &mut Notes,
) -> Result<Surroundings, Diagnostic> {
    let setup = setup(&args.target, condition, assumed)?;
    let weather = weather(&args.air, assumed)?;
    let conditions = conditions(&weather, args.target.slope, &args.loads.spread, assumed)?;
    Ok(Surroundings { setup, conditions, air_unspecified: weather.is_unspecified() })
}

pub(super) fn conditions(
    weather: &Weather,
    slope: Option<Angle>,
    spread: &SpreadArgs,
    assumed: &mut Notes,
) -> Result<FlightConditions, Diagnostic> {
    let slope = slope.unwrap_or_else(|| {
        assumed.note("level ground");
        unit::DEGREE.of(0.0)
    });
    let coverage = coverage(spread.coverage, assumed);
    FlightConditions::new(weather, slope, coverage)
        .map_err(|e| Diagnostic::plain(e.to_string()).field("--coverage").help(e.help()))
}

pub(super) fn coverage(given: Option<Ratio>, assumed: &mut Notes) -> Ratio {
    given.unwrap_or_else(|| {
        assumed.note("fast and slow shots that 99 % keep within");
        unit::PERCENT.of(99.0)
    })
}

/// Every load that was asked for, by name, by cartridge, or described; none is a fault.
pub(super) fn loads(args: &LoadArgs, assumed: &mut Notes) -> Result<Vec<Asked>, Diagnostic> {
    let catalog = catalog_of(&args.load_file)?;
    let mut asked = Vec::new();
    for text in &args.load {
        let (name, distance) = with_distance(text, "--load")?;
        let entry = catalog.load(name).map_err(|e| Diagnostic::plain(e.to_string()).field("--load").help(e.help()))?;
        asked.push(Asked { load: finished(entry, &args.spread, assumed)?, distance });
    }
    for text in &args.any {
        let (name, distance) = with_distance(text, "--any")?;
        let family =
            catalog.family(name).map_err(|e| Diagnostic::plain(e.to_string()).field("--any").help(e.help()))?;
        assumed.note(format!("any ammunition of {name} is the catalogue's {} loads of it", family.len()));
        for entry in family {
            asked.push(Asked { load: finished(entry, &args.spread, assumed)?, distance });
        }
    }
    refuse_half_described(args)?;
    if let Some(load) = described(&args.described, &args.spread, assumed)? {
        asked.push(Asked { load, distance: None });
    }
    Ok(asked)
}

/// As [`loads`], and at least one.
pub(super) fn some_loads(args: &LoadArgs, assumed: &mut Notes) -> Result<Vec<Asked>, Diagnostic> {
    let asked = loads(args, assumed)?;
    if asked.is_empty() {
        return Err(Diagnostic::plain("no load was named").field("--load").help(
            "name one (`--load 308-168-match`; `thickset catalog loads` lists them), or describe it with \
             `--bullet 168gr --velocity 2650fps --bc 0.223 --drag G7 --construction jacketed-lead`",
        ));
    }
    Ok(asked)
}

/// As [`some_loads`], and one only.
pub(super) fn one_load(args: &LoadArgs, assumed: &mut Notes) -> Result<Asked, Diagnostic> {
    let mut asked = some_loads(args, assumed)?;
    if asked.len() > 1 {
        return Err(Diagnostic::plain("more than one load was named")
            .field("--load")
            .help("name one load here; `advise` and `standoff` take several"));
    }
    asked.pop().ok_or_else(|| Diagnostic::plain("no load was named").field("--load"))
}

/// Every load of the catalogue, the user's own included.
pub(super) fn whole_catalog(args: &LoadArgs, assumed: &mut Notes) -> Result<Vec<Arc<Load>>, Diagnostic> {
    let catalog = catalog_of(&args.load_file)?;
    catalog.entries().iter().map(|entry| finished(entry, &args.spread, assumed)).collect()
}

fn with_distance<'t>(text: &'t str, field: &str) -> Result<(&'t str, Option<Length>), Diagnostic> {
    let Some((name, distance)) = text.rsplit_once('@') else { return Ok((text, None)) };
    let distance = parse::<Length>(distance)
        .map_err(|e| Diagnostic::plain(format!("distance of `{text}`: {e}")).field(field).help(e.help()))?;
    Ok((name, Some(positive(distance, field)?)))
}

/// A distance above zero.
pub(super) fn positive(distance: Length, field: &str) -> Result<Length, Diagnostic> {
    if distance.si() > 0.0 {
        return Ok(distance);
    }
    let message = format!("distance of `{}` is not above zero", crate::quantity::show(distance, &unit::YARD, 1));
    Err(Diagnostic::plain(message).field(field).help("write a distance such as `100 yd`"))
}

/// A catalogue load with what the options say of its spread and barrel.
fn finished(entry: &Entry, args: &SpreadArgs, assumed: &mut Notes) -> Result<Arc<Load>, Diagnostic> {
    let mut load = Load::clone(&entry.load);
    for text in &entry.assumed {
        assumed.note(format!("{}: {text}", load.id()));
    }
    if let Some(barrel) = args.barrel {
        let (moved, told) = moved_to_barrel(&load, barrel)
            .map_err(|e| Diagnostic::plain(e.to_string()).field("--barrel").help(e.help()))?;
        assumed.note(format!("{}: {told}", load.id()));
        load = moved;
    }
    let load = load
        .with(|facts| {
            if let Some(sd) = args.velocity_sd {
                facts.spread.muzzle = MuzzleSpread::Sd(sd);
            }
            facts.spread.bc_sd = args.bc_sd.or(facts.spread.bc_sd);
            facts.spread.temperature_slope = args.velocity_temperature_slope.or(facts.spread.temperature_slope);
            facts.spread.measured_at = args.measured_at.or(facts.spread.measured_at);
        })
        .map_err(|e| Diagnostic::plain(e.to_string()).field(format!("--{}", e.field())).help(e.help()))?;
    note_spread(&load, assumed);
    Ok(Arc::new(load))
}

/// What is taken of a load's spread where nothing was measured.
pub(super) fn note_spread(load: &Load, assumed: &mut Notes) {
    let spread = &load.facts().spread;
    if spread.muzzle == MuzzleSpread::Assumed {
        assumed.note("muzzle velocity spread 30 ft/s (SD)");
    }
    if spread.bc_sd.is_none() {
        assumed.note("BC spread 3 % (SD)");
    }
    if spread.temperature_slope.is_none() || spread.measured_at.is_none() {
        assumed.note("velocity at 59 °F, 1 ft/s per °F");
    }
}

/// A named load is not changed by options: half a description beside it is likely meant so.
fn refuse_half_described(args: &LoadArgs) -> Result<(), Diagnostic> {
    let (named, told) = (!args.load.is_empty() || !args.any.is_empty(), &args.described);
    let half = [(told.velocity.is_some(), "--velocity"), (told.bc.is_some(), "--bc")];
    let half = half.into_iter().find_map(|(given, option)| given.then_some(option));
    match half {
        Some(option) if named && told.bullet.is_none() => {
            Err(Diagnostic::plain(format!("`{option}` does not change a load that is named")).field(option).help(
                "describe the load whole, with `--bullet`, `--velocity`, `--bc` and `--drag`, or write it in a file \
                 for `--load-file`",
            ))
        }
        _ => Ok(()),
    }
}

/// The load that the options describe by its numbers, where they do.
pub(super) fn described(
    args: &DescribedArgs,
    spread: &SpreadArgs,
    assumed: &mut Notes,
) -> Result<Option<Arc<Load>>, Diagnostic> {
    let said = args.bullet.is_some() || args.velocity.is_some() || args.bc.is_some() || args.drag_table.is_some();
    if !said {
        return match stray(args) {
            Some(option) => Err(Diagnostic::plain(format!("`{option}` describes a load, and no load is described"))
                .field(option)
                .help("add `--bullet`, `--velocity`, `--bc` and `--drag`, or leave it out")),
            None => Ok(None),
        };
    }
    let description = Described {
        firearm: args.firearm,
        construction: args.construction,
        bullet: args.bullet.map(Text),
        diameter: args.diameter.map(Text),
        muzzle_velocity: args.velocity.map(Text),
        barrel: None,
        drag: args.drag.map(|m| {
            Model(match m {
                ModelArg::G1 => DragModel::G1,
                ModelArg::G7 => DragModel::G7,
            })
        }),
        bc: args.bc.map(Coefficients::Single),
        drag_table: args.drag_table.clone(),
        projectiles: args.projectiles,
        velocity_sd: spread.velocity_sd.map(Text),
        bc_sd: spread.bc_sd.map(Text),
        velocity_temperature_slope: spread.velocity_temperature_slope.map(Text),
        measured_at: spread.measured_at.map(Text),
        ..Described::default()
    };
    if spread.barrel.is_some() {
        return Err(Diagnostic::plain("`--barrel` moves a catalogue velocity, and this load is described")
            .field("--barrel")
            .help("give the velocity from your own barrel, and leave `--barrel` out"));
    }
    let built = description.build("described", None).map_err(|error| match error {
        BuildError::Description(error) => error.at_option(),
        BuildError::File(diagnostic) => diagnostic.field("--drag-table"),
    })?;
    built.assumed.iter().for_each(|text| assumed.note(text.clone()));
    note_spread(&built.load, assumed);
    Ok(Some(Arc::new(built.load)))
}

/// An option of a described load that was given without one.
fn stray(args: &DescribedArgs) -> Option<&'static str> {
    [
        (args.drag.is_some(), "--drag"),
        (args.diameter.is_some(), "--diameter"),
        (args.construction.is_some(), "--construction"),
        (args.firearm.is_some(), "--firearm"),
        (args.projectiles.is_some(), "--projectiles"),
    ]
    .into_iter()
    .find_map(|(given, option)| given.then_some(option))
}

/// The weather that the answer is tried again in, where the user said nothing of the air.
pub(super) fn high_and_hot() -> Result<Weather, Diagnostic> {
    let single = |text: &str| crate::quantity::Range::parse(text).ok();
    let hot = crate::quantity::Range::parse("100 F").ok();
    Weather::new(Standard::Icao, single("6000 ft"), hot, None, None)
        .map_err(|e| Diagnostic::plain(e.to_string()).help(e.help()))
}

/// A load as understood, in SI.
pub(super) fn load_json(load: &Load) -> Value {
    let facts = load.facts();
    json!({
        "id": load.id(),
        "name": facts.name,
        "cartridge": facts.cartridge,
        "firearm": facts.firearm,
        "class": load.class(),
        "construction": facts.construction,
        "bullet_kg": facts.bullet.si(),
        "diameter_m": facts.diameter.map(Measure::si),
        "projectiles": facts.projectiles,
        "muzzle_velocity_m_s": facts.muzzle_velocity.si(),
        "velocity_sd_m_s": load.velocity_sd().si(),
        "tolerance_factor": match facts.spread.muzzle {
            MuzzleSpread::Bound { factor, .. } => Some(factor),
            MuzzleSpread::Assumed | MuzzleSpread::Sd(_) => None,
        },
        "slow_margin_m_s": facts.spread.slow_margin.si(),
        "bc_sd": load.bc_sd().si(),
        "velocity_temperature_slope_m_s_k": load.temperature_slope().si(),
        "measured_at_k": load.measured_at().si(),
        "drag": facts.drag.model().to_string(),
        "bc_kg_m2": facts.drag.bands().iter().map(|b| json!({"above_m_s": b.above.si(), "bc": b.bc.si()})).collect::<Vec<_>>(),
        "source": facts.source,
    })
}

/// A setup as understood, in SI and degrees.
pub(super) fn setup_json(setup: &Setup) -> Value {
    json!({
        "face": setup.face.to_string(),
        "mount": setup.mount,
        "chain_m": setup.chain.map(Measure::si),
        "duty": setup.duty,
        "condition": setup.condition,
        "steel": setup.steel,
        "tilt_deg": setup.tilt.map(|a| unit::DEGREE.value(a)),
        "oblique_deg": unit::DEGREE.value(setup.oblique),
    })
}

/// Air at the firing point as it is flown in.
fn air_json(air: &Air) -> Value {
    json!({
        "density_kg_m3": air.density().si(),
        "sound_speed_m_s": air.sound_speed().si(),
        "temperature_k": air.temperature().si(),
        "pressure_pa": air.pressure().si(),
    })
}

/// FlightConditions as understood.
pub(super) fn conditions_json(conditions: &FlightConditions) -> Value {
    json!({
        "thin_air": conditions.thin().to_string(),
        "dense_air": conditions.dense().to_string(),
        "thin": air_json(conditions.thin()),
        "dense": air_json(conditions.dense()),
        "slope_deg": unit::DEGREE.value(conditions.slope()),
        "coverage": conditions.coverage().si(),
    })
}

/// A flight fault as a diagnostic that names the option.
pub(super) fn flight_fault(error: &crate::flight::FlightError, load: &Load) -> Diagnostic {
    Diagnostic::plain(format!("{}: {error}", load.facts().name))
        .field(format!("--{}", error.field()))
        .help(error.help())
}

/// The plate that was named.
pub(super) fn plate(text: Option<&str>, ladder: &Ladder) -> Result<Plate, Diagnostic> {
    let text = text.ok_or_else(|| {
        Diagnostic::plain("no plate was said").field("--plate").help("say its thickness: `--plate 3/8in`")
    })?;
    ladder.named(text).map_err(|e| Diagnostic::plain(e.to_string()).field("--plate").help(e.help()))
}

/// The plates that were named; every one of the ladder where none was.
pub(super) fn plates(texts: &[String], ladder: &Ladder) -> Result<Vec<Plate>, Diagnostic> {
    if texts.is_empty() {
        return Ok(ladder.plates().to_vec());
    }
    texts.iter().map(|text| plate(Some(text), ladder)).collect()
}

/// The same slope and coverage, high and hot.
pub(super) fn there(here: &FlightConditions) -> Result<FlightConditions, Diagnostic> {
    FlightConditions::new(&high_and_hot()?, here.slope(), here.coverage())
        .map_err(|e| Diagnostic::plain(e.to_string()).field("--coverage").help(e.help()))
}

/// How far a miss of the farthest-carrying load can go, as a caution.
pub(super) fn carry_caution(loads: &[&Load], conditions: &FlightConditions, units: Units) -> Option<String> {
    let carries = loads.iter().filter_map(|load| Flights::new(load, conditions).ok()?.carry());
    let farthest = carries.map(|c| c.keep_clear).reduce(|a, b| if a > b { a } else { b })?;
    Some(format!("A miss can carry {} or more: mind what lies behind the backstop.", units.distance_up(farthest)))
}
