//! From the words typed to what they mean: clap's commands from the table of options, and its refusals as faults.

use super::options::{OPTIONS, Opt, Verb, meant, option};
use crate::plate::{other_steel, steel_named};
use crate::source::{Diagnostic, did_you_mean, nearest};
use clap::builder::{PossibleValue, PossibleValuesParser};
use clap::error::{ContextKind, ContextValue, ErrorKind};
use clap::{Arg, ArgAction, ArgMatches, Command};

pub(super) const NOTICE: &str = "Limits are rules of thumb for AR500 plate. The range's own rules, local codes and law, \
licensed professionals and the range officer stand above them.";
/// Other spellings that the questions read as well, and that are not listed.
const ALIASES: &[(&str, &str)] =
    &[("steel-core", "penetrator"), ("steel-shot", "bb"), ("steel-shot", "hard-shot"), ("steel-shot", "tungsten-shot")];
const STATUS: &str = "Exit status: 0 suits or done, 1 unsuitable, 3 borderline at best, 2 fault in the input.";

/// The program, with the options of one command, or of all where it is `None`: those of the others are built for
/// completion and man pages alone, which saves time at every start.
pub(super) fn program(only: Option<Verb>) -> Command {
    let mut program = Command::new("thickset")
        .version(env!("CARGO_PKG_VERSION"))
        .about("Which AR500 steel plate, how close, and whether a load suits a target")
        .after_help(format!("{NOTICE}\n{STATUS}"))
        .max_term_width(100)
        .disable_help_subcommand(true)
        .subcommand_required(true)
        .arg_required_else_help(true);
    for &verb in Verb::ALL {
        let command = Command::new(verb.name()).about(verb.about()).after_help(format!("{NOTICE}\n{STATUS}"));
        let wanted = only.is_none_or(|only| only == verb);
        program = program.subcommand(if wanted { with_arguments(command, verb) } else { command });
    }
    program
}

fn with_arguments(mut command: Command, verb: Verb) -> Command {
    command = match verb {
        Verb::Advise => command.arg(
            Arg::new("INQUIRY").help("A file with the loads, distances and targets of an inquiry, in place of options"),
        ),
        Verb::Course => command.arg(Arg::new("FILE").required(true).help("The match: a TOML file")),
        Verb::Chrono => command.arg(
            Arg::new("READING|FILE")
                .required(true)
                .num_args(1..)
                .help("Readings with their unit, `2648fps 2655fps`; or a file of them; or `-` for standard input"),
        ),
        Verb::Catalog => command
            .arg(Arg::new("WHAT").required(true).value_parser(["loads", "cartridges", "plates", "rules", "sources", "keys"]))
            .arg(Arg::new("WORD").num_args(0..).help("Only entries with all of these words; of `keys` first the file: rules, loads, plates, shop, inquiry, match, outline")),
        Verb::Completions => {
            command.arg(Arg::new("SHELL").required(true).value_parser(["bash", "elvish", "fish", "powershell", "zsh"]))
        }
        Verb::Man => {
            command.arg(Arg::new("COMMAND").value_parser(PossibleValuesParser::new(Verb::ALL.iter().map(|v| v.name()))))
        }
        Verb::Schema => command
            .arg(Arg::new("COMMAND").required(true).value_parser(super::schema::names().collect::<Vec<_>>()))
            .arg(Arg::new("question").long("question").action(ArgAction::SetTrue).help("The schema of what is asked")),
        Verb::Standoff | Verb::Vet | Verb::Strike => command,
    };
    OPTIONS.iter().filter(|opt| opt.is_on(verb)).fold(command, |command, opt| command.arg(argument(opt, verb)))
}

fn argument(opt: &Opt, verb: Verb) -> Arg {
    let arg = Arg::new(opt.name).long(opt.name).help(opt.help).help_heading(opt.heading.text());
    let arg = if opt.name == "output" { arg.short('o') } else { arg };
    if opt.is_flag() {
        return arg.action(ArgAction::SetTrue);
    }
    let arg = arg.value_name(opt.value).allow_hyphen_values(true);
    let arg = arg.action(if opt.is_many(verb) { ArgAction::Append } else { ArgAction::Set });
    match opt.choices {
        // Read by the question itself, which knows other spellings; listed for help and completion.
        Some(choices) => {
            let word = |&word: &&'static str| {
                PossibleValue::new(word).aliases(ALIASES.iter().filter(|(of, _)| *of == word).map(|(_, alias)| *alias))
            };
            let words: Vec<PossibleValue> = choices().iter().map(word).collect();
            arg.value_parser(PossibleValuesParser::new(words)).ignore_case(true)
        }
        None => arg,
    }
}

/// A command that was typed, and its words.
pub(super) struct Typed {
    pub verb: Verb,
    pub matches: ArgMatches,
}

/// The command that the words begin with.
pub(super) fn verb_of(words: &[std::ffi::OsString]) -> Option<Verb> {
    let first = words.iter().skip(1).find(|word| !word.to_string_lossy().starts_with('-'))?;
    Verb::ALL.iter().copied().find(|verb| first.to_str() == Some(verb.name()))
}

/// An option that has another option in the place of its value: hyphens begin values too, `--slope -15deg`.
pub(super) fn without_value(words: &[std::ffi::OsString]) -> Option<Diagnostic> {
    let name = |word: &std::ffi::OsString| {
        let word = word.to_str()?.strip_prefix("--")?;
        option(word.split_once('=').map_or(word, |(name, _)| name))
    };
    let pairs = words.iter().zip(words.iter().skip(1));
    let whole = |word: &std::ffi::OsString| !word.to_string_lossy().contains('=');
    let (first, _) = pairs.into_iter().find(|(first, second)| {
        whole(first) && name(first).is_some_and(|opt| !opt.is_flag()) && name(second).is_some()
    })?;
    let option = first.to_string_lossy().into_owned();
    Some(invalid_value(&option, "", "").field(option))
}

