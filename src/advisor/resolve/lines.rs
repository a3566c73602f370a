//! An inquiry: loads at distances on targets.

use super::super::books::Books;
use super::super::error::{at, refuse};
use super::super::question::{AdviseQuestion, Shot, Target, TargetPart};
use super::air::air;
use super::loads::{Asked, LoadSource, coverage, positive, tell_narrower, tell_spread};
use super::misnamed::{Called, Of};
use super::taken::Taken;
use super::target::{Stand, refuse_unread, stand};
use crate::air::Weather;
use crate::load::Load;
use crate::plate::Condition;
use crate::quantity::{Given, Length, Ratio};
use crate::shop::product::Product;
use crate::source::{Diagnostic, clean, sanitize};
use crate::words::Units;

/// The most lines (load × distance × target) of an inquiry.
pub(crate) const MAX_LINES: usize = 10_000;

/// A load at a distance on a target.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Line {
    /// Its place among what was asked.
    pub asked: usize,
    pub distance: Length,
    /// Its place among the targets.
    pub target: usize,
}

/// A target with its name; empty where there is one without.
#[derive(Debug, Clone)]
pub(crate) struct Named {
    pub name: String,
    pub stand: Stand,
}

/// An inquiry as resolved.
#[derive(Debug, Clone)]
pub(crate) struct Inquiry {
    pub asked: Vec<Asked>,
    pub lines: Vec<Line>,
    pub targets: Vec<Named>,
    pub air: Weather,
    pub coverage: Ratio,
}

impl Inquiry {
    /// Every load that stands for what was asked.
    pub fn loads(&self) -> impl Iterator<Item = &Load> {
        self.asked.iter().flat_map(|asked| asked.loads.iter().map(|load| &**load))
    }
}

/// Reads an inquiry, and writes down what it rests on.
pub(crate) fn inquiry(
    books: &Books,
    question: &AdviseQuestion,
    product: Option<&Product>,
    units: Units,
    taken: &mut Taken,
) -> Result<Inquiry, Diagnostic> {
    refuse_idle(question, product)?;
    let spread = question.spread_part();
    let source = LoadSource::new(books, &spread, question.of, units);
    let targets = targets(books, question, product, units, taken)?;
    let (asked, lines) = if question.shots.is_empty() {
        let asked = source.all(&question.load.0, &question.any.0, taken)?;
        let lines = plain_lines(&asked, &question.at.0, targets.len())?;
        (asked, lines)
    } else {
        shot_lines(&source, &question.shots, &targets, taken)?
    };
    if lines.is_empty() {
        return Err(at("load", "no load was named", super::super::vet::NO_LOAD));
    }
    refuse_nearer(&targets, &lines, units)?;
    for line in &lines {
        let loads = asked[line.asked].loads.iter().map(|load| &**load);
        targets[line.target].stand.check_loads(loads, taken)?;
    }
    if lines.len() > MAX_LINES {
        let message = format!("the inquiry asks {} lines", lines.len());
        return Err(at("shots", message, format!("an inquiry may ask {MAX_LINES} at most")));
    }
    let air = air(question.air_part(), units, taken)?;
    tell_spread(asked.iter().flat_map(|a| a.loads.iter().map(|l| &**l)), &spread, units, taken);
    let coverage = coverage(spread.coverage, taken);
    Ok(Inquiry { asked, lines, targets, air, coverage })
}

fn refuse_idle(question: &AdviseQuestion, product: Option<&Product>) -> Result<(), Diagnostic> {
    let shots = !question.shots.is_empty();
    let once = "say it in one place";
    refuse(shots && !question.load.0.is_empty(), "load", "loads stand in the shots", once)?;
    refuse(shots && !question.any.0.is_empty(), "any", "loads stand in the shots", once)?;
    let idle = shots && question.shots.iter().all(|shot| shot.any.is_none());
    refuse(idle && question.of.is_some(), "of", "no shot asks any ammunition of a cartridge", "leave it out")?;
    refuse(shots && !question.at.0.is_empty(), "at", "distances stand in the shots", once)?;
    let targets = !question.targets.is_empty();
    refuse(targets && question.product.is_some(), "product", "the targets say what they are", once)?;
    for (given, key) in [
        (question.face.is_some(), "face"),
        (question.outline.is_some(), "outline"),
        (question.mount.is_some(), "mount"),
        (question.chain.is_some(), "chain"),
        (question.duty.is_some(), "duty"),
        (question.condition.is_some(), "condition"),
        (question.steel.is_some(), "steel"),
        (question.tilt.is_some(), "tilt"),
        (question.oblique.is_some(), "oblique"),
        (question.slope.is_some(), "slope"),
    ] {
        refuse(targets && given, key, "the targets say it, each for itself", once)?;
    }
    let drawn = question.outline.is_some()
        || question.targets.iter().any(|t| t.outline.is_some())
        || product.is_some_and(|product| product.face().is_none());
    refuse_unread(&question.target_part(), drawn)
}

fn targets(
    books: &Books,
    question: &AdviseQuestion,
    product: Option<&Product>,
    units: Units,
    taken: &mut Taken,
) -> Result<Vec<Named>, Diagnostic> {
    let own = question.target_part();
    if question.targets.is_empty() {
        let stand = stand(&own, product, Condition::Sound, "", &books.files, units, taken)?;
        taken.doubt_falling(stand.falls);
        return Ok(vec![Named { name: String::new(), stand }]);
    }
    let mut targets: Vec<Named> = Vec::new();
    for target in &question.targets {
        let name = clean(&target.name);
        if targets.iter().any(|t| t.name == name) {
            return Err(at("targets", format!("target `{name}` stands twice"), "give it a name of its own"));
        }
        let shown = match name.as_str() {
            _ if question.targets.len() < 2 => "",
            "" => "the one without a name",
            name => name,
        };
        let mut stand = stand(&part_of(target, &own), None, Condition::Sound, shown, &books.files, units, taken)?;
        let called = Called { of: Of::Target, name: name.clone() };
        called.check(&stand.setup, units)?;
        stand.called.push(called);
        taken.doubt_hung(&name, &stand.setup, target.mount.is_some());
        targets.push(Named { name, stand });
    }
    Ok(targets)
}

