//! SVG: paths and basic shapes that are shown, in the unit that `width` and `viewBox` make.

mod defined;
mod named;
mod style;
mod view;

use super::layers::Around;
use super::{Fault, MAX_EDGES, Sketch};
use crate::flat::Spot;
use crate::outline::arcs;
use crate::outline::read::ReadOptions;
use defined::{Defined, SHAPES};
use kurbo::{Affine, BezPath, PathEl, Point, Shape};
use roxmltree::{Document, Node, ParsingOptions};
use std::str::FromStr;
use style::Styles;
use svgtypes::{Align, AspectRatio, LengthUnit, SimplePathSegment, SimplifyingPathParser};
use view::{Frame, nested};

/// How near to a curve its chords lie, in, and to those its arcs.
const TRACE_IN: f64 = 2e-5;
const FIT_IN: f64 = 5e-4;
/// How far from its origin a drawing reaches at most, in.
const MAX_REACH_IN: f64 = 1e5;
/// The most elements of a file.
const MAX_NODES: u32 = 400_000;
/// Uses within uses, and groups within groups.
const MAX_DEPTH: usize = 64;
/// Pixels in an inch, by the standard.
const PIXELS: f64 = 96.0;

/// Where elements stand.
#[derive(Clone, Copy)]
struct Within<'a> {
    transform: Affine,
    layer: &'a str,
    /// What it and its groups are called.
    around: Around,
    visible: bool,
    /// Whether a line or a filling would be seen.
    stroked: bool,
    filled: bool,
    depth: usize,
    /// The `use` that shows this element, where one does.
    used_by: Option<Node<'a, 'a>>,
    /// The frame that it is seen in.
    frame: Option<usize>,
}

/// Traces what a drawing shows.
pub(super) fn sketch(text: &str, options: &ReadOptions) -> Result<Sketch, Fault> {
    let parsing = ParsingOptions { allow_dtd: true, nodes_limit: MAX_NODES, ..ParsingOptions::default() };
    let document = Document::parse_with_options(text, parsing)
        .map_err(|e| (format!("the drawing can't be read: {e}"), "save it as plain SVG".into()))?;
    let root = document.root_element();
    if !root.tag_name().name().eq_ignore_ascii_case("svg") {
        return Err((format!("the file holds a `{}`, not a drawing", root.tag_name().name()), "save it as SVG".into()));
    }
    let (frame, unit, scale) = frame(root, options)?;
    let view = view_box(root).filter(|_| options.unit.is_none());
    let origin = view.map_or((0.0, 0.0), |view| (view[0], view[1]));
    let mut walker = Walker {
        sketch: Sketch { unit, scale, origin, down: true, ..Sketch::default() },
        styles: Styles::new(&document),
        defined: Defined::new(&document),
        frames: Vec::new(),
        steps: 0,
    };
    // SVG's y runs down.
    let transform = Affine::scale_non_uniform(1.0, -1.0) * frame;
    let within = Within {
        transform,
        layer: "drawing",
        around: None,
        visible: true,
        stroked: false,
        filled: true,
        depth: 0,
        used_by: None,
        frame: None,
    };
    named::hear(root, &mut walker.sketch)?;
    walker.children(root, within)?;
    walker.defined.count_unused(&mut walker.sketch.left_out);
    Ok(walker.sketch)
}

/// A length in pixels, and whether its unit is one of paper; `None` where it is a share of something else.
fn pixels(text: &str) -> Option<(f64, bool)> {
    let length = svgtypes::Length::from_str(text.trim()).ok()?;
    let (each, paper) = match length.unit {
        LengthUnit::None | LengthUnit::Px => (1.0, false),
        LengthUnit::In => (PIXELS, true),
        LengthUnit::Cm => (PIXELS / 2.54, true),
        LengthUnit::Mm => (PIXELS / 25.4, true),
        LengthUnit::Pt => (PIXELS / 72.0, true),
        LengthUnit::Pc => (PIXELS / 6.0, true),
        LengthUnit::Em | LengthUnit::Ex | LengthUnit::Percent => return None,
    };
    Some((length.number * each, paper))
}

