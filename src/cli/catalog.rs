//! `thickset catalog`: what is built in or given, each entry with its source.

use super::context;
use super::options::{OutputArgs, RuleArgs};
use super::{Answer, Status};
use crate::catalog::Entry;
use crate::load::{Class, Construction};
use crate::report::catalog::Source;
use crate::report::{self, Circumstances};
use crate::rules::Rule;
use crate::source::Diagnostic;
use clap::{Args, ValueEnum};
use serde_json::{Value, json};

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum What {
    /// The loads that `--load` names
    Loads,
    /// The ladder of plates
    Plates,
    /// The rules, and a range's own where given
    Rules,
    /// Where the numbers come from
    Sources,
}

/// Loads, plates, rules and sources, built in or given
#[derive(Debug, Args)]
pub(super) struct Arguments {
    /// What to list
    pub what: What,
    /// Only entries with all of these words in name, cartridge, id or source
    pub words: Vec<String>,
    /// Only loads, and rules that speak of them, of a class
    #[arg(long, value_name = "CLASS")]
    pub class: Option<Class>,
    /// Only loads of a construction
    #[arg(long = "of", value_name = "KIND")]
    pub of: Option<Construction>,
    /// A file of loads of your own
    #[arg(long, value_name = "FILE")]
    pub load_file: Vec<std::path::PathBuf>,
    #[command(flatten)]
    pub rules: RuleArgs,
    #[command(flatten)]
    pub output: OutputArgs,
}

pub(super) fn run(args: &Arguments) -> Result<Answer, Diagnostic> {
    let catalog = context::catalog_of(&args.load_file)?;
    let rules = context::rules(&args.rules)?;
    let ladder = context::ladder(&args.rules)?;
    let units = args.output.units;
    let entries: Vec<&Entry> = catalog.entries().iter().filter(|e| is_load(e, args)).collect();
    let listed: Vec<&Rule> = rules.rules().iter().filter(|r| is_rule(r, args)).collect();
    let sources = sources(&entries, &listed, &ladder);
    let page = || match args.what {
        What::Loads => report::catalog::loads(&entries, units),
        What::Plates => report::catalog::plates(&ladder, units),
        What::Rules => report::catalog::rules(&listed, units),
        What::Sources => report::catalog::sources(&sources),
    };
    let document = || {
        let (key, rows): (&str, Value) = match args.what {
            What::Loads => ("loads", entries.iter().map(|e| context::load_json(&e.load)).collect()),
            What::Plates => ("plates", report::catalog::plates_json(&ladder)),
            What::Rules => ("listed", listed.iter().map(|r| report::catalog::rule_json(r)).collect()),
            What::Sources => {
                let rows = sources.iter().map(|s| json!({"basis": s.basis, "source": s.text, "of": s.of}));
                ("sources", rows.collect())
            }
        };
        let inputs = json!({"what": key, "words": args.words});
        let circumstances = Circumstances { inputs, assumed: Vec::new(), cautions: Vec::new() };
        Ok(report::catalog::document(&circumstances, &rules, key, rows))
    };
    Answer::new(Status::Suits, args.output.format, page, document)
}

fn has_words(words: &[String], texts: &[&str]) -> bool {
    let texts: Vec<String> = texts.iter().map(|t| t.to_lowercase()).collect();
    words.iter().all(|word| texts.iter().any(|text| text.contains(&word.to_lowercase())))
}

fn is_load(entry: &Entry, args: &Arguments) -> bool {
    let facts = entry.load.facts();
    let texts = [entry.load.id(), &facts.name, facts.cartridge.as_deref().unwrap_or(""), &facts.source];
    args.class.is_none_or(|class| entry.load.class() == class)
        && args.of.is_none_or(|of| facts.construction == of)
        && has_words(&args.words, &texts)
}

fn is_rule(rule: &Rule, args: &Arguments) -> bool {
    let of_class = args.class.is_none_or(|class| rule.filter.class.is_empty() || rule.filter.class.contains(&class));
    of_class && has_words(&args.words, &[&rule.id, &rule.why, &rule.source])
}

/// Every source once, with what rests on it.
fn sources(entries: &[&Entry], rules: &[&Rule], ladder: &crate::plate::Ladder) -> Vec<Source> {
    let mut sources: Vec<Source> = Vec::new();
    let mut rest = |text: &str, basis: &str, of: &str| match sources.iter_mut().find(|s| s.text == text) {
        Some(source) => source.of.push(of.into()),
        None => sources.push(Source { text: text.into(), basis: basis.into(), of: vec![of.into()] }),
    };
    for rule in rules {
        rest(&rule.source, &rule.basis.to_string(), &rule.id);
    }
    for (plate, note) in ladder.plates().iter().zip(ladder.notes()) {
        rest(&note.source, &note.basis, &plate.label);
    }
    for entry in entries {
        rest(&entry.load.facts().source, &entry.basis, entry.load.id());
    }
    for model in ["G1", "G7"] {
        rest(
            "standard projectile drag function (US Army Ballistic Research Laboratory), written down from memory",
            "from memory",
            &format!("{model} drag table"),
        );
    }
    sources
}