/// A target whose name says that it is shot from nearer than anything is asked there.
fn refuse_nearer(targets: &[Named], lines: &[Line], units: Units) -> Result<(), Diagnostic> {
    for (index, target) in targets.iter().enumerate() {
        let asked = lines.iter().filter(|line| line.target == index).map(|line| line.distance);
        let Some(nearest) = asked.reduce(|a, b| if b < a { b } else { a }) else { continue };
        target.stand.check_distance(nearest, units)?;
    }
    Ok(())
}

/// One of several targets as the target of a question; how its drawing is read stands in the question.
fn part_of<'q>(target: &'q Target, own: &TargetPart<'q>) -> TargetPart<'q> {
    TargetPart {
        face: target.face.as_deref(),
        outline: target.outline.as_ref(),
        outline_unit: own.outline_unit,
        layer: own.layer,
        part: own.part,
        kind: None,
        mount: target.mount,
        chain: target.chain.as_ref().map(Given::value),
        duty: target.duty,
        condition: target.condition,
        steel: target.steel,
        tilt: target.tilt.as_ref().map(Given::value),
        oblique: target.oblique.as_ref().map(Given::value),
        slope: target.slope.as_ref().map(Given::value),
    }
}

/// Every load at every distance on every target.
fn plain_lines(asked: &[Asked], at_given: &[Given<Length>], targets: usize) -> Result<Vec<Line>, Diagnostic> {
    let used = asked.iter().any(|one| one.distance.is_none());
    let idle = !at_given.is_empty() && !asked.is_empty() && !used;
    refuse(idle, "at", "every load has a distance of its own", "give each distance once")?;
    let mut lines = Vec::new();
    for (index, one) in asked.iter().enumerate() {
        let distances = match one.distance {
            Some(distance) => vec![distance],
            None if at_given.is_empty() => {
                let name = one.any.as_ref().map_or_else(|| one.loads[0].facts().name.clone(), |a| a.cartridge.clone());
                return Err(at(
                    "at",
                    format!("no distance for `{name}`"),
                    "give it, `100 yd`, or behind the load, `NAME@100 yd`",
                ));
            }
            None => at_given.iter().map(|d| positive(d.value(), "at")).collect::<Result<_, _>>()?,
        };
        for distance in distances {
            lines.extend((0..targets).map(|target| Line { asked: index, distance, target }));
        }
    }
    Ok(lines)
}

fn shot_lines(
    source: &LoadSource,
    shots: &[Shot],
    targets: &[Named],
    taken: &mut Taken,
) -> Result<(Vec<Asked>, Vec<Line>), Diagnostic> {
    let (mut asked, mut lines) = (Vec::new(), Vec::new());
    let mut shot_at = vec![false; targets.len()];
    for shot in shots {
        let one = match (&shot.load, &shot.any) {
            (Some(load), None) => source.load(load, taken)?,
            (None, Some(any)) => source.any(any, taken)?,
            _ => return Err(at("shots", "a shot needs one of `load` and `any`", "write `load` or `any` in it")),
        };
        let chosen = chosen(shot, targets)?;
        chosen.iter().for_each(|&target| shot_at[target] = true);
        for distance in distances(shot, &one)? {
            lines.extend(chosen.iter().map(|&target| Line { asked: asked.len(), distance, target }));
        }
        asked.push(one);
    }
    tell_narrower(&mut asked);
    if let Some(idle) = shot_at.iter().position(|shot| !shot) {
        let message = format!("no shot names the target `{}`", targets[idle].name);
        return Err(at("targets", message, "name it in a shot, or leave it out"));
    }
    Ok((asked, lines))
}

fn distances(shot: &Shot, one: &Asked) -> Result<Vec<Length>, Diagnostic> {
    match (one.distance, shot.at.0.as_slice()) {
        (Some(distance), []) => Ok(vec![distance]),
        (Some(_), _) => Err(at("at", "`at` stands beside a load with a distance of its own", "give the distance once")),
        (None, []) => Err(at("at", "a shot has no distance", "write `at`, `100 yd`, in it")),
        (None, given) => given.iter().map(|distance| positive(distance.value(), "at")).collect(),
    }
}

/// The targets that a shot names; every target where it names none.
fn chosen(shot: &Shot, targets: &[Named]) -> Result<Vec<usize>, Diagnostic> {
    if shot.target.0.is_empty() {
        return Ok((0..targets.len()).collect());
    }
    let find = |name: &String| {
        targets.iter().position(|t| t.name == sanitize(name)).ok_or_else(|| {
            let names: Vec<String> = targets.iter().map(|t| format!("`{}`", t.name)).collect();
            let known: Vec<String> = names.into_iter().filter(|name| name != "``").collect();
            let help = match known.as_slice() {
                [] => "add a `[[target]]` of that `name`, or leave it out".into(),
                known => format!("there are: {}", known.join(", ")),
            };
            at("target", format!("there is no target `{name}`"), help)
        })
    };
    shot.target.0.iter().map(find).collect()
}
