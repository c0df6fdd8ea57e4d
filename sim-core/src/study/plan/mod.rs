//! Plans: which values the factors take in which row.
//!
//! A row is computed from its number alone, in flat memory: no row needs another, whatever the
//! order, the thread or the part of the study in which it is asked.

mod latin;
mod random;
mod sobol;

use serde::{Deserialize, Deserializer, Serialize};

use super::correlation::Correlation;
use super::distribution::Distribution;
use super::error::StudyError;
use crate::facts::whole_number_within;

use latin::Latin;
use random::Random;
use sobol::Points;

/// Most rows that a plan may have: some 10¹⁵, whose numbers f64 and the Sobol' points still tell
/// apart.
pub const MOST_ROWS: u64 = 1 << 50;

/// Parts of its distribution at which a factor without levels is taken, one at a time: all but one
/// in ten lie between them.
pub(crate) const ONE_AT_A_TIME_PARTS: [f64; 2] = [0.05, 0.95];

/// How the rows of a study are chosen.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum SamplingPlan {
    /// Every combination of the factors' levels; the last factor changes fastest.
    FullGrid,
    /// The base scene, then each factor at each of its levels (without levels: at
    /// 5 % and 95 % of its distribution) while the others stay as in the base scene.
    OneAtATime,
    /// One row in each of as many equal shares of every factor's distribution as there are rows.
    LatinHypercube {
        /// Number of rows.
        #[serde(deserialize_with = "row_count")]
        rows: u64,
        /// Seed of the random numbers.
        #[serde(deserialize_with = "seed")]
        seed: u64,
    },
    /// Scrambled Sobol' points, evenest when the rows are a power of two.
    Sobol {
        /// Number of rows.
        #[serde(deserialize_with = "row_count")]
        rows: u64,
        /// Seed of the scrambling.
        #[serde(deserialize_with = "seed")]
        seed: u64,
    },
    /// Independent random rows.
    MonteCarlo {
        /// Number of rows.
        #[serde(deserialize_with = "row_count")]
        rows: u64,
        /// Seed of the random numbers.
        #[serde(deserialize_with = "seed")]
        seed: u64,
    },
    /// Rows laid out for Sobol' indices: groups of k + 2 rows for k factors, the first row of a
    /// group from one sample (A), the last from another (B), between them A with the values of one
    /// factor after the other taken from B.
    Indices {
        /// Number of groups.
        #[serde(deserialize_with = "row_count")]
        groups: u64,
        /// Seed of the points.
        #[serde(deserialize_with = "seed")]
        seed: u64,
        /// Where A and B come from.
        points: Sample,
    },
}

/// Where a sample comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Sample {
    /// Scrambled Sobol' points.
    Sobol,
    /// Independent random points.
    Random,
}

fn row_count<'de, D: Deserializer<'de>>(deserializer: D) -> Result<u64, D::Error> {
    whole_number_within(deserializer, (1, MOST_ROWS))
}

fn seed<'de, D: Deserializer<'de>>(deserializer: D) -> Result<u64, D::Error> {
    whole_number_within(deserializer, (0, u64::MAX))
}

impl SamplingPlan {
    /// `FullGrid`, `OneAtATime`, …: the word that a study file uses.
    #[must_use]
    pub const fn name(&self) -> &'static str {
        match self {
            Self::FullGrid => "FullGrid",
            Self::OneAtATime => "OneAtATime",
            Self::LatinHypercube { .. } => "LatinHypercube",
            Self::Sobol { .. } => "Sobol",
            Self::MonteCarlo { .. } => "MonteCarlo",
            Self::Indices { .. } => "Indices",
        }
    }

    /// Whether factors may be correlated under it.
    #[must_use]
    pub const fn takes_correlations(&self) -> bool {
        matches!(self, Self::Sobol { .. } | Self::MonteCarlo { .. })
    }
}

