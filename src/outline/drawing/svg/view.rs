//! A drawing within a drawing: where it lies, how large it is shown, and that it is seen within its frame alone.

use super::style::Style;
use super::{Fault, Within, fitted, pixels, unread, view_box};
use crate::flat::Spot;
use kurbo::{Affine, Point, Rect};
use roxmltree::Node;
use std::str::FromStr;
use svgtypes::{Align, AspectRatio};

/// How far beyond its frame something reaches that is drawn up to it, as a share of the frame.
const AT_THE_EDGE: f64 = 1e-4;

/// A frame that hides what lies beyond it.
pub(super) struct Frame {
    rect: Rect,
    /// From the whole drawing to what the frame lies in.
    back: Affine,
    /// The frame around it.
    pub outer: Option<usize>,
}

impl Frame {
    /// Whether a place of the whole drawing is seen in it.
    pub fn shows(&self, place: Spot) -> bool {
        let at = self.back * Point::new(place.0, place.1);
        let [wide, high] = [self.rect.width(), self.rect.height()].map(|size| size * AT_THE_EDGE);
        let inside = |at: f64, from: f64, to: f64, most: f64| at >= from - most && at <= to + most;
        inside(at.x, self.rect.x0, self.rect.x1, wide) && inside(at.y, self.rect.y0, self.rect.y1, high)
    }
}

/// The frame of an `svg` or a `symbol`, where what lies beyond it is hidden: as the standard has it unless they say so.
pub(super) fn frame(node: Node, used_by: Option<Node>, style: &Style, within: Within) -> Result<Option<Frame>, Fault> {
    if matches!(style.get("overflow").or(node.attribute("overflow")), Some("visible" | "auto")) {
        return Ok(None);
    }
    // Without a size it reaches as far as what it lies in.
    let size = |key: &str| match used_by.and_then(|by| by.attribute(key)).or(node.attribute(key)).map(str::trim) {
        None | Some("100%" | "auto") => Ok(None),
        Some(text) => pixels(text).map(|size| Some(size.0)).ok_or_else(|| unread(node, &of(key, text))),
    };
    let (wide, high) = (size("width")?, size("height")?);
    if wide.is_none() && high.is_none() {
        return Ok(None);
    }
    let own = node.tag_name().name() == "svg" || used_by.is_some();
    let place = |key: &str| node.attribute(key).filter(|_| own).and_then(pixels).map_or(0.0, |at| at.0);
    let reach = |from: f64, size: Option<f64>| size.map_or((-BOUNDLESS, BOUNDLESS), |size| (from, from + size));
    let ((left, right), (top, bottom)) = (reach(place("x"), wide), reach(place("y"), high));
    let back = within.transform.inverse();
    Ok(Some(Frame { rect: Rect { x0: left, y0: top, x1: right, y1: bottom }, back, outer: within.frame }))
}

/// Farther than any drawing reaches.
const BOUNDLESS: f64 = 1e12;

/// Within an `svg` or a `symbol` that has a frame of its own, its size said by what uses it, else by itself.
pub(super) fn nested<'a>(node: Node, used_by: Option<Node>, mut within: Within<'a>) -> Result<Within<'a>, Fault> {
    let name = node.tag_name().name();
    let own = |key: &str| node.attribute(key).map(|text| (pixels(text).map(|p| p.0), text));
    if name == "svg" || used_by.is_some() {
        let place = |key: &str| own(key).map_or(Ok(0.0), |(at, text)| at.ok_or_else(|| unread(node, &of(key, text))));
        within.transform *= Affine::translate((place("x")?, place("y")?));
    }
    let Some(view) = view_box(node) else {
        return match node.attribute("viewBox") {
            Some(text) => Err(unread(node, &of("viewBox", text))),
            None => Ok(within),
        };
    };
    let size = |key: &str| {
        let said = used_by.and_then(|by| by.attribute(key)).map(|text| (pixels(text).map(|p| p.0), text)).or(own(key));
        match said {
            Some((Some(size), _)) if size > 0.0 => Ok(size),
            Some((_, text)) => Err(unread(node, &of(key, text))),
            None => Err(unread(node, &format!("it has a `viewBox` and no `{key}`"))),
        }
    };
    let (width, height) = (size("width")?, size("height")?);
    let (x, y) = fitted(node, width / view[2], height / view[3]);
    let (left, top) = aligned(node);
    let shift = (left * (width - x * view[2]), top * (height - y * view[3]));
    within.transform = within.transform
        * Affine::translate(shift)
        * Affine::scale_non_uniform(x, y)
        * Affine::translate((-view[0], -view[1]));
    Ok(within)
}

fn of(key: &str, text: &str) -> String {
    let text: String = text.chars().filter(|c| !c.is_control()).take(40).collect();
    format!("`{key}` of `{text}`")
}

/// Which shares of what is left free lie before a view in its frame.
fn aligned(node: Node) -> (f64, f64) {
    let ratio = node.attribute("preserveAspectRatio").and_then(|t| AspectRatio::from_str(t).ok());
    match ratio.map_or(Align::XMidYMid, |ratio| ratio.align) {
        Align::None | Align::XMinYMin => (0.0, 0.0),
        Align::XMidYMin => (0.5, 0.0),
        Align::XMaxYMin => (1.0, 0.0),
        Align::XMinYMid => (0.0, 0.5),
        Align::XMidYMid => (0.5, 0.5),
        Align::XMaxYMid => (1.0, 0.5),
        Align::XMinYMax => (0.0, 1.0),
        Align::XMidYMax => (0.5, 1.0),
        Align::XMaxYMax => (1.0, 1.0),
    }
}
