//! A plate as a thing that hangs, swings, rings, is cut, carried and paid for: words, rows and values.

use super::page::{Column, Table, Tone};
use super::words::{self, Units};
use crate::plate::{Corner, Face, Hole, Mount, Neck, Outline, Plate, Point, Ring, Web};
use crate::quantity::{Angle, Length, Measure, Time, unit};
use crate::reaction::Reaction;
use crate::reaction::ring::NODE_CIRCLE;
use crate::reaction::sight::{Spotting, SpottingRange, Visible};
use crate::reaction::swing::{Suspension, Swing};
use crate::reaction::topple::Topple;
use crate::reaction::wanted::{Wanted, Way};
use crate::rules::{Setup, Verdict};
use crate::shop::Material;
use crate::shop::price::Shop;
use serde_json::{Value, json};

/// One plate of the comparison.
#[derive(Debug, Clone)]
pub struct Hanging<'a> {
    /// The plate.
    pub plate: &'a Plate,
    /// How it stands under the rules.
    pub verdict: Verdict,
    /// What the hits do to it; `None` where it does not hang free.
    pub reaction: Option<Reaction>,
    /// What it is as material.
    pub material: Material,
}

/// A face with how it is held, and the plates that are compared for it.
#[derive(Debug, Clone)]
pub struct Comparison<'a> {
    /// The face, and how it is held.
    pub setup: &'a Setup,
    /// What it hangs from; `None` where it does not hang free.
    pub hung: Option<Suspension>,
    /// The plates, thin to thick.
    pub plates: Vec<Hanging<'a>>,
    /// The magnification it is seen through.
    pub magnification: f64,
}

fn swing_words(swing: Swing) -> String {
    match swing {
        Swing::To(angle) => format!("{:.0}°", unit::DEGREE.value(angle)),
        Swing::Flips => "flips".into(),
        Swing::ThrownOver => "thrown over".into(),
    }
}

/// A swing in one word with its angle, `lively 64°`.
fn liveliness_words(swing: Swing) -> String {
    swing.angle().map_or_else(
        || swing.liveliness().to_string(),
        |angle| format!("{} {:.0}°", swing.liveliness(), unit::DEGREE.value(angle)),
    )
}

/// The table: what each choice costs in weight, swing, pitch, steel and money.
#[must_use]
pub fn table(comparison: &Comparison, shop: Option<&Shop>, units: Units) -> Table {
    let mut columns = vec![
        Column::words("plate"),
        Column::numbers("weight"),
        Column::numbers("swing"),
        Column::words("visible"),
        Column::numbers("rings"),
        Column::numbers("per sheet"),
        Column::numbers("carried"),
    ];
    if let Some(shop) = shop {
        columns.push(Column::numbers(shop.currency.clone()));
    }
    let mut table = Table::new(columns);
    for hanging in &comparison.plates {
        table.push(Tone::from(hanging.verdict), cells(hanging, shop.is_some(), units));
    }
    table
}

fn cells(hanging: &Hanging, priced: bool, units: Units) -> Vec<Option<String>> {
    let reaction = hanging.reaction.as_ref();
    let mut cells = vec![
        Some(hanging.plate.label.clone()),
        Some(units.mass(hanging.material.mass)),
        reaction.map(|r| liveliness_words(r.swing)),
        reaction.map(|r| r.seen.visible().to_string()),
        reaction.and_then(Reaction::centre_mode).map(|m| words::pitch(m.frequency)),
        Some(hanging.material.per_sheet[0].to_string()),
        Some(hanging.material.carried.to_string()),
    ];
    if priced {
        cells.push(hanging.material.cost.map(|c| c.to_string()));
    }
    cells
}

/// A plate in one line: `3/8 in: 12.0 lb, swings 66°, rings near 910 Hz, 28 per sheet.`
#[must_use]
pub fn reading(hanging: &Hanging, shop: Option<&Shop>, units: Units) -> String {
    let mut parts = vec![units.mass(hanging.material.mass)];
    if let Some(reaction) = &hanging.reaction {
        parts.push(match reaction.swing {
            Swing::To(_) => format!("swings {}", swing_words(reaction.swing)),
            Swing::Flips => "flips on its chain".into(),
            Swing::ThrownOver => "is thrown over".into(),
        });
        if let Some(mode) = reaction.centre_mode() {
            parts.push(format!("rings near {}", words::pitch(mode.frequency)));
        }
    }
    let [full, half, quarter] = hanging.material.per_sheet;
    parts.push(format!("{full} per sheet ({half} a half, {quarter} a quarter)"));
    parts.push(match &hanging.material.parcel {
        Some(parcel) => format!("ships as a {parcel}"),
        None => "too heavy for a parcel".into(),
    });
    if let (Some(shop), Some(cost)) = (shop, hanging.material.cost) {
        parts.push(format!("{}{cost} from {}", shop.currency, shop.name));
    }
    format!("{}: {}.", hanging.plate.label, parts.join(", "))
}

