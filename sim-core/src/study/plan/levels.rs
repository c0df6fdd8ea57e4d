//! Plans that take the factors' levels: every combination, one factor at a time, side by side.

use super::super::error::StudyError;
use super::{MOST_ROWS, PlannedFactor, SamplingPlan};

/// Parts of its distribution at which a factor without levels is taken, one at a time: all but one
/// in ten lie between them.
const ONE_AT_A_TIME_PARTS: [f64; 2] = [0.05, 0.95];

pub(super) fn grid_rows(factors: &[PlannedFactor]) -> Result<u64, StudyError> {
    let mut rows = 1_u64;
    for factor in factors {
        let levels = factor.distribution.levels().ok_or_else(|| StudyError::NoLevels {
            name: factor.name.clone(),
            plan: SamplingPlan::FullGrid.name(),
        })?;
        rows = rows
            .checked_mul(levels.len() as u64)
            .filter(|rows| *rows <= MOST_ROWS)
            .ok_or(StudyError::TooManyRows { plan: SamplingPlan::FullGrid.name(), most: MOST_ROWS })?;
    }
    Ok(rows)
}

/// Number of rows, the base scene's values and each factor's levels.
pub(super) fn one_at_a_time(factors: &[PlannedFactor]) -> Result<(u64, Vec<f64>, Vec<Vec<f64>>), StudyError> {
    let base = factors
        .iter()
        .map(|factor| factor.base.ok_or_else(|| StudyError::NoSingleBase { name: factor.name.clone() }));
    let base = base.collect::<Result<Vec<f64>, _>>()?;
    let levels: Vec<Vec<f64>> = factors
        .iter()
        .map(|factor| match factor.distribution.levels() {
            Some(levels) => levels.to_vec(),
            None => ONE_AT_A_TIME_PARTS.map(|part| factor.distribution.quantile(part)).to_vec(),
        })
        .collect();
    let rows = 1 + levels.iter().map(|levels| levels.len() as u64).sum::<u64>();
    Ok((rows, base, levels))
}

#[allow(clippy::cast_possible_truncation)] // below the number of levels
pub(super) fn one_at_a_time_row(base: &[f64], levels: &[Vec<f64>], row: u64, values: &mut [f64]) {
    values.copy_from_slice(base);
    let Some(mut rest) = row.checked_sub(1) else { return };
    for (value, levels) in values.iter_mut().zip(levels) {
        match levels.get(rest as usize) {
            Some(level) => {
                *value = *level;
                return;
            }
            None => rest -= levels.len() as u64,
        }
    }
}

#[allow(clippy::cast_possible_truncation)] // below the number of levels
pub(super) fn grid_row(factors: &[PlannedFactor], row: u64, values: &mut [f64]) {
    let mut rest = row;
    for (value, factor) in values.iter_mut().zip(factors).rev() {
        let levels = factor.distribution.levels().unwrap_or_default();
        let count = levels.len().max(1) as u64;
        *value = levels.get((rest % count) as usize).copied().unwrap_or(f64::NAN);
        rest /= count;
    }
}

/// Number of rows and each factor's levels: as many as there are rows, or one for all of them.
pub(super) fn side_by_side(factors: &[PlannedFactor]) -> Result<(u64, Vec<Vec<f64>>), StudyError> {
    let mut columns: Vec<Vec<f64>> = Vec::with_capacity(factors.len());
    for factor in factors {
        let levels = factor.distribution.levels().ok_or_else(|| StudyError::NoLevels {
            name: factor.name.clone(),
            plan: SamplingPlan::Rows.name(),
        })?;
        let other = columns.iter().position(|column| column.len() > 1 && column.len() != levels.len());
        if let (Some(other), 2..) = (other, levels.len()) {
            return Err(StudyError::UnequalColumns {
                first: factors[other].name.clone(),
                rows: columns[other].len(),
                second: factor.name.clone(),
                others: levels.len(),
            });
        }
        columns.push(levels.to_vec());
    }
    let rows = columns.iter().map(Vec::len).max().unwrap_or_default();
    Ok((rows as u64, columns))
}

#[allow(clippy::cast_possible_truncation)] // below the number of levels
pub(super) fn row_side_by_side(columns: &[Vec<f64>], row: u64, values: &mut [f64]) {
    for (value, column) in values.iter_mut().zip(columns) {
        // A column of one level is that of every row.
        let level = if column.len() == 1 { column.first() } else { column.get(row as usize) };
        *value = level.copied().unwrap_or(f64::NAN);
    }
}
