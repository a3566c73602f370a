//! Closed contours as parts: each outermost one with the cut-outs in it. One part is the outline.

use super::closed::{Closed, INCH_M, Part};
use super::join::{Joined, Loop, Stray, gap_fault, joined, named, placed};
use super::{Fault, Reading, Sketch, cut};
use crate::flat::{Spot, apart};
use crate::order::Order;
use crate::outline::contour::{Contour, Point, Vertex};
use crate::outline::read::ReadOptions;
use crate::outline::{Hole, MAX_FACE_IN, Outline, OutlineError, Ring, is_a_size};
use crate::quantity::unit;
use std::collections::HashSet;

/// Contours whose boxes, lengths and areas agree this nearly are one drawn twice, in.
const TWICE_IN: f64 = 2e-3;
/// A contour of less area that is no longer is none, in² and in.
const TINY_IN2: f64 = 1e-6;
const LONGEST_TINY_IN: f64 = 0.02;
/// What to do about a size that is none of a plate.
const UNIT_HELP: &str =
    "set the unit in the drawing right; where it names none, name it with the option for the outline's unit";
/// The most parts that are listed.
const MAX_LISTED: usize = 8;

/// The outline that a sketch shows.
pub(super) fn outline(mut sketch: Sketch, title: &str, options: &ReadOptions) -> Result<Outline, Fault> {
    keep_layers(&mut sketch, options)?;
    let Joined { loops, strays } = joined(&mut sketch)?;
    let corner = corner_of(&loops);
    let (mut closed, before) = (Vec::new(), loops.len());
    for ring in loops {
        closed.extend(made(ring, corner, &sketch)?);
    }
    sketch.left_out.add_many("contour", "too small to be seen", before - closed.len());
    closed.order_by(|a, b| b.area.total_cmp(&a.area));
    let twice = drop_twice(&mut closed);
    sketch.left_out.add_many("contour", "drawn twice", twice);
    if closed.is_empty() {
        return Err(none_closed(&strays, &sketch));
    }
    no_open_outline(&closed, &strays, &sketch)?;
    let parts = parts(&closed, &sketch)?;
    if options.part.is_none() {
        cut::parts_apart(&parts, &closed, &sketch)?;
    }
    let part = chosen(&parts, &closed, &sketch, options)?;
    cut::clear_of_others(part, &closed, &sketch)?;
    cut::no_open_cut(&strays, part, &closed, &sketch)?;
    sketch.left_out.add_many("part", "another was chosen", parts.len() - 1);
    built(part, &closed, &sketch, title)
}

/// Keeps the strokes of the layers that are named, where any is.
fn keep_layers(sketch: &mut Sketch, options: &ReadOptions) -> Result<(), Fault> {
    if options.layers.is_empty() {
        return Ok(());
    }
    let mut kept = HashSet::new();
    for name in &options.layers {
        let layers = sketch.layers.all().enumerate();
        let named_so: Vec<usize> =
            layers.filter(|(_, layer)| layer.eq_ignore_ascii_case(name)).map(|(index, _)| index).collect();
        if named_so.is_empty() {
            let layers: Vec<&str> = sketch.layers.all().collect();
            let there = if layers.is_empty() { "there is none with lines to cut".into() } else { named(&layers) };
            return Err((format!("no line to cut is on a layer `{name}`"), format!("name those drawn on: {there}")));
        }
        kept.extend(named_so);
    }
    let (kept, left): (Vec<_>, Vec<_>) = sketch.strokes.drain(..).partition(|s| kept.contains(&s.layer));
    sketch.strokes = kept;
    for stroke in left {
        // A closed one may be a hole of this plate: its reader must see which layer it is on.
        let what = if stroke.encloses() { "closed shape" } else { "line" };
        sketch.left_out.add(what, format!("on layer `{}`, not asked for", sketch.layers[stroke.layer]));
    }
    Ok(())
}

/// The lower left corner of everything, which a place far from the origin is measured from.
fn corner_of(loops: &[Loop]) -> Spot {
    let points = loops.iter().flat_map(|l| l.points.iter().map(|p| p.0));
    let corner = points.fold((f64::INFINITY, f64::INFINITY), |a, b| (a.0.min(b.0), a.1.min(b.1)));
    if corner.0.is_finite() { corner } else { (0.0, 0.0) }
}