/// Where a round plate is drilled for the least damping of its ring.
#[must_use]
pub fn drilling(face: &Face, units: Units) -> Option<String> {
    let Face::Round(diameter) = face else { return None };
    let circle = units.size(*diameter * NODE_CIRCLE);
    Some(format!(
        "For the ring, hang the {face} plate from two holes 90° apart on a circle of {circle}: nodes of its lowest modes lie there."
    ))
}

/// What must be said of the plate that is named: thrown over, open hooks, the return swing, the ring, the cut.
#[must_use]
pub fn remarks(hanging: &Hanging, comparison: &Comparison, units: Units) -> Vec<String> {
    let mut said = Vec::new();
    let label = &hanging.plate.label;
    if let Some(reaction) = &hanging.reaction {
        if reaction.thrown_over() {
            said.push(format!("A low hit can throw the {label} plate over its hangers."));
        }
        if reaction.flips() {
            said.push(format!("A low hit can flip the {label} plate on its chain."));
        }
        if reaction.leaves_open_hook() && comparison.setup.mount == Mount::OpenHook {
            let speed = units.small_speed(reaction.plate_speed);
            said.push(format!("Struck hardest it moves off at {speed}, and is likely to leave an open hook: hang it captive, or thicker."));
        }
        let chain = matches!(comparison.hung, Some(Suspension::Chain(_)));
        if chain {
            said.push(chain_words(label, reaction, units));
        }
        if reaction.returns_upward() {
            let turns = if chain { "Its face can turn" } else { "It swings" };
            said.push(format!("{turns} beyond 20°: a second hit on the return leaves upward."));
        }
        match &reaction.ring {
            Some(modes) if !modes.is_empty() && modes.iter().all(|m| !m.from_centre) => {
                said.push("A centre hit lies on a node of its lowest modes: it rings dull there.".into());
            }
            None => said.push("No published constants for the ring of this outline.".into()),
            Some(_) => {}
        }
    }
    said.extend(cut_remarks(&comparison.setup.face, hanging.plate, units));
    said
}

/// What a swing on a chain means.
fn chain_words(label: &str, reaction: &Reaction, units: Units) -> String {
    format!(
        "On its chain the {label} plate swings about the chain's top; its centre rises {} at most, its face can turn {}.",
        units.size(reaction.centre_rise),
        reaction.turn.angle().map_or_else(|| "right over".into(), |_| swing_words(reaction.turn))
    )
}

/// When the ring of a hit is heard.
#[must_use]
pub fn heard_words(distance: Length, heard: Time, units: Units) -> String {
    format!("The ring of a hit at {} is heard {} after the shot.", units.distance(distance), words::seconds(heard))
}

/// How far a swing is seen through a glass, where the bullet is followed to `reach`.
#[must_use]
pub fn spotting_words(spotting: Spotting, glass: f64, reach: Length, units: Units) -> String {
    let range = |range: SpottingRange| match range {
        SpottingRange::To(far) => units.distance_down(far),
        SpottingRange::Nowhere => "nowhere".into(),
        SpottingRange::AllTheWay => units.distance_down(reach),
    };
    format!(
        "Its swing is visible at {glass}× to {} by day, to {} at best.",
        range(spotting.by_day),
        range(spotting.at_best)
    )
}

/// What gives a swing wanted; that nothing looked at does, where nothing does.
#[must_use]
pub fn wanted_words(label: &str, wanted: Angle, found: Option<&Wanted>, units: Units) -> String {
    let wanted = words::degrees(wanted);
    let Some(Wanted { way, low }) = found else {
        return format!(
            "No hanger line in the upper third, chain, bracket or other plate that suits gives the {label} plate a swing of {wanted}."
        );
    };
    let how = match way {
        Way::Line { above_centre } => {
            format!("put the hanger line of the {label} plate {} above its centre", units.size(*above_centre))
        }
        Way::Chain { length } => format!("hang the {label} plate on {} of chain", units.size(*length)),
        Way::Bracket { above_edge } => {
            format!("hold the {label} plate by a rigid bracket that turns {} above its edge", units.size(*above_edge))
        }
        Way::Thickness { plate } => format!("take {}, which comes nearest", plate.label),
    };
    format!("For a swing of {wanted} from a centre hit, {how}; a low hit then: {}.", swing_words(*low))
}

/// The most remarks on a cut; more are counted.
const MAX_CUT_REMARKS: usize = 12;

/// Corners and holes of an outline that crack or tear.
#[must_use]
pub fn cut_remarks(face: &Face, plate: &Plate, units: Units) -> Vec<String> {
    let Face::Outline(outline) = face else { return Vec::new() };
    let corners = outline.inside_corners();
    let tight: Vec<&Corner> = corners.iter().filter(|c| c.radius < plate.thickness * (1.0 - 1e-9)).collect();
    let mut said: Vec<String> = outline.strip().map(|strip| strip_words(outline, strip, units)).into_iter().collect();
    said.extend(outline.neck().map(|neck| neck_words(neck, units)));
    if !tight.is_empty() {
        said.push(corner_words(&tight, plate, units));
    }
    said.extend(outline.thin_webs().iter().map(|web| web_words(outline, web, units)));
    if said.len() > MAX_CUT_REMARKS {
        let more = said.len() - MAX_CUT_REMARKS;
        said.truncate(MAX_CUT_REMARKS);
        said.push(format!("And {more} more like these."));
    }
    said
}

