//! z
use statrs::distribution::{ContinuousCDF, Normal};
pub(crate) fn quantile(p: f64) -> Result<f64, ()> {
    Normal::new(0.0, 1.0).map(|n| n.inverse_cdf(p)).map_err(|_| ())
}
