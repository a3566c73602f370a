//! Seeded draws for tests: the same on every machine and in every run.

/// Numbers from 0 to 1 by xorshift64 (G. Marsaglia, J. Stat. Softw. 8(14), 2003).
pub fn uniform(mut seed: u64) -> impl FnMut() -> f64 {
    move || {
        seed ^= seed << 13;
        seed ^= seed >> 7;
        seed ^= seed << 17;
        (seed >> 11) as f64 / (1u64 << 53) as f64
    }
}

/// Whether `THICKSET_CASES` asks for so many cases that all that vary together are tried together, and not in turn.
#[must_use]
pub fn exhaustive() -> bool {
    std::env::var("THICKSET_CASES").ok().and_then(|n| n.parse::<u32>().ok()).is_some_and(|n| n >= 1000)
}
