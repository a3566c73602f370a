//! A round face with its node circle: where it is still while a hit at its centre rings it.

use super::Figure;
use super::svg::{px, words};
use crate::advisor::answer::RoundFacts;
use crate::quantity::Measure;
use crate::report::numbers::Numbers;
use crate::words::Units;
use maud::html;

const WIDTH: f64 = 480.0;
/// The face's radius on paper.
const RADIUS: f64 = 140.0;
const MARGIN: f64 = 14.0;

/// The face, where its size is one.
pub(in crate::report) fn round(facts: &RoundFacts, units: Units) -> Option<Figure> {
    let diameter = facts.diameter.si();
    if !(diameter.is_finite() && diameter > 0.0) {
        return None;
    }
    let numbers = Numbers(units);
    let scale = 2.0 * RADIUS / diameter;
    let (x, y) = (WIDTH / 2.0, MARGIN + RADIUS);
    let node = facts.node_circle.si() * scale / 2.0;
    let (face, still) = (numbers.size().words(facts.diameter.0), numbers.size().words(facts.node_circle.0));
    let drawing = html! {
        circle.steel cx=(px(x)) cy=(px(y)) r=(px(RADIUS)) fill-opacity="0.08" stroke="currentColor" stroke-width="1.8" {}
        circle.node-circle cx=(px(x)) cy=(px(y)) r=(px(node)) fill="none" stroke="currentColor" stroke-width="1.2"
            stroke-dasharray="3 2" {}
        (words((x, y + node + 18.0), "middle", "words", &format!("node circle {still}")))
        @for [right, up] in &facts.quiet_holes {
            circle.quiet cx=(px(x + right.si() * scale)) cy=(px(y - up.si() * scale)) r="5" fill="none"
                stroke="currentColor" stroke-width="2.2" {}
        }
        (words((x, y - node - 12.0), "middle", "words", "holes here ring longest"))
        circle cx=(px(x)) cy=(px(y)) r="2" {}
        (words((x, y + 18.0), "middle", "words", "centre"))
        (words((x, y + RADIUS + 20.0), "middle", "size", &format!("{face} round")))
    };
    let title = "The face: a hit at its centre rings it, and it is still on the node circle.";
    let description = format!("A face {face} round; its node circle is {still} across.");
    Some(Figure::new(title, &description, "", (WIDTH, y + RADIUS + 30.0), drawing))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plate::Face;
    use crate::quantity::{Si, unit};
    use crate::reaction::ring;

    #[test]
    fn the_node_circle_is_drawn_as_broad_as_the_reaction_has_it_and_the_holes_lie_on_it() {
        let diameter = unit::INCH.of(12.0);
        let face = Face::round(diameter).expect("a face");
        let facts = RoundFacts {
            diameter: Si(diameter),
            node_circle: Si(ring::node_circle(&face).expect("round")),
            quiet_holes: ring::quiet_holes(diameter).map(|(right, up)| [Si(right), Si(up)]),
        };
        let text = round(&facts, Units::Us).expect("a figure").markup().into_string();
        let number = |of: &str, name: &str| -> f64 {
            let tag =
                text.split(&format!("class=\"{of}\"")).nth(1).and_then(|t| t.split('>').next()).expect("a circle");
            let value = tag.split(&format!("{name}=\"")).nth(1).and_then(|t| t.split('"').next()).expect("a number");
            value.parse().expect("a number")
        };
        assert!((number("node-circle", "r") / number("steel", "r") - ring::NODE_CIRCLE).abs() < 1e-3);
        let (right, up) =
            (number("quiet", "cx") - number("steel", "cx"), number("steel", "cy") - number("quiet", "cy"));
        assert!((right.hypot(up) - number("node-circle", "r")).abs() < 0.2, "{text}");
        assert!(text.contains("node circle 8.2 in") && text.contains("12.0 in round"), "{text}");
    }
}
