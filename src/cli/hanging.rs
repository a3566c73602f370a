//! The plates of an advice as things that hang and are paid for.

use super::notes::Notes;
use super::options::HangingArgs;
use crate::advice::{Advice, Case};
use crate::plate::{Face, Mount};
use crate::quantity::{Angle, Energy, Length, Measure, unit};
use crate::reaction::sight::Called;
use crate::reaction::swing::{LEAST_FACTOR, Pendulum, Place, hanger_for};
use crate::reaction::{Hit, Reaction, sight};
use crate::report::hanging::{Comparison, Hanging, remarks as remarks_of};
use crate::report::{Units, words};
use crate::rules::Verdict;
use crate::shop::Material;
use crate::shop::price::Shop;
use crate::source::Diagnostic;
use crate::spread::Flights;

/// Faces that are compared; an inquiry with more shows the first of them.
const MOST_FACES: usize = 4;
/// Plates below the first that suits which are shown beside it.
const NEIGHBOURS: usize = 2;

/// One comparison for each face and mount: every plate that suits, and the two neighbours that do not.
pub(super) fn comparisons<'a>(
    cases: &'a [Case<'a>],
    advice: &'a Advice,
    args: &HangingArgs,
    shop: Option<&Shop>,
) -> Result<Vec<Comparison<'a>>, Diagnostic> {
    let magnification = args.magnification.unwrap_or(sight::MAGNIFICATION);
    if !(1.0..=200.0).contains(&magnification) {
        return Err(Diagnostic::plain(format!("magnification of `{magnification}` is not between 1 and 200"))
            .field("--magnification")
            .help("write `--magnification 20`"));
    }
    let mut seen: Vec<(&Face, Mount)> = Vec::new();
    for case in cases {
        let setup = case.question.setup;
        if !seen.contains(&(&setup.face, setup.mount)) {
            seen.push((&setup.face, setup.mount));
        }
    }
    let from = advice.named().map_or(advice.choices.len().saturating_sub(NEIGHBOURS), |i| i.saturating_sub(NEIGHBOURS));
    let one = |&(face, mount): &(&'a Face, Mount)| {
        let hits: Vec<(Hit, Energy)> = hits(cases, face, mount);
        let blows: Vec<Hit> = hits.iter().map(|h| h.0).collect();
        let energy = hits.iter().map(|h| h.1).fold(Energy::from_si(0.0), |a, b| if b > a { b } else { a });
        let plates = advice.choices[from..].iter().map(|choice| Hanging {
            plate: &choice.plate,
            verdict: choice.judgement.verdict,
            reaction: if mount.is_free() { Reaction::of(face, &choice.plate, &blows, magnification) } else { None },
            material: Material::of(face, &choice.plate, shop),
            energy,
        });
        Comparison { face, mount, plates: plates.collect(), magnification }
    };
    Ok(seen.iter().take(MOST_FACES).map(one).collect())
}

/// The hits on a face: momentum, incidence and energy of each case that shoots at it.
fn hits(cases: &[Case], face: &Face, mount: Mount) -> Vec<(Hit, Energy)> {
    let mine = cases.iter().filter(|c| &c.question.setup.face == face && c.question.setup.mount == mount);
    mine.map(|case| {
        let tilt = case.question.setup.tilt.unwrap_or_else(|| unit::DEGREE.of(0.0));
        let hit = Hit {
            momentum: case.load.charge_momentum(case.strike.nominal),
            slow: case.load.charge_momentum(case.strike.slow),
            incidence: tilt + case.strike.fall,
            distance: case.strike.distance,
        };
        (hit, case.load.charge_energy(case.strike.nominal))
    })
    .collect()
}

/// What must be said of the plate that is named, and where its hanger line should lie for a wanted swing.
pub(super) fn remarks(
    comparisons: &[Comparison],
    cases: &[Case],
    advice: &Advice,
    args: &HangingArgs,
    units: Units,
) -> Notes {
    let mut said = Notes::default();
    let named = advice.named().map(|i| advice.choices[i].plate.label.as_str());
    for comparison in comparisons {
        let Some(hanging) = comparison.plates.iter().find(|h| Some(h.plate.label.as_str()) == named) else { continue };
        if hanging.verdict == Verdict::Unsuitable {
            continue;
        }
        let mut lines = remarks_of(hanging, comparison, units);
        lines.extend(called_words(comparison, hanging, cases, units));
        lines.extend(args.want_swing.map(|wanted| wanted_words(comparison, hanging, cases, wanted, units)));
        said.extend(lines);
    }
    said
}

/// How far the swing of a face can be called with the weakest of its loads, and when its ring is heard.
fn called_words(comparison: &Comparison, hanging: &Hanging, cases: &[Case], units: Units) -> Vec<String> {
    let mine = |c: &&Case| &c.question.setup.face == comparison.face && c.question.setup.mount == comparison.mount;
    let weakest = cases.iter().filter(mine).reduce(|a, b| {
        let momentum = |c: &Case| c.load.charge_momentum(c.strike.slow);
        if momentum(b) < momentum(a) { b } else { a }
    });
    let (Some(case), true) = (weakest, hanging.reaction.is_some()) else { return Vec::new() };
    let heard =
        sight::until_heard(case.strike.time, case.strike.distance, case.question.conditions.thin().sound_speed());
    let mut said = vec![format!(
        "The ring of a hit at {} is heard {} after the shot.",
        units.distance(case.strike.distance),
        words::seconds(heard)
    )];
    let Ok(flights) = Flights::new(&case.load, case.question.conditions) else { return said };
    let pendulum = Pendulum::hung(comparison.face, hanging.plate);
    let rise = |at: Length| {
        let slow = flights.slow_speed(at).ok().filter(|v| v.si() > 0.0)?;
        let swing = pendulum.swing(case.load.charge_momentum(slow), unit::DEGREE.of(0.0), LEAST_FACTOR, Place::Centre);
        Some(pendulum.rise(swing.angle().unwrap_or_else(|| unit::DEGREE.of(180.0))))
    };
    let glass = comparison.magnification;
    let reach = flights.reach();
    said.push(match sight::farthest_called(rise, glass, unit::YARD.of(10.0), reach) {
        Called::To(far) => format!(
            "Its swing can be called to {} at {glass}×, no farther; mirage may hide it before.",
            units.distance_down(far)
        ),
        Called::Nowhere => format!("Its swing can be called from nowhere at {glass}×."),
        Called::AllTheWay => format!(
            "Its swing can be called as far as the bullet is followed, {}, at {glass}×.",
            units.distance_down(reach)
        ),
    });
    said
}

fn wanted_words(comparison: &Comparison, hanging: &Hanging, cases: &[Case], wanted: Angle, units: Units) -> String {
    let hits = hits(cases, comparison.face, comparison.mount);
    let momentum = hits.iter().map(|h| h.0.momentum).reduce(|a, b| if b > a { b } else { a });
    let height = momentum.and_then(|p| hanger_for(comparison.face, hanging.plate, p, LEAST_FACTOR, wanted));
    let label = &hanging.plate.label;
    match height {
        Some(height) => format!(
            "For a swing of {} from a centre hit, the hanger line of the {label} plate lies {} above its centre.",
            words::degrees(wanted),
            units.size(height)
        ),
        None => format!("No hanger line gives the {label} plate a swing of {}.", words::degrees(wanted)),
    }
}
