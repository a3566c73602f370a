//! The layers that strokes lie on, each with the names of what is around it: blocks, groups, the shape itself.

use std::collections::{HashMap, HashSet};
use std::ops::Index;

/// Names around a stroke, from the innermost outward; none where nothing around it has a name.
pub(in crate::outline) type Around = Option<usize>;

/// A name, and those around what it is of.
type Called = (Around, String);

/// Layers by the index that strokes hold. One stands here as often as the names around it differ.
#[derive(Debug, Default)]
pub(in crate::outline) struct Layers {
    drawn_on: Vec<String>,
    around: Vec<Around>,
    by_name: HashMap<Called, usize>,
    names: Vec<Called>,
    entered: HashMap<Called, usize>,
}

impl Index<usize> for Layers {
    type Output = String;

    fn index(&self, layer: usize) -> &String {
        &self.drawn_on[layer]
    }
}

impl Layers {
    /// The index of a layer under some names.
    pub fn at(&mut self, name: &str, around: Around) -> usize {
        let (layers, places) = (&mut self.drawn_on, &mut self.around);
        *self.by_name.entry((around, name.to_owned())).or_insert_with(|| {
            layers.push(name.to_owned());
            places.push(around);
            layers.len() - 1
        })
    }

    /// The names within something that has one too.
    pub fn enter(&mut self, around: Around, name: &str) -> Around {
        if name.trim().is_empty() {
            return around;
        }
        let (called, names) = ((around, name.to_owned()), &mut self.names);
        Some(*self.entered.entry(called).or_insert_with_key(|called| {
            names.push(called.clone());
            names.len() - 1
        }))
    }

    /// Every layer by its index.
    pub fn all(&self) -> impl Iterator<Item = &str> {
        self.drawn_on.iter().map(String::as_str)
    }

    /// The names around some layers, each once.
    pub fn around(&self, layers: impl Iterator<Item = usize>) -> Vec<String> {
        let (mut met, mut found) = (HashSet::new(), Vec::new());
        for layer in layers {
            let mut next = self.around[layer];
            // What is around a name that was met was met with it.
            while let Some(at) = next.filter(|at| met.insert(*at)) {
                let (outer, name) = &self.names[at];
                found.push(name.clone());
                next = *outer;
            }
        }
        let mut seen = HashSet::new();
        found.retain(|name| seen.insert(name.clone()));
        found
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_layer_is_told_apart_by_the_names_around_it_and_gives_each_of_them_once() {
        let mut layers = Layers::default();
        let plate = layers.enter(None, "plate");
        let hole = layers.enter(plate, "hole");
        assert_eq!((layers.enter(plate, "hole"), layers.enter(plate, " ")), (hole, plate));
        let [bare, outer, inner] = [None, plate, hole].map(|around| layers.at("cut", around));
        assert_eq!(layers.at("cut", plate), outer);
        assert_eq!(layers.around([outer, inner, bare].into_iter()), ["plate", "hole"]);
        assert!(layers.around(std::iter::once(bare)).is_empty() && layers[inner] == "cut");
    }
}
