//! What stands beside a shooter's name, and is none of it: another load, a speed, a second gun.

use super::names::Names;
use super::second::{calls_thing, is_second, may_be_second};
use super::spoken::{Of, judged_cell};
use crate::catalog::is_called_otherwise;
use crate::load::Load;
use crate::quantity::{Velocity, parse};

/// What parts a name from what is said of it.
const MARKS: [char; 9] = ['(', ')', '[', ']', ',', ';', ':', '/', '|'];

/// Whether a shooter's cell says more than who it is: of another load than the row's, or of what is judged. Hunter,
/// Magnum and Remington Steele may shoot.
pub(super) fn says_more(who: &str, names: &Names, load: &Load) -> bool {
    let speaks = |text: &str| judged_cell("", text, Of::Loads) || may_be_second(text, load.facts().firearm);
    let parts = || who.split(MARKS).skip(1).chain(who.split(" - ").skip(1)).map(str::trim);
    names.has_other(who, load.id())
        || has_speed(who)
        || is_second(&who.to_lowercase())
        || is_of_another_bore(who, load)
        || parts().any(|part| speaks(&without_names(part)))
        || (calls_thing(who) && speaks(who))
}

/// A text without its words that may be names: `Dent family` of a club or a town, and not `Hot loads`.
fn without_names(text: &str) -> String {
    let is_called = |word: &&str| {
        let mut letters = word.chars();
        letters.next().is_some_and(char::is_uppercase) && letters.all(|c| c.is_lowercase() || "-'.’".contains(c))
    };
    if calls_thing(text) {
        return text.to_owned();
    }
    text.split_whitespace().filter(|word| !is_called(word)).collect::<Vec<_>>().join(" ")
}

/// A number with the word behind it, joined or apart, for each of a text.
fn measures(text: &str) -> Vec<String> {
    let words: Vec<&str> =
        text.split([' ', '(', ')', ',', ';', '/', '[', ']']).filter(|word| !word.is_empty()).collect();
    let begins = |word: &str| word.starts_with(|c: char| c.is_ascii_digit());
    let one = words.iter().filter(|word| begins(word)).map(|word| (*word).to_owned());
    let two = words.windows(2).filter(|pair| begins(pair[0])).map(|pair| pair.join(" "));
    one.chain(two).collect()
}

fn has_speed(text: &str) -> bool {
    measures(&text.to_lowercase()).iter().any(|measure| parse::<Velocity>(measure).is_ok())
}

/// Whether a bore in millimetres is another's than the load's: `Hunter 9mm`.
fn is_of_another_bore(text: &str, load: &Load) -> bool {
    let bores = measures(&text.to_lowercase()).into_iter().filter(|measure| measure.ends_with("mm"));
    bores.into_iter().any(|bore| is_called_otherwise(&format!("load {bore}"), load))
}
