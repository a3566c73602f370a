//! `advise --ask`: one question at a time, for who does not know the options. It makes the words of a command, which is
//! then read as if it had been typed: nothing is asked here that the options do not ask.

use crate::catalog::Catalog;
use crate::plate::{Duty, Face, Mount};
use crate::quantity::{Angle, Given, Length, Range, Temperature};
use crate::source::Diagnostic;
use inquire::autocompletion::Replacement;
use inquire::validator::{ErrorMessage, Validation};
use inquire::{Autocomplete, CustomUserError, InquireError, Select, Text};
use std::io::IsTerminal;
use std::sync::Arc;

/// The most names that are proposed at a time.
const PROPOSED: usize = 8;

/// Asks, and gives the options that say the same.
pub(super) fn options(catalog: &Arc<Catalog>) -> Result<Vec<String>, Diagnostic> {
    ask(catalog).map_err(|error| match error {
        InquireError::NotTTY => Diagnostic::plain("`--ask` needs a terminal")
            .field("--ask")
            .help("give the options: `thickset advise --load 308-168-match --at 100yd`"),
        InquireError::OperationCanceled | InquireError::OperationInterrupted => {
            Diagnostic::plain("nothing was asked: the questions were left").field("--ask").help("start again")
        }
        other => {
            Diagnostic::plain(format!("the terminal did not answer: {other}")).field("--ask").help("give the options")
        }
    })
}

fn ask(catalog: &Arc<Catalog>) -> Result<Vec<String>, InquireError> {
    if !std::io::stdin().is_terminal() {
        return Err(InquireError::NotTTY);
    }
    let mut options = Vec::new();
    loop {
        let prompt = if options.is_empty() { "What is shot at it?" } else { "What else is shot at it?" };
        let Some(load) = load(catalog, prompt, options.is_empty())? else { break };
        let distance = required::<Given<Length>>("From how far?", "the nearest that anyone will shoot, `100yd`")?;
        let (option, name) = match load {
            Chosen::Load(id) => ("--load", id),
            Chosen::Any(cartridge) => ("--any", cartridge),
        };
        options.extend([option.to_owned(), format!("{name}@{}", tight(&distance))]);
    }
    let face = optional::<Face>("How large is it?", "a round `12in`, a rectangle `18x24in`; enter: a 12 in round")?;
    push(&mut options, "--face", face);
    let mount = chosen::<Mount>(
        "How is it held?",
        &[
            ("hung from open hooks", Mount::OpenHook),
            ("hung from closed hooks or links", Mount::CaptiveHook),
            ("hung from chain", Mount::Chain),
            ("bolted to a post or frame", Mount::Bolted),
            ("on a welded bracket", Mount::Welded),
        ],
    )?;
    push(&mut options, "--mount", Some(mount.to_string()));
    let duty = chosen::<Duty>(
        "Who shoots at it?",
        &[
            ("a few people, some days a month", Duty::Private),
            ("matches: many hits in a day", Duty::Match),
            ("the public: every load, every day", Duty::Public),
        ],
    )?;
    push(&mut options, "--duty", Some(duty.to_string()));
    let lean = optional::<Given<Angle>>("How far does its face lean toward the shooter?", "`15deg`; enter: not known")?;
    push(&mut options, "--tilt", lean);
    let height = optional::<Given<Range<Length>>>("How high does the range lie?", "`4200ft`; enter: not known")?;
    push(&mut options, "--altitude", height);
    let air = optional::<Given<Range<Temperature>>>("How warm or cold does it get?", "`20F..95F`; enter: not known")?;
    push(&mut options, "--temperature", air);
    Ok(options)
}

fn push(options: &mut Vec<String>, option: &str, value: Option<String>) {
    if let Some(value) = value {
        options.extend([option.to_owned(), tight(&value)]);
    }
}

/// Without the spaces that a shell would part it at.
fn tight(text: &str) -> String {
    text.split_whitespace().collect()
}

/// What is shot: a load by its name in the list, or any ammunition of a cartridge.
enum Chosen {
    Load(String),
    Any(String),
}

/// Where a cartridge stands among the proposals.
const ANY: &str = "any ammunition of ";

