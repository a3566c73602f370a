//! How a name, or a note, says that a target stands: leaning back, lying, turned aside, moved nearer, above or below.

use crate::source::words_of;

/// Words that stand together, and say that it leans back.
#[rustfmt::skip]
const BACK: [&str; 18] = [
    "leaning back", "leans back", "lean back", "leant back", "tilted back", "leaned back", "tilts back", "tipped back",
    "tips back", "angled back", "leaning away", "leans away", "tilted away", "tilts away",
    "leaning rearward", "leans rearward", "reclined", "reclining",
];
/// The same of one that lies.
#[rustfmt::skip]
const LIES: [&str; 12] = [
    "lying down", "lying flat", "lies flat", "laid flat", "lays flat", "laying flat", "laying down", "face up", "faces up",
    "facing up", "flat on the ground",
    "on its back",
];
/// Words for a face that is not square to the shooter.
#[rustfmt::skip]
const ASIDE: [&str; 10] = [
    "edge on", "turned sideways", "faces left", "faces right", "turned left", "turned right", "not square", "at an angle",
    "facing left", "facing right",
];
const TURNS: [&str; 9] = ["turned", "off", "oblique", "angled", "skewed", "aside", "quartering", "canted", "turn"];
const DEGREES: [&str; 3] = ["deg", "degree", "degrees"];
/// Words for a target, or a line, that was moved, and where to.
const MOVED: [&str; 5] = ["moved", "moves", "move", "brought", "shifted"];
const NEARER: [&str; 6] = ["nearer", "closer", "up", "in", "forward", "forwards"];
/// What it is moved up to, which is no line.
const ABOVE: [&str; 4] = ["up", "down", "uphill", "downhill"];
/// Words before the number of a line that somebody goes to.
const GOES_TO: [&str; 2] = ["from", "to"];

/// A smaller number counts positions: `port 1 to 3`.
const LEAST_LINE: f64 = 10.0;

/// The words of a text with one space between them, its degrees written out.
fn spaced(text: &str) -> String {
    words_of(&text.to_lowercase().replace('°', " deg ")).join(" ")
}

/// Whether a text says that a target leans back.
pub(super) fn leans_back(text: &str) -> bool {
    let text = spaced(text);
    BACK.iter().any(|back| text.contains(back))
}

/// Whether it says that it lies.
pub(super) fn lies(text: &str) -> bool {
    let text = format!(" {} ", spaced(text));
    LIES.iter().any(|lies| text.contains(&format!(" {lies} ")))
}

/// Whether it says that its face is turned aside: `turned 30 deg`, `30 degrees off`.
pub(super) fn is_turned(text: &str) -> bool {
    let text = spaced(text);
    let words: Vec<&str> = text.split(' ').collect();
    let is_far = |word: &str| word.trim_end_matches("deg").parse::<f64>().is_ok_and(|number| number > 0.0);
    let degrees = (0..words.len()).any(|at| {
        let is_unit = |at: usize| words.get(at).is_some_and(|word| DEGREES.contains(word));
        is_far(words[at]) && (is_unit(at + 1) || words[at].ends_with("deg"))
    });
    ASIDE.iter().any(|aside| text.contains(aside)) || degrees && words.iter().any(|word| TURNS.contains(word))
}

/// Whether it says that a target was moved nearer: `moved nearer`, `moved up`.
#[must_use]
pub fn is_moved_nearer(text: &str) -> bool {
    let text = spaced(text);
    let words: Vec<&str> = text.split(' ').collect();
    words.windows(2).any(|pair| MOVED.contains(&pair[0]) && NEARER.contains(&pair[1]))
}

/// Whether the name of a position says that it is above or below its target by some degrees: `rooftop 20 deg down`.
#[must_use]
pub fn is_sloped(name: &str) -> bool {
    let text = spaced(name);
    let words: Vec<&str> = text.split(' ').collect();
    words.iter().any(|word| DEGREES.contains(word) || word.ends_with("deg") && word.len() > 3)
        && words.iter().any(|word| ABOVE.contains(word))
}

/// The number of a line, without a unit, that the name of a position says somebody goes to: `step to 50`, `from 50`.
#[must_use]
pub fn line_named(name: &str) -> Option<f64> {
    let text = spaced(name);
    let words: Vec<&str> = text.split(' ').collect();
    let goes = (0..words.len()).find(|at| GOES_TO.contains(&words[*at]) && words.get(at + 2).is_none())?;
    words.get(goes + 1)?.parse().ok().filter(|line| *line >= LEAST_LINE)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn how_a_target_stands_is_heard_and_what_sounds_like_it_is_not() {
        for text in ["leaning back", "Tilted-back", "leans  away", "tips back"] {
            assert!(leans_back(text), "{text}");
        }
        assert!(lies("lying down") && lies("Face-up") && !lies("face upright"));
        for text in ["turned 30 deg", "30 degrees off", "turned 30°", "edge-on", "15deg aside"] {
            assert!(is_turned(text), "{text}");
        }
        for text in ["gong", "360 spinner", "off the road", "45 deg diamond", "Turned oak"] {
            assert!(!is_turned(text), "{text}");
        }
        assert!(is_moved_nearer("moved nearer") && is_moved_nearer("move up") && !is_moved_nearer("near gong"));
        assert!(is_sloped("rooftop 20 deg down") && is_sloped("Tower 15° downhill") && !is_sloped("down range"));
        assert_eq!(["step to 50", "from 50", "run to 100"].map(line_named), [Some(50.0), Some(50.0), Some(100.0)]);
        assert_eq!(["port 1 to 3", "Bay 50", "to the left"].map(line_named), [None, None, None]);
    }
}
