//! The command line: options to a question, the answer to a page or a document, and a status. Nothing is judged here.

mod asked;
mod course;
mod files;
mod form;
mod interview;
mod options;
mod parse;
mod schema;
mod sheets;
mod shell;
mod write;

use crate::advisor::answer::{NotJudged, Preamble};
use crate::advisor::question::{AdviseQuestion, ChronoQuestion};
use crate::advisor::{Advisor, Faults, inquiry_question};
use crate::report::{self, Format};
use crate::rules::Verdict;
use crate::source::Diagnostic;
use clap::ArgMatches;
use clap::error::ErrorKind;
use files::Files;
use form::{Form, Sheet};
use options::{OPTIONS, Verb, option_of_key};
use parse::Typed;
use serde_json::Value;
use std::ffi::OsString;
use std::io::{ErrorKind as IoErrorKind, Read, Write};
use std::path::Path;

/// What the exit status says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[repr(u8)]
pub enum Status {
    /// It suits, a plate is recommended, or what was asked is done.
    Suits = 0,
    /// Unsuitable; no plate; something that nothing was judged on.
    Unsuitable = 1,
    /// The input or the usage is at fault, or something given could not be read.
    InvalidInput = 2,
    /// Borderline at best.
    Borderline = 3,
}

impl From<Verdict> for Status {
    fn from(verdict: Verdict) -> Self {
        match verdict {
            Verdict::Suits => Self::Suits,
            Verdict::Borderline => Self::Borderline,
            Verdict::Unsuitable => Self::Unsuitable,
        }
    }
}

impl Status {
    /// The status of a verdict beside what could not be judged: never good news.
    fn of(verdict: Verdict, not_judged: &[NotJudged]) -> Self {
        match not_judged {
            [] => verdict.into(),
            some if some.iter().any(|one| one.unreadable) => Self::InvalidInput,
            _ => Self::Unsuitable,
        }
    }
}

/// What standard output and standard error are.
#[derive(Debug, Clone, Copy, Default)]
pub struct Terminal {
    /// Columns, where standard output is a terminal or the environment says how many.
    pub width: Option<usize>,
    /// Whether to colour unless told otherwise.
    pub colour: bool,
    /// Whether standard error is a terminal that progress can be shown on.
    pub progress: bool,
}

/// What a command gives: its status and a text, and where else something is to be written.
struct Given {
    status: Status,
    /// None where nothing is written.
    text: Option<String>,
    /// Faults that did not keep the rest from being answered.
    faults: Vec<Diagnostic>,
    /// What the form has no place for.
    beside: Vec<String>,
    /// A file of its own that the command writes, once everything else is done.
    save: Option<(std::path::PathBuf, String)>,
}

impl Given {
    fn new(status: Status, text: impl Into<String>) -> Self {
        Self { status, text: Some(text.into()), faults: Vec::new(), beside: Vec::new(), save: None }
    }

    /// An answer in its form, with the status of its verdict.
    fn of<I>(verdict: Verdict, preamble: &Preamble<I>, form: &Form, text: String) -> Self {
        let beside = form.beside(preamble, false);
        Self { beside, ..Self::new(Status::of(verdict, &preamble.not_judged), text) }
    }

    /// A sheet that is not written, since nothing would stand on it; no good news whatever the answer is.
    fn refused(status: Status, faults: Vec<Diagnostic>) -> Self {
        let status = if status == Status::Suits { Status::Unsuitable } else { status };
        Self { status, text: None, faults, beside: Vec::new(), save: None }
    }
}

/// Runs a command as if through pipes: 80 columns, no colour.
pub fn run<I, T>(args: I, stdin: &mut dyn Read, out: &mut dyn Write, err: &mut dyn Write) -> Status
where
    I: IntoIterator<Item = T>,
    T: Into<OsString> + Clone,
{
    run_on(Terminal::default(), args, stdin, out, err)
}

