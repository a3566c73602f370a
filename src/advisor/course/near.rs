//! How near anyone may come, by stage and by who shoots: each target has its own line.

use super::Told;
use super::words::{self, place, shooters, some};
use crate::course::Move;
use crate::load::Class;
use crate::order::Order;
use crate::quantity::{Length, Measure};
use crate::words::listed;

/// Lines that the sentence names; a match with more has them on its signs.
const NAMED: usize = 8;

/// The targets of a stage that a class shoots from one distance.
struct Near {
    class: Class,
    at: String,
    targets: Vec<usize>,
}

/// `Nobody nearer to a plate than its own line while it is hot: Ridge rifles 340 yd (gong), 480 yd (mover); Bay handguns
/// 10 yd.`
pub(super) fn sentence(told: &Told) -> String {
    let lines = lines(told);
    let all: usize = lines.iter().map(|(_, nears)| nears.len()).sum();
    let lost: Vec<String> = lost(told).map(|target| place(told, target)).collect();
    let lost = match lost.as_slice() {
        [] => String::new(),
        [one] => format!(" No line was found for {one}: nobody shoots it."),
        several => format!(" No line was found for {}: nobody shoots them.", some(several)),
    };
    if all == 0 {
        return format!("No distance was judged that passes: keep off.{lost}");
    }
    let only = told.home.as_ref().map(|home| format!("With {}, nobody", words::with_left(told, home)));
    let only = only.unwrap_or_else(|| "Nobody".into());
    if all > NAMED {
        return format!("{only} nearer to a plate than the line on its stage's sign while it is hot.{lost}");
    }
    let words: Vec<String> = lines.iter().map(|(stage, nears)| format!("{stage} {}", by_class(told, nears))).collect();
    format!("{only} nearer to a plate than its own line while it is hot: {}.{lost}", words.join("; "))
}

/// `rifles 250 yd (near), 487 yd (far), handguns 10 yd`: classes that shoot everything from one distance together.
fn by_class(told: &Told, nears: &[Near]) -> String {
    let mut classes: Vec<Class> = nears.iter().map(|near| near.class).collect();
    classes.dedup();
    let mut whole: Vec<(&str, Vec<String>)> = Vec::new();
    let mut split: Vec<String> = Vec::new();
    for class in classes {
        let mine: Vec<&Near> = nears.iter().filter(|near| near.class == class).collect();
        let is_for_all = |near: &Near| near.targets.iter().all(|target| without(told, *target, class).is_empty());
        if let [one] = mine.as_slice()
            && is_for_all(one)
        {
            match whole.iter_mut().find(|(at, _)| *at == one.at) {
                Some((_, who)) => who.push(shooters(class)),
                None => whole.push((&one.at, vec![shooters(class)])),
            }
            continue;
        }
        let each = mine.iter().map(|near| {
            let (whole, partly): (Vec<usize>, Vec<usize>) =
                near.targets.iter().partition(|target| without(told, **target, class).is_empty());
            let names: Vec<String> = whole.iter().map(|t| told.course.targets[*t].name.clone()).collect();
            let names = (!names.is_empty()).then(|| some(&names));
            let partly = partly.iter().map(|t| format!("{}{}", told.course.targets[*t].name, without(told, *t, class)));
            format!("{} ({})", near.at, names.into_iter().chain(partly).collect::<Vec<_>>().join("; "))
        });
        split.push(format!("{} {}", shooters(class), each.collect::<Vec<_>>().join(", ")));
    }
    let whole = whole.iter().map(|(at, who)| format!("{} {at}", listed(who)));
    whole.chain(split).collect::<Vec<_>>().join(", ")
}

