//! Money.

/// Money in hundredths of the currency.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Money(
    /// Hundredths.
    pub i64,
);

impl Money {
    #[allow(clippy::cast_possible_truncation)] // Checked against the dearest below.
    pub(super) fn of(amount: f64) -> Option<Self> {
        (amount.is_finite() && amount.abs() < 1e12).then(|| Self((amount * 100.0).round() as i64))
    }

    /// One amount and another; `None` where that is more money than there is.
    #[must_use]
    pub fn plus(self, other: Self) -> Option<Self> {
        self.0.checked_add(other.0).map(Self)
    }

    /// So many times as much; `None` where that is more money than there is.
    #[must_use]
    pub fn times(self, quantity: u32) -> Option<Self> {
        self.0.checked_mul(i64::from(quantity)).map(Self)
    }
}

impl std::fmt::Display for Money {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let sign = if self.0 < 0 { "-" } else { "" };
        write!(f, "{sign}{}.{:02}", self.0.unsigned_abs() / 100, self.0.unsigned_abs() % 100)
    }
}
