//! What an element looks like: its own style, the sheet's rules, its attributes.

use roxmltree::{Document, Node};
use simplecss::{AttributeOperator, DeclarationTokenizer, Element, PseudoClass, StyleSheet};

/// The rules of a drawing's style sheets.
pub(super) struct Styles<'d>(StyleSheet<'d>);

/// The properties of one element.
pub(super) struct Style<'a>(Vec<(&'a str, &'a str)>);

impl<'a> Style<'a> {
    /// The value that counts: the one said last.
    pub fn get(&self, name: &str) -> Option<&'a str> {
        self.0.iter().rev().find(|(n, _)| *n == name).map(|(_, value)| value.trim())
    }
}

/// Properties that place and size a shape, when a style and no attribute says them.
const GEOMETRY: [&str; 10] = ["cx", "cy", "r", "rx", "ry", "x", "y", "width", "height", "d"];
/// Moves of a style beside its transform.
const MOVES: [&str; 7] = ["translate", "rotate", "scale", "zoom", "offset", "offset-path", "perspective"];

/// A property that moves or sizes an element in a way that is not read.
pub(super) fn unread(node: Node, style: &Style) -> Option<&'static str> {
    let shows = super::SHAPES.contains(&node.tag_name().name()) && !matches!(node.tag_name().name(), "text" | "image");
    let sized = GEOMETRY.into_iter().find(|name| shows && style.get(name).is_some_and(|value| value != "auto"));
    let moved = MOVES.into_iter().find(|name| style.get(name).is_some_and(|value| !matches!(value, "none" | "1")));
    // The origin of a transform moves what is transformed.
    let transformed = node.attribute("transform").or(style.get("transform")).is_some_and(|t| t.trim() != "none");
    let origin = node.attribute("transform-origin").or(style.get("transform-origin"));
    let at_zero = |origin: &str| origin.split_whitespace().all(|part| matches!(part, "0" | "0px" | "0%"));
    let turned = (transformed && origin.is_some_and(|origin| !at_zero(origin))).then_some("transform-origin");
    sized.or(moved).or(turned)
}

/// An element as the rules see it.
struct Seen<'a, 'd>(Node<'a, 'd>);

impl Element for Seen<'_, '_> {
    fn parent_element(&self) -> Option<Self> {
        self.0.parent_element().map(Seen)
    }

    fn prev_sibling_element(&self) -> Option<Self> {
        self.0.prev_sibling_element().map(Seen)
    }

    fn has_local_name(&self, name: &str) -> bool {
        self.0.tag_name().name() == name
    }

    fn attribute_matches(&self, local_name: &str, operator: AttributeOperator<'_>) -> bool {
        self.0.attribute(local_name).is_some_and(|value| operator.matches(value))
    }

    fn pseudo_class_matches(&self, class: PseudoClass<'_>) -> bool {
        matches!(class, PseudoClass::FirstChild) && self.prev_sibling_element().is_none()
    }
}

impl<'d> Styles<'d> {
    pub fn new(document: &'d Document<'d>) -> Self {
        let mut sheet = StyleSheet::new();
        for node in document.descendants().filter(|n| n.tag_name().name() == "style") {
            sheet.parse_more(node.text().unwrap_or_default());
        }
        Self(sheet)
    }

    /// The properties of an element, weakest first: attributes, rules by their weight, its own style.
    pub fn of<'a>(&'a self, node: Node<'a, 'a>) -> Style<'a> {
        const ATTRIBUTES: [&str; 13] = [
            "display",
            "visibility",
            "opacity",
            "stroke",
            "fill",
            "stroke-opacity",
            "fill-opacity",
            "stroke-width",
            "clip-path",
            "mask",
            "marker-start",
            "marker-mid",
            "marker-end",
        ];
        let mut style: Vec<(&str, &str)> =
            ATTRIBUTES.iter().filter_map(|name| node.attribute(*name).map(|value| (*name, value))).collect();
        let rules = self.0.rules.iter().filter(|rule| rule.selector.matches(&Seen(node)));
        let ruled: Vec<_> = rules.flat_map(|rule| rule.declarations.iter()).collect();
        style.extend(ruled.iter().map(|d| (d.name, d.value)));
        let own: Vec<_> = DeclarationTokenizer::from(node.attribute("style").unwrap_or_default()).collect();
        style.extend(own.iter().map(|d| (d.name, d.value)));
        style.extend(ruled.iter().filter(|d| d.important).map(|d| (d.name, d.value)));
        style.extend(own.iter().filter(|d| d.important).map(|d| (d.name, d.value)));
        Style(style)
    }
}
