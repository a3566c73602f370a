//! Sorting by one compiled sort. A sort compiled for every type that is sorted, as the standard library's are, made a
//! fifteenth of the program.

use std::cmp::Ordering;

/// Stable sorting.
pub trait Order<T> {
    /// As `sort`.
    fn order(&mut self)
    where
        T: Ord,
    {
        self.order_by(T::cmp);
    }

    /// As `sort_by`.
    fn order_by(&mut self, compare: impl FnMut(&T, &T) -> Ordering);

    /// As `sort_by_key`.
    fn order_by_key<K: Ord>(&mut self, mut key: impl FnMut(&T) -> K) {
        self.order_by(|a, b| key(a).cmp(&key(b)));
    }
}

impl<T> Order<T> for [T] {
    fn order_by(&mut self, mut compare: impl FnMut(&T, &T) -> Ordering) {
        let mut from: Vec<usize> = (0..self.len()).collect();
        sort(&mut from, &mut |a, b| compare(&self[a], &self[b]));
        // Each place takes what is to stand there, cycle by cycle.
        for start in 0..from.len() {
            let mut place = start;
            loop {
                let taken = std::mem::replace(&mut from[place], place);
                if taken == start {
                    break;
                }
                self.swap(place, taken);
                place = taken;
            }
        }
    }
}

fn sort(places: &mut [usize], compare: &mut dyn FnMut(usize, usize) -> Ordering) {
    places.sort_by(|a, b| compare(*a, *b));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_sorts_as_the_standard_library_does_and_keeps_the_order_of_equals() {
        let mut uniform = crate::quantity::draws::uniform(7);
        for count in [0_u32, 1, 2, 3, 10, 100, 1000] {
            let drawn: Vec<(f64, u32)> = (0..count).map(|i| ((uniform() * 20.0).floor(), i)).collect();
            let (mut ours, mut theirs) = (drawn.clone(), drawn);
            ours.order_by(|a, b| b.0.total_cmp(&a.0));
            theirs.sort_by(|a, b| b.0.total_cmp(&a.0));
            assert_eq!(ours, theirs);
            ours.order_by_key(|one| one.1);
            theirs.sort_by_key(|one| one.1);
            assert_eq!(ours, theirs);
            let numbers: Vec<u32> = ours.iter().rev().map(|one| one.1 % 7).collect();
            let (mut ours, mut theirs) = (numbers.clone(), numbers);
            ours.order();
            theirs.sort_unstable();
            assert_eq!(ours, theirs);
        }
    }
}
