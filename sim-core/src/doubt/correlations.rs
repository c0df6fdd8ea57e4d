//! How draws go together.

/// Correlations of columns of the same draws; 0 with a column that does not vary.
#[allow(clippy::cast_precision_loss)] // draws are far below 2^53
pub(super) fn correlations(columns: &[Vec<f64>]) -> Vec<Vec<f64>> {
    let off: Vec<Vec<f64>> = columns
        .iter()
        .map(|column| {
            let mean = column.iter().sum::<f64>() / column.len() as f64;
            column.iter().map(|number| number - mean).collect()
        })
        .collect();
    let product = |one: &[f64], other: &[f64]| one.iter().zip(other).map(|(a, b)| a * b).sum::<f64>();
    let correlation = |one: &[f64], other: &[f64]| {
        let whole = (product(one, one) * product(other, other)).sqrt();
        if whole > 0.0 { product(one, other) / whole } else { 0.0 }
    };
    off.iter().map(|one| off.iter().map(|other| correlation(one, other)).collect()).collect()
}
