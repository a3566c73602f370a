//! The swing that was asked for, and what gives it to each target.

use super::telling::Telling;
use crate::plate::Mount;
use crate::quantity::{Angle, unit};
use crate::reaction::Hit;
use crate::reaction::swing::{Suspension, Swing};
use crate::reaction::wanted::{Candidate, Wanted, Way, Wish, chains, highest_bracket, wanted};
use crate::rules::{Setup, Verdict};
use crate::source::clean;
use crate::words::{self, Units, listed};

/// What gives each target the swing that was asked for, or that nothing that was tried does; none where none was asked.
pub(super) fn asked(telling: &Telling, left: &[usize], named: Option<usize>) -> Option<String> {
    let swing: Angle = telling.case.question.want_swing.as_ref()?.value();
    let degrees = words::degrees(swing);
    let Some(named) = named else { return Some(format!("{degrees}: no plate is named that could have it.")) };
    // What is said alike of several targets is said once.
    let mut said: Vec<(Vec<String>, String)> = Vec::new();
    for of in targets(telling, left) {
        let words = of.words(telling, named, swing);
        match said.iter_mut().find(|(_, known)| *known == words) {
            Some((names, _)) => names.push(of.name),
            None => said.push((vec![of.name], words)),
        }
    }
    let of_one = |(names, words): &(Vec<String>, String)| {
        let names: Vec<String> = names.iter().filter(|name| !name.is_empty()).cloned().collect();
        let of = if names.is_empty() { String::new() } else { format!(" of {}", listed(&names)) };
        format!("{degrees}{of}: {words}.")
    };
    Some(said.iter().map(of_one).collect::<Vec<String>>().join(" "))
}

/// A target, and the lines that shoot at it.
struct Target {
    /// Where it is one of several.
    name: String,
    lines: Vec<usize>,
}

fn targets(telling: &Telling, left: &[usize]) -> Vec<Target> {
    let all = &telling.case.inquiry.targets;
    let mut found: Vec<(usize, Target)> = Vec::new();
    for &line in left {
        let target = telling.matrix.lines[line].line.target;
        if let Some((_, of)) = found.iter_mut().find(|(known, _)| *known == target) {
            of.lines.push(line);
            continue;
        }
        let name = if all.len() > 1 { clean(&all[target].name) } else { String::new() };
        found.push((target, Target { name, lines: vec![line] }));
    }
    found.into_iter().map(|(_, of)| of).collect()
}

impl Target {
    fn words(&self, telling: &Telling, named: usize, swing: Angle) -> String {
        let setup = telling.setup(self.lines[0]);
        let hits: Vec<Hit> = self.lines.iter().map(|&line| telling.hit(named, line)).collect();
        let (Some(hung), Some(hit)) = (Suspension::from_mount(setup.mount, setup.chain), Hit::liveliest(&hits)) else {
            return "it does not hang free".into();
        };
        let wish = Wish { swing, momentum: hit.momentum, incidence: hit.incidence };
        let suits = |&other: &usize| other != named && self.verdict(telling, other) == Verdict::Suits;
        let candidate = |plate: usize| self.candidate(telling, plate);
        let others: Vec<Candidate> = (0..telling.case.plates.len()).filter(suits).map(candidate).collect();
        let own = candidate(named);
        let found = wanted(&setup.face, &own, hung, &others, &wish);
        Tried { own: &own, others: &others, hung, units: telling.case.units }.words(found.as_ref())
    }

    fn verdict(&self, telling: &Telling, plate: usize) -> Verdict {
        let of = |&line: &usize| telling.matrix.judged[plate][line].judged.verdict;
        self.lines.iter().map(of).max().unwrap_or(Verdict::Unsuitable)
    }

    /// A plate, and whether on a chain it is judged no worse than as it hangs.
    fn candidate(&self, telling: &Telling, plate: usize) -> Candidate {
        let (of, worst) = (&telling.case.plates[plate], self.verdict(telling, plate));
        let on_chain = |&line: &usize| {
            let setup = Setup { mount: Mount::Chain, ..telling.setup(line).clone() };
            telling.matrix.lines[line].arriving.iter().all(|arriving| {
                let allowance = telling.case.books.rules.allow(&arriving.load, of, &setup, arriving.strike.muzzle);
                allowance.judge(&arriving.strike).verdict <= worst
            })
        };
        Candidate { plate: of.clone(), on_chain: self.lines.iter().all(on_chain) }
    }
}

/// What was looked at.
struct Tried<'a> {
    own: &'a Candidate,
    others: &'a [Candidate],
    hung: Suspension,
    units: Units,
}

impl Tried<'_> {
    fn words(&self, found: Option<&Wanted>) -> String {
        let Some(Wanted { plate, way, low }) = found else { return self.none() };
        let label = clean(&plate.label);
        let own = *plate == self.own.plate;
        let take = |how: String| if own { how } else { format!("take {label}, and {how}") };
        let what = if own { label.as_str() } else { "it" };
        let how = match *way {
            Way::Line { above_centre } => {
                take(format!("put the hanger line of {what} {} above its centre", self.units.size(above_centre)))
            }
            Way::Chain { length } => take(format!("hang {what} on {} of chain", self.units.size(length))),
            Way::Bracket { above_edge } => take(format!(
                "hold {what} by a rigid bracket that turns {} above its edge",
                self.units.size(above_edge)
            )),
            Way::Thickness { nearest: None } => format!("take {label}"),
            Way::Thickness { nearest: Some(swing) } => {
                format!("{}; the nearest is {label}, {} as it hangs", self.none(), swing_words(swing))
            }
        };
        format!("{how}; a low hit then: {}", swing_words(*low))
    }

    /// That nothing gives it, of what was tried.
    fn none(&self) -> String {
        let (units, (shortest, longest)) = (self.units, chains());
        let mut tried = vec!["hanger line in its upper third".to_owned()];
        if self.own.on_chain || self.others.iter().any(|other| other.on_chain) {
            tried.push(format!("chain of {} to {}", units.size(shortest), units.size(longest)));
        }
        tried.extend(
            highest_bracket(self.hung).map(|high| format!("bracket up to {} above its edge", units.size(high))),
        );
        let none = match tried.split_last() {
            Some((last, rest)) if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
            _ => tried.join(""),
        };
        let one = clean(&self.own.plate.label);
        let whom = if self.others.is_empty() { one.as_str() } else { "any plate that suits" };
        format!("no {none} gives it to {whom}")
    }
}

fn swing_words(swing: Swing) -> String {
    match swing {
        Swing::To(angle) => format!("{:.0}°", unit::DEGREE.value(angle)),
        Swing::Flips => "flips".into(),
        Swing::ThrownOver => "thrown over".into(),
    }
}