fn view_box(node: Node) -> Option<[f64; 4]> {
    let numbers: Vec<f64> =
        svgtypes::NumberListParser::from(node.attribute("viewBox")?).collect::<Result<_, _>>().ok()?;
    match numbers[..] {
        [x, y, w, h] if w > 0.0 && h > 0.0 => Some([x, y, w, h]),
        _ => None,
    }
}

/// From the drawing's units to inches, the unit in words, and inches for each.
fn frame(root: Node, options: &ReadOptions) -> Result<(Affine, String, f64), Fault> {
    let size = |name: &str| root.attribute(name).and_then(pixels);
    let (width, height) = (size("width"), size("height"));
    let view = view_box(root);
    let paper = [width, height].into_iter().flatten().any(|(_, paper)| paper);
    if let (Some(asked), true) = (options.unit, paper) {
        let written = root.attribute("width").or(root.attribute("height")).unwrap_or_default();
        return Err((
            format!("the drawing's width of `{written}` names its unit, and `{}` was asked for", asked.label()),
            "leave the unit out".into(),
        ));
    }
    if let Some(asked) = options.unit {
        let unit = if asked.label() == "in" { "inches, as asked" } else { "millimetres, as asked" };
        return Ok((Affine::scale(asked.inches()), unit.into(), asked.inches()));
    }
    let (frame, each) = match (view, width, height) {
        (Some(view), None, None) => {
            let help = "say which it is in: `--outline-unit in` or `--outline-unit mm`, or give the drawing a width";
            return Err((format!("the drawing is {} × {} of no unit", view[2], view[3]), help.into()));
        }
        (Some(view), w, h) => {
            let of = |size: Option<(f64, bool)>, span: f64| size.map(|(pixels, _)| pixels / span / PIXELS);
            let (x, y) = (of(w, view[2]), of(h, view[3]));
            let (x, y) = (x.or(y).unwrap_or(1.0), y.or(x).unwrap_or(1.0));
            let (x, y) = fitted(root, x, y);
            (Affine::scale_non_uniform(x, y) * Affine::translate((-view[0], -view[1])), x)
        }
        (None, ..) => (Affine::scale(1.0 / PIXELS), 1.0 / PIXELS),
    };
    if !(each > 0.0 && each.is_finite()) {
        return Err(("the drawing has no size".into(), "give it a width, such as `300mm`".into()));
    }
    let unit = if paper {
        format!("units of {:.4} mm, by the drawing's width", each * 25.4)
    } else {
        "pixels of 1/96 in".into()
    };
    Ok((frame, unit, each))
}

/// Scales by what `preserveAspectRatio` says of a frame of another shape.
fn fitted(node: Node, x: f64, y: f64) -> (f64, f64) {
    let ratio = node.attribute("preserveAspectRatio").and_then(|t| AspectRatio::from_str(t).ok());
    match ratio {
        Some(AspectRatio { align: Align::None, .. }) => (x, y),
        Some(AspectRatio { slice: true, .. }) => (x.max(y), x.max(y)),
        _ => (x.min(y), x.min(y)),
    }
}

struct Walker<'d> {
    sketch: Sketch,
    styles: Styles<'d>,
    defined: Defined<'d>,
    frames: Vec<Frame>,
    steps: usize,
}

impl<'d> Walker<'d> {
    fn children(&mut self, node: Node<'d, 'd>, within: Within<'d>) -> Result<(), Fault> {
        if within.depth > MAX_DEPTH {
            return Err(("the drawing's groups lie too deep in one another".into(), "ungroup it".into()));
        }
        for child in node.children().filter(Node::is_element) {
            self.element(child, Within { depth: within.depth + 1, ..within })?;
        }
        Ok(())
    }

