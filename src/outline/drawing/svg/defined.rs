//! What a file defines beside its drawing: drawn where it is used, counted where it is not.

use super::super::Tally;
use super::Fault;
use super::style::Style;
use roxmltree::{Document, Node, NodeId};
use std::collections::{HashMap, HashSet};

/// What shows itself, or what shows others.
pub(super) const SHAPES: [&str; 10] =
    ["path", "rect", "circle", "ellipse", "line", "polyline", "polygon", "text", "image", "use"];

/// Elements whose shapes the standard draws nowhere but where they are referred to.
const DEFINITIONS: [&str; 13] = [
    "defs",
    "symbol",
    "marker",
    "pattern",
    "clipPath",
    "mask",
    "filter",
    "linearGradient",
    "radialGradient",
    "font",
    "font-face",
    "glyph",
    "metadata",
];

/// Properties that draw the shapes of a definition.
const DRAWS: [(&str, &str); 6] = [
    ("marker", "marker"),
    ("marker-start", "marker"),
    ("marker-mid", "marker"),
    ("marker-end", "marker"),
    ("fill", "pattern"),
    ("stroke", "pattern"),
];

/// The standard's namespace; a file without any is read as one of it.
const SVG: &str = "http://www.w3.org/2000/svg";

/// Elements by their ids, and which of the definitions are used.
pub(super) struct Defined<'d> {
    ids: HashMap<&'d str, Node<'d, 'd>>,
    used: HashSet<NodeId>,
    met: Vec<Node<'d, 'd>>,
}

impl<'d> Defined<'d> {
    pub fn new(document: &'d Document<'d>) -> Self {
        let mut ids = HashMap::new();
        for node in document.descendants() {
            if let Some(id) = node.attribute("id") {
                ids.entry(id).or_insert(node);
            }
        }
        Self { ids, used: HashSet::new(), met: Vec::new() }
    }

    /// What a `use` refers to.
    pub fn used(&mut self, link: &str) -> Option<Node<'d, 'd>> {
        let target = *self.ids.get(link.strip_prefix('#')?)?;
        self.used.insert(target.id());
        Some(target)
    }

    /// Marks and patterns that an element is drawn with, where they hold shapes.
    pub fn drawn_along(&self, style: &Style) -> Option<&'static str> {
        let draws = |(property, kind): &(&str, &'static str)| {
            let (_, id) = style.get(property)?.split_once("url(")?;
            let id = id.split(')').next()?.trim().trim_matches(['"', '\'']).strip_prefix('#')?;
            let target = self.ids.get(id).filter(|node| node.tag_name().name() == *kind)?;
            shapes(*target).next().map(|_| *kind)
        };
        DRAWS.iter().find_map(draws)
    }

    /// Takes an element that is not drawn itself. One the standard does not know may be drawn as a group, and by some
    /// programs is: with shapes in it, it is refused.
    pub fn meet(&mut self, node: Node<'d, 'd>, left_out: &mut Tally) -> Result<(), Fault> {
        let tag = node.tag_name();
        if DEFINITIONS.contains(&tag.name()) {
            self.met.push(node);
            return Ok(());
        }
        let foreign = tag.namespace().is_some_and(|namespace| namespace != SVG);
        let Some(shape) = shapes(node).next() else { return Ok(()) };
        if foreign {
            for shape in shapes(node) {
                left_out.add(shape.tag_name().name(), "in an element of another standard, not drawn");
            }
            return Ok(());
        }
        let name: String = tag.name().chars().filter(|c| !c.is_control()).take(60).collect();
        Err((
            format!("a `{name}` is not read, and the `{}` in it may be an edge to cut", shape.tag_name().name()),
            "ungroup it, or delete it, and save it as plain SVG".into(),
        ))
    }

    /// Counts the shapes of definitions that are used nowhere.
    pub fn count_unused(&self, left_out: &mut Tally) {
        let mut counted = HashSet::new();
        for definition in &self.met {
            for shape in shapes(*definition) {
                let used = shape.ancestors().any(|node| self.used.contains(&node.id()));
                if !used && counted.insert(shape.id()) {
                    let within = definition.tag_name().name();
                    left_out.add(shape.tag_name().name(), format!("in `{within}`, not drawn"));
                }
            }
        }
    }
}

fn shapes<'d>(node: Node<'d, 'd>) -> impl Iterator<Item = Node<'d, 'd>> {
    node.descendants().filter(|inner| SHAPES.contains(&inner.tag_name().name()))
}
