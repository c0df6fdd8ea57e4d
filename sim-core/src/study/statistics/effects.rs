//! Elementary effects: what a step of one factor does, wherever the others stand.

use super::super::plan::FactorStep;
use super::estimate::Estimate;
use super::groups::{GroupsError, whole_groups};
use super::terms::{Resampling, Terms};

/// The effects of one factor, each the change of the output over the part of the factor's distribution
/// that it changed by: what the output would change by over all of the distribution.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FactorEffects {
    /// Mean of the effects' sizes (μ*): how much the factor matters.
    pub size: Estimate,
    /// Mean of the effects with their signs (μ); less in size where the factor goes both ways.
    pub mean: Estimate,
    /// Standard deviation of the effects (σ): none of a factor that does the same everywhere, and much of
    /// one that acts along a curve or together with others.
    pub spread: Estimate,
}

/// Elementary effects of an output, factor by factor.
#[derive(Clone, Debug, PartialEq)]
pub struct ElementaryEffects {
    /// Each factor's, in the order of the study.
    pub factors: Vec<FactorEffects>,
    /// Trajectories that they come of.
    pub trajectories: usize,
    /// Trajectories left out since one of their rows has no output.
    pub left_out: usize,
}

/// What trajectories are laid out as.
const NEEDS: &str =
    "elementary effects need the plan ElementaryEffects, k + 1 rows a trajectory for k factors";

/// Elementary effects of an output whose rows are those of the plan `ElementaryEffects`; `step` gives for a
/// place in `outputs` the factor that changed on the way to it, and by how much
/// ([`SamplingDesign::step`](crate::study::SamplingDesign::step)). The first output is that of a
/// trajectory's first row.
///
/// Mean, mean size and standard deviation after Morris (Technometrics 1991;33:161–174) and Campolongo
/// et al. (Environ Model Softw 2007;22:1509–1518), both from memory. Intervals are Student's by the
/// jackknife over so many `parts` of the trajectories, to which they belong in turn.
///
/// # Errors
/// [`GroupsError`].
pub fn elementary_effects(
    outputs: &[f64],
    factors: usize,
    step: impl Fn(usize) -> Option<FactorStep>,
    parts: usize,
) -> Result<ElementaryEffects, GroupsError> {
    let size = factors + 1;
    let whole = whole_groups(outputs, size, NEEDS)?;
    let mut terms = Terms::new(3 * factors);
    let mut effects = vec![0.0; factors];
    for (number, group) in &whole {
        for (place, pair) in group.windows(2).enumerate() {
            let row = usize::try_from(*number).unwrap_or(usize::MAX) * size + place + 1;
            if let Some(FactorStep { factor, change }) = step(row)
                && let Some(effect) = effects.get_mut(factor)
            {
                *effect = (pair[1] - pair[0]) / change;
            }
        }
        terms.push(*number, effects.iter().flat_map(|effect| [*effect, effect.abs(), effect * effect]));
    }
    #[allow(clippy::cast_precision_loss)] // counts are below 2^53
    let count = whole.len() as f64;
    let statistic = |means: &[f64]| {
        let of_factor = means.chunks_exact(3).flat_map(|means| {
            let variance = (means[2] - means[0] * means[0]).max(0.0);
            // What rounding leaves of effects that are all alike.
            let is_none = variance <= means[2] * f64::EPSILON * 8.0;
            [means[0], means[1], if is_none { 0.0 } else { (variance * count / (count - 1.0)).sqrt() }]
        });
        Some(of_factor.collect())
    };
    let resampling = Resampling::Replicates { replicates: parts, first_group: 0 };
    let estimates = terms.estimates(statistic, resampling).unwrap_or_default();
    let factors = estimates.chunks_exact(3).map(|own| FactorEffects {
        mean: own[0],
        size: own[1].not_below_zero(),
        spread: own[2].not_below_zero(),
    });
    Ok(ElementaryEffects {
        factors: factors.collect(),
        trajectories: whole.len(),
        left_out: outputs.len() / size - whole.len(),
    })
}
