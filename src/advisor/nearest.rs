//! How near anyone may come: the distance from which a load suits a plate, in the air that was taken and at the bad end
//! of what was not given. It is one number for one load on one plate, wherever it is told, and never depends on the
//! distance asked; it is told finer than in whole yards where what was asked lies between it and the next one.

use crate::order::Order;
use crate::quantity::{Length, Measure};
use crate::words::{self, Units};

/// What a distance is of, `308 Win 168 gr match`, and the distance; none where no distance is good.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct One {
    pub of: String,
    pub from: Option<Length>,
    /// Up to where it is good, where that ends.
    pub to: Option<Length>,
    /// Where it was asked at.
    pub asked: Vec<Length>,
    /// How far it goes that no distance is good, behind `at no distance`: `for all of 0 to 6000 ft: give the air`.
    pub but: Option<String>,
    /// Whether it holds for a part of what was asked, and the rest is never good: it is told, and no distance is good.
    pub in_part: bool,
}

/// How near anyone may come with each of what was asked.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Nearest {
    /// Each, tied by a word: `with 308 Win 168 gr match`, `on 1/4 in`.
    Each(&'static str, Vec<One>),
    /// No one plate is named: each is told with its own.
    ByPlate(Vec<One>),
    /// Each row of a table has its own.
    ByRow,
}

impl Nearest {
    /// Of one load on one plate.
    pub fn one(from: Option<Length>, asked: &[Length]) -> Self {
        Self::of_any(from, None, asked, false)
    }

    /// The same of any ammunition, part of which may be never good.
    pub fn of_any(from: Option<Length>, to: Option<Length>, asked: &[Length], in_part: bool) -> Self {
        Self::Each("with", vec![One { of: String::new(), from, to, asked: asked.to_vec(), but: None, in_part }])
    }

    /// Where nothing stands to be shot at.
    pub fn nothing() -> Self {
        Self::Each("with", Vec::new())
    }

    /// The distance where it is one for all of what was asked.
    pub fn for_all(&self) -> Option<Length> {
        let Self::Each(_, of) = self else { return None };
        self.shared().filter(|_| !of.iter().any(|one| one.in_part))
    }

    /// The distance where it is one for all, of what is ever good.
    fn shared(&self) -> Option<Length> {
        let Self::Each(_, of) = self else { return None };
        let first = of.first()?.from?;
        let same = |one: &One| one.from.is_some_and(|from| (from - first).si().abs() < 1e-9);
        of.iter().all(same).then_some(first)
    }

    /// The least of the distances.
    pub fn least(&self) -> Option<Length> {
        let (Self::Each(_, of) | Self::ByPlate(of)) = self else { return None };
        of.iter().filter_map(|one| one.from).reduce(|a, b| if b < a { b } else { a })
    }

    /// `Nobody nearer than 100 yd with A, 259 yd or farther than 309 yd with B and C.`; `who` and `tail` stand about the distances.
    pub fn sentence(&self, who: &str, tail: &str, units: Units) -> String {
        let (tie, of, alone) = match self {
            Self::Each(tie, of) => (*tie, of, true),
            Self::ByPlate(of) => ("with", of, false),
            Self::ByRow => return format!("{who} nearer than the table has it for the load and the plate{tail}."),
        };
        let never = never(of);
        let groups = groups(of, units);
        let mut said = match groups.as_slice() {
            [] => String::new(),
            [(distance, _)] if alone && never.is_empty() && of.iter().any(|one| one.in_part) => {
                let who = who.to_lowercase();
                format!("No distance is good for all of it: {who} nearer than {distance} with the rest{tail}.")
            }
            [(distance, _)] if alone && never.is_empty() => format!("{who} nearer than {distance}{tail}."),
            several => {
                let told: Vec<String> =
                    several.iter().map(|(d, of)| format!("{d} {tie} {}", words::listed(of))).collect();
                format!("{who} nearer than {}{tail}.", told.join(", "))
            }
        };
        if groups.is_empty() && never.iter().all(|(but, _)| but.is_none()) && !never.is_empty() {
            return "No distance is good: keep it off.".into();
        }
        let only = groups.is_empty() && never.len() == 1;
        for (but, of) in never {
            let of = if only { String::new() } else { format!(" {tie} {}", words::listed(&of)) };
            let but = but.map(|but| format!(" {but}")).unwrap_or_default();
            let after = if said.is_empty() { "" } else { " " };
            said.push_str(&format!("{after}At no distance{of}{but}."));
        }
        said
    }

    /// Where nobody is to be, in one breath: `Nobody nearer than 100 yd while hot, behind it or within 20° of its
    /// plane.` Several distances are told before it, and named by what they are of.
    pub fn zones(&self, units: Units) -> String {
        const ELSEWHERE: &str = "behind it or within 20° of its plane";
        let any = self.least().is_some();
        let than = match self {
            Self::ByRow => "the table has it for the load and the plate".into(),
            Self::Each(..) | Self::ByPlate(_) if !any => {
                return format!("Nobody shoots it, stands {ELSEWHERE}.");
            }
            Self::ByPlate(_) => "the distance of its load and plate".into(),
            Self::Each(tie, of) => match self.shared() {
                Some(distance) => units.distance_kept(distance, &asked(of)),
                None if *tie == "on" => "its plate's distance".into(),
                None => "its load's distance".into(),
            },
        };
        format!("Nobody nearer than {than} while hot, {ELSEWHERE}.")
    }
}