/// A contour of a loop; `None` for one too small to be seen.
fn made(ring: Loop, corner: Spot, sketch: &Sketch) -> Result<Option<Closed>, Fault> {
    let fits = &ring.points;
    let at = fits.first().map_or(corner, |p| p.0);
    // What lies farther off than a plate is wide is told by its size below.
    let spread = fits.iter().map(|p| (p.0.0 - at.0).abs().max((p.0.1 - at.1).abs())).fold(0.0, f64::max);
    if spread > MAX_FACE_IN {
        return Err(too_large(spread, sketch));
    }
    let vertex = |&((x, y), bulge): &(Spot, f64)| Vertex::of(((x - at.0) * INCH_M, (y - at.1) * INCH_M), bulge);
    let contour = match Contour::new(fits.iter().map(vertex).collect()) {
        Ok(contour) if ring.chords => contour,
        Ok(contour) => contour.with_arcs(),
        Err(fault) => {
            let place = fault.index().and_then(|i| fits.get(i - 1)).map_or(at, |p| p.0);
            let words = match &fault {
                crate::outline::ContourError::Crossing { at: crossing, .. } => {
                    let (x, y) = crossing.spot();
                    format!("crosses itself near {}", placed((x / INCH_M + at.0, y / INCH_M + at.1), sketch))
                }
                other => other.to_string(),
            };
            return Err((format!("the contour at {} {words}", placed(place, sketch)), fault.help()));
        }
    };
    if contour.area() < TINY_IN2 * INCH_M * INCH_M && contour.length() < LONGEST_TINY_IN * INCH_M {
        return Ok(None);
    }
    let here = contour.bounds().map(|v| v / INCH_M);
    let bounds = [here[0] + at.0, here[1] + at.0, here[2] + at.1, here[3] + at.1];
    let (dx, dy) = ((at.0 - corner.0) * INCH_M, (at.1 - corner.1) * INCH_M);
    let contour = contour.shifted(dx, dy);
    Ok(Some(Closed { fence: contour.fence(), area: contour.area(), contour, bounds, layers: ring.layers, corner }))
}

fn too_large(size: f64, sketch: &Sketch) -> Fault {
    (
        format!("a contour is {size:.1} in across, read as {}: not between 1 in and 120 in", sketch.unit),
        UNIT_HELP.into(),
    )
}

/// Drops contours that lie on a larger or equal one; how many.
fn drop_twice(closed: &mut Vec<Closed>) -> usize {
    let before = closed.len();
    let mut kept: Vec<Closed> = Vec::with_capacity(before);
    for next in closed.drain(..) {
        let same = |other: &Closed| {
            other.bounds.iter().zip(next.bounds).all(|(a, b)| (a - b).abs() < TWICE_IN)
                && (other.area / next.area - 1.0).abs() < 1e-3
                && (other.contour.length() / next.contour.length() - 1.0).abs() < 1e-3
        };
        if !kept.iter().any(same) {
            kept.push(next);
        }
    }
    *closed = kept;
    before - closed.len()
}

fn none_closed(strays: &[Stray], sketch: &Sketch) -> Fault {
    let open = strays.iter().filter(|s| s.ends.len() >= 2).max_by(|a, b| size(a.bounds).total_cmp(&size(b.bounds)));
    if let Some(stray) = open {
        let (a, b) = (stray.ends[0], stray.ends[1]);
        return gap_fault(apart(a, b), a, b, sketch);
    }
    let left: Vec<String> = sketch.left_out.list().iter().map(ToString::to_string).collect();
    let what = if left.is_empty() { String::new() } else { format!("; left out: {}", left.join(", ")) };
    (
        format!("the drawing has no closed contour that would be cut{what}"),
        "draw the plate with lines, arcs, circles, polylines or splines, visible and in model space".into(),
    )
}

fn size(bounds: [f64; 4]) -> f64 {
    (bounds[1] - bounds[0]).hypot(bounds[3] - bounds[2])
}

/// Refuses an open run around everything that is closed: it is the outline, and what is closed its holes.
fn no_open_outline(closed: &[Closed], strays: &[Stray], sketch: &Sketch) -> Result<(), Fault> {
    let largest = closed[0].bounds;
    let around = |s: &&Stray| {
        let b = s.bounds;
        !s.straight && b[0] < largest[0] && b[1] > largest[1] && b[2] < largest[2] && b[3] > largest[3]
    };
    match strays.iter().find(around) {
        Some(stray) if stray.ends.len() >= 2 => {
            let (a, b) = (stray.ends[0], stray.ends[1]);
            Err(gap_fault(apart(a, b), a, b, sketch))
        }
        _ => Ok(()),
    }
}

/// Contours, large to small, as parts: those in no other or in a cut-out are outer ones.
fn parts(closed: &[Closed], sketch: &Sketch) -> Result<Vec<Part>, Fault> {
    let holds = |outer: &Closed, inner: &Closed| {
        let (o, i) = (outer.bounds, inner.bounds);
        o[0] <= i[0] && o[1] >= i[1] && o[2] <= i[2] && o[3] >= i[3] && outer.fence.contains(inner.fence.first())
    };
    let mut parts: Vec<Part> = Vec::new();
    for i in 0..closed.len() {
        let around: Vec<usize> = (0..i).filter(|j| holds(&closed[*j], &closed[i])).collect();
        if around.len().is_multiple_of(2) {
            parts.push(Part { outer: i, cuts: Vec::new() });
            continue;
        }
        // The smallest part around it.
        let Some(part) = parts.iter_mut().rev().find(|p| around.contains(&p.outer)) else {
            let (inner, outer) = (&closed[i], &closed[around[0]]);
            let at = inner.fence.gap(&outer.fence, f64::INFINITY).map_or(inner.fence.first(), |gap| gap.1);
            return Err(cut::meets(outer, inner, at, sketch));
        };
        part.cuts.push(i);
    }
    Ok(parts)
}