    fn element(&mut self, node: Node<'d, 'd>, mut within: Within<'d>) -> Result<(), Fault> {
        self.steps += 1;
        if self.steps > MAX_EDGES || self.sketch.strokes.len() > MAX_EDGES {
            return Err((format!("the drawing has more than {MAX_EDGES} elements"), "thin it out".into()));
        }
        let name = node.tag_name().name();
        let used_by = within.used_by.take();
        let style = self.styles.of(node);
        if style.get("display") == Some("none") {
            self.hidden(node, "not displayed");
            return Ok(());
        }
        if style.get("opacity").and_then(|o| o.parse::<f64>().ok()) == Some(0.0) {
            self.hidden(node, "transparent");
            return Ok(());
        }
        for cut in ["clip-path", "mask"] {
            if style.get(cut).is_some_and(|value| value != "none") {
                return Err((
                    format!("a `{name}` is cut by a `{cut}`, which is not read"),
                    "cut the shape itself to what is seen, release the clip or mask, and save it anew".into(),
                ));
            }
        }
        if let Some(property) = style::unread(node, &style) {
            return Err((
                format!("a `{name}` is placed or sized by `{property}`, which is not read"),
                "save it as plain SVG, with places and sizes as attributes and its moves as `transform`".into(),
            ));
        }
        if let Some(what) = self.defined.drawn_along(&style) {
            return Err((
                format!("a `{name}` is drawn with a `{what}`, whose shapes are not read and may be edges to cut"),
                "turn it into paths, or take it off, and save it as plain SVG".into(),
            ));
        }
        match style.get("visibility") {
            Some("hidden" | "collapse") => within.visible = false,
            Some("visible") => within.visible = true,
            _ => {}
        }
        let none = |key: &str, share: &str| {
            let paint = style.get(key).map(|p| !matches!(p, "none" | "transparent"));
            let clear = style.get(share).and_then(|o| o.parse::<f64>().ok()) == Some(0.0);
            if clear { Some(false) } else { paint }
        };
        within.stroked = none("stroke", "stroke-opacity").unwrap_or(within.stroked);
        within.filled = none("fill", "fill-opacity").unwrap_or(within.filled);
        if let Some(transform) = node.attribute("transform").or(style.get("transform")) {
            let t = svgtypes::Transform::from_str(transform)
                .map_err(|e| (format!("a transform can't be read: {e}"), "save it as plain SVG".to_owned()))?;
            within.transform *= Affine::new([t.a, t.b, t.c, t.d, t.e, t.f]);
        }
        for called in named::names(node) {
            within.around = self.sketch.layers.enter(within.around, called);
        }
        match name {
            "g" | "a" | "switch" => {
                let label = node.attributes().find(|a| a.name() == "label" || a.name() == "id").map(|a| a.value());
                let named = node.attributes().find(|a| a.name() == "label").map(|a| a.value()).or(label);
                within.layer = named.unwrap_or(within.layer);
                self.children(node, within)
            }
            "svg" | "symbol" if name == "svg" || used_by.is_some() => {
                let inner = nested(node, used_by, within)?;
                let frame = view::frame(node, used_by, &style, within)?;
                let frame = frame.map(|frame| {
                    self.frames.push(frame);
                    self.frames.len() - 1
                });
                self.children(node, Within { frame: frame.or(within.frame), ..inner })
            }
            "use" => self.used(node, within),
            "path" | "rect" | "circle" | "ellipse" | "line" | "polyline" | "polygon" => self.shape(node, within),
            "text" | "image" => {
                self.sketch.left_out.add(if name == "image" { "picture" } else { "text" }, "");
                Ok(())
            }
            // Definitions, titles, and what other programs keep beside the drawing.
            _ => self.defined.meet(node, &mut self.sketch.left_out),
        }
    }

    /// Counts what is hidden with an element.
    fn hidden(&mut self, node: Node, why: &str) {
        for shape in node.descendants().filter(|n| SHAPES.contains(&n.tag_name().name())) {
            self.sketch.left_out.add(shape.tag_name().name(), why);
        }
    }

    fn used(&mut self, node: Node<'d, 'd>, mut within: Within<'d>) -> Result<(), Fault> {
        let link = node.attributes().find(|a| a.name() == "href").map_or("", |a| a.value());
        let Some(target) = self.defined.used(link) else {
            let shown: String = link.chars().filter(|c| !c.is_control()).take(60).collect();
            return Err((
                format!("a `use` of `{shown}`, which is not in the drawing, may be an edge to cut"),
                "unlink clones, and save it as plain SVG".into(),
            ));
        };
        let at = |name: &str| node.attribute(name).and_then(pixels).map_or(0.0, |p| p.0);
        within.transform *= Affine::translate((at("x"), at("y")));
        within.depth += 1;
        if within.depth > MAX_DEPTH {
            return Err(("a shape of the drawing uses itself".into(), "save it as plain SVG".into()));
        }
        self.element(target, Within { used_by: Some(node), ..within })
    }