/// What no distance is good for, by how far that goes.
fn never(of: &[One]) -> Vec<(Option<String>, Vec<String>)> {
    let mut never: Vec<(Option<String>, Vec<String>)> = Vec::new();
    for one in of.iter().filter(|one| one.from.is_none()) {
        match never.iter_mut().find(|(but, _)| *but == one.but) {
            Some((_, names)) => names.push(one.of.clone()),
            None => never.push((one.but.clone(), vec![one.of.clone()])),
        }
    }
    never
}

/// Everything that was asked.
fn asked(of: &[One]) -> Vec<Length> {
    of.iter().flat_map(|one| one.asked.iter().copied()).collect()
}

/// What shares a distance as it is told, from near to far.
fn groups(of: &[One], units: Units) -> Vec<(String, Vec<String>)> {
    let mut found: Vec<(Length, &One)> = of.iter().filter_map(|one| Some((one.from?, one))).collect();
    found.order_by(|a, b| a.0.si().total_cmp(&b.0.si()));
    let mut groups: Vec<(String, Vec<String>)> = Vec::new();
    let asked = asked(of);
    for (from, one) in found {
        let to = one.to.map(|to| format!(" or farther than {}", units.distance_down(to))).unwrap_or_default();
        let (told, name) = (units.distance_kept(from, &asked) + &to, one.of.clone());
        match groups.last_mut().filter(|(distance, _)| *distance == told) {
            Some((_, names)) if names.contains(&name) => {}
            Some((_, names)) => names.push(name),
            None => groups.push((told, vec![name])),
        }
    }
    groups
}

/// Whether what is asked is nearer than a distance from which it is good, as both are told: 300 ft is 100 yd.
pub(crate) fn is_nearer(asked: Length, from: Length, units: Units) -> bool {
    asked < from && units.distance(asked) != units.distance_up(from)
}

/// The farther of two: from there on both hold.
pub(crate) fn farther(a: Length, b: Length) -> Length {
    if a > b { a } else { b }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::unit;

    fn each(of: &[(&str, Option<f64>)]) -> Nearest {
        let one = |(of, yards): &(&str, Option<f64>)| One {
            of: (*of).into(),
            from: yards.map(|d| unit::YARD.of(d)),
            to: (*of == "F").then(|| unit::YARD.of(309.8)),
            asked: Vec::new(),
            but: (*of == "Z").then(|| "for all of 0 to 6000 ft: give the air".into()),
            in_part: *of == "P",
        };
        Nearest::Each("with", of.iter().map(one).collect())
    }

    #[test]
    fn loads_that_share_a_distance_share_a_number_and_each_other_has_its_own() {
        let told = |of: &[(&str, Option<f64>)]| each(of).sentence("Nobody", " while it is hot", Units::Us);
        assert_eq!(told(&[("A", Some(99.2))]), "Nobody nearer than 100 yd while it is hot.");
        assert_eq!(told(&[("A", Some(99.2)), ("B", Some(99.9))]), "Nobody nearer than 100 yd while it is hot.");
        assert_eq!(
            told(&[("A", Some(259.0)), ("B", Some(100.0)), ("C", Some(258.3))]),
            "Nobody nearer than 100 yd with B, 259 yd with C and A while it is hot."
        );
        assert_eq!(
            told(&[("A", Some(99.2)), ("F", Some(99.9))]),
            "Nobody nearer than 100 yd with A, 100 yd or farther than 309 yd with F while it is hot."
        );
        assert_eq!(told(&[("F", Some(99.2))]), "Nobody nearer than 100 yd or farther than 309 yd while it is hot.");
        assert_eq!(
            told(&[("A", Some(100.0)), ("B", None)]),
            "Nobody nearer than 100 yd with A while it is hot. At no distance with B."
        );
        assert_eq!(told(&[("A", None)]), "No distance is good: keep it off.");
        assert_eq!(told(&[("Z", None)]), "At no distance for all of 0 to 6000 ft: give the air.");
        assert_eq!(
            told(&[("A", Some(100.0)), ("B", None), ("Z", None)]),
            "Nobody nearer than 100 yd with A while it is hot. At no distance with B. At no distance with Z for all of 0 to 6000 ft: give the air."
        );
        assert_eq!(
            told(&[("P", Some(99.2))]),
            "No distance is good for all of it: nobody nearer than 100 yd with the rest while it is hot."
        );
        assert_eq!(
            (each(&[("P", Some(99.2))]).for_all(), each(&[("A", Some(99.2))]).for_all().is_some()),
            (None, true)
        );
        let zones = |of: &[(&str, Option<f64>)]| each(of).zones(Units::Us);
        assert_eq!(
            zones(&[("A", Some(99.2))]),
            "Nobody nearer than 100 yd while hot, behind it or within 20° of its plane."
        );
        assert_eq!(zones(&[("P", Some(99.2))]), zones(&[("A", Some(99.2))]));
        assert!(zones(&[("A", Some(99.2)), ("B", None)]).starts_with("Nobody nearer than its load's distance"));
        assert!(zones(&[("A", None)]).starts_with("Nobody shoots it, stands behind it or within 20°"));
        assert_eq!(told(&[]), "");
        assert_eq!(each(&[("A", Some(100.0)), ("B", Some(259.0))]).for_all(), None);
    }
}
