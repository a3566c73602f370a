//! Cartridge names as people write them.

use std::collections::HashMap;

/// Words of cartridge names and the short form each is compared by.
pub(super) type Words = HashMap<String, String>;

/// The words and numbers of a name that spellings are compared by: lower case, letters and digits only, the words of
/// the trade shortened. A number and a word written together, `308winchester`, are two.
pub(super) fn tokens(name: &str, words: &Words) -> Vec<String> {
    let name = name.to_lowercase().replace('×', "x");
    let mut tokens = Vec::new();
    for run in name.split(|c: char| !c.is_alphanumeric()) {
        let mut rest = run;
        while !rest.is_empty() {
            let digits = rest.chars().next().is_some_and(char::is_numeric);
            let end = rest.find(|c: char| c.is_numeric() != digits).unwrap_or(rest.len());
            let (word, after) = rest.split_at(end);
            let short = words.get(word).map_or(word, String::as_str);
            if !short.is_empty() {
                tokens.push(short.to_owned());
            }
            rest = after;
        }
    }
    tokens
}

/// The form that two spellings of one name share.
pub(super) fn form(name: &str, words: &Words) -> String {
    tokens(name, words).concat()
}

/// Whether a name goes on from what was asked: `300 w` begins `300 win mag` and `300 wsm`, and `30` does not.
pub(super) fn begins(asked: &[String], name: &[String]) -> bool {
    let Some((last, whole)) = asked.split_last() else { return false };
    let Some(next) = name.get(whole.len()) else { return false };
    let is_number = last.chars().all(char::is_numeric);
    name.starts_with(whole) && if is_number { next == last } else { next.starts_with(last) }
}
