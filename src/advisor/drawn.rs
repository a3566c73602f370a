//! A drawing as the facts of an answer: what was read, where it hangs, where it is thin and sharp.

use super::answer::{Corner, Hole as HoleFacts, OutlineFacts, RoundFacts, Segment as Piece, Shape, Thinnest};
use crate::outline::{
    Contour, Counted, HangFrom, Hole, HungBy, MAX_HARDWARE_AREA, MAX_HARDWARE_HOLES, MAX_HARDWARE_M, Outline, Point,
    Ring, Segment, Thin, Web,
};
use crate::plate::Face;
use crate::quantity::{Degrees, Length, Measure, Si, unit};
use crate::reaction::ring;
use crate::source::clean;
use crate::words::{Units, listed};

/// A lean below this is none, degrees: a drawing rounds its places.
const MIN_LEAN_DEG: f64 = 0.5;
/// The most layers and things left out that are named.
const MAX_NAMED: usize = 12;

/// What was read of a face that is a drawing; its corners by the thickness of a plate.
pub(crate) fn facts(face: &Face, thickness: Length, units: Units) -> Option<OutlineFacts> {
    let Face::Outline(outline) = face else { return None };
    let (width, height) = outline.size();
    let place = |at: Point| {
        let at = outline.from_corner(at);
        [Si(at.x), Si(at.y)]
    };
    let round = |hole: &Hole| match hole {
        Hole::Round { centre, diameter } => Some(HoleFacts { at: place(*centre), diameter: Si(*diameter) }),
        Hole::Slot { .. } | Hole::Cut(_) => None,
    };
    let corner = |c: &crate::outline::Corner| Corner { at: place(c.at), radius: Si(c.radius) };
    let hanging = outline.hanging();
    let reading = outline.reading();
    let corners: Vec<Corner> = outline.sharp_corners(thickness).iter().map(corner).collect();
    let bounds = outline.section().bounds;
    Some(OutlineFacts {
        area: Si(outline.area()),
        cut: Si(outline.cut_length()),
        width: Si(width),
        height: Si(height),
        centroid: place(outline.section().centre),
        holes: outline.holes().iter().filter_map(round).collect(),
        thinnest: Thinnest {
            width: outline.thinnest().map(|t| Si(t.width)),
            at: outline.thinnest().map(|t| place(t.at)),
        },
        hung_by: match outline.hung_by() {
            HungBy::Whole => None,
            HungBy::Unknown => Some(Thinnest { width: None, at: None }),
            HungBy::Steel(steel) => Some(Thinnest { width: Some(Si(steel.width)), at: Some(place(steel.at)) }),
        },
        layers: reading.layers.iter().take(MAX_NAMED).map(|l| clean(l)).collect(),
        left_out: left_out(outline),
        hangs: hangs(outline),
        hangers: hanging.points.iter().map(|p| place(*p)).collect(),
        lean: (unit::DEGREE.value(hanging.lean).abs() >= MIN_LEAN_DEG).then_some(Degrees(hanging.lean)),
        words: words(outline, corners.len(), thickness, units),
        corners,
        shapes: shapes(outline, bounds.left, bounds.bottom),
    })
}

/// What its file holds that is no part of it; of many kinds the rest are counted.
fn left_out(outline: &Outline) -> Vec<String> {
    let all = &outline.reading().left_out;
    let mut named: Vec<String> = all.iter().take(MAX_NAMED).map(|l| clean(&l.to_string())).collect();
    let more: usize = all.iter().skip(MAX_NAMED).map(|l| l.count).sum();
    if more > 0 {
        named.push(format!("{more} more"));
    }
    named
}

/// The same in a sentence, by the name of the drawing.
pub(crate) fn left_out_words(face: &Face) -> Option<String> {
    let Face::Outline(outline) = face else { return None };
    let named = left_out(outline);
    (!named.is_empty()).then(|| format!("Of the drawing {}: {}", clean(&outline.name), listed(&named)))
}

/// A round face, for the figure of one.
pub(crate) fn round(face: &Face) -> Option<RoundFacts> {
    let Face::Round(diameter) = face else { return None };
    let node_circle = ring::node_circle(face)?;
    let quiet_holes = ring::quiet_holes(*diameter).map(|(right, up)| [Si(right), Si(up)]);
    Some(RoundFacts { diameter: Si(*diameter), node_circle: Si(node_circle), quiet_holes })
}

