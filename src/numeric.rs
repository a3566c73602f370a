//! Where a condition turns and where a function crosses zero: the one place that looks for roots.

use std::convert::Infallible;

/// Halves the stretch between `low`, where a condition holds, and `high`, where it does not, until it is no longer
/// than `tolerance`, or no number lies between its ends; returns both ends.
///
/// # Errors
/// Whatever the condition fails with.
pub fn try_bisect<E>(
    mut low: f64,
    mut high: f64,
    tolerance: f64,
    mut holds: impl FnMut(f64) -> Result<bool, E>,
) -> Result<(f64, f64), E> {
    while (high - low).abs() > tolerance {
        let middle = 0.5 * (low + high);
        if middle == low || middle == high {
            break;
        }
        if holds(middle)? { low = middle } else { high = middle }
    }
    Ok((low, high))
}

/// As `try_bisect`, with a condition that never fails.
pub fn bisect(low: f64, high: f64, tolerance: f64, mut holds: impl FnMut(f64) -> bool) -> (f64, f64) {
    match try_bisect(low, high, tolerance, |at| Ok::<_, Infallible>(holds(at))) {
        Ok(ends) => ends,
        Err(never) => match never {},
    }
}

/// What is as good as zero for [`falling`].
const ZERO: f64 = 1e-10;

/// Root of a falling function by the Illinois method, on its negative side; an end where there is none between.
pub fn falling(value: impl Fn(f64) -> f64, mut low: f64, mut high: f64, tolerance: f64) -> f64 {
    let (mut at_low, mut at_high) = (value(low), value(high));
    if at_low <= 0.0 {
        return low;
    }
    if at_high > 0.0 {
        return high;
    }
    let mut side = 0;
    while high - low > tolerance {
        let middle = low + (high - low) * at_low / (at_low - at_high);
        let middle = if middle > low && middle < high { middle } else { 0.5 * (low + high) };
        let at = value(middle);
        if at > 0.0 {
            (low, at_low) = (middle, at);
            if side == -1 {
                at_high *= 0.5;
            }
            side = -1;
        } else {
            (high, at_high) = (middle, at);
            if at > -ZERO {
                break;
            }
            if side == 1 {
                at_low *= 0.5;
            }
            side = 1;
        }
    }
    high
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn halving_ends_on_both_sides_of_the_turn() {
        let (low, high) = bisect(0.0, 2.0, 1e-12, |x| x * x <= 2.0);
        assert!(low <= 2.0_f64.sqrt() && high > low && high - low <= 1e-12);
        // Upside down, and down to neighbouring numbers.
        let (low, high) = bisect(2.0, 0.0, 0.0, |x| x * x > 2.0);
        assert!(low * low > 2.0 && high * high <= 2.0 && (low - high) < 1e-15);
        assert_eq!(try_bisect(0.0, 1.0, 0.1, |_| Err("lost")), Err("lost"));
    }

    #[test]
    fn the_root_of_a_falling_function_is_found_on_its_negative_side() {
        for (root, curve) in [(0.25, 1.0), (3.0, 0.01), (9.999, 5.0)] {
            let value = |x: f64| (root - x) * (1.0 + curve * x);
            let found = falling(value, 0.0, 10.0, 1e-9);
            assert!((found - root).abs() < 1e-8 && value(found) <= 0.0, "{root}: {found}");
        }
        assert_eq!((falling(|x| -1.0 - x, 0.0, 1.0, 1e-9), falling(|x| 2.0 - x, 0.0, 1.0, 1e-9)), (0.0, 1.0));
    }
}
