//! Numbers in a note that are of people, of days and of money, and no speeds, distances or sizes.

/// Units in a cell whose number may be one that counts.
#[rustfmt::skip]
pub(super) const UNITS: [&str; 20] = [
    "fps", "ft/s", "m/s", "yd", "yds", "yard", "yards", "metres", "meters", "ft-lb", "ft-lbf", "ft·lbf", "deg",
    "degrees", "°", "grains", "m", "y", "paces", "pace",
];
/// Further ones that make a number none of a person's.
#[rustfmt::skip]
const FURTHER_UNITS: [&str; 13] =
    ["in", "inch", "inches", "mm", "gr", "grain", "g", "feet", "ft", "foot", "per", "plate", "thick"];
/// Words before a number by which somebody, or what they have, is kept or called.
#[rustfmt::skip]
const KEPT_BY: [&str; 22] = [
    "member", "membership", "badge", "licence", "license", "locker", "number", "account", "invoice", "receipt", "paid",
    "owes", "fee", "code", "pin", "room", "extension", "channel", "phone", "tel", "mobile", "cell",
];
/// Words before a telephone.
#[rustfmt::skip]
const CALLS: [&str; 10] = ["phone", "telephone", "tel", "ring", "call", "calls", "mobile", "cell", "text", "contact"];
#[rustfmt::skip]
const MONTHS: [&str; 24] = [
    "jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "sept", "oct", "nov", "dec", "january", "february",
    "march", "april", "june", "july", "august", "september", "october", "november", "december",
];
/// Words before a day as `3/4`.
const BEFORE_A_DAY: [&str; 9] = ["on", "by", "until", "till", "since", "before", "after", "expires", "due"];
/// Words of somebody who comes or goes, before `at 9`.
#[rustfmt::skip]
const COMES: [&str; 16] = [
    "arrives", "arrive", "arriving", "leaves", "leave", "leaving", "comes", "coming", "goes", "going", "starts", "start",
    "relay", "meets", "departs", "back",
];
/// Words before an age.
const BEFORE_AN_AGE: [&str; 4] = ["under", "over", "age", "aged"];
const OF_AGE: [&str; 5] = ["y", "yo", "yr", "yrs", "y/o"];
/// What is worn, before its size.
const WORN: [&str; 6] = ["hat", "cap", "shirt", "shoe", "shoes", "glove"];
/// Letters before a dash and a number that is a speed.
const OF_SPEED: [&str; 5] = ["v", "mv", "vo", "vel", "sd"];
const YEARS: std::ops::Range<u32> = 1900..2100;
/// How many digits a telephone's number has.
const DIGITS: std::ops::RangeInclusive<usize> = 7..=13;
/// The least of one with its area.
const TRUNK: usize = 9;

/// A word without what stands around it.
fn bare(word: &str) -> &str {
    word.trim_matches([',', ';', ':', '.', '(', ')', '!', '?', '"', '\''])
}

fn whole(word: &str) -> Option<u32> {
    bare(word).parse().ok()
}

/// A day of a month, or a month of a year.
fn is_day(part: &str) -> bool {
    part.len() <= 2 && part.parse::<u32>().is_ok_and(|n| (1..=31).contains(&n))
}

/// Whether a word is a date in figures, `14.5.2026`, `5/14/26`.
fn is_date(word: &str) -> bool {
    let parts: Vec<&str> = bare(word).split(['.', '/']).collect();
    let is_year =
        |part: &str| matches!(part.len(), 2 | 4) && part.parse::<u32>().is_ok_and(|n| n < 100 || YEARS.contains(&n));
    matches!(parts.as_slice(), [a, b, year] if is_day(a) && is_day(b) && is_year(year))
        || matches!(parts.as_slice(), [year, a, b] if year.len() == 4 && is_year(year) && is_day(a) && is_day(b))
}