/// One factor as a plan needs it.
#[derive(Clone, Debug, PartialEq)]
pub struct PlannedFactor {
    /// Its name, for errors.
    pub name: String,
    /// Its values.
    pub distribution: Distribution,
    /// Its value in the base scene, if it has a single one; only one-at-a-time asks for it.
    pub base: Option<f64>,
}

/// A plan made ready: rows of factor values by number.
#[derive(Clone, Debug)]
pub struct SamplingDesign {
    factors: Vec<PlannedFactor>,
    correlations: Vec<Correlation>,
    rows: u64,
    layout: Layout,
}

#[derive(Clone, Debug)]
enum Layout {
    Grid,
    OneAtATime { base: Vec<f64>, levels: Vec<Vec<f64>> },
    Latin(Latin),
    Sobol(Points),
    MonteCarlo(Random),
    IndicesOfSobol(Points),
    IndicesOfRandom(Random),
}

/// What a row of an [`SamplingPlan::Indices`] group holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Member {
    A,
    /// A with this factor's value from B.
    Exchanged(usize),
    B,
}

impl SamplingDesign {
    /// Makes a plan ready.
    ///
    /// # Errors
    /// [`StudyError`] for factors without levels in a grid, more than [`MOST_ROWS`] rows,
    /// correlations under a plan that cannot keep them, more factors than there are Sobol'
    /// dimensions, and a base scene without a single value where one is needed.
    pub fn new(
        plan: &SamplingPlan,
        factors: Vec<PlannedFactor>,
        correlations: Vec<Correlation>,
    ) -> Result<Self, StudyError> {
        if factors.is_empty() {
            return Err(StudyError::NoFactor);
        }
        if !correlations.is_empty() && !plan.takes_correlations() {
            return Err(StudyError::CorrelationNotKept { plan: plan.name() });
        }
        let count = factors.len();
        let dimensions = |per_factor: usize| match count * per_factor {
            needed if needed > sobol::MOST_DIMENSIONS => {
                Err(StudyError::TooManyFactors { count, most: sobol::MOST_DIMENSIONS / per_factor })
            }
            needed => Ok(needed),
        };
        let (rows, layout) = match *plan {
            SamplingPlan::FullGrid => (grid_rows(&factors)?, Layout::Grid),
            SamplingPlan::OneAtATime => one_at_a_time(&factors)?,
            SamplingPlan::LatinHypercube { rows, seed } => {
                (rows, Layout::Latin(Latin::new(rows, seed, count)))
            }
            SamplingPlan::Sobol { rows, seed } => (rows, Layout::Sobol(Points::new(seed, dimensions(1)?))),
            SamplingPlan::MonteCarlo { rows, seed } => (rows, Layout::MonteCarlo(Random::new(seed))),
            SamplingPlan::Indices { groups, seed, points } => {
                let rows = groups.saturating_mul(count as u64 + 2);
                let layout = match points {
                    Sample::Sobol => Layout::IndicesOfSobol(Points::new(seed, dimensions(2)?)),
                    Sample::Random => Layout::IndicesOfRandom(Random::new(seed)),
                };
                (rows, layout)
            }
        };
        if !(1..=MOST_ROWS).contains(&rows) {
            return Err(StudyError::TooManyRows { plan: plan.name(), most: MOST_ROWS });
        }
        Ok(Self { factors, correlations, rows, layout })
    }

    /// Number of rows, 1 or more.
    #[must_use]
    pub const fn rows(&self) -> u64 {
        self.rows
    }

    /// The factors, in the order of a row's values.
    #[must_use]
    pub fn factors(&self) -> &[PlannedFactor] {
        &self.factors
    }

    /// Number of levels of each factor in a [`SamplingPlan::OneAtATime`], whose rows are the base scene and
    /// then factor by factor; `None` of any other plan.
    #[must_use]
    pub fn one_at_a_time_levels(&self) -> Option<Vec<usize>> {
        match &self.layout {
            Layout::OneAtATime { levels, .. } => Some(levels.iter().map(Vec::len).collect()),
            _ => None,
        }
    }

