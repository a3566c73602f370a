//! A web shop's counter: a question as JSON from a stranger's browser, its answer as JSON and as an HTML page.
//!
//! No resolver is given to the advisor, so that nothing a stranger writes opens a file of the server.
//!
//! ```sh
//! cargo run --example web_shop                                             # the question below, as JSON
//! cargo run --example web_shop html < question.json > answer.html
//! ```

use serde::Deserialize;
use std::io::{IsTerminal, Read};
use std::process::ExitCode;
use thickset::advisor::{AdviseQuestion, Advisor, Faults, StandoffQuestion, VetQuestion};
use thickset::report::{Page, error_document, page};

/// What is asked where nothing stands on standard input.
const QUESTION: &str = r#"{
    "ask": "advise",
    "question": {"load": ["308-168-match@100 yd", "9mm-115@10 yd"], "face": "10 in", "tilt": "15 deg"}
}"#;

/// The longest question that is read, bytes.
const MAX_BYTES: u64 = 64 * 1024;

/// What a browser sends.
#[derive(Deserialize)]
#[serde(tag = "ask", content = "question", rename_all = "lowercase", deny_unknown_fields)]
enum Request {
    Advise(AdviseQuestion),
    Vet(VetQuestion),
    Standoff(StandoffQuestion),
}

/// What it gets: the document for a script, the page for a person.
struct Reply {
    json: serde_json::Value,
    page: Page,
}

impl Reply {
    fn of<A: thickset::report::Report + serde::Serialize>(answer: &A) -> Result<Self, Refusal> {
        Ok(Self { json: serde_json::to_value(answer)?, page: page(answer) })
    }
}

/// Why there is no answer.
enum Refusal {
    /// What was sent is no question.
    Malformed(String),
    /// The question can't be answered as it is.
    Faults(Faults),
}

impl From<serde_json::Error> for Refusal {
    fn from(error: serde_json::Error) -> Self {
        Self::Malformed(error.to_string())
    }
}

impl From<Faults> for Refusal {
    fn from(faults: Faults) -> Self {
        Self::Faults(faults)
    }
}

fn reply(advisor: &Advisor, text: &str) -> Result<Reply, Refusal> {
    match serde_json::from_str(text)? {
        Request::Advise(question) => Reply::of(&advisor.advise(&question)?),
        Request::Vet(question) => Reply::of(&advisor.vet(&question)?),
        Request::Standoff(question) => Reply::of(&advisor.standoff(&question)?),
    }
}

/// The body of a response, and whether it is an answer.
fn body(advisor: &Advisor, text: &str, html: bool) -> (String, bool) {
    match reply(advisor, text) {
        Ok(reply) if html => (reply.page.html(), true),
        Ok(reply) => (format!("{:#}\n", reply.json), true),
        Err(Refusal::Malformed(why)) => (format!("{:#}\n", serde_json::json!({ "error": why })), false),
        Err(Refusal::Faults(faults)) => {
            let document = serde_json::to_string_pretty(&error_document(faults.list())).unwrap_or_default();
            (document + "\n", false)
        }
    }
}

fn question() -> std::io::Result<String> {
    let (mut text, stdin) = (String::new(), std::io::stdin());
    if !stdin.is_terminal() {
        stdin.take(MAX_BYTES).read_to_string(&mut text)?;
    }
    Ok(if text.trim().is_empty() { QUESTION.to_owned() } else { text })
}

fn main() -> ExitCode {
    // Made once and shared by every request and thread.
    let advisor = match Advisor::house() {
        Ok(advisor) => advisor,
        Err(faults) => {
            eprintln!("{faults}");
            return ExitCode::FAILURE;
        }
    };
    let html = std::env::args().nth(1).is_some_and(|form| form == "html");
    match question() {
        Ok(text) => {
            let (body, is_answer) = body(&advisor, &text, html);
            print!("{body}");
            if is_answer { ExitCode::SUCCESS } else { ExitCode::FAILURE }
        }
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}