/// Whether a row of digits is a telephone's number: by its beginning, by its groups, or by a word before it.
fn is_telephone(run: &str, is_called: bool) -> bool {
    let groups: Vec<&str> = run.split(|c: char| !c.is_ascii_digit()).filter(|group| !group.is_empty()).collect();
    let digits: usize = groups.iter().map(|group| group.len()).sum();
    if !DIGITS.contains(&digits) {
        return false;
    }
    let lengths: Vec<usize> = groups.iter().map(|group| group.len()).collect();
    let is_parted = run.contains(['-', '.', '(']) && lengths == [3, 3, 4];
    // Bullets have a hundred grains and more, areas no number with a one before it.
    let is_area = is_parted && groups[..2].iter().all(|group| !group.starts_with('1'));
    let is_trunk = digits >= TRUNK && groups[0].len() > 2 && groups[0].starts_with('0');
    let is_abroad = digits > TRUNK && run.starts_with('+');
    // Groups of four alone may be speeds.
    let is_said = is_called && lengths.iter().any(|length| *length != 4);
    is_area || is_trunk || is_abroad || is_said
}

/// The words of a note in lower case.
struct Words<'t>(Vec<&'t str>);

impl Words<'_> {
    fn at(&self, at: usize) -> &str {
        self.0.get(at).copied().unwrap_or_default()
    }

    fn before(&self, at: usize, count: usize) -> &str {
        at.checked_sub(count).map(|at| bare(self.at(at))).unwrap_or_default()
    }

    /// Whether a unit stands behind a number: then it is none of a person's.
    fn has_unit(&self, at: usize) -> bool {
        let next = bare(self.at(at + 1));
        UNITS.contains(&next) || FURTHER_UNITS.contains(&next) || self.at(at).ends_with(['"', '″', '”'])
    }

    /// How many words from one on are a telephone's number: `(555) 010-2233`, `ring 0207 946 0018`.
    fn telephone(&self, at: usize) -> usize {
        let is_part = |word: &str| {
            let word = word.trim_end_matches([',', ';', '.']);
            !word.is_empty() && word.chars().all(|c| c.is_ascii_digit() || "()+-.".contains(c))
        };
        // What follows a comma is another number, and what stands in a row of them is none.
        let is_last = |at: usize| self.at(at).ends_with([',', ';', '.']);
        let parts =
            (at..self.0.len()).take_while(|here| is_part(self.at(*here)) && (*here == at || !is_last(here - 1)));
        let count = parts.count();
        let run = self.0[at..at + count].join(" ");
        let is_in_a_row = at > 0 && is_part(self.at(at - 1)) && !is_last(at - 1);
        if is_in_a_row || run.is_empty() || self.has_unit(at + count - 1) {
            return 0;
        }
        let is_telephone = is_telephone(&run, CALLS.contains(&self.before(at, 1)));
        if is_telephone { count } else { 0 }
    }

    /// Whether a number is one that people, what they have and what they pay are kept by.
    fn is_kept(&self, at: usize) -> bool {
        let word = bare(self.at(at));
        let is_number = |word: &str| {
            word.contains(|c: char| c.is_ascii_digit()) && word.chars().all(|c| c.is_ascii_digit() || c == '-')
        };
        if let Some(rest) = word.strip_prefix(['#', '$', '€', '£']) {
            return rest.parse::<f64>().is_ok();
        }
        let is_code = |word: &str| !word.is_empty() && word.len() <= 3 && word.chars().all(|c| c.is_ascii_lowercase());
        let is_coded = word.split_once('-').is_some_and(|(letters, number)| {
            is_code(letters) && !OF_SPEED.contains(&letters) && number.len() >= 4 && number.parse::<u32>().is_ok()
        });
        let is_called =
            KEPT_BY.contains(&self.before(at, 1)) || (is_code(self.before(at, 1)) && self.before(at, 2) == "number");
        is_coded || (is_number(word) && is_called)
    }

    /// Whether a word is of a day: a date, or a year beside a month.
    fn is_of_a_day(&self, at: usize) -> bool {
        let is_month = |word: &str| MONTHS.contains(&word);
        let is_year = whole(self.at(at)).is_some_and(|n| YEARS.contains(&n));
        let is_month_before =
            || is_month(self.before(at, 1)) || (is_month(self.before(at, 2)) && is_day(self.before(at, 1)));
        is_date(self.at(at)) || (is_year && is_month_before())
    }

    /// Whether somebody comes or goes at an hour: `arrives at 0900`.
    fn is_hour(&self, at: usize) -> bool {
        let word = bare(self.at(at));
        let is_hour = word.parse::<u32>().is_ok_and(|n| match word.len() {
            1 | 2 => n <= 24,
            4 => n / 100 <= 24 && n % 100 < 60,
            _ => false,
        });
        let comes = || self.0[..at].iter().any(|word| COMES.contains(&bare(word)));
        is_hour && self.before(at, 1) == "at" && comes()
    }

    /// Whether a number beside a load is an age, a day or a size of what is worn.
    fn is_of_a_shooter(&self, at: usize) -> bool {
        let word = bare(self.at(at));
        let (before, is_small) = (self.before(at, 1), whole(word).is_some_and(|n| n < 100));
        let is_day_of = |word: &str| word.split_once('/').is_some_and(|(a, b)| is_day(a) && is_day(b));
        (is_small && BEFORE_AN_AGE.contains(&before))
            || (is_day_of(word) && BEFORE_A_DAY.contains(&before))
            || WORN.contains(&before)
            || WORN.contains(&self.before(at, 2)) && is_day_of(word)
    }

    /// How many words from one on are an age with its unit, where the note begins with it: `17 y`.
    fn age(&self, at: usize) -> usize {
        let is_first = at == 0 || BEFORE_AN_AGE.contains(&self.before(at, 1));
        // `12 y line` is a distance.
        let is_last = self.at(at + 1).ends_with([',', ';']) || matches!(self.at(at + 2), "" | "old");
        let is_age = is_first
            && is_last
            && whole(self.at(at)).is_some_and(|n| n < 100)
            && OF_AGE.contains(&bare(self.at(at + 1)));
        if is_age { 2 } else { 0 }
    }
}