fn hangs(outline: &Outline) -> String {
    match outline.hanging().from {
        HangFrom::Given => "hangs from given points".into(),
        HangFrom::Holes => "hangs from its two highest holes (proposed)".into(),
        HangFrom::TopEdge => {
            let why = match outline.holes_above_balance() {
                (0, 1..) => "no hole above its balance point is narrow enough for a hook",
                (1, _) => "one hole alone above its balance point takes a hook",
                _ => "no two holes are above its balance point",
            };
            format!("hangs by its top edge (taken: {why})")
        }
    }
}

fn words(outline: &Outline, corners: usize, thickness: Length, units: Units) -> String {
    let (width, height) = outline.size();
    let area = match units {
        Units::Us => format!("{:.1} in²", unit::SQUARE_INCH.value(outline.area())),
        Units::Si => format!("{:.0} cm²", outline.area().si() * 1e4),
    };
    let unit = &outline.reading().unit;
    let read = match unit.as_str() {
        "" => String::new(),
        "in" => ", in inches".into(),
        "mm" => ", in millimetres".into(),
        other => format!(", in {}", clean(other)),
    };
    // Holes for hardware don't count in the narrowest width: it says which are taken as such.
    let hardware = (0..outline.holes().len()).filter(|hole| outline.is_for_hardware(*hole)).count();
    let holes = match (outline.holes().len(), hardware) {
        (0, _) => "no hole".into(),
        (1, 1) => format!("1 hardware hole{}", beside_holes(outline, units)),
        (1, _) => format!("1 hole{}", beside_holes(outline, units)),
        (n, 0) => format!("{n} holes{}", beside_holes(outline, units)),
        (n, some) if n == some => format!("{n} hardware holes{}", beside_holes(outline, units)),
        (n, some) => format!("{n} holes ({some} hardware){}", beside_holes(outline, units)),
    };
    let width_words = outline.thinnest().map_or_else(|| "unknown".to_owned(), |t| units.size(t.width));
    let narrowest = match narrow_hanger(outline) {
        HungBy::Whole => format!("narrowest {width_words}"),
        HungBy::Unknown => format!("narrowest unknown where it hangs, else {width_words}"),
        HungBy::Steel(t) => format!("narrowest {} where it hangs, else {width_words}", units.size(t.width)),
    };
    let sharp = match corners {
        0 => String::new(),
        1 => format!(", 1 corner under R {} cracks", units.thickness(thickness)),
        n => format!(", {n} corners under R {} crack", units.thickness(thickness)),
    };
    let cut = units.size(outline.cut_length());
    let (width, height) = (units.size(width), units.size(height));
    let short = width.split(' ').next().unwrap_or(&width);
    format!("{short} × {height}, {area}, {cut} cut, {holes}, {narrowest}{sharp}{read}")
}

/// Wider steel than this at a hanger is no narrow part, m: 1 in.
const NARROW_HANGER_M: f64 = 0.0254;

/// The steel that it hangs by, where that is narrow and narrower than the rest.
fn narrow_hanger(outline: &Outline) -> HungBy {
    let rest = outline.thinnest().map_or(f64::INFINITY, |thinnest| thinnest.width.si());
    match outline.hung_by() {
        HungBy::Steel(steel) if steel.width.si() >= rest.min(NARROW_HANGER_M) => HungBy::Whole,
        other => other,
    }
}

/// Holes that count as cut-outs, else the least steel beside one where it is too little.
fn beside_holes(outline: &Outline, units: Units) -> String {
    let weakening = outline.weakening();
    if let Some(why) = weakening.why {
        let count = if weakening.holes.len() == outline.holes().len() {
            String::new()
        } else {
            format!("{} of them ", weakening.holes.len())
        };
        return format!(" ({count}counted as cut-outs: {})", counted(why));
    }
    // Beside a larger cut-out the strip itself is judged.
    let of_hardware = |web: &&Web| {
        let other = matches!(web.other, Ring::Hole(hole) if outline.is_for_hardware(hole));
        outline.is_for_hardware(web.hole) || other
    };
    let webs = outline.thin_webs();
    let least = webs.iter().filter(of_hardware).min_by(|a, b| a.gap.si().total_cmp(&b.gap.si()));
    least.map_or_else(String::new, |web| {
        format!(" ({} of steel beside one, {} wanted)", units.size(web.gap), units.size(web.asked))
    })
}

