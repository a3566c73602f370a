//! Titles above a table that begin with a number, as a reading does: `6.5 Creedmoor`, `2026-05-01`.

use super::string::unit_spelled;
use super::sums::begins_like_a_reading;

/// Speeds in either unit that a line could be a slip of, and none of its words make it a title: `2648 warm`.
const LIKE_A_SPEED: std::ops::RangeInclusive<f64> = 600.0..=6000.0;

/// Whether a line that begins with a number is a title: a day, or words behind a number that is no speed.
pub(super) fn is_title(text: &str) -> bool {
    let text = text.trim();
    let first = text.split(|c: char| c.is_whitespace() || ",;T".contains(c)).next().unwrap_or_default();
    let is_digits = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    let is_day =
        ['-', '/', '.'].iter().any(|mark| first.split(*mark).count() == 3 && first.split(*mark).all(is_digits));
    let is_pair = first.split('-').count() == 2
        && first.trim_start_matches('.').split('-').all(|part| part.parse::<f64>().is_ok());
    let number = text.split(|c: char| !(c.is_ascii_digit() || c == '.')).find(|part| !part.is_empty());
    let is_slow = number.and_then(|number| number.parse().ok()).is_some_and(|number| !LIKE_A_SPEED.contains(&number));
    let is_number = |c: char| c.is_ascii_digit() || c == '.';
    let mut words = text.split(|c: char| c.is_whitespace() || ",;():".contains(c));
    let has_unit = words.any(|word| unit_spelled(word.trim_start_matches(is_number)).is_some());
    let is_of_words = is_slow && (is_pair || text.contains(char::is_alphabetic));
    begins_like_a_reading(text) && !has_unit && (is_day || is_of_words)
}

/// Whether a line is a reading of a list, or a slip of one.
pub(super) fn is_in_a_list(text: &str) -> bool {
    begins_like_a_reading(text.trim()) && !is_title(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_title_is_told_from_a_reading_and_from_a_slip_of_one() {
        for text in
            ["6.5 Creedmoor", "308 Win 168 gr", "2026-05-01", "05/01/2026", "1.5.2026 range", "5 shots", "30-06"]
        {
            assert!(is_title(text) && !is_in_a_list(text), "{text}");
        }
        for text in ["2648", "2648 fps", "2648fps", "807 warm", "2,648", "2648.5", "308", "308 fps", "-12", "2648;2650"]
        {
            assert!(!is_title(text) && is_in_a_list(text), "{text}");
        }
    }
}
