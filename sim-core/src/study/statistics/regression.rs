//! Standardised regression coefficients.

use nalgebra::{DMatrix, DVector};

use super::estimate::Estimate;
use super::terms::jackknifed;

/// A linear regression of an output on the factors, taken in row by row in flat memory.
///
/// Kept are the means and the products of deviations from them, so that nothing is lost when a mean is
/// large beside its spread. Two regressions of parts of a table merge to that of the whole.
#[derive(Clone, Debug, PartialEq)]
pub struct Regression {
    count: u64,
    left_out: u64,
    /// Of the factors, then of the output.
    means: DVector<f64>,
    products: DMatrix<f64>,
}

/// What a regression comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Standardised {
    /// By how many of its own standard deviations the output changes as a factor changes by one of
    /// its.
    pub coefficients: Vec<f64>,
    /// The same with their intervals, where the rows are a sample: [`Regression::jackknife`].
    pub estimates: Vec<Estimate>,
    /// Part of the output's variance that the straight lines explain.
    pub r_squared: f64,
    /// Rows that it comes of.
    pub rows: u64,
    /// Rows left out since a number in them is none.
    pub left_out: u64,
}

/// Why there are no coefficients.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum RegressionError {
    /// Too few rows.
    #[error("{rows} rows have every number; coefficients of {factors} factors need {} or more", factors + 2)]
    TooFew {
        /// Rows that are whole.
        rows: u64,
        /// Number of factors.
        factors: usize,
    },
    /// A factor that does not vary.
    #[error("factor {} has the same value in every row", factor + 1)]
    ConstantFactor {
        /// Its place, from 0.
        factor: usize,
    },
    /// An output that does not vary.
    #[error("the output is the same in every row")]
    ConstantOutput,
    /// Factors that follow from each other.
    #[error(
        "the factors follow from each other in a straight line, so that their parts cannot be told apart"
    )]
    Collinear,
}

/// Below this a direction in which standardised factors vary is rounding: a correlation within a
/// hundred-millionth of 1.
const LEAST_DIRECTION: f64 = 1e-8;
/// Variance below this part of the squared mean is rounding.
const ROUNDING: f64 = 1e-24;

#[allow(clippy::cast_precision_loss)] // counts are below 2^53
impl Regression {
    /// Nothing taken in yet.
    #[must_use]
    pub fn new(factors: usize) -> Self {
        let size = factors + 1;
        Self { count: 0, left_out: 0, means: DVector::zeros(size), products: DMatrix::zeros(size, size) }
    }

    /// Takes one row: as many factor values as there are factors, and the output. Allocates nothing.
    pub fn push(&mut self, factors: &[f64], output: f64) {
        let size = self.means.len();
        let row = |at: usize| factors.get(at).copied().unwrap_or(output);
        if factors.len() + 1 != size || !(0..size).all(|at| row(at).is_finite()) {
            self.left_out += 1;
            return;
        }
        self.count += 1;
        let count = self.count as f64;
        // Deviations from the means before, times those from the means after.
        let after = 1.0 - 1.0 / count;
        for column in 0..size {
            let off = (row(column) - self.means[column]) * after;
            for line in 0..size {
                self.products[(line, column)] += (row(line) - self.means[line]) * off;
            }
        }
        for at in 0..size {
            self.means[at] += (row(at) - self.means[at]) / count;
        }
    }

    /// Takes all that another of as many factors has taken.
    pub fn merge(&mut self, other: &Self) {
        self.left_out += other.left_out;
        if other.count == 0 || other.means.len() != self.means.len() {
            return;
        }
        let (own, others) = (self.count as f64, other.count as f64);
        let off = &other.means - &self.means;
        self.count += other.count;
        self.means += &off * (others / (own + others));
        self.products += &other.products + &off * off.transpose() * (own * others / (own + others));
    }

    /// The standardised coefficients: least squares on factors and output each less its mean and over
    /// its standard deviation, whose normal equations are the correlations'.
    ///
    /// # Errors
    /// [`RegressionError`].
    pub fn standardised(&self) -> Result<Standardised, RegressionError> {
        let factors = self.means.len() - 1;
        if self.count < factors as u64 + 2 {
            return Err(RegressionError::TooFew { rows: self.count, factors });
        }
        let varies =
            |at: usize| self.products[(at, at)] / self.count as f64 > ROUNDING * self.means[at].powi(2);
        if let Some(factor) = (0..factors).find(|at| !varies(*at)) {
            return Err(RegressionError::ConstantFactor { factor });
        }
        if !varies(factors) {
            return Err(RegressionError::ConstantOutput);
        }
        let correlation = |row: usize, column: usize| {
            self.products[(row, column)]
                / (self.products[(row, row)] * self.products[(column, column)]).sqrt()
        };
        let among = DMatrix::from_fn(factors, factors, correlation);
        let with_output = DVector::from_fn(factors, |row, _| correlation(row, factors));
        let decomposed = among.svd(true, true);
        if decomposed.singular_values.iter().any(|value| *value < LEAST_DIRECTION) {
            return Err(RegressionError::Collinear);
        }
        let coefficients = decomposed.solve(&with_output, 0.0).map_err(|_| RegressionError::Collinear)?;
        Ok(Standardised {
            r_squared: coefficients.dot(&with_output),
            coefficients: coefficients.iter().copied().collect(),
            estimates: coefficients.iter().copied().map(Estimate::bare).collect(),
            rows: self.count,
            left_out: self.left_out,
        })
    }

    /// The standardised coefficients of all these parts together, with Student's intervals by the
    /// jackknife: each part left out once. Parts are to be independent of each other, whatever hangs
    /// together within one; nothing is taken for granted of the residuals. No intervals where a part
    /// cannot be left out.
    ///
    /// # Errors
    /// [`RegressionError`] of the parts together.
    pub fn jackknife(parts: &[Self]) -> Result<Standardised, RegressionError> {
        let factors = parts.first().map_or(0, |part| part.means.len().saturating_sub(1));
        let merged = |left_out: Option<usize>| {
            let mut merged = Self::new(factors);
            let kept = parts.iter().enumerate().filter(|(at, _)| Some(*at) != left_out);
            kept.for_each(|(_, part)| merged.merge(part));
            merged
        };
        let mut standardised = merged(None).standardised()?;
        let there = (0..parts.len()).filter(|at| parts[*at].count > 0);
        let without: Result<Vec<Standardised>, _> = there.map(|at| merged(Some(at)).standardised()).collect();
        if let Ok(without) = without {
            for (at, estimate) in standardised.estimates.iter_mut().enumerate() {
                *estimate = jackknifed(estimate.value, without.iter().map(|other| other.coefficients[at]));
            }
        }
        Ok(standardised)
    }
}