/// Reads the words typed.
pub(super) fn parse(words: &[std::ffi::OsString]) -> Result<Typed, clap::Error> {
    let verb = verb_of(words);
    // Without a command there is nothing but help, and a name mistyped.
    let command = program(verb.or(Some(Verb::Man)));
    let mut matches = command.try_get_matches_from(words)?;
    match (verb, matches.remove_subcommand()) {
        (Some(verb), Some((_, matches))) => Ok(Typed { verb, matches }),
        _ => Err(clap::Error::raw(ErrorKind::MissingSubcommand, "no command was given\n")),
    }
}

/// A refusal of clap's as a fault: the option at fault, what is wrong, and what to write.
pub(super) fn fault(error: &clap::Error, verb: Option<Verb>) -> Diagnostic {
    let text = |kind| match error.get(kind) {
        Some(ContextValue::String(text)) => Some(text.clone()),
        Some(ContextValue::Strings(list)) => Some(list.join(", ")),
        _ => None,
    };
    let option = text(ContextKind::InvalidArg).map(|arg| arg.split([' ', '=']).next().unwrap_or_default().to_owned());
    let fault = match error.kind() {
        ErrorKind::UnknownArgument => unknown(&option.clone().unwrap_or_default(), verb),
        ErrorKind::InvalidSubcommand => {
            let typed = text(ContextKind::InvalidSubcommand).unwrap_or_default();
            let near = nearest(&typed, Verb::ALL.iter().map(|verb| verb.name()));
            let near = near.map(|name| format!("did you mean `{name}`? ")).unwrap_or_default();
            Diagnostic::plain(format!("there is no command `{typed}`")).help(near + "`thickset --help` lists them")
        }
        ErrorKind::InvalidValue => invalid_value(
            option.as_deref().unwrap_or_default(),
            &text(ContextKind::InvalidValue).unwrap_or_default(),
            &text(ContextKind::ValidValue).unwrap_or_default(),
        ),
        ErrorKind::ArgumentConflict => {
            let name = option.clone().unwrap_or_default();
            Diagnostic::plain(format!("`{name}` stands more than once")).help("give it once")
        }
        ErrorKind::MissingRequiredArgument => {
            Diagnostic::plain(format!("{} is missing", option.clone().unwrap_or_default())).help(match verb {
                Some(Verb::Course) => "name the match's file: `thickset course match.toml`",
                Some(Verb::Chrono) => "give the readings, `thickset chrono 2648fps 2655fps 2641fps`, or a file of them",
                Some(Verb::Catalog) => "say what to list: `thickset catalog loads`",
                Some(Verb::Completions) => "name a shell: `thickset completions bash`",
                _ => "`--help` tells what it takes",
            })
        }
        _ => {
            let rendered = error.to_string();
            let line = rendered.lines().next().unwrap_or_default().trim_start_matches("error: ");
            Diagnostic::plain(line.to_owned()).help("`--help` lists what there is")
        }
    };
    match option {
        Some(option) if fault.field.is_none() => fault.field(option),
        _ => fault,
    }
}

/// An option that the command has no use for, or that nobody has.
fn unknown(typed: &str, verb: Option<Verb>) -> Diagnostic {
    let word = typed.trim_start_matches('-');
    let here = verb.map_or("thickset", Verb::name);
    if let Some(opt) = option(word) {
        let on: Vec<String> = Verb::ALL.iter().filter(|v| opt.is_on(**v)).map(|v| format!("`{}`", v.name())).collect();
        return Diagnostic::plain(format!("`{here}` has no use for `{typed}`"))
            .help(format!("leave it out; it is for {}", crate::words::listed(&on)));
    }
    let fault = Diagnostic::plain(format!("there is no option `{typed}`"));
    if let Some(meant) = meant(&word.to_lowercase()) {
        return fault.help(format!("write `{meant}`"));
    }
    let names = OPTIONS.iter().filter(|opt| verb.is_some_and(|verb| opt.is_on(verb))).map(|opt| opt.name);
    match nearest(word, names) {
        Some(near) => fault.help(format!("did you mean `--{near}`?")),
        None => fault.help(format!("`thickset {} --help` lists them", verb.map_or("", Verb::name)).replace("  ", " ")),
    }
}

fn invalid_value(option: &str, typed: &str, valid: &str) -> Diagnostic {
    if typed.is_empty() {
        return Diagnostic::plain(format!("`{option}` has no value")).help(
            match self::option(option.trim_start_matches('-')) {
                Some(opt) => format!("write one: {}", opt.help),
                None => "write one".into(),
            },
        );
    }
    let mut would_do: Vec<&str> = Vec::new();
    // Each word in one case.
    valid.split(", ").for_each(|word| {
        if !would_do.iter().any(|known| known.eq_ignore_ascii_case(word)) {
            would_do.push(word);
        }
    });
    let is_steel = || other_steel(typed).or_else(|| steel_named(typed)).is_some();
    let other = || (option == "--steel" && is_steel()).then(|| "did you mean `other`?".to_owned());
    let near = other().or_else(|| did_you_mean(typed, &would_do)).map(|asked| asked + " ").unwrap_or_default();
    let list = if valid.is_empty() { String::new() } else { format!("there are: {}", would_do.join(", ")) };
    Diagnostic::plain(format!("`{option} {typed}` is not one of its words")).help((near + &list).trim_end().to_owned())
}
