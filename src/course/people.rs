//! What people keep of people in a spreadsheet: numbers, names and who did what.

use crate::source::table::{Row, Table};
use crate::source::words_of;

/// Words in the head of a column whose numbers say nothing of what is judged: of people, of order and of money.
#[rustfmt::skip]
pub(super) const PEOPLE: [&str; 61] = [
    "squad", "lane", "bay", "phone", "telephone", "tel", "mobile", "zip", "postcode", "postal", "id", "no", "nr",
    "number", "num", "row", "line", "entry", "bib", "member", "membership", "licence", "license", "paid", "fee",
    "amount", "total", "price", "cost", "age", "year", "born", "birth", "date", "day", "time", "order", "relay",
    "heat", "rank", "seed", "score", "points", "par", "division", "category", "box", "index", "team", "dob", "check",
    "cheque", "shooter", "class", "place", "contact", "emergency", "code", "pin", "competitor", "asset",
];

/// Whether numbers of a column that is not read are of people, of order or of money.
pub(super) fn counts_people(title: &str) -> bool {
    let name = title.to_lowercase();
    let is_known = |word: &&str| PEOPLE.contains(word) || NAMES.contains(word) || ["of", "the", "s"].contains(word);
    match words_of(&name).as_slice() {
        [] => ["#", "№", ""].contains(&name.trim()),
        words => words.iter().all(is_known),
    }
}

/// Who keeps a range, and what.
pub(super) const OFFICERS: [&str; 7] = ["officer", "judge", "ro", "captain", "boss", "md", "director"];
const KEPT: [&str; 5] = ["range", "line", "stage", "chief", "match"];
/// What somebody did, before a `by`.
#[rustfmt::skip]
const DONE: [&str; 10] = [
    "set", "hung", "checked", "built", "painted", "measured", "brought", "made", "designed", "sponsored",
];

/// Whether a head says who it was or who it is: `hung by`, `range officer`.
pub(super) fn names_who(words: &[&str]) -> bool {
    let keeps = words.iter().all(|word| OFFICERS.contains(word) || KEPT.contains(word));
    matches!(words, [.., done, "by"] if DONE.contains(done)) || (keeps && words.iter().any(|w| OFFICERS.contains(w)))
}

/// Words in the head of a column whose words are names: Walker, Dent and Pierce may shoot.
#[rustfmt::skip]
const NAMES: [&str; 14] = [
    "name", "surname", "club", "team", "city", "town", "country", "sponsor", "address", "street", "email", "mail",
    "contact", "who",
];

/// Whether a column that is not read holds names of people and places.
pub(super) fn holds_names(title: &str) -> bool {
    let name = title.to_lowercase();
    words_of(&name).iter().any(|word| NAMES.contains(word))
}

/// Whether a cell of a column that says who did something is a person's name and no more: `Jim Steel` under `RO`.
pub(super) fn is_person(title: &str, text: &str) -> bool {
    let name = title.to_lowercase();
    let heads = words_of(&name);
    let is_of_people =
        names_who(&heads) || heads.iter().any(|word| ["supplier", "scorekeeper", "scorer"].contains(word));
    let is_called = |word: &&str| {
        let mut letters = word.chars();
        letters.next().is_some_and(char::is_uppercase) && letters.all(|c| c.is_lowercase() || "-'.".contains(c))
    };
    let words: Vec<&str> = text.split_whitespace().collect();
    !heads.is_empty() && is_of_people && (2..=3).contains(&words.len()) && words.iter().all(is_called)
}

/// Whether a cell of people's numbers is one with a letter: `b1`, `A-12`.
pub(super) fn is_number(text: &str) -> bool {
    let digits = text.trim_start_matches(|c: char| c.is_ascii_alphabetic()).trim_start_matches('-');
    let letters = text.chars().take_while(char::is_ascii_alphabetic).count();
    letters <= 2 && (1..=4).contains(&digits.len()) && digits.chars().all(|c| c.is_ascii_digit())
}

/// Heads of the two halves of a person's name.
const FIRST_NAMES: [&str; 5] = ["first name", "firstname", "given name", "forename", "name first"];
const LAST_NAMES: [&str; 5] = ["last name", "lastname", "surname", "family name", "name last"];

