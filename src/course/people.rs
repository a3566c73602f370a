//! What people keep of people in a spreadsheet: numbers, names and who did what.

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
        for head in ["hits so far", "last inspected", "photo"] {
            assert!(keeps_records(head) && !keeps_records("notes"), "{head}");
        }
    }
}
