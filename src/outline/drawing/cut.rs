//! What crosses, touches or lies in a part and is no contour of it: a cut that the outline would not show.

use super::closed::{Closed, INCH_M, Part};
use super::join::{GAP_IN, Stray, named, placed};
use super::{Fault, Sketch};
use crate::flat::Spot;
use crate::outline::contour::{Edge, Fence};

/// Refuses contours of other parts that meet one of this part: what they cut off is not in it.
pub(super) fn clear_of_others(part: &Part, closed: &[Closed], sketch: &Sketch) -> Result<(), Fault> {
    let own: Vec<usize> = std::iter::once(part.outer).chain(part.cuts.iter().copied()).collect();
    for other in (0..closed.len()).filter(|i| !own.contains(i)) {
        for &ring in &own {
            apart(&closed[ring], &closed[other], sketch)?;
        }
    }
    Ok(())
}

/// Refuses outer contours that meet: they are no two parts.
pub(super) fn parts_apart(parts: &[Part], closed: &[Closed], sketch: &Sketch) -> Result<(), Fault> {
    for (i, part) in parts.iter().enumerate() {
        for other in &parts[..i] {
            apart(&closed[other.outer], &closed[part.outer], sketch)?;
        }
    }
    Ok(())
}

fn apart(a: &Closed, b: &Closed, sketch: &Sketch) -> Result<(), Fault> {
    match a.fence.gap(&b.fence, GAP_IN * INCH_M) {
        Some((_, at)) => Err(meets(a, b, at, sketch)),
        None => Ok(()),
    }
}

/// The fault of two closed contours that meet at a place.
pub(super) fn meets(a: &Closed, b: &Closed, at: Spot, sketch: &Sketch) -> Fault {
    let middle = |c: &Closed| placed((0.5 * (c.bounds[0] + c.bounds[1]), 0.5 * (c.bounds[2] + c.bounds[3])), sketch);
    let layers: Vec<&str> = a.layers.iter().chain(&b.layers).map(|l| sketch.layers[*l].as_str()).collect();
    (
        format!(
            "the contours about {} and {}, on {}, meet near {}: the one cuts into the other",
            middle(a),
            middle(b),
            named(&layers),
            placed(a.drawn(at), sketch)
        ),
        "draw what is left as one contour, or move them apart; what is not cut goes on a layer of its own: name the \
         other (`--layer NAME`)"
            .into(),
    )
}

/// Refuses what is open and touches or crosses a part, or lies in its steel.
pub(super) fn no_open_cut(strays: &[Stray], part: &Part, closed: &[Closed], sketch: &Sketch) -> Result<(), Fault> {
    let outer = &closed[part.outer];
    let cuts: Vec<usize> = strays.iter().enumerate().filter(|(_, s)| may_cut(s)).map(|(i, _)| i).collect();
    let mut found = cuts.iter().filter_map(|i| Some((&strays[*i], met(&strays[*i], part, closed)?)));
    let Some((stray, (how, at))) = found.next() else { return Ok(()) };
    let more = match found.count() {
        0 => String::new(),
        1 => "; 1 more does so".into(),
        n => format!("; {n} more do so"),
    };
    let layers: Vec<&str> = stray.layers.iter().map(|l| sketch.layers[*l].as_str()).collect();
    let ends = match stray.ends[..] {
        [from, to] => format!("from {} to {}", placed(from, sketch), placed(to, sketch)),
        _ => format!("of {} pieces", stray.runs.len()),
    };
    Err((
        format!(
            "an open line {ends}, on {}, {how} near {}: it may be a cut{more}",
            named(&layers),
            placed(outer.drawn(at), sketch)
        ),
        "close it to a cut-out, or join it into the outline; what is not cut goes on a layer of its own: name the other \
         (`--layer NAME`)"
            .into(),
    ))
}

/// Whether a stray may be a cut: it is longer than a gap that is closed, and no centre line.
fn may_cut(stray: &Stray) -> bool {
    let [left, right, bottom, top] = stray.bounds;
    !stray.centre_line && (right - left).max(top - bottom) > GAP_IN
}

/// How a stray meets a part, and where.
fn met(stray: &Stray, part: &Part, closed: &[Closed]) -> Option<(&'static str, Spot)> {
    let outer = &closed[part.outer];
    let near = GAP_IN * INCH_M;
    for run in &stray.runs {
        let edges: Vec<Edge> = run
            .iter()
            .map(|edge| Edge { from: outer.own(edge.from), to: outer.own(edge.to), bulge: edge.bulge })
            .collect();
        let fence = Fence::open(&edges);
        let cuts = || part.cuts.iter().map(|i| &closed[*i]);
        if let Some((_, at)) = fence.gap(&outer.fence, near) {
            return Some(("meets the outline", at));
        }
        if let Some((_, at)) = cuts().find_map(|cut| fence.gap(&cut.fence, near)) {
            return Some(("meets a cut-out", at));
        }
        let first = fence.first();
        if outer.fence.contains(first) && !cuts().any(|cut| cut.fence.contains(first)) {
            return Some(("lies in the plate", first));
        }
    }
    None
}