fn counted(why: Counted) -> String {
    match why {
        Counted::Many => format!("hardware takes {MAX_HARDWARE_HOLES} at most"),
        Counted::Large => format!("hardware takes {:.0} % of a plate at most", 100.0 * MAX_HARDWARE_AREA),
        Counted::Near => "too near to the edge or to another".into(),
    }
}

/// The contours of an outline from a place, the outer one first.
pub(crate) fn shapes(outline: &Outline, left: Length, bottom: Length) -> Vec<Shape> {
    std::iter::once(outline.contour()).chain(outline.cuts()).map(|c| shape(c, left, bottom)).collect()
}

fn shape(contour: &Contour, left: Length, bottom: Length) -> Shape {
    let place = |at: Point| [Si(at.x - left), Si(at.y - bottom)];
    let piece = |segment: Segment| match segment {
        Segment::Line { to, .. } => Piece::Line(place(to)),
        Segment::Arc { to, radius, sweep, .. } => {
            Piece::Arc(place(to), Si(radius), sweep.abs() > std::f64::consts::PI, sweep > 0.0)
        }
    };
    let nowhere = || [Si(Length::from_si(0.0)), Si(Length::from_si(0.0))];
    let start = contour.vertices().first().map_or_else(nowhere, |v| place(v.at));
    Shape { start, segments: contour.segments().map(piece).collect() }
}

/// The most remarks on a cut; more are counted.
const MAX_REMARKS: usize = 12;
/// The most corners that are told by their place.
const MAX_CORNERS: usize = 8;
/// A radius below this is none, m.
const SHARP_M: f64 = 1e-4;

/// What cracks or tears in a drawing cut from a plate, and how narrow it is.
pub(crate) fn remarks(face: &Face, thickness: Length, units: Units) -> Vec<String> {
    let Face::Outline(outline) = face else { return Vec::new() };
    let mut said = vec![narrowest(outline, units)];
    said.extend(hanger(outline, units));
    said.extend(weakening(outline, units));
    said.extend(corners(outline, thickness, units));
    said.extend(lean(outline));
    said.extend(outline.thin_webs().iter().map(|web| thin_web(outline, web, units)));
    if said.len() > MAX_REMARKS {
        let more = said.len() - MAX_REMARKS;
        said.truncate(MAX_REMARKS);
        said.push(format!("And {more} more like these."));
    }
    said
}

fn place(outline: &Outline, at: Point, units: Units) -> String {
    let at = outline.from_corner(at);
    format!("({}, {})", units.size(at.x), units.size(at.y))
}

fn narrowest(outline: &Outline, units: Units) -> String {
    let Some(thinnest) = outline.thinnest() else {
        return "How narrow the outline is could not be made sure: it is judged as if it were as narrow as can be."
            .into();
    };
    let what = match thinnest.what {
        Thin::Whole => "The outline",
        Thin::Neck => "The neck",
        Thin::Strip => "The strip beside the cut-out",
        Thin::Part => "The part that ends",
    };
    let (at, width) = (place(outline, thinnest.at, units), units.size(thinnest.width));
    format!("{what} at {at} is {width} wide: it is judged as a face of that width.")
}

fn hanger(outline: &Outline, units: Units) -> Option<String> {
    match narrow_hanger(outline) {
        HungBy::Whole => None,
        HungBy::Unknown => Some("How much steel it hangs by could not be made sure.".into()),
        HungBy::Steel(steel) => {
            Some(format!("It hangs by {} of steel at {}.", units.size(steel.width), place(outline, steel.at, units)))
        }
    }
}

/// Holes of hardware size that are judged as any cut-out.
fn weakening(outline: &Outline, units: Units) -> Option<String> {
    let weakening = outline.weakening();
    let holes = match weakening.holes.len() {
        1 => "1 hole counts as a cut-out".to_owned(),
        n => format!("{n} holes up to {} count as cut-outs", units.size(Length::from_si(MAX_HARDWARE_M))),
    };
    weakening.why.map(|why| format!("{holes} in the narrowest width: {}.", counted(why)))
}

