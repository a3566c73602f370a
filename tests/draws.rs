//! What tests of random questions draw with.

/// How many cases are drawn: so many, unless `THICKSET_CASES` says otherwise.
pub fn cases(usual: usize) -> usize {
    std::env::var("THICKSET_CASES").ok().and_then(|n| n.parse().ok()).unwrap_or(usual)
}

/// Draws without a clock: the same questions every time.
pub struct Draws(pub u64);

impl Draws {
    /// A number below `bound`.
    pub fn below(&mut self, bound: usize) -> usize {
        // The constants of a 64-bit linear congruence (Knuth, MMIX).
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % bound
    }

    /// One of a list.
    pub fn of<'t>(&mut self, list: &[&'t str]) -> &'t str {
        list[self.below(list.len())]
    }
}
