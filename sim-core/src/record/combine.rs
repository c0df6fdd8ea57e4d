//! One angle from several ways of reading it.

use super::settings::ReadAngle;
use crate::units::Angle;

/// An exact reading is weighed as one with this standard error, in radians: more would be no number.
const EXACT: f64 = 1e-9;

/// The estimates of one angle, each independent of the others, as one: weighed by their variances where
/// all are known, else by the number of records. `None` without an estimate.
pub(super) fn combine(estimates: impl IntoIterator<Item = ReadAngle>) -> Option<ReadAngle> {
    let estimates: Vec<ReadAngle> = estimates.into_iter().collect();
    if estimates.len() < 2 {
        return estimates.into_iter().next();
    }
    let known: Option<Vec<f64>> = estimates
        .iter()
        .map(|read| read.standard_error.map(|error| error.radians().max(EXACT).powi(-2)))
        .collect();
    let weights =
        known.clone().unwrap_or_else(|| estimates.iter().map(|read| read.records.max(1) as f64).collect());
    let whole: f64 = weights.iter().sum();
    let mean = |of: &dyn Fn(&ReadAngle) -> f64| -> f64 {
        estimates.iter().zip(&weights).map(|(read, weight)| of(read) * weight / whole).sum()
    };
    Some(ReadAngle {
        value: Angle::from_radians(mean(&|read| read.value.radians())),
        standard_error: known.map(|_| Angle::from_radians(whole.sqrt().recip())),
        mounting_error: None,
        scatter: None,
        records: estimates.iter().map(|read| read.records).sum(),
    })
}