/// Corners cut tighter than the plate is thick, in one breath.
fn corners(outline: &Outline, thickness: Length, units: Units) -> Option<String> {
    let tight = outline.sharp_corners(thickness);
    let told = tight.iter().take(MAX_CORNERS).map(|corner| {
        let how = if corner.radius.si() < SHARP_M { "sharp".into() } else { units.thickness(corner.radius) };
        format!("{} {how}", place(outline, corner.at, units))
    });
    let mut told: Vec<String> = told.collect();
    if tight.len() > MAX_CORNERS {
        told.push(format!("{} more", tight.len() - MAX_CORNERS));
    }
    (!tight.is_empty()).then(|| {
        format!(
            "Sharp inside corners crack: cut these to a radius of {} at least: {}.",
            units.thickness(thickness),
            told.join(", ")
        )
    })
}

fn lean(outline: &Outline) -> Option<String> {
    let lean = unit::DEGREE.value(outline.hanging().lean);
    let side = if lean > 0.0 { "right" } else { "left" };
    (lean.abs() >= MIN_LEAN_DEG).then(|| {
        format!(
            "Its balance point lies to the {side} of the hanger line's middle: hung there it turns by {:.0}° in its plane.",
            lean.abs()
        )
    })
}

fn thin_web(outline: &Outline, web: &Web, units: Units) -> String {
    let holes = outline.holes();
    let hole = &holes[web.hole];
    let at = place(outline, hole.centre(), units);
    let (gap, asked) = (units.size(web.gap), units.size(web.asked));
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
            let there = place(outline, holes[other].centre(), units);
            format!(
                "Between the holes at {there} and {at} stands {gap} of steel, less than the wider one's {asked}: move them apart."
            )
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::outline::Vertex;

    fn inches(x: f64, y: f64) -> Point {
        Point { x: unit::INCH.of(x), y: unit::INCH.of(y) }
    }

    fn square(hangers: Vec<Point>) -> Outline {
        let corners = [(0.0, 0.0), (12.0, 0.0), (12.0, 12.0), (0.0, 12.0)];
        let contour = Contour::new(corners.iter().map(|(x, y)| Vertex { at: inches(*x, *y), bulge: 0.0 }).collect());
        Outline::new("x", contour.unwrap(), Vec::new(), hangers).unwrap()
    }

    #[test]
    fn an_arc_goes_the_long_way_where_it_turns_by_more_than_half() {
        // Bulges of 120, 180 and 240 degrees, and the same the other way.
        for (degrees, long) in [(120.0_f64, false), (179.9, false), (180.0, false), (180.1, true), (240.0, true)] {
            for sense in [1.0, -1.0] {
                let bulge = sense * (degrees / 4.0).to_radians().tan();
                let contour = Contour::new(vec![
                    Vertex { at: inches(0.0, 0.0), bulge: 0.0 },
                    Vertex { at: inches(20.0, 0.0), bulge: 0.0 },
                    Vertex { at: inches(20.0, 30.0), bulge: 0.0 },
                    Vertex { at: inches(12.0, 30.0), bulge },
                    Vertex { at: inches(8.0, 30.0), bulge: 0.0 },
                    Vertex { at: inches(0.0, 30.0), bulge: 0.0 },
                ]);
                let shape = shape(&contour.unwrap(), Length::from_si(0.0), Length::from_si(0.0));
                let arcs: Vec<_> = shape.segments.iter().filter(|piece| matches!(piece, Piece::Arc(..))).collect();
                let [Piece::Arc(to, _, is_long, counterclockwise)] = arcs.as_slice() else { panic!("{arcs:?}") };
                assert_eq!((*is_long, *counterclockwise), (long, sense > 0.0), "{degrees} {sense}");
                assert!((unit::INCH.value(*to[0]) - 8.0).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn a_plate_that_hangs_from_one_side_leans_to_the_other_and_is_told_so() {
        let told = |from: f64, to: f64| lean(&square(vec![inches(from, 11.0), inches(to, 11.0)]));
        // 3 in beside the middle, 5 in below.
        let right = told(1.0, 5.0).expect("a lean");
        assert!(right.contains("lies to the right") && right.contains("turns by 31°"), "{right}");
        let left = told(7.0, 11.0).expect("a lean");
        assert!(left.contains("lies to the left") && left.contains("turns by 31°"), "{left}");
        assert_eq!(told(1.0, 11.0), None);
        assert_eq!(told(1.0, 11.05), None);
    }
}
