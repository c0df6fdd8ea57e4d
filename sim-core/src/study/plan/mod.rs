//! Plans: which values the factors take in which row.
//!
//! A row is computed from its number alone, in flat memory: no row needs another, whatever the
//! order, the thread or the part of the study in which it is asked.

mod design;
mod latin;
mod levels;
mod random;
mod sobol;
mod subsets;
mod trajectories;
mod units;

use serde::{Deserialize, Deserializer, Serialize};

use super::distribution::Distribution;
use crate::facts::whole_number_within;

pub use design::SamplingDesign;
pub use trajectories::FactorStep;
pub use units::SampleUnits;

/// Most rows that a plan may have: some 10¹⁵, whose numbers f64 and the Sobol' points still tell
/// apart.
pub const MOST_ROWS: u64 = 1 << 50;

/// Most scramblings that Sobol' points are divided among: with more each has too few points to be even.
pub const MOST_REPLICATES: u32 = 64;

/// Scramblings where a study does not say how many. With 8 an interval of 95 % is 2.36 standard errors
/// long to each side, and an even point set is cut into no more pieces than that needs.
pub const USUAL_REPLICATES: u32 = 8;

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
    /// Scrambled Sobol' points, evenest when each scrambling has a power of two of them.
    Sobol {
        /// Number of rows.
        #[serde(deserialize_with = "row_count")]
        rows: u64,
        /// Seed of the scramblings.
        #[serde(deserialize_with = "seed")]
        seed: u64,
        /// Independent scramblings that the rows are dealt out to in turn, so that what they come to can
        /// be compared; [`USUAL_REPLICATES`] when absent.
        #[serde(default, deserialize_with = "replicates", skip_serializing_if = "Option::is_none")]
        replicates: Option<u32>,
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
    /// The factors' levels side by side: the first row has the first of every factor, the second the
    /// second. Columns of one file so stay together row by row. A factor of one level keeps it.
    Rows,
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
        /// As in [`Self::Sobol`], of the groups; only for Sobol' points.
        #[serde(default, deserialize_with = "replicates", skip_serializing_if = "Option::is_none")]
        replicates: Option<u32>,
        /// Whether B with one factor after the other from A stands in each group too, before its last
        /// row: 2 k + 2 rows, which tell what two factors do together.
        #[serde(default, skip_serializing_if = "is_false")]
        second_order: bool,
    },
    /// Trajectories for elementary effects: k + 1 rows for k factors, from a random row one factor after
    /// the other, in random order, a step of half of its distribution up or down. It tells in few rows
    /// which factors matter at all.
    ElementaryEffects {
        /// Number of trajectories.
        #[serde(deserialize_with = "row_count")]
        trajectories: u64,
        /// Seed of the random numbers.
        #[serde(deserialize_with = "seed")]
        seed: u64,
        /// Levels of each factor, an even number; [`USUAL_LEVELS`] when absent.
        #[serde(default, deserialize_with = "levels", skip_serializing_if = "Option::is_none")]
        levels: Option<u32>,
    },
    /// Groups of rows for Shapley effects: 2^k rows for k factors, a row and beside it every choice of
    /// factors drawn anew, given those that are kept. Factors may be correlated.
    Shapley {
        /// Number of groups.
        #[serde(deserialize_with = "row_count")]
        groups: u64,
        /// Seed of the points.
        #[serde(deserialize_with = "seed")]
        seed: u64,
        /// Where the rows and what is drawn anew come from.
        points: Sample,
        /// As in [`Self::Sobol`], of the groups; only for Sobol' points.
        #[serde(default, deserialize_with = "replicates", skip_serializing_if = "Option::is_none")]
        replicates: Option<u32>,
    },
}

/// Levels of a factor under [`SamplingPlan::ElementaryEffects`] where a study does not say (Morris 1991,
/// from memory).
pub const USUAL_LEVELS: u32 = 4;
/// Most of them: the step stays half of a distribution, and finer levels tell nothing more.
pub const MOST_LEVELS: u32 = 64;

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

#[allow(clippy::trivially_copy_pass_by_ref)] // serde gives a reference
const fn is_false(flag: &bool) -> bool {
    !*flag
}

fn replicates<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Option<u32>, D::Error> {
    let given = whole_number_within(deserializer, (1, u64::from(MOST_REPLICATES)))?;
    Ok(u32::try_from(given).ok())
}

fn levels<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Option<u32>, D::Error> {
    let given = whole_number_within(deserializer, (2, u64::from(MOST_LEVELS)))?;
    if given % 2 == 1 {
        return Err(serde::de::Error::custom(format_args!(
            "{given} levels have no step of half of them; give an even number from 2 to {MOST_LEVELS}"
        )));
    }
    Ok(u32::try_from(given).ok())
}

impl SamplingPlan {
    /// Groups for Sobol' indices, everything else as where a study does not say.
    #[must_use]
    pub const fn indices(groups: u64, seed: u64, points: Sample) -> Self {
        Self::Indices { groups, seed, points, replicates: None, second_order: false }
    }

    /// Independent scramblings that its Sobol' points are dealt out to; `None` of a plan without such
    /// points. Where a study does not say, [`USUAL_REPLICATES`], but no more than there are points.
    #[must_use]
    pub const fn replicates(&self) -> Option<u32> {
        let (points, given) = match *self {
            Self::Sobol { rows, replicates, .. } => (rows, replicates),
            Self::Indices { groups, points: Sample::Sobol, replicates, .. }
            | Self::Shapley { groups, points: Sample::Sobol, replicates, .. } => (groups, replicates),
            _ => return None,
        };
        match given {
            Some(given) => Some(given),
            None if points < USUAL_REPLICATES as u64 => Some(1),
            None => Some(USUAL_REPLICATES),
        }
    }

    /// `FullGrid`, `OneAtATime`, …: the word that a study file uses.
    #[must_use]
    pub const fn name(&self) -> &'static str {
        match self {
            Self::FullGrid => "FullGrid",
            Self::OneAtATime => "OneAtATime",
            Self::LatinHypercube { .. } => "LatinHypercube",
            Self::Sobol { .. } => "Sobol",
            Self::MonteCarlo { .. } => "MonteCarlo",
            Self::Rows => "Rows",
            Self::Indices { .. } => "Indices",
            Self::ElementaryEffects { .. } => "ElementaryEffects",
            Self::Shapley { .. } => "Shapley",
        }
    }

    /// Whether factors may be correlated under it.
    #[must_use]
    pub const fn takes_correlations(&self) -> bool {
        matches!(self, Self::Sobol { .. } | Self::MonteCarlo { .. } | Self::Shapley { .. })
    }

    /// Groups that its rows are drawn in, each of which is told of as a whole; `None` of a plan whose rows
    /// are each drawn for itself or are chosen.
    #[must_use]
    pub const fn groups(&self) -> Option<u64> {
        match *self {
            Self::Indices { groups, .. } | Self::Shapley { groups, .. } => Some(groups),
            Self::ElementaryEffects { trajectories, .. } => Some(trajectories),
            _ => None,
        }
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
