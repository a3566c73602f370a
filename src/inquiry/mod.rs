//! A customer's inquiry in a file: loads, distances and targets, for one thickness of plate.

pub(crate) mod record;

use crate::air::Weather;
use crate::catalog::{Beside, Catalog, Described, Resolver};
use crate::load::Load;
use crate::plate::Condition;
use crate::quantity::{Angle, Length, Measure, Ratio, Text};
use crate::rules::Setup;
use crate::source::{Diagnostic, SourceText};
use record::{AirRecord, StandRecord};
use serde::Deserialize;
use std::path::Path;
use std::sync::Arc;
use toml::Spanned;

/// The schema an inquiry states.
pub const SCHEMA: &str = "thickset/inquiry/1";
/// The most lines (load × distance × target) of an inquiry.
pub const MAX_LINES: usize = 10_000;

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct File {
    schema: Spanned<String>,
    coverage: Option<Text<Ratio>>,
    air: Option<Spanned<AirRecord>>,
    #[serde(default)]
    load: Vec<Spanned<Described>>,
    #[serde(default)]
    target: Vec<Spanned<TargetRecord>>,
    #[serde(default)]
    shot: Vec<Spanned<ShotRecord>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct TargetRecord {
    name: String,
    #[serde(default)]
    stand: StandRecord,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct ShotRecord {
    load: Option<Spanned<String>>,
    any: Option<Spanned<String>>,
    at: Vec<Spanned<Text<Length>>>,
    #[serde(default)]
    target: Vec<Spanned<String>>,
}

/// A target of an inquiry.
#[derive(Debug, Clone)]
pub struct Target {
    /// What it is called.
    pub name: String,
    /// How it stands.
    pub setup: Setup,
    /// The slope to it, positive uphill.
    pub slope: Angle,
}

/// A load at a distance on a target.
#[derive(Debug, Clone)]
pub struct Line {
    /// The load.
    pub load: Arc<Load>,
    /// The distance.
    pub distance: Length,
    /// Index of the target.
    pub target: usize,
}

/// An inquiry as read.
#[derive(Debug, Clone)]
pub struct Inquiry {
    /// The air; `None` where the file does not say.
    pub weather: Option<Weather>,
    /// The coverage of fast and slow shot.
    pub coverage: Option<Ratio>,
    /// The targets; one without a name where the file has none.
    pub targets: Vec<Target>,
    /// What is asked.
    pub lines: Vec<Line>,
    /// What was assumed.
    pub assumed: Vec<String>,
}

impl Inquiry {
    /// Reads an inquiry. Its own loads are added to the catalogue, a drag table's path is looked for in `folder`.
    ///
    /// # Errors
    /// A [`Diagnostic`] at the place of the fault.
    pub fn read(source: &SourceText, folder: Option<&Path>, mut catalog: Catalog) -> Result<Self, Diagnostic> {
        let file: File = source.toml_of("inquiries", SCHEMA, |file: &File| &file.schema)?;
        if file.shot.is_empty() {
            let help = "add a `[[shot]]` with `load` and `at`";
            return Err(source.fault(file.schema.span(), "the inquiry asks nothing: there is no shot").help(help));
        }
        let weather = match &file.air {
            Some(air) => Some(air.get_ref().weather(source, &air.span())?),
            None => None,
        };
        let beside = folder.map(Beside::folder);
        catalog.add_records(source, beside.as_ref().map(|beside| beside as &dyn Resolver), file.load)?;
        let mut assumed: Vec<String> = Vec::new();
        let targets = targets(source, &file.target, file.schema.span(), &mut assumed)?;
        let mut lines = Vec::new();
        for shot in &file.shot {
            shot_lines(source, shot, &catalog, &targets, &mut lines, &mut assumed)?;
            if lines.len() > MAX_LINES {
                let help = format!("an inquiry may ask {MAX_LINES} at most");
                return Err(source.fault(shot.span(), "the inquiry asks too much").help(help));
            }
        }
        Ok(Self { weather, coverage: file.coverage.map(|t| t.0), targets, lines, assumed })
    }
}

fn targets(
    source: &SourceText,
    records: &[Spanned<TargetRecord>],
    schema: std::ops::Range<usize>,
    assumed: &mut Vec<String>,
) -> Result<Vec<Target>, Diagnostic> {
    let nameless = TargetRecord { name: String::new(), stand: StandRecord::default() };
    let alone = [Spanned::new(schema, nameless)];
    let records = if records.is_empty() { &alone[..] } else { records };
    let mut targets: Vec<Target> = Vec::new();
    for record in records {
        let stand = record.get_ref().stand.stand(Condition::Sound, source, &record.span())?;
        for text in stand.assumed {
            if !assumed.iter().any(|a| a == text) {
                assumed.push(text.into());
            }
        }
        let name = record.get_ref().name.clone();
        if targets.iter().any(|t| t.name == name) {
            return Err(source
                .fault(record.span(), format!("target `{name}` stands twice"))
                .help("give it a name of its own"));
        }
        targets.push(Target { name, setup: stand.setup, slope: stand.slope });
    }
    Ok(targets)
}

fn shot_lines(
    source: &SourceText,
    shot: &Spanned<ShotRecord>,
    catalog: &Catalog,
    targets: &[Target],
    lines: &mut Vec<Line>,
    assumed: &mut Vec<String>,
) -> Result<(), Diagnostic> {
    let record = shot.get_ref();
    let entries = match (&record.load, &record.any) {
        (Some(name), None) => catalog
            .load(name.get_ref())
            .map(|entry| vec![entry])
            .map_err(|e| source.fault(name.span(), e.to_string()).help(e.help()))?,
        (None, Some(name)) => {
            catalog.family(name.get_ref()).map_err(|e| source.fault(name.span(), e.to_string()).help(e.help()))?
        }
        _ => {
            let help = "write `load = \"308-168-match\"` or `any = \".308 Win\"`";
            return Err(source.fault(shot.span(), "the shot needs one of `load` and `any`").help(help));
        }
    };
    if record.at.is_empty() {
        return Err(source.fault(shot.span(), "the shot has no distance").help("write `at = [\"100 yd\"]`"));
    }
    let chosen = chosen(source, record, targets)?;
    for entry in entries {
        assumed.extend(entry.assumed.iter().map(|text| format!("{}: {text}", entry.load.id())));
        for at in &record.at {
            let distance = at.get_ref().0;
            if distance.si() <= 0.0 {
                return Err(source.fault(at.span(), "the distance is not above zero").help("write `100 yd`"));
            }
            lines.extend(chosen.iter().map(|&target| Line { load: Arc::clone(&entry.load), distance, target }));
        }
    }
    Ok(())
}

/// The targets a shot names; every target where it names none.
fn chosen(source: &SourceText, record: &ShotRecord, targets: &[Target]) -> Result<Vec<usize>, Diagnostic> {
    if record.target.is_empty() {
        return Ok((0..targets.len()).collect());
    }
    let find = |name: &Spanned<String>| {
        targets.iter().position(|t| t.name == *name.get_ref()).ok_or_else(|| {
            let names: Vec<String> = targets.iter().map(|t| format!("`{}`", t.name)).collect();
            source
                .fault(name.span(), format!("there is no target `{}`", name.get_ref()))
                .help(format!("there are: {}", names.join(", ")))
        })
    };
    record.target.iter().map(find).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Result<Inquiry, Diagnostic> {
        let source = SourceText::new("inquiry.toml", format!("schema = \"{SCHEMA}\"\n{text}"));
        Inquiry::read(&source, None, Catalog::builtin()?)
    }

    #[test]
    fn every_load_is_asked_at_every_distance_on_every_target() {
        let inquiry = read(
            "[[target]]\nname = \"a\"\nstand = { face = \"8in\" }\n[[target]]\nname = \"b\"\n[[shot]]\nload = \"308-168-match\"\nat = [\"100 yd\", \"300 yd\"]\n[[shot]]\nany = \".45 Auto\"\nat = [\"10 yd\"]\ntarget = [\"b\"]\n",
        )
        .unwrap();
        let of_any = Catalog::builtin().unwrap().family(".45 Auto").unwrap().len();
        assert_eq!(inquiry.lines.len(), 2 * 2 + of_any);
        assert!(inquiry.assumed.iter().any(|a| a.contains("open hooks")));
    }

    #[test]
    fn a_chain_is_as_long_as_said_and_else_the_liveliest_which_is_told() {
        let hung = |stand: &str| {
            read(&format!(
                "[[target]]\nname = \"a\"\nstand = {{ {stand} }}\n[[shot]]\nload = \"308-168-match\"\nat = [\"100 yd\"]\n"
            ))
            .unwrap()
        };
        let told = |inquiry: &Inquiry| inquiry.assumed.iter().any(|a| a.contains("chain"));
        let said = hung("mount = \"chain\", chain = \"6 in\"");
        assert!(said.targets[0].setup.chain.is_some() && !told(&said));
        let unsaid = hung("mount = \"chain\"");
        assert!(unsaid.targets[0].setup.chain.is_none() && told(&unsaid));
    }

    #[test]
    fn a_fault_is_shown_at_its_place() {
        for (text, line) in [
            ("[[shot]]\nload = \"308-168-mach\"\nat = [\"100 yd\"]\n", 3),
            ("[[shot]]\nload = \"308-168-match\"\nat = [\"100\"]\n", 4),
            ("[[shot]]\nload = \"308-168-match\"\nat = [\"-1 yd\"]\n", 4),
            ("[[shot]]\nload = \"308-168-match\"\nat = [\"100 yd\"]\ntarget = [\"x\"]\n", 5),
            ("[air]\ntemperature = \"900 F\"\n[[shot]]\nload = \"308-168-match\"\nat = [\"100 yd\"]\n", 3),
            (
                "[[target]]\nname = \"a\"\n[target.stand]\nmount = \"welded\"\nchain = \"6 in\"\n[[shot]]\nload = \"308-168-match\"\nat = [\"100 yd\"]\n",
                6,
            ),
            (
                "[[target]]\nname = \"a\"\n[target.stand]\nmount = \"chain\"\nchain = \"6 yd 2\"\n[[shot]]\nload = \"308-168-match\"\nat = [\"100 yd\"]\n",
                6,
            ),
            ("colour = 1\n", 2),
            ("[[shot]]\nat = [\"100 yd\"]\n", 2),
        ] {
            let fault = read(text).unwrap_err();
            assert_eq!(fault.position().map(|p| p.0), Some(line), "{text}: {fault}");
            assert!(fault.help.is_some() || text.starts_with("colour"), "{fault}");
        }
        assert!(read("").is_err());
    }
}