/// A note in lower case without such numbers. Beside a load, ages and days are some: no distance stands there.
pub(super) fn without_numbers_of_people(text: &str, beside_a_load: bool) -> String {
    let words = Words(text.split_whitespace().collect());
    let (mut at, mut kept) = (0, Vec::new());
    while at < words.0.len() {
        let is_long = words.telephone(at).max(if beside_a_load { words.age(at) } else { 0 });
        let is_one = || {
            !words.has_unit(at)
                && (words.is_kept(at)
                    || words.is_of_a_day(at)
                    || (beside_a_load && (words.is_hour(at) || words.is_of_a_shooter(at))))
        };
        if is_long > 0 {
            at += is_long;
        } else {
            if !is_one() {
                kept.push(words.at(at));
            }
            at += 1;
        }
    }
    kept.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_of_people_days_and_money_are_told_from_speeds_and_sizes() {
        for (note, rest) in [
            ("phone: (555) 010-2233", "phone:"),
            ("+1 555 010 2233", ""),
            ("ring 0207 946 0018", "ring"),
            ("555-010-2233", ""),
            ("call 555 1234", "call"),
            ("+49 170 1234567", ""),
            ("member 1234", "member"),
            ("member #1234", "member"),
            ("membership 2026-114", "membership"),
            ("m-2231", ""),
            ("check #1024", "check"),
            ("plate number kj 4570", "plate number kj"),
            ("14 may 2026", "14 may"),
            ("may 14, 2026", "may 14,"),
            ("14.5.2026", ""),
            ("5/14/2026", ""),
            ("paid $35 on 3/4", "paid on"),
            ("under 18", "under"),
            ("over 65", "over"),
            ("17 y", ""),
            ("arrives at 0900", "arrives at"),
            ("relay 1 at 9", "relay 1 at"),
            ("hat 7 1/4", "hat"),
        ] {
            assert_eq!(without_numbers_of_people(note, true), rest, "{note}");
        }
        for note in [
            "runs 2900",
            "2650 2680",
            "2650-2700",
            "+200 2650",
            "member 2900 fps",
            "#2 2900",
            "at 2900",
            "v-2900",
            "mv-2900",
            "arrives at 2650",
            "shoots at 100",
            "over 41.5 gr",
            "under 30 in",
            "1/4 in",
            "3/4",
            "shot at 17 y",
            "number 3 2650",
            "01 2650 02 2660",
            "ring 0207 946 0018, 2900",
            "0207 946 0018 2900",
            "may do 2050",
            "12 y line",
            "ring 2650 2700",
            "(168) 2700",
            "(168) 2700 2710",
            "168-308-2650",
            "0308 2650",
            "+1 2650 2700",
            "on 3/4 plate",
        ] {
            assert!(
                without_numbers_of_people(note, true).split(' ').next_back() == note.split(' ').next_back(),
                "{note}"
            );
        }
        assert_eq!(without_numbers_of_people("under 18, start at 10, on 3/4", false), "under 18, start at 10, on 3/4");
    }
}