/// Runs a command on a terminal.
pub fn run_on<I, T>(
    terminal: Terminal,
    args: I,
    stdin: &mut dyn Read,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Status
where
    I: IntoIterator<Item = T>,
    T: Into<OsString> + Clone,
{
    let words: Vec<OsString> = args.into_iter().map(Into::into).collect();
    let Some(width) = terminal.width else { return obey(terminal, words, stdin, out, err) };
    let mut told = Vec::new();
    let status = obey(terminal, words, stdin, out, &mut told);
    let _ = err.write_all(report::fitted(&String::from_utf8_lossy(&told), width).as_bytes());
    status
}

fn obey(
    terminal: Terminal,
    words: Vec<OsString>,
    stdin: &mut dyn Read,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Status {
    if let Some(fault) = parse::without_value(&words) {
        return complain(&[fault], form::wants_json(&words), err);
    }
    let typed = match parse::parse(&words) {
        Ok(typed) => typed,
        Err(error) => return usage(&error, &words, out, err),
    };
    let form = match Form::of(&typed.matches) {
        Ok(form) => form,
        Err(fault) => return complain(&[fault], form::wants_json(&words), err),
    };
    let files = Files::of(&words);
    let given = answer(&typed, &form, &files, terminal, stdin);
    let json = form.format == Format::Json;
    match given {
        Ok(given) => give(given, &form, &files, json, out, err),
        Err(faults) => complain(&named(faults.into_list(), typed.verb), json, err),
    }
}

fn answer(
    typed: &Typed,
    form: &Form,
    files: &Files,
    terminal: Terminal,
    stdin: &mut dyn Read,
) -> Result<Given, Faults> {
    let matches = &typed.matches;
    let asked = || asked::keys(typed.verb, matches).map(|keys| form.with_figures(keys));
    match typed.verb {
        Verb::Advise => advise(matches, form, files, terminal),
        Verb::Vet => {
            let question = asked::question(typed.verb, asked()?)?;
            let answer = advisor(files)?.vet(&question)?;
            Ok(Given::of(answer.verdict, &answer.preamble, form, form.render(&answer, terminal)?))
        }
        Verb::Standoff => {
            let question = asked::question(typed.verb, asked()?)?;
            let answer = advisor(files)?.standoff(&question)?;
            let status = Status::of(answer.verdict, &answer.preamble.not_judged);
            let product = matches.get_one::<String>("product");
            let is_sheet = form.sheet.is_some() || product.is_some() && form.is_page();
            if let Some(fault) = sheets::without_row(&answer, form.sheet.as_ref()).filter(|_| is_sheet) {
                return Ok(Given::refused(status, named(vec![fault.clone()], typed.verb)));
            }
            let text = match (&form.sheet, product) {
                (Some(sheet), _) => sheets::standoff(&answer, sheet, form)?,
                (None, Some(product)) if form.is_page() => sheets::product(&answer, product, form),
                _ => form.render(&answer, terminal)?,
            };
            Ok(Given::of(answer.verdict, &answer.preamble, form, text))
        }
        Verb::Strike => {
            let question = asked::question(typed.verb, asked()?)?;
            let answer = advisor(files)?.strike(&question)?;
            Ok(Given::of(Verdict::Suits, &answer.preamble, form, form.render(&answer, terminal)?))
        }
        Verb::Chrono => chrono(matches, form, files, terminal, stdin),
        Verb::Course => course::run(matches, form, files, terminal),
        Verb::Catalog => {
            let mut keys = asked()?;
            let word = |name: &str| matches.get_many::<String>(name).into_iter().flatten().cloned();
            keys.insert("what".into(), Value::from(word("WHAT").next().unwrap_or_default()));
            keys.insert("words".into(), word("WORD").map(Value::String).collect());
            let answer = advisor(files)?.catalog(&asked::question(typed.verb, keys)?)?;
            Ok(Given::new(Status::Suits, form.render(&answer, terminal)?))
        }
        Verb::Completions => {
            let shell = matches.get_one::<String>("SHELL").map_or("", String::as_str);
            Ok(Given::new(Status::Suits, String::from_utf8_lossy(&shell::completions(shell)).into_owned()))
        }
        Verb::Man => {
            let page = shell::manual(matches.get_one::<String>("COMMAND").map(String::as_str));
            let page = page.map_err(|e| Diagnostic::plain(format!("the page can't be made: {e}")))?;
            Ok(Given::new(Status::Suits, String::from_utf8_lossy(&page).into_owned()))
        }
        Verb::Schema => {
            let name = matches.get_one::<String>("COMMAND").map_or("", String::as_str);
            let question = matches.get_flag("question");
            let schema = schema::of(name, question).ok_or_else(|| {
                Diagnostic::plain(format!("nothing is asked as `{name}`")).field("--question").help("leave it out")
            })?;
            Ok(Given::new(Status::Suits, schema))
        }
    }
}

/// The advisor of the house, which reads the files that are named.
fn advisor(files: &Files) -> Result<Advisor, Faults> {
    Ok(Advisor::house()?.with_resolver(files.resolver()))
}

fn advise(matches: &ArgMatches, form: &Form, files: &Files, terminal: Terminal) -> Result<Given, Faults> {
    if matches.get_flag("ask") {
        return interviewed(matches, form, files, terminal);
    }
    let advisor = advisor(files)?;
    let keys = form.with_figures(asked::keys(Verb::Advise, matches)?);
    let answer = match matches.get_one::<String>("INQUIRY") {
        None => advisor.advise(&asked::question(Verb::Advise, keys)?)?,
        Some(path) => {
            beside_a_file(matches)?;
            let source = files.text(path)?;
            let inquiry = inquiry_question(&source)?;
            let question = asked::question(Verb::Advise, asked::beside(asked::keys_of(&inquiry), keys)?)?;
            advisor.advise(&question).map_err(|faults| faults.placed_in(&source))?
        }
    };
    let text = match &form.sheet {
        Some(Sheet::Customer(name)) => sheets::customer(&answer, name, form),
        _ => form.render(&answer, terminal)?,
    };
    Ok(Given::of(answer.verdict, &answer.preamble, form, text))
}

/// What stands in the inquiry does not stand beside it as well.
fn beside_a_file(matches: &ArgMatches) -> Result<(), Diagnostic> {
    let idle =
        OPTIONS.iter().find(|opt| opt.is_on(Verb::Advise) && !opt.beside_file && asked::is_given(opt.name, matches));
    match idle {
        Some(opt) => Err(asked::own_of_inquiry(opt.name)),
        None => Ok(()),
    }
}

/// The answer to what is asked at the terminal, and the command that repeats it as its last line.
fn interviewed(matches: &ArgMatches, form: &Form, files: &Files, terminal: Terminal) -> Result<Given, Faults> {
    let mine = |name: &str| option_is_form(name) || name == "ask";
    if let Some(opt) =
        OPTIONS.iter().find(|opt| opt.is_on(Verb::Advise) && !mine(opt.name) && asked::is_given(opt.name, matches))
    {
        return Err(Diagnostic::plain(format!(
            "`--{}` stands beside `--ask`, which asks for all that it takes",
            opt.name
        ))
        .field(format!("--{}", opt.name))
        .help("leave one of them out, or add the option to the command that `--ask` ends with")
        .into());
    }
    let advisor = advisor(files)?;
    let words = interview::options(&advisor.loads())?;
    let repeated: Vec<OsString> =
        ["thickset", "advise"].into_iter().map(OsString::from).chain(words.iter().map(OsString::from)).collect();
    let typed = parse::parse(&repeated).map_err(|error| parse::fault(&error, Some(Verb::Advise)))?;
    let question: AdviseQuestion = asked::question(Verb::Advise, asked::keys(Verb::Advise, &typed.matches)?)?;
    let answer = advisor.advise(&question)?;
    let mut text = form.render(&answer, terminal)?;
    if form.format == Format::Table {
        text = format!("{text}\nAsk it again with:\n{}\n", interview::command(&words));
    }
    Ok(Given::of(answer.verdict, &answer.preamble, form, text))
}

fn option_is_form(name: &str) -> bool {
    OPTIONS.iter().any(|opt| opt.name == name && opt.heading == options::Heading::Output && opt.key().is_none())
}

fn chrono(
    matches: &ArgMatches,
    form: &Form,
    files: &Files,
    terminal: Terminal,
    stdin: &mut dyn Read,
) -> Result<Given, Faults> {
    let words: Vec<&String> = matches.get_many::<String>("READING|FILE").into_iter().flatten().collect();
    let mut keys = asked::keys(Verb::Chrono, matches)?;
    let source = files.readings(&words, stdin)?;
    keys.insert("readings".into(), Value::String(source.text.to_string()));
    let question: ChronoQuestion = asked::question(Verb::Chrono, keys)?;
    let answer = advisor(files)?.chrono(&question).map_err(|faults| faults.placed_in(&source))?;
    let mut given = Given::of(answer.verdict, &answer.preamble, form, form.render(&answer, terminal)?);
    if let Some(path) = matches.get_one::<String>("save") {
        let is_load = answer.preamble.inputs.load.is_some();
        let load = answer.load_file.ok_or_else(|| {
            if is_load {
                return Diagnostic::plain("`--save` needs a name for the load")
                    .field("--save")
                    .help("name it with `--id`, for instance `--id my-308`");
            }
            Diagnostic::plain("`--save` needs the rest of the load")
                .field("--save")
                .help("name the load it replaces (`--load 308-168-match`), or give `--bullet`, `--bc` and `--drag`")
        })?;
        Files::refuse_existing(Path::new(path), "--save")?;
        given.save = Some((path.into(), load));
    }
    Ok(given)
}

/// Faults of a question with the options that set the keys they name.
fn named(faults: Vec<Diagnostic>, verb: Verb) -> Vec<Diagnostic> {
    let by_option = |text: &str| {
        // `chain` is a mount as well.
        OPTIONS.iter().filter(|opt| opt.is_on(verb) && opt.name != "chain").fold(text.to_owned(), |text, opt| match opt
            .key()
        {
            Some(key) => text.replace(&format!("`{key}`"), &format!("`--{}`", opt.name)),
            None => text,
        })
    };
    let named = |fault: Diagnostic| {
        // What stands in a file speaks of the file's own keys.
        if fault.place.is_some() {
            return fault;
        }
        Diagnostic {
            message: by_option(&fault.message),
            help: fault.help.as_deref().map(by_option),
            field: fault.field.map(|key| match option_of_key(verb, &key) {
                Some(opt) => format!("--{}", opt.name),
                None => key,
            }),
            ..fault
        }
    };
    faults.into_iter().map(named).collect()
}

/// Help and version go to standard output; a usage fault is told like any other.
fn usage(error: &clap::Error, words: &[OsString], out: &mut dyn Write, err: &mut dyn Write) -> Status {
    match error.kind() {
        ErrorKind::DisplayHelp | ErrorKind::DisplayVersion => {
            let _ = write!(out, "{}", error.render());
            Status::Suits
        }
        ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand => {
            let _ = write!(err, "{}", error.render());
            Status::InvalidInput
        }
        _ => complain(&[parse::fault(error, parse::verb_of(words))], form::wants_json(words), err),
    }
}

fn complain(faults: &[Diagnostic], json: bool, err: &mut dyn Write) -> Status {
    if json {
        let _ = write!(err, "{}", form::document(&report::error_document(faults)));
    } else {
        let mut told = crate::source::Faults::default();
        faults.iter().for_each(|fault| told.push(fault.clone()));
        for fault in told.into_told() {
            let _ = writeln!(err, "{fault}");
        }
    }
    Status::InvalidInput
}

fn give(given: Given, form: &Form, files: &Files, json: bool, out: &mut dyn Write, err: &mut dyn Write) -> Status {
    let written = match (&given.text, &form.output) {
        (None, _) => Ok(()),
        (Some(text), Some(path)) if path.as_os_str() != "-" => files.write(path, text.as_bytes(), "--output"),
        (Some(text), _) => match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
            Err(e) if e.kind() != IoErrorKind::BrokenPipe => Err(Diagnostic::plain(format!("cannot write: {e}"))),
            _ => Ok(()),
        },
    };
    let saved = written.and_then(|()| match &given.save {
        Some((path, text)) => files.write(path, text.as_bytes(), "--save"),
        None => Ok(()),
    });
    given.beside.iter().for_each(|line| {
        let _ = writeln!(err, "{line}");
    });
    match saved {
        Ok(()) if given.faults.is_empty() => given.status,
        Ok(()) => {
            complain(&given.faults, json, err);
            given.status
        }
        Err(fault) => complain(&[fault], json, err),
    }
}