fn place(point: Point, units: Units) -> String {
    format!("({}, {})", units.size(point.x), units.size(point.y))
}

/// A radius below this is none, m.
const SHARP_M: f64 = 1e-4;
/// The most corners that are told by their place.
const MAX_CORNERS: usize = 8;

/// Corners cut tighter than the plate is thick, in one breath.
fn corner_words(tight: &[&Corner], plate: &Plate, units: Units) -> String {
    let told = tight.iter().take(MAX_CORNERS).map(|corner| {
        let how = if corner.radius.si() < SHARP_M { "sharp".into() } else { units.thickness(corner.radius) };
        format!("{} {how}", place(corner.at, units))
    });
    let mut corners: Vec<String> = told.collect();
    if tight.len() > MAX_CORNERS {
        corners.push(format!("{} more", tight.len() - MAX_CORNERS));
    }
    format!(
        "Sharp inside corners crack: cut these to a radius of {} at least: {}.",
        units.thickness(plate.thickness),
        words::listed(&corners)
    )
}

fn strip_words(outline: &Outline, strip: &Web, units: Units) -> String {
    let at = place(outline.holes()[strip.hole].centre(), units);
    let width = units.size(strip.gap);
    format!(
        "The cut-out at {at} leaves a strip {width} wide, narrower than it is long: it is judged as a face of that width."
    )
}

fn neck_words(neck: &Neck, units: Units) -> String {
    format!(
        "Between {} and {} the outline is {} wide: it is judged as a face of that width.",
        place(neck.from, units),
        place(neck.to, units),
        units.size(neck.width)
    )
}

fn web_words(outline: &Outline, web: &Web, units: Units) -> String {
    let holes = outline.holes();
    let hole = &holes[web.hole];
    let (at, gap, asked) = (place(hole.centre(), units), units.size(web.gap), units.size(web.asked));
    match web.other {
        Ring::Outline if matches!(hole, Hole::Round { .. }) => {
            format!("The hole at {at} is {gap} from the edge, less than its diameter: move it in.")
        }
        Ring::Outline => {
            format!(
                "The cut-out at {at} is {gap} from the edge, less than the {asked} that it counts as wide: move it in."
            )
        }
        Ring::Hole(other) => {
            let there = place(holes[other].centre(), units);
            format!(
                "Between the holes at {there} and {at} stands {gap} of steel, less than the wider one's {asked}: move them apart."
            )
        }
    }
}

fn degrees(angle: Option<Angle>) -> Option<f64> {
    angle.map(|a| unit::DEGREE.value(a))
}

/// The reaction for a document.
#[must_use]
pub fn reaction_json(reaction: &Reaction) -> Value {
    let ring = reaction.ring.as_ref().map(|modes| {
        modes
            .iter()
            .map(|m| json!({"mode": m.name, "hz": m.frequency.si(), "from_centre": m.from_centre}))
            .collect::<Vec<_>>()
    });
    json!({
        "swing_deg": degrees(reaction.swing.angle()),
        "liveliness": reaction.liveliness(),
        "swing_low_deg": degrees(reaction.swing_low.angle()),
        "swing_low_edge_deg": degrees(reaction.edge.swing.angle()),
        "turn_deg": degrees(reaction.turn.angle()),
        "turn_low_edge_deg": degrees(reaction.edge.turn.angle()),
        "centre_rise_m": reaction.centre_rise.si(),
        "thrown_over": reaction.thrown_over(),
        "plate_speed_m_s": reaction.plate_speed.si(),
        "period_s": reaction.period.si(),
        "twist_rad_s": reaction.twist,
        "rise_mrad": unit::MILLIRADIAN.value(reaction.seen.motion),
        "visible": reaction.seen.visible() == Visible::Visible,
        "visibility": reaction.seen.visible(),
        "ring_hz": ring,
    })
}

/// The material for a document.
#[must_use]
pub fn material_json(material: &Material, shop: Option<&Shop>) -> Value {
    json!({
        "mass_kg": material.mass.si(),
        "trade_mass_kg": material.trade_mass.si(),
        "cut_m": material.cut.si(),
        "per_sheet": {"full": material.per_sheet[0], "half": material.per_sheet[1], "quarter": material.per_sheet[2]},
        "utilisation": material.utilisation,
        "cost": material.cost.map(|c| c.to_string()),
        "currency": shop.map(|s| s.currency.clone()),
        "parcel": material.parcel,
        "carried": material.carried,
    })
}

/// Whether a standing plate falls, and what just drops it, in words.
#[must_use]
pub fn topple_words(topple: &Topple, units: Units) -> String {
    let verdict = if topple.falls() { "drops it" } else { "does not drop it" };
    format!(
        "The slow shot {} above the lower edge {verdict}: it brings {:.2} kg·m/s, and {:.2} just drop it; its centre stands {} before the axis it tips about.",
        units.size(topple.hit_height),
        topple.momentum.si(),
        topple.just_drops.si(),
        units.size(topple.offset)
    )
}