    fn shape(&mut self, node: Node<'d, 'd>, within: Within<'d>) -> Result<(), Fault> {
        let name = node.tag_name().name();
        if !within.visible {
            self.sketch.left_out.add(name, "not visible");
            return Ok(());
        }
        if !within.stroked && !within.filled {
            self.sketch.left_out.add(name, "with neither line nor filling");
            return Ok(());
        }
        if is_negative(node) {
            self.sketch.left_out.add(name, "of a negative size");
            return Ok(());
        }
        let path = path(node)?;
        if path.elements().is_empty() || (AREAS.contains(&name) && path.bounding_box().area() <= 0.0) {
            self.sketch.left_out.add(name, "of no size");
            return Ok(());
        }
        // A curve is traced by chords: one as large as this would have no end of them.
        let held = within.transform.transform_rect_bbox(path.control_box());
        if ![held.x0, held.y0, held.x1, held.y1].iter().all(|v| v.abs() < MAX_REACH_IN) {
            return Err(unread(node, "it reaches farther than any drawing"));
        }
        let layer = self.sketch.layers.at(within.layer, within.around);
        let mut points: Vec<Spot> = Vec::new();
        let mut done: Vec<(Vec<Spot>, bool)> = Vec::new();
        let [a, b, c, d, ..] = within.transform.as_coeffs();
        let stretch = a.hypot(b).max(c.hypot(d)).max(1e-12);
        kurbo::flatten(path, TRACE_IN / stretch, |el| match el {
            PathEl::MoveTo(p) => {
                done.push((std::mem::take(&mut points), false));
                points.push((p.x, p.y));
            }
            PathEl::LineTo(p) => points.push((p.x, p.y)),
            PathEl::ClosePath => {
                let first = points.first().copied();
                done.push((std::mem::take(&mut points), true));
                points.extend(first);
            }
            PathEl::QuadTo(..) | PathEl::CurveTo(..) => {}
        });
        done.push((points, false));
        for (points, closed) in done.into_iter().filter(|(p, _)| p.len() > 1) {
            self.stroke(&points, closed, within, layer)?;
        }
        Ok(())
    }

    fn stroke(&mut self, points: &[Spot], closed: bool, within: Within, layer: usize) -> Result<(), Fault> {
        let moved = |&(x, y): &Spot| {
            let p = within.transform * Point::new(x, y);
            (p.x, p.y)
        };
        let mut points: Vec<Spot> = points.iter().map(moved).collect();
        if closed && points.first() != points.last() {
            points.extend(points.first().copied());
        }
        if points.iter().any(|p| !(p.0.is_finite() && p.1.is_finite() && p.0.abs() < 1e9 && p.1.abs() < 1e9)) {
            return Err(("the drawing has an edge that is nowhere".into(), "save it anew".into()));
        }
        let mut around = within.frame;
        while let Some(frame) = around.and_then(|frame| self.frames.get(frame)) {
            if !points.iter().all(|point| frame.shows(*point)) {
                return Err((
                    "a shape reaches beyond the frame of the `svg` or `symbol` that it is in, which hides what is beyond"
                        .into(),
                    "cut the shape itself to what is seen, or take it out of the frame, and save it anew".into(),
                ));
            }
            around = frame.outer;
        }
        self.sketch.stroke(arcs::fitted(&points, FIT_IN), false, layer)
    }
}

fn unread(node: Node, why: &str) -> Fault {
    (format!("a `{}` can't be read: {why}", node.tag_name().name()), "save it as plain SVG".into())
}

/// Whether a size of a shape is below nothing: by the standard an error, and not drawn.
fn is_negative(node: Node) -> bool {
    let keys: &[&str] = match node.tag_name().name() {
        "rect" => &["width", "height"],
        "circle" => &["r"],
        "ellipse" => &["rx", "ry"],
        _ => &[],
    };
    keys.iter().filter_map(|key| node.attribute(*key).and_then(pixels)).any(|size| size.0 < 0.0)
}

