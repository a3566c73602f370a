//! Names that differ in a number alone, told together.

use super::Told;
use super::item::put_one;
use crate::order::Order;
use crate::words::listed;
use std::collections::HashMap;

/// How targets are told apart: by their own name where no other bears it, by their stage where it has no other.
pub(super) struct Names {
    bearing: HashMap<String, usize>,
    on_stage: Vec<usize>,
}

impl Names {
    pub fn of(told: &Told) -> Self {
        let mut names = Self { bearing: HashMap::new(), on_stage: vec![0; told.course.stages.len()] };
        for target in &told.course.targets {
            *names.bearing.entry(target.name.clone()).or_default() += 1;
            names.on_stage[target.stage] += 1;
        }
        names
    }

    /// Targets by what tells them apart, each once: `gong 12 and 40 to 43; Creek and Hill: star and bar`.
    pub fn list(&self, told: &Told, targets: &[usize]) -> String {
        let (mut alone, mut staged): (Vec<String>, Vec<(usize, Vec<String>)>) = (Vec::new(), Vec::new());
        for target in targets.iter().map(|target| &told.course.targets[*target]) {
            if self.on_stage[target.stage] == 1 {
                alone.push(told.course.stages[target.stage].name.clone());
            } else if self.bearing.get(&target.name) == Some(&1) {
                alone.push(target.name.clone());
            } else {
                put_one(&mut staged, target.stage, target.name.clone());
            }
        }
        let mut alike: Vec<(String, Vec<String>)> = Vec::new();
        for (stage, names) in staged {
            put_one(&mut alike, gathered(&names), told.course.stages[stage].name.clone());
        }
        let alone = (!alone.is_empty()).then(|| gathered(&alone));
        let staged = alike.iter().map(|(names, stages)| format!("{} {names}", gathered(stages)));
        alone.into_iter().chain(staged).collect::<Vec<_>>().join("; ")
    }
}

/// Names that differ in a number alone together, those of numbers that follow each other from the first to the last:
/// `Post 3, 4 and 9 to 12 above the creek`.
pub(super) fn gathered(names: &[String]) -> String {
    let mut plain: Vec<String> = Vec::new();
    let mut groups: Vec<((&str, &str), Vec<&str>)> = Vec::new();
    for name in names {
        match parted(name) {
            Some((before, number, after)) => put_one(&mut groups, (before, after), number),
            None => plain.push(name.clone()),
        }
    }
    let numbered = groups.into_iter().map(|((before, after), mut numbers)| {
        numbers.order_by_key(|number| (number.len(), *number));
        numbers.dedup();
        // `gong 3 and 4`, but `t3 and t4`.
        let again = if before.ends_with(|c: char| c.is_alphanumeric()) { before } else { "" };
        format!("{before}{}{after}", listed(&runs(&numbers, again)))
    });
    let numbered: Vec<String> = numbered.collect();
    match numbered.as_slice() {
        [] => listed(&plain),
        [one] if plain.is_empty() => one.clone(),
        _ => plain.into_iter().chain(numbered).collect::<Vec<_>>().join(", "),
    }
}

/// What stands before the last number of a name, the number, and what stands behind it; so too of a letter that stands
/// alone at its end.
fn parted(name: &str) -> Option<(&str, &str, &str)> {
    if let Some((word, letter)) = name.rsplit_once(' ')
        && letter.chars().count() == 1
        && letter.chars().all(char::is_alphabetic)
    {
        return Some((&name[..=word.len()], letter, ""));
    }
    let end = name.rfind(|c: char| c.is_ascii_digit())? + 1;
    let start = name[..end]
        .rfind(|c: char| !c.is_ascii_digit())
        .map_or(0, |at| at + name[at..].chars().next().map_or(1, char::len_utf8));
    Some((&name[..start], &name[start..end], &name[end..]))
}

/// Sorted numbers, three and more that follow each other as `9 to 12`; all but the first with `again` before it.
fn runs(numbers: &[&str], again: &str) -> Vec<String> {
    let follows = |a: &str, b: &str| {
        let (next, other) = (a.parse::<u64>().ok().and_then(|a| a.checked_add(1)), b.parse::<u64>().ok());
        next.is_some() && next == other && (a.len() == b.len() || !(a.starts_with('0') || b.starts_with('0')))
    };
    let mut runs: Vec<Vec<&str>> = Vec::new();
    for &number in numbers {
        match runs.last_mut() {
            Some(run) if run.last().is_some_and(|last| follows(last, number)) => run.push(number),
            _ => runs.push(vec![number]),
        }
    }
    let mut words: Vec<String> = Vec::new();
    for run in runs {
        let mut push = |text: &str| words.push(if words.is_empty() { text.into() } else { format!("{again}{text}") });
        match run.as_slice() {
            [first, _, .., last] => push(&format!("{first} to {again}{last}")),
            few => few.iter().for_each(|number| push(number)),
        }
    }
    words
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(names: &[&str]) -> String {
        gathered(&names.iter().map(|name| (*name).to_owned()).collect::<Vec<_>>())
    }

    #[test]
    fn names_that_differ_in_a_number_stand_together() {
        assert_eq!(of(&["gong 12", "gong 3", "gong 4"]), "gong 3, 4 and 12");
        assert_eq!(of(&["gong 9", "gong 10", "gong 11", "gong 20"]), "gong 9 to 11 and 20");
        assert_eq!(of(&["t1", "t3", "t2"]), "t1 to t3");
        assert_eq!(of(&["t1", "t3"]), "t1 and t3");
        assert_eq!(of(&["Post 1 above the creek", "Post 4 above the creek"]), "Post 1 and 4 above the creek");
        assert_eq!(of(&["star", "bar", "gong 1", "gong 2"]), "star, bar, gong 1 and 2");
        assert_eq!(of(&["S08", "S09", "S10", "S011"]), "S08 to S10 and S011");
        assert_eq!(of(&["ö5", "ö6"]), "ö5 and ö6");
        assert_eq!(of(&["7"]), "7");
        assert_eq!(of(&["Stage A", "Stage C", "Stage B"]), "Stage A, B and C");
        assert_eq!(of(&["star", "A"]), "star and A");
    }
}
