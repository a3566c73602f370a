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

/// A name by its form, and where the form parts two numbers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Spelled {
    pub form: String,
    parted: Vec<usize>,
}

impl Spelled {
    pub fn of(name: &str, words: &Words) -> Self {
        let (mut form, mut parted) = (String::new(), Vec::new());
        for token in tokens(name, words) {
            if ends_in_digit(&form) && begins_with_digit(&token) {
                parted.push(form.len());
            }
            form += &token;
        }
        Self { form, parted }
    }

    /// Whether it is a spelling of a name. Numbers may be run together, `556` for `5.56`, and not taken apart: `2.60` is
    /// no `.260`.
    /// Two digits of millimetres are whole: `45 mm` is no `4.5 mm`.
    pub fn is_of(&self, name: &Self) -> bool {
        let is_mm = |at: usize| at == 1 && self.form.get(2..4) == Some("mm");
        let is_whole = !name.parted.iter().any(|at| !self.parted.contains(at) && is_mm(*at));
        self.form == name.form && is_whole && self.parts_no_more_than(name)
    }

    /// Whether a name goes on from it, with its last number whole: `65c` begins `6.5 Creedmoor`, and `4.6` no `.460`.
    pub fn begins(&self, name: &Self) -> bool {
        let Some(behind) = name.form.strip_prefix(&self.form).filter(|_| !self.form.is_empty()) else { return false };
        let is_cut = ends_in_digit(&self.form) && begins_with_digit(behind) && !name.parted.contains(&self.form.len());
        !is_cut && self.parts_no_more_than(name)
    }

    fn parts_no_more_than(&self, name: &Self) -> bool {
        self.parted.iter().all(|at| name.parted.contains(at))
    }
}

fn ends_in_digit(text: &str) -> bool {
    text.ends_with(char::is_numeric)
}

fn begins_with_digit(text: &str) -> bool {
    text.starts_with(char::is_numeric)
}

/// Whether a token is a number.
pub(super) fn is_number(token: &str) -> bool {
    token.chars().all(char::is_numeric)
}

/// Whether a name goes on from what was asked: `300 w` begins `300 win mag` and `300 wsm`, and `30` does not.
pub(super) fn begins(asked: &[String], name: &[String]) -> bool {
    let Some((last, whole)) = asked.split_last() else { return false };
    let Some(next) = name.get(whole.len()) else { return false };
    name.starts_with(whole) && if is_number(last) { next == last } else { next.starts_with(last) }
}

/// Whether a name has the words asked, in their order, with others between.
pub(super) fn holds_in_order(asked: &[String], name: &[String]) -> bool {
    let mut rest = name.iter();
    asked.iter().enumerate().all(|(index, word)| {
        let is = |other: &String| if is_number(word) { other == word } else { other.starts_with(word.as_str()) };
        // The first word is the calibre, and begins the name.
        if index == 0 { rest.next().is_some_and(is) } else { rest.any(is) }
    })
}

/// The numbers that a name begins with: the calibre, `7.62`, and `30-06`.
pub(super) fn leading_numbers(name: &[String]) -> &[String] {
    let count = name.iter().take_while(|token| is_number(token)).count();
    &name[..count]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_may_be_run_together_and_are_not_taken_apart() {
        let words = Words::new();
        let is_of = |asked, name| Spelled::of(asked, &words).is_of(&Spelled::of(name, &words));
        let begins = |asked, name| Spelled::of(asked, &words).begins(&Spelled::of(name, &words));
        for (asked, name) in
            [("556", "5.56"), ("556 mm", "5.56 mm"), ("30.06", "30-06"), ("3006", "30-06"), ("22.250", ".22-250")]
        {
            assert!(is_of(asked, name), "{asked} {name}");
        }
        for (asked, name) in
            [("2.60", "260"), ("4.0", "40"), ("3.08 win", "308 win"), ("30 8", "308"), ("45 mm", "4.5 mm")]
        {
            assert!(!is_of(asked, name), "{asked} {name}");
        }
        assert!(begins("65c", "6.5 creedmoor") && begins("5", "5.56 mm") && begins("460", ".460 S&W"));
        assert!(!begins("4.6", ".460 S&W") && !begins("46", ".460 S&W") && !begins("4.1", ".41 Magnum"));
    }
}