    /// What each factor takes: its distribution, or the levels that stand for it where one factor at a time varies.
    pub(super) fn distributions_taken(&self) -> Vec<Distribution> {
        match &self.layout {
            Layout::OneAtATime { levels, .. } => {
                levels.iter().cloned().map(Distribution::of_levels).collect()
            }
            _ => self.factors.iter().map(|factor| factor.distribution.clone()).collect(),
        }
    }

    /// Whether any factors are correlated.
    pub(super) const fn is_correlated(&self) -> bool {
        !self.correlations.is_empty()
    }

    /// Writes the factor values of a row into `values`, one for each factor. A row past the last is
    /// the last. Allocates nothing; costs the same for every row.
    ///
    /// # Panics
    /// Where `values` has not a place for each factor.
    #[inline]
    pub fn row(&self, row: u64, values: &mut [f64]) {
        let row = row.min(self.rows - 1);
        let values = &mut values[..self.factors.len()];
        match &self.layout {
            Layout::Grid => return self.grid_row(row, values),
            Layout::OneAtATime { base, levels } => return one_at_a_time_row(base, levels, row, values),
            Layout::Latin(latin) => latin.parts(row, values),
            Layout::Sobol(points) => {
                for (dimension, value) in values.iter_mut().enumerate() {
                    *value = points.part(row, dimension);
                }
            }
            Layout::MonteCarlo(random) => {
                let mut draws = random.row(row);
                values.iter_mut().for_each(|value| *value = draws.part());
            }
            Layout::IndicesOfSobol(points) => {
                let (group, member) = self.member(row);
                let count = values.len();
                for (factor, value) in values.iter_mut().enumerate() {
                    let from_b = member == Member::B || member == Member::Exchanged(factor);
                    *value = points.part(group, if from_b { count + factor } else { factor });
                }
            }
            Layout::IndicesOfRandom(random) => {
                let (group, member) = self.member(row);
                let mut draws = random.row(group);
                values.iter_mut().for_each(|value| *value = draws.part());
                for (factor, value) in values.iter_mut().enumerate() {
                    let of_b = draws.part();
                    if member == Member::B || member == Member::Exchanged(factor) {
                        *value = of_b;
                    }
                }
            }
        }
        for correlation in &self.correlations {
            correlation.impose(values);
        }
        for (value, factor) in values.iter_mut().zip(&self.factors) {
            *value = factor.distribution.quantile(*value);
        }
    }

    #[allow(clippy::cast_possible_truncation)] // below the number of factors
    fn member(&self, row: u64) -> (u64, Member) {
        let size = self.factors.len() as u64 + 2;
        let member = match row % size {
            0 => Member::A,
            last if last == size - 1 => Member::B,
            between => Member::Exchanged(between as usize - 1),
        };
        (row / size, member)
    }

    #[allow(clippy::cast_possible_truncation)] // below the number of levels
    fn grid_row(&self, row: u64, values: &mut [f64]) {
        let mut rest = row;
        for (value, factor) in values.iter_mut().zip(&self.factors).rev() {
            let levels = factor.distribution.levels().unwrap_or_default();
            let count = levels.len().max(1) as u64;
            *value = levels.get((rest % count) as usize).copied().unwrap_or(f64::NAN);
            rest /= count;
        }
    }
}

fn grid_rows(factors: &[PlannedFactor]) -> Result<u64, StudyError> {
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

fn one_at_a_time(factors: &[PlannedFactor]) -> Result<(u64, Layout), StudyError> {
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
    Ok((rows, Layout::OneAtATime { base, levels }))
}

#[allow(clippy::cast_possible_truncation)] // below the number of levels
fn one_at_a_time_row(base: &[f64], levels: &[Vec<f64>], row: u64, values: &mut [f64]) {
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
