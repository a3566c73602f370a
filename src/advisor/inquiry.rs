//! An inquiry's file as a question: the same keys, the same answer.

use super::error::Faults;
use super::question::{AdviseQuestion, Inline, LoadAsked, OneOrMany, Shot, StandardAir, Target};
use crate::plate::{Condition, Duty, Mount, Steel};
use crate::quantity::{Angle, Given, Length, Pressure, Range, Ratio, Temperature};
use crate::source::{Diagnostic, Keys, SourceText};
use serde::Deserialize;
use toml::Spanned;

/// The schema that an inquiry states.
pub(super) const SCHEMA: &str = "thickset/inquiry/1";

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct File {
    schema: Spanned<String>,
    coverage: Option<Given<Ratio>>,
    #[serde(default)]
    air: AirRecord,
    #[serde(default)]
    load: Vec<Spanned<toml::Table>>,
    #[serde(default)]
    target: Vec<TargetRecord>,
    #[serde(default)]
    shot: Vec<ShotRecord>,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct AirRecord {
    air: Option<StandardAir>,
    altitude: Option<Given<Range<Length>>>,
    temperature: Option<Given<Range<Temperature>>>,
    pressure: Option<Given<Range<Pressure>>>,
    humidity: Option<Given<Range<Ratio>>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct TargetRecord {
    name: String,
    #[serde(default)]
    stand: StandRecord,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct StandRecord {
    face: Option<String>,
    mount: Option<Mount>,
    chain: Option<Given<Length>>,
    duty: Option<Duty>,
    condition: Option<Condition>,
    steel: Option<Steel>,
    tilt: Option<Given<Angle>>,
    oblique: Option<Given<Angle>>,
    slope: Option<Given<Angle>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct ShotRecord {
    load: Option<String>,
    any: Option<String>,
    at: Vec<Given<Length>>,
    #[serde(default)]
    target: Vec<String>,
}

/// The keys of an inquiry's file.
pub(crate) fn keys() -> Vec<Keys> {
    vec![
        Keys::of::<File>(""),
        Keys::of::<AirRecord>("[air]"),
        Keys::of::<TargetRecord>("[[target]]"),
        Keys::of::<StandRecord>("[stand]"),
        Keys::of::<ShotRecord>("[[shot]]"),
    ]
}

/// Reads an inquiry's file as the question it asks.
///
/// # Errors
/// [`Faults`] at their places in the text: what can't be read, a file that asks nothing, a load that no shot names.
pub fn inquiry_question(source: &SourceText) -> Result<AdviseQuestion, Faults> {
    let file: File = source.toml_of("inquiries", SCHEMA, |file: &File| &file.schema)?;
    if file.shot.is_empty() {
        let message = "the inquiry asks nothing: there is no shot";
        return Err(source.fault(file.schema.span(), message).help("add a `[[shot]]` with `load` and `at`").into());
    }
    idle_loads(source, &file)?;
    let mut question = AdviseQuestion {
        coverage: file.coverage,
        air: file.air.air,
        altitude: file.air.altitude,
        temperature: file.air.temperature,
        pressure: file.air.pressure,
        humidity: file.air.humidity,
        targets: file.target.into_iter().map(target).collect(),
        shots: file.shot.into_iter().map(shot).collect(),
        ..AdviseQuestion::default()
    };
    question.loads = own_loads(source, file.load)?;
    Ok(question)
}

/// The records of its loads as a file of loads holds them.
fn own_loads(source: &SourceText, records: Vec<Spanned<toml::Table>>) -> Result<OneOrMany<Inline>, Diagnostic> {
    if records.is_empty() {
        return Ok(OneOrMany::default());
    }
    let mut list = Vec::new();
    for record in records {
        let span = record.span();
        let value = serde_json::to_value(record.into_inner());
        list.push(value.map_err(|e| source.fault(span, e.to_string()))?);
    }
    let mut file = serde_json::Map::new();
    file.insert("schema".into(), crate::catalog::SCHEMA.into());
    file.insert("load".into(), list.into());
    Ok(OneOrMany(vec![Inline::Object(file)]))
}

/// A load that no shot names is likely a slip: what it would have changed was not judged.
fn idle_loads(source: &SourceText, file: &File) -> Result<(), Diagnostic> {
    let text = |record: &toml::Table, key: &str| record.get(key).and_then(|v| v.as_str()).map(str::to_owned);
    for record in &file.load {
        let table = record.get_ref();
        let Some(id) = text(table, "id") else { continue };
        let named = file.shot.iter().any(|shot| {
            let name = |text: &String| text.split('@').next().unwrap_or_default().trim().to_owned();
            shot.load.as_ref().map(name).as_ref() == Some(&id)
        });
        // Any ammunition of a cartridge takes the loads of it along.
        let taken_along = text(table, "cartridge").is_some() && file.shot.iter().any(|shot| shot.any.is_some());
        if !named && !taken_along {
            let message = format!("no shot names the load `{id}`");
            return Err(source.fault(record.span(), message).help("name it in a shot, or leave it out"));
        }
    }
    Ok(())
}

fn target(record: TargetRecord) -> Target {
    let stand = record.stand;
    Target {
        name: record.name,
        face: stand.face,
        outline: None,
        mount: stand.mount,
        chain: stand.chain,
        duty: stand.duty,
        condition: stand.condition,
        steel: stand.steel,
        tilt: stand.tilt,
        oblique: stand.oblique,
        slope: stand.slope,
    }
}

fn shot(record: ShotRecord) -> Shot {
    Shot {
        load: record.load.map(LoadAsked::Named),
        any: record.any,
        at: OneOrMany(record.at),
        target: OneOrMany(record.target),
    }
}

impl Faults {
    /// The faults with their places in the text that the question came from, as far as the value at fault stands there.
    #[must_use]
    pub fn placed_in(self, source: &SourceText) -> Self {
        let place = |mut fault: Diagnostic| {
            // The same text by the name that its reader gave it.
            if let Some(known) = fault.place.as_mut().filter(|place| place.source.text == source.text) {
                known.source = source.clone();
                return fault;
            }
            let own = fault.place.as_ref().is_some_and(|place| place.source.name == source.name);
            let quoted = fault.message.split('`').nth(1).filter(|text| !text.is_empty());
            let start = quoted.and_then(|text| source.text.find(text).map(|start| start..start + text.len()));
            match start {
                Some(span) if !own => Diagnostic { place: source.fault(span, "").place, ..fault },
                _ => fault,
            }
        };
        Self::from(self.into_list().into_iter().map(place).collect::<Vec<_>>())
    }
}