/// A size in both systems of units, `11.75 × 19.00 in (298 × 483 mm)`: a drawing is read before anybody asks for one.
fn measured(width: f64, height: f64) -> String {
    let [wide, high] = [width, height].map(|inches| unit::MILLIMETRE.value(unit::INCH.of(inches)));
    format!("{width:.2} × {height:.2} in ({wide:.0} × {high:.0} mm)")
}

/// The part that was named, or the only one.
fn chosen<'a>(parts: &'a [Part], closed: &[Closed], sketch: &Sketch, options: &ReadOptions) -> Result<&'a Part, Fault> {
    let told = || {
        let one = |(i, part): (usize, &Part)| {
            let c = &closed[part.outer];
            let layers: Vec<&str> = c.layers.iter().map(|l| sketch.layers[*l].as_str()).collect();
            let middle = (0.5 * (c.bounds[0] + c.bounds[1]), 0.5 * (c.bounds[2] + c.bounds[3]));
            format!(
                "part {}: {} about {}, {}",
                i + 1,
                measured(c.bounds[1] - c.bounds[0], c.bounds[3] - c.bounds[2]),
                placed(middle, sketch),
                named(&layers)
            )
        };
        let mut listed: Vec<String> = parts.iter().enumerate().take(MAX_LISTED).map(one).collect();
        if parts.len() > MAX_LISTED {
            listed.push(format!("{} more", parts.len() - MAX_LISTED));
        }
        listed.join("; ")
    };
    match options.part {
        Some(n) => n.checked_sub(1).and_then(|i| parts.get(i)).ok_or_else(|| {
            (format!("the drawing has no part {n}: {}", told()), format!("name a part from 1 to {}", parts.len()))
        }),
        None if parts.len() == 1 => Ok(&parts[0]),
        None => Err((
            format!("the drawing shows {} parts: {}", parts.len(), told()),
            "pick one by its number (`--part 1`) or by its layer (`--layer NAME`)".into(),
        )),
    }
}

/// The outline of a part, its lower left corner at the origin.
fn built(part: &Part, closed: &[Closed], sketch: &Sketch, title: &str) -> Result<Outline, Fault> {
    let outer = &closed[part.outer];
    let (width, height) = (outer.bounds[1] - outer.bounds[0], outer.bounds[3] - outer.bounds[2]);
    if let Some(size) = [width, height].into_iter().find(|size| !is_a_size(unit::INCH.of(*size))) {
        return Err((
            format!(
                "the outline is {width:.3} × {height:.3} in, read as {}: {size:.3} in is not between 1 in and 120 in",
                sketch.unit
            ),
            UNIT_HELP.into(),
        ));
    }
    let [left, _, bottom, _] = outer.contour.bounds();
    let contour = outer.contour.shifted(-left, -bottom);
    let holes: Vec<Hole> = part.cuts.iter().map(|i| closed[*i].contour.shifted(-left, -bottom).into_hole()).collect();
    let drawn_on =
        || std::iter::once(part.outer).chain(part.cuts.iter().copied()).flat_map(|i| closed[i].layers.iter().copied());
    let mut layers: Vec<String> = drawn_on().map(|layer| sketch.layers[layer].clone()).collect();
    layers.order();
    layers.dedup();
    let names = sketch.called.iter().cloned().chain(sketch.layers.around(drawn_on())).collect();
    let (left_out, notes) = (sketch.left_out.list(), sketch.notes.texts.clone());
    let reading = Reading { unit: sketch.unit.clone(), layers, names, left_out, notes };
    Outline::new(title, contour, holes.clone(), Vec::new())
        .map(|outline| outline.with_reading(reading))
        .map_err(|error| told(&error, &holes, outer, sketch))
}

/// A fault of the whole, holes told by their places: a drawing does not number them.
fn told(error: &OutlineError, holes: &[Hole], outer: &Closed, sketch: &Sketch) -> Fault {
    let place = |p: Point| {
        let (x, y) = p.spot();
        placed((x / INCH_M + outer.bounds[0], y / INCH_M + outer.bounds[2]), sketch)
    };
    let at = |i: usize| holes.get(i).map_or_else(String::new, |h| place(h.centre()));
    let ring = |ring: Ring| match ring {
        Ring::Outline => ring.to_string(),
        Ring::Hole(i) => format!("the contour at {}", at(i)),
    };
    let message = match error {
        OutlineError::Meets { hole, other, at: near } => {
            format!("the contour at {} meets {} near {}", at(*hole), ring(*other), place(*near))
        }
        OutlineError::Contour { ring: of, fault } => format!("{} {fault}", ring(*of)),
        OutlineError::Outside { hole, .. } => format!("the contour at {} is not inside the outline", at(*hole)),
        other => other.to_string(),
    };
    (message, error.help())
}
