//! The loads that need the most distance of a target, by option.

use crate::rules::Rule;

/// Loads that may be left out at a target, at most.
pub(super) const MAX_REFUSED: usize = 3;
/// What is kept of an option: the loads that need the most distance.
pub(super) const TOP: usize = MAX_REFUSED + 1;

/// From where a load passes.
#[derive(Clone, Copy)]
pub(super) struct Need<'r> {
    pub metres: f64,
    pub load: usize,
    pub by: Option<&'r Rule>,
}

/// The loads of a class that need the most distance, the most first.
#[derive(Clone, Default)]
pub(super) struct Top<'r>(pub Vec<Need<'r>>);

impl<'r> Top<'r> {
    pub fn offer(&mut self, need: Need<'r>) {
        // A load that is offered from several places needs the most of them.
        if let Some(known) = self.0.iter().position(|known| known.load == need.load) {
            if self.0[known].metres >= need.metres {
                return;
            }
            self.0.remove(known);
        }
        let before = |n: &Need| n.metres.total_cmp(&need.metres).then(need.load.cmp(&n.load)).is_gt();
        let at = self.0.iter().position(|n| !before(n)).unwrap_or(self.0.len());
        if at < TOP {
            self.0.insert(at, need);
            self.0.truncate(TOP);
        }
    }

    /// The distance that a further load must need to count.
    pub fn least(&self) -> Option<f64> {
        self.0.get(TOP - 1).map(|n| n.metres)
    }

    pub fn beyond(&self, metres: f64) -> impl Iterator<Item = &Need<'r>> {
        self.0.iter().take_while(move |n| n.metres > metres * (1.0 + 1e-9))
    }
}

/// By option, then by slot: the classes first.
pub(super) type Needs<'r> = Vec<Vec<Top<'r>>>;
