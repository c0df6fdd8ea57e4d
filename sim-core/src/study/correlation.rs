//! Correlated factors.

use nalgebra::{Cholesky, DMatrix};

use super::error::StudyError;
use super::normal::{normal_probability, normal_quantile};

/// How unlike the two halves of a matrix, or how far from 1 its diagonal, may be: digits that a
/// person writes, not rounding.
const WRITTEN: f64 = 1e-9;

/// Correlations among some factors, ready to be imposed on independent numbers.
///
/// A Gaussian copula: each number between 0 and 1 is taken as the probability of a standard normal
/// score, the scores are mixed by the Cholesky factor of the matrix, and their probabilities are the
/// new numbers. So the matrix holds the correlations of the *scores*; each factor keeps its own
/// distribution. Normal factors have the matrix as their own (Pearson) correlation; whatever the
/// distributions, the rank (Spearman) correlation is (6/π)·asin(r/2) for an entry r (Pearson 1907,
/// from memory), which is within 0.018 of r.
#[derive(Clone, Debug, PartialEq)]
pub struct Correlation {
    /// The factors' places in a row.
    places: Vec<usize>,
    /// Lower triangle, row by row.
    mixing: Vec<f64>,
}

impl Correlation {
    /// Correlations among the factors at these places of a row.
    ///
    /// # Errors
    /// [`StudyError`] unless the matrix is square of their number, symmetric, with ones on its
    /// diagonal and numbers between −1 and 1 elsewhere, and positive definite.
    pub fn new(places: Vec<usize>, matrix: &[Vec<f64>]) -> Result<Self, StudyError> {
        check(places.len(), matrix)?;
        let count = places.len();
        let dense = DMatrix::from_fn(count, count, |row, column| matrix[row][column]);
        let lower = Cholesky::new(dense).ok_or(StudyError::NotPositiveDefinite)?.unpack();
        let mixing =
            (0..count).flat_map(|row| lower.row(row).iter().take(row + 1).copied().collect::<Vec<_>>());
        Ok(Self { places, mixing: mixing.collect() })
    }

    /// Imposes the correlations on independent numbers between 0 and 1, which become correlated
    /// numbers between 0 and 1. Allocates nothing.
    #[inline]
    pub(super) fn impose(&self, parts: &mut [f64]) {
        self.mix(parts);
        self.unscore(parts);
    }

    /// Turns independent numbers between 0 and 1 into correlated normal scores.
    #[inline]
    pub(super) fn mix(&self, parts: &mut [f64]) {
        for place in &self.places {
            parts[*place] = normal_quantile(parts[*place]);
        }
        // From the last on, so that each finds those before it as they were.
        for (row, place) in self.places.iter().enumerate().rev() {
            let start = row * (row + 1) / 2;
            let weights = &self.mixing[start..=start + row];
            parts[*place] =
                weights.iter().zip(&self.places).map(|(weight, other)| weight * parts[*other]).sum();
        }
    }

    /// Turns normal scores back into numbers between 0 and 1.
    #[inline]
    pub(super) fn unscore(&self, scores: &mut [f64]) {
        for place in &self.places {
            scores[*place] = normal_probability(scores[*place]).clamp(f64::MIN_POSITIVE, 1.0 - f64::EPSILON);
        }
    }

    /// The factors' places in a row.
    pub(super) fn places(&self) -> &[usize] {
        &self.places
    }

    /// The matrix that was given, to rounding.
    pub(super) fn matrix(&self) -> DMatrix<f64> {
        let count = self.places.len();
        let lower = DMatrix::from_fn(count, count, |row, column| {
            if column <= row { self.mixing[row * (row + 1) / 2 + column] } else { 0.0 }
        });
        &lower * lower.transpose()
    }
}

/// Checks a correlation matrix of `count` factors, but for its being positive definite.
fn check(count: usize, matrix: &[Vec<f64>]) -> Result<(), StudyError> {
    let widths_agree = matrix.iter().all(|row| row.len() == count);
    if matrix.len() != count || !widths_agree {
        let columns = matrix.iter().map(Vec::len).find(|width| *width != count).unwrap_or(count);
        return Err(StudyError::MatrixShape { count, rows: matrix.len(), columns });
    }
    for (row, entries) in matrix.iter().enumerate() {
        for (column, entry) in entries.iter().enumerate() {
            let (place, given) = ((row + 1, column + 1), *entry);
            if row == column && !alike(given, 1.0) {
                return Err(StudyError::MatrixDiagonal { place: row + 1, given });
            }
            if !(-1.0 - WRITTEN..=1.0 + WRITTEN).contains(&given) {
                return Err(StudyError::MatrixEntry { place, given });
            }
            let mirrored = matrix[column][row];
            if !alike(given, mirrored) {
                return Err(StudyError::MatrixSymmetry { place, given, mirrored });
            }
        }
    }
    Ok(())
}

/// Whether two numbers are the same as written; nothing is like what is not a number.
fn alike(one: f64, other: f64) -> bool {
    (one - other).abs() <= WRITTEN
}