/// The path of a shape, in its own units.
fn path(node: Node) -> Result<BezPath, Fault> {
    let size = |name: &str| -> Result<Option<f64>, Fault> {
        node.attribute(name)
            .map(|t| pixels(t).map(|p| p.0).ok_or_else(|| unread(node, &format!("`{name}` of `{t}`"))))
            .transpose()
    };
    let or_none = |name: &str| size(name).map(|v| v.unwrap_or(0.0));
    Ok(match node.tag_name().name() {
        "path" => written(node)?,
        "rect" => {
            let (x, y, w, h) = (or_none("x")?, or_none("y")?, or_none("width")?, or_none("height")?);
            let round = |key: &str| size(key).map(|radius| radius.filter(|radius| *radius >= 0.0));
            let (rx, ry) = match (round("rx")?, round("ry")?) {
                (None, None) => (0.0, 0.0),
                (Some(r), None) | (None, Some(r)) => (r, r),
                (Some(rx), Some(ry)) => (rx, ry),
            };
            rounded(kurbo::Rect::new(x, y, x + w, y + h), rx.clamp(0.0, 0.5 * w.abs()), ry.clamp(0.0, 0.5 * h.abs()))
        }
        "circle" => kurbo::Circle::new((or_none("cx")?, or_none("cy")?), or_none("r")?).to_path(CURVE),
        "ellipse" => {
            let (rx, ry) = (size("rx")?.or(size("ry")?).unwrap_or(0.0), size("ry")?.or(size("rx")?).unwrap_or(0.0));
            kurbo::Ellipse::new((or_none("cx")?, or_none("cy")?), (rx, ry), 0.0).to_path(CURVE)
        }
        "line" => {
            let mut line = BezPath::new();
            line.move_to((or_none("x1")?, or_none("y1")?));
            line.line_to((or_none("x2")?, or_none("y2")?));
            line
        }
        other => {
            let mut line = BezPath::new();
            for point in points(node)? {
                if line.elements().is_empty() { line.move_to(point) } else { line.line_to(point) }
            }
            if other == "polygon" && !line.elements().is_empty() {
                line.close_path();
            }
            line
        }
    })
}

/// The points of a line, all of them.
fn points(node: Node) -> Result<Vec<Spot>, Fault> {
    let written = node.attribute("points").unwrap_or_default();
    let numbers: Vec<f64> = svgtypes::NumberListParser::from(written)
        .collect::<Result<_, _>>()
        .map_err(|e| unread(node, &e.to_string()))?;
    if !numbers.len().is_multiple_of(2) {
        return Err(unread(node, "its `points` end within a pair"));
    }
    Ok(numbers.chunks_exact(2).map(|pair| (pair[0], pair[1])).collect())
}

/// Shapes that enclose something.
const AREAS: [&str; 3] = ["rect", "circle", "ellipse"];

/// How near cubics lie to the circles of basic shapes, in the shape's units.
const CURVE: f64 = 1e-7;

fn rounded(rect: kurbo::Rect, rx: f64, ry: f64) -> BezPath {
    if rx <= 0.0 || ry <= 0.0 {
        return rect.to_path(CURVE);
    }
    // A round rectangle of unit radius in x, stretched.
    let stretch = Affine::scale_non_uniform(1.0, ry / rx);
    let back = stretch.inverse() * Point::new(rect.x0, rect.y0);
    let size = (rect.width(), rect.height() * rx / ry);
    stretch * kurbo::RoundedRect::new(back.x, back.y, back.x + size.0, back.y + size.1, rx).to_path(CURVE)
}

/// A path as its `d` says.
fn written(node: Node) -> Result<BezPath, Fault> {
    let mut path = BezPath::new();
    for segment in SimplifyingPathParser::from(node.attribute("d").unwrap_or_default()) {
        match segment.map_err(|e| unread(node, &e.to_string()))? {
            SimplePathSegment::MoveTo { x, y } => path.move_to((x, y)),
            _ if path.elements().is_empty() => {}
            SimplePathSegment::LineTo { x, y } => path.line_to((x, y)),
            SimplePathSegment::CurveTo { x1, y1, x2, y2, x, y } => path.curve_to((x1, y1), (x2, y2), (x, y)),
            SimplePathSegment::Quadratic { x1, y1, x, y } => path.quad_to((x1, y1), (x, y)),
            SimplePathSegment::ClosePath => path.close_path(),
        }
    }
    Ok(path)
}