/// The lines of each class on each stage, the fixes made; those of targets that nothing mends are none.
fn lines<'t>(told: &'t Told) -> Vec<(&'t str, Vec<Near>)> {
    let mut lines: Vec<(&'t str, Vec<Near>)> =
        told.course.stages.iter().map(|stage| (stage.name.as_str(), Vec::new())).collect();
    for (index, target) in told.course.targets.iter().enumerate().filter(|(index, _)| !is_lost(told, *index)) {
        for class in told.classes_at(index) {
            let Some(at) = from(told, index, class).filter(|at| at.si().is_finite()) else { continue };
            let (at, nears) = (at_words(told, index, class, at), &mut lines[target.stage].1);
            match nears.iter_mut().find(|near| near.class == class && near.at == at) {
                Some(near) => near.targets.push(index),
                None => nears.push(Near { class, at, targets: vec![index] }),
            }
        }
    }
    lines.iter_mut().for_each(|(_, nears)| nears.order_by_key(|near| near.class));
    lines.retain(|(_, nears)| !nears.is_empty());
    lines
}

/// Where a class shoots a target from in all of the air that was not given, and first of all; and from where in what of
/// it the nearer line holds: `185 yd (128 yd at sea level up to 59 °F)`.
pub(super) fn at_words(told: &Told, target: usize, class: Class, at: Length) -> String {
    let here = told.units.line(at);
    let elsewhere = told.elsewhere.as_ref();
    let farther = elsewhere.and_then(|elsewhere| Some((elsewhere.farther(target, class)?, &elsewhere.holds)));
    let at = match farther {
        Some((Some(far), holds)) => format!("{} ({here} {holds})", told.units.distance_up(far)),
        Some((None, holds)) => format!("{here} {holds} only, else at no distance"),
        None => here,
    };
    match up_to(told, target, class) {
        Some(far) => format!("{at}, no farther than {}", told.units.distance_down(far)),
        None => at,
    }
}

/// How far off a class may shoot a target, once mended, where farther it fails.
fn up_to(told: &Told, target: usize, class: Class) -> Option<Length> {
    let moves = &told.fix(target)?.moves;
    let place = &told.course.targets[target];
    moves.iter().filter(|(of, _)| *of == class).find_map(|(_, moved)| match moved {
        Move::UpTo(position) => Some(told.course.lines[place.line].positions[*position].farthest(place.at)),
        _ => None,
    })
}

/// Names of those who are left out before they are counted.
const MISSING: usize = 2;

/// Who of a class is left out at a target: ` without bib 9`.
pub(super) fn without(told: &Told, target: usize, class: Class) -> String {
    let missing = told.missing_at(target, class);
    match missing.len() {
        0 => String::new(),
        1..=MISSING => {
            format!(" without {}", listed(&missing.iter().map(|load| called(told, *load)).collect::<Vec<_>>()))
        }
        more => format!(" without {more} loads"),
    }
}

/// Whose load it is, or what it is called where its shooter brings another one.
fn called(told: &Told, load: usize) -> String {
    let own = &told.course.loads[load];
    let theirs = told.course.loads.iter().filter(|other| own.who.iter().any(|who| other.who.contains(who)));
    // A bare number would read as a count.
    let named = |who: &String| if who.bytes().all(|b| b.is_ascii_digit()) { format!("no. {who}") } else { who.clone() };
    if theirs.count() == 1 {
        listed(&own.who.iter().map(named).collect::<Vec<_>>())
    } else {
        own.load.facts().name.clone()
    }
}

/// Whether a target does not pass, and nothing was found that mends it.
pub(super) fn is_lost(told: &Told, target: usize) -> bool {
    told.mending(target).is_some_and(|m| m.fix.is_none()) && !told.is_lifted(target)
}

fn lost<'t>(told: &'t Told) -> impl Iterator<Item = usize> + 't {
    (0..told.course.targets.len()).filter(|target| is_lost(told, *target))
}

/// Where a class shoots a target from, once mended.
pub(super) fn from(told: &Told, target: usize, class: Class) -> Option<Length> {
    let fixed = told.fix(target).and_then(|f| f.distances.iter().find(|(c, _)| *c == class)).map(|d| d.1);
    let place = &told.course.targets[target];
    fixed.or_else(|| told.course.lines[place.line].nearest(place.at, class))
}

/// Where a class shoots a target from, once mended, in all of the air that was not given; none where it does from
/// nowhere.
fn in_all(told: &Told, target: usize, class: Class) -> Option<Length> {
    let farther = told.elsewhere.as_ref().and_then(|elsewhere| elsewhere.farther(target, class));
    farther.unwrap_or_else(|| from(told, target, class))
}

/// The nearest point that anything is shot from, the fixes made, in all of the air that was not given.
pub(super) fn nearest(told: &Told) -> Option<Length> {
    let targets = 0..told.course.targets.len();
    let all = targets.flat_map(|index| {
        let classes = told.classes_at(index);
        classes.into_iter().filter_map(move |class| in_all(told, index, class)).collect::<Vec<_>>()
    });
    all.reduce(|a, b| if b < a { b } else { a })
}
