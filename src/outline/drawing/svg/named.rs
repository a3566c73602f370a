//! What a drawing says of itself: its texts, titles and descriptions, and what its groups and shapes are called.

use super::super::{Fault, Sketch, is_key};
use roxmltree::Node;

/// Elements whose words are read, shown or not: titles, what other programs keep beside a drawing, pages within it.
const SAYS: [&str; 5] = ["text", "title", "desc", "metadata", "foreignObject"];

/// Attributes that name an element: by the standards, and as the names of layers and objects are kept by programs.
const NAMES: [&str; 5] = ["label", "id", "aria-label", "aria-description", "data-name"];

/// Elements whose names stand around what is drawn.
const NAMED: [&str; 13] =
    ["svg", "g", "a", "switch", "symbol", "use", "path", "rect", "circle", "ellipse", "line", "polyline", "polygon"];

/// Keeps what is written in a drawing, and what it is called as a whole.
pub(super) fn hear(root: Node, sketch: &mut Sketch) -> Result<(), Fault> {
    for node in root.descendants().filter(|node| SAYS.contains(&node.tag_name().name())) {
        let said: Vec<&str> = node.descendants().filter(Node::is_text).filter_map(|text| text.text()).collect();
        let said = said.join(" ");
        if node.tag_name().name() == "title" && node.parent() == Some(root) {
            sketch.called.push(said.split_whitespace().collect::<Vec<_>>().join(" "));
        }
        sketch.note(&said)?;
    }
    sketch.called.extend(names(root).map(str::to_owned));
    Ok(())
}

/// What an element is called.
pub(super) fn names<'n>(node: Node<'n, '_>) -> impl Iterator<Item = &'n str> {
    let tag = node.tag_name().name();
    let named = node.attributes().filter(move |a| NAMED.contains(&tag) && NAMES.contains(&a.name()));
    named.map(|a| a.value()).filter(move |name| !is_numbered(name, node.tag_name().name()))
}

/// Whether a name is one that a program gave by counting or as a key: `path1020`, `rect-3`, `_12`.
fn is_numbered(name: &str, tag: &str) -> bool {
    let number = name.strip_prefix(tag).unwrap_or(name);
    is_key(name) || !number.contains(|c: char| c.is_alphabetic() || c == '/' || c == '"' || c == '.')
}

#[cfg(test)]
mod tests {
    use super::is_numbered;

    #[test]
    fn names_that_were_counted_are_told_from_those_that_were_given() {
        for (name, tag) in [
            ("path1020", "path"),
            ("rect-3", "rect"),
            ("_12", "path"),
            ("1_2", "g"),
            ("g36", "g"),
            ("_1b9d6bcd-bbfd-4130-9b5d-ab8dfbbd4bed", "g"),
        ] {
            assert!(is_numbered(name, tag), "{name}");
        }
        for (name, tag) in
            [("A36", "g"), ("plate", "path"), ("6mm", "g"), ("1/4", "g"), ("path1020", "rect"), ("0.25", "g")]
        {
            assert!(!is_numbered(name, tag), "{name}");
        }
    }
}
