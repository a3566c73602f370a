//! The plates of an advice as things that hang and are paid for.

use super::notes::Notes;
use super::options::HangingArgs;
use crate::advice::{Advice, Case};
use crate::plate::Plate;
use crate::quantity::Angle;
use crate::reaction::swing::{Pendulum, Suspension};
use crate::reaction::wanted::{Wish, wanted};
use crate::reaction::{Hit, Reaction, sight};
use crate::report::Units;
use crate::report::hanging::{Comparison, Hanging, heard_words, remarks as remarks_of, spotting_words, wanted_words};
use crate::rules::{Setup, Verdict};
use crate::shop::Material;
use crate::shop::price::Shop;
use crate::shop::sheet::{Cutting, plans};
use crate::source::Diagnostic;
use crate::spread::Flights;

/// Faces that are compared; an inquiry with more shows the first of them.
const MAX_FACES: usize = 4;
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
    let mut seen: Vec<&Setup> = Vec::new();
    for case in cases {
        let setup = case.question.setup;
        if !seen.iter().any(|s| hang_alike(s, setup)) {
            seen.push(setup);
        }
    }
    let from = advice.named().map_or(advice.choices.len().saturating_sub(NEIGHBOURS), |i| i.saturating_sub(NEIGHBOURS));
    let one = |setup: &&'a Setup| {
        let hits: Vec<Hit> = mine(cases, setup).map(hit).collect();
        let hung = Suspension::from_mount(setup.mount, setup.chain);
        let plans = plans(&setup.face, &shop.map_or_else(Cutting::default, |shop| shop.cutting));
        let plates = advice.choices[from..].iter().map(|choice| Hanging {
            plate: &choice.plate,
            verdict: choice.judgement.verdict,
            reaction: hung.and_then(|hung| Reaction::of(&setup.face, &choice.plate, hung, &hits, magnification)),
            material: Material::with_plans(&setup.face, &choice.plate, shop, &plans),
        });
        Comparison { setup, hung, plates: plates.collect(), magnification }
    };
    Ok(seen.iter().take(MAX_FACES).map(one).collect())
}

/// Whether two targets hang the same face in the same way.
fn hang_alike(a: &Setup, b: &Setup) -> bool {
    a.face == b.face && a.mount == b.mount && a.chain == b.chain
}

/// The cases that shoot at a face as it hangs.
fn mine<'c, 'r>(cases: &'c [Case<'r>], setup: &'c Setup) -> impl Iterator<Item = &'c Case<'r>> {
    cases.iter().filter(|c| hang_alike(c.question.setup, setup))
}

fn hit(case: &Case) -> Hit {
    let setup = case.question.setup;
    Hit::of(&case.load, &case.strike, &setup.face, setup.tilt, setup.oblique)
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
        lines.extend(called_from(comparison, hanging, cases, units));
        lines.extend(args.want_swing.and_then(|wanted| hanger_line(comparison, hanging, cases, wanted, units)));
        said.extend(lines);
    }
    said
}

/// How far the swing of a face can be called with the weakest of its loads, and when its ring is heard.
fn called_from(comparison: &Comparison, hanging: &Hanging, cases: &[Case], units: Units) -> Vec<String> {
    let mine: Vec<&Case> = mine(cases, comparison.setup).collect();
    let hits: Vec<Hit> = mine.iter().map(|case| hit(case)).collect();
    let (Some(weakest), Some(hung)) = (Hit::weakest(&hits), comparison.hung) else { return Vec::new() };
    let (case, hit) = (mine[weakest], hits[weakest]);
    let sound = case.question.conditions.thin().sound_speed();
    let heard = sight::until_heard(case.strike.time, case.strike.distance, sound);
    let mut said = vec![heard_words(case.strike.distance, heard, units)];
    let Ok(flights) = Flights::new(&case.load, case.question.conditions) else { return said };
    let pendulum = Pendulum::hung(&comparison.setup.face, hanging.plate, hung);
    let (face, glass) = (&comparison.setup.face, comparison.magnification);
    let spotting = sight::spotting(&pendulum, face, &case.load, &flights, hit.incidence, glass);
    said.push(spotting_words(spotting, glass, flights.reach(), units));
    said
}

/// Where the hanger line should lie for a wanted swing of the liveliest load.
fn hanger_line(
    comparison: &Comparison,
    hanging: &Hanging,
    cases: &[Case],
    wanted_swing: Angle,
    units: Units,
) -> Option<String> {
    let hits: Vec<Hit> = mine(cases, comparison.setup).map(hit).collect();
    let (hung, hit) = (comparison.hung?, Hit::liveliest(&hits)?);
    let wish = Wish { swing: wanted_swing, momentum: hit.momentum, incidence: hit.incidence };
    let suiting = comparison.plates.iter().filter(|h| h.verdict == Verdict::Suits).map(|h| h.plate.clone());
    let others: Vec<Plate> = suiting.filter(|p| p != hanging.plate).collect();
    let found = wanted(&comparison.setup.face, hanging.plate, hung, &others, &wish);
    Some(wanted_words(&hanging.plate.label, wanted_swing, found.as_ref(), units))
}
