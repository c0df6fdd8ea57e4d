//! Which factors a measure comes from, where a study's rows come in groups that tell it.

use super::SamplingPlan;
use super::prepared::Prepared;
use super::statistics::{
    ElementaryEffects, Estimate, GroupsError, Resampling, ShapleyEffects, SobolIndices, elementary_effects,
    shapley_effects, sobol_indices_of,
};

/// What groups of rows tell of the factors.
#[derive(Clone, Debug, PartialEq)]
pub enum GroupSensitivity {
    /// Of the plan `Indices`: parts of the variance.
    Indices(SobolIndices),
    /// Of the plan `ElementaryEffects`: what a step of each factor does.
    Effects(ElementaryEffects),
    /// Of the plan `Shapley`: the variance shared out among factors that may be correlated.
    Shares(ShapleyEffects),
}

impl GroupSensitivity {
    /// Of each factor the number that says how much it matters: the total index, the mean size of its
    /// effects, its share.
    #[must_use]
    pub fn main(&self) -> Vec<Estimate> {
        match self {
            Self::Indices(indices) => indices.factors.iter().map(|own| own.total).collect(),
            Self::Effects(effects) => effects.factors.iter().map(|own| own.size).collect(),
            Self::Shares(shares) => shares.factors.iter().map(|own| own.share).collect(),
        }
    }

    /// Groups that it comes of and those left out, since a row of theirs has no output.
    #[must_use]
    pub const fn groups(&self) -> (usize, usize) {
        match self {
            Self::Indices(indices) => (indices.groups, indices.left_out),
            Self::Effects(effects) => (effects.trajectories, effects.left_out),
            Self::Shares(shares) => (shares.groups, shares.left_out),
        }
    }
}

impl Prepared {
    /// What the rows of a measure from `first_row` on tell of the factors; groups that are not there in full
    /// are passed over. `None` of a plan whose rows come in no such groups, and where there is no whole one.
    ///
    /// Intervals are true ones wherever the plan has independent scramblings; of Sobol' indices from random
    /// points or a single scrambling they come of so many bootstrap `resamples` by this `seed`.
    ///
    /// # Errors
    /// [`GroupsError`] for too few groups, too few resamples, and outputs that do not vary.
    pub fn group_sensitivity(
        &self,
        outputs: &[f64],
        first_row: u64,
        (resamples, seed): (u32, u64),
    ) -> Option<Result<GroupSensitivity, GroupsError>> {
        let plan = &self.study().plan;
        plan.groups()?;
        let design = self.design();
        let (units, factors) = (design.units(), design.factors().len());
        let size = units.group_rows();
        let lead = usize::try_from(first_row % size as u64).unwrap_or_default();
        let outputs = outputs.get((size - lead) % size..)?;
        let whole = outputs.get(..outputs.len() / size * size).filter(|whole| !whole.is_empty())?;
        let first_group = first_row.div_ceil(size as u64);
        Some(match *plan {
            SamplingPlan::ElementaryEffects { .. } => {
                let step = |row: usize| design.step(first_group * size as u64 + row as u64);
                elementary_effects(whole, factors, step, units.parts()).map(GroupSensitivity::Effects)
            }
            SamplingPlan::Shapley { .. } => {
                shapley_effects(whole, factors, units.parts(), first_group).map(GroupSensitivity::Shares)
            }
            _ => {
                let second_order = matches!(plan, SamplingPlan::Indices { second_order: true, .. });
                let resampling = match units.replicates() {
                    Some(replicates) => Resampling::Replicates { replicates, first_group },
                    None => Resampling::Bootstrap { resamples, seed },
                };
                sobol_indices_of(whole, factors, second_order, resampling).map(GroupSensitivity::Indices)
            }
        })
    }
}
