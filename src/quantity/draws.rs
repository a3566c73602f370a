//! Seeded draws for tests: the same on every machine and in every run.

/// Numbers from 0 to 1 by xorshift64 (G. Marsaglia, J. Stat. Softw. 8(14), 2003).
pub(crate) fn uniform(mut seed: u64) -> impl FnMut() -> f64 {
    move || {
        seed ^= seed << 13;
        seed ^= seed >> 7;
        seed ^= seed << 17;
        (seed >> 11) as f64 / (1u64 << 53) as f64
    }
}