fn is_of(title: &str, heads: &[&str]) -> bool {
    heads.contains(&title.trim().to_lowercase().as_str())
}

/// Whether a column that is not read by itself is of its table's shooters' names.
pub(super) fn is_half(table: &Table, title: &str) -> bool {
    !table.has("shooter") && (is_of(title, &FIRST_NAMES) || is_of(title, &LAST_NAMES))
}

/// Who brings the load of a row: its shooter, or a first and a last name.
pub(super) fn shooter(row: &Row) -> Option<String> {
    let half =
        |heads: &[&str]| row.others().find(|(title, _)| is_of(title, heads)).map(|(_, text)| text.trim().to_owned());
    let whole = row.cell("shooter").map(|cell| cell.text().trim().to_owned());
    let names = || [half(&FIRST_NAMES), half(&LAST_NAMES)].into_iter().flatten().collect::<Vec<_>>().join(" ");
    Some(whole.unwrap_or_else(names)).filter(|who| !who.is_empty())
}

/// A person's name without the initials that it begins with: `A. P. Jones` brings no armour-piercing bullets.
#[must_use]
pub fn without_initials(who: &str) -> &str {
    let mut rest = who.trim_start();
    while let Some(after) = rest.strip_prefix(char::is_uppercase).and_then(|after| after.strip_prefix('.')) {
        rest = after.trim_start();
    }
    let mut letters = rest.chars();
    let is_called = letters.next().is_some_and(char::is_uppercase) && letters.next().is_some_and(char::is_lowercase);
    if is_called { rest } else { who }
}

/// A note in lower case without what somebody is called besides: `nickname slug`.
pub(super) fn without_nickname(text: &str) -> String {
    let (mut words, mut kept) = (text.split_whitespace(), Vec::new());
    while let Some(word) = words.next() {
        kept.push(word);
        if ["nickname", "nicknamed", "nickname:"].contains(&word) {
            words.next();
        }
    }
    kept.join(" ")
}

/// Words in the head of a column whose numbers are of a book that is kept: years, pictures, what was counted.
#[rustfmt::skip]
const RECORDS: [&str; 19] = [
    "asset", "serial", "photo", "photos", "picture", "image", "bought", "purchased", "inspected", "hits", "shots",
    "rounds", "tag", "invoice", "registration", "year", "date", "dated", "season",
];

/// Whether numbers of a column that is not read are no speeds and no distances: `asset no`, `hits so far`.
pub(super) fn keeps_records(title: &str) -> bool {
    let name = title.to_lowercase();
    words_of(&name).iter().any(|word| RECORDS.contains(word))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_kept_of_people_is_told_from_what_may_be_of_a_load_or_a_target() {
        for head in ["squad", "bib no", "ZIP code", "#", "asset no"] {
            assert!(counts_people(head), "{head}");
        }
        for head in ["max", "start", "far", "shift", "+P"] {
            assert!(!counts_people(head), "{head}");
        }
        for head in ["e-mail", "club", "emergency contact"] {
            assert!(holds_names(head), "{head}");
        }
        for head in ["notes", "core", "range", "stage"] {
            assert!(!holds_names(head), "{head}");
        }
        for (head, cell, is_name) in [
            ("RO", "Jim Steel", true),
            ("hung by", "Ann Dent", true),
            ("Supplier", "Acme Steel", true),
            ("RO", "cratered", false),
            ("RO", "DO NOT SHOOT", false),
            ("notes", "Jim Steel", false),
        ] {
            assert_eq!(is_person(head, cell), is_name, "{head}: {cell}");
        }
        for (who, name) in [
            ("A. P. Jones", "Jones"),
            ("A.P. Jones", "Jones"),
            ("Bob A.P.", "Bob A.P."),
            ("A.P. bullets", "A.P. bullets"),
        ] {
            assert_eq!(without_initials(who), name);
        }
        assert_eq!(without_nickname("nickname \"slug\", steel core"), "nickname steel core");
        for head in ["hits so far", "last inspected", "photo"] {
            assert!(keeps_records(head) && !keeps_records("notes"), "{head}");
        }
    }
}