fn chosen_of(catalog: &Catalog, text: &str) -> Option<Chosen> {
    let text = text.trim();
    if let Some(cartridge) = text.strip_prefix(ANY) {
        return catalog.family(cartridge).ok().map(|_| Chosen::Any(cartridge.to_owned()));
    }
    if catalog.load(text).is_ok() {
        return Some(Chosen::Load(text.to_owned()));
    }
    catalog.family(text).ok().map(|_| Chosen::Any(text.to_owned()))
}

fn load(catalog: &Arc<Catalog>, prompt: &str, required: bool) -> Result<Option<Chosen>, InquireError> {
    let known = Arc::clone(catalog);
    let validator = move |text: &str| -> Result<Validation, CustomUserError> {
        let fits = chosen_of(&known, text).is_some() || (!required && text.trim().is_empty());
        Ok(if fits { Validation::Valid } else { refused("no load or cartridge is called so: type a part of its name") })
    };
    let help = if required { "type a part of its name; tab takes what is proposed" } else { "enter: nothing else" };
    let text = Text::new(prompt)
        .with_help_message(help)
        .with_page_size(PROPOSED)
        .with_autocomplete(Names(Arc::clone(catalog)))
        .with_validator(validator)
        .prompt()?;
    Ok(chosen_of(catalog, &text))
}

/// Loads and cartridges by any part of their names.
#[derive(Clone)]
struct Names(Arc<Catalog>);

impl Autocomplete for Names {
    fn get_suggestions(&mut self, input: &str) -> Result<Vec<String>, CustomUserError> {
        let words: Vec<String> = input.to_lowercase().split_whitespace().map(str::to_owned).collect();
        if words.is_empty() {
            return Ok(Vec::new());
        }
        let fits = |text: &str| words.iter().all(|word| text.to_lowercase().contains(word));
        let mut names: Vec<String> =
            self.0.cartridges().into_iter().filter(|name| fits(name)).map(|name| format!("{ANY}{name}")).collect();
        let entries = self.0.entries().iter().map(|entry| &entry.load);
        names.extend(
            entries
                .filter(|load| fits(&format!("{} {}", load.id(), load.facts().name)))
                .map(|load| load.id().to_owned()),
        );
        names.truncate(PROPOSED);
        Ok(names)
    }

    fn get_completion(&mut self, input: &str, highlighted: Option<String>) -> Result<Replacement, CustomUserError> {
        Ok(highlighted.or_else(|| self.get_suggestions(input).ok().and_then(|names| names.first().cloned())))
    }
}

fn refused(message: impl Into<String>) -> Validation {
    Validation::Invalid(ErrorMessage::Custom(message.into()))
}

fn required<T>(prompt: &str, help: &str) -> Result<String, InquireError>
where
    T: std::str::FromStr,
    T::Err: std::fmt::Display,
{
    text::<T>(prompt, help, true)
}

fn optional<T>(prompt: &str, help: &str) -> Result<Option<String>, InquireError>
where
    T: std::str::FromStr,
    T::Err: std::fmt::Display,
{
    Ok(Some(text::<T>(prompt, help, false)?).filter(|text| !text.trim().is_empty()))
}

fn text<T>(prompt: &str, help: &str, required: bool) -> Result<String, InquireError>
where
    T: std::str::FromStr,
    T::Err: std::fmt::Display,
{
    let validator = move |text: &str| -> Result<Validation, CustomUserError> {
        Ok(match text.parse::<T>() {
            _ if text.trim().is_empty() && !required => Validation::Valid,
            Ok(_) => Validation::Valid,
            Err(error) => refused(error.to_string()),
        })
    };
    Text::new(prompt).with_help_message(help).with_validator(validator).prompt()
}

fn chosen<T: Copy>(prompt: &str, among: &[(&str, T)]) -> Result<T, InquireError> {
    let words: Vec<&str> = among.iter().map(|(words, _)| *words).collect();
    let index = Select::new(prompt, words).raw_prompt()?.index;
    Ok(among[index].1)
}

/// The command that asks the same, as a shell reads it.
pub(super) fn command(options: &[String]) -> String {
    let quoted = options.iter().map(|word| {
        let plain = |c: char| c.is_ascii_alphanumeric() || "-_.@/,:+%".contains(c);
        if word.chars().all(plain) { word.clone() } else { format!("'{}'", word.replace('\'', "'\\''")) }
    });
    format!("thickset advise {}", quoted.collect::<Vec<_>>().join(" "))
}
