//! Sobol' indices: which factor an output's variance comes from.

use super::estimate::Estimate;
use super::groups::{GroupsError, whole_groups};
use super::terms::{LEAST_RESAMPLES, Resampling, Terms};

/// The indices of one factor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FactorIndices {
    /// Part of the variance that would go if the factor alone were known.
    pub first: Estimate,
    /// Part of the variance that would stay if all but the factor were known.
    pub total: Estimate,
}

/// What two factors do together beyond what each does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PairIndex {
    /// The factors' places, from 0; the first is the lower.
    pub factors: (usize, usize),
    /// Part of the variance that comes of both together and of neither alone.
    pub index: Estimate,
}

/// Sobol' indices of an output, factor by factor.
#[derive(Clone, Debug, PartialEq)]
pub struct SobolIndices {
    /// Each factor's, in the order of the study.
    pub factors: Vec<FactorIndices>,
    /// Each pair of factors; nothing where the groups do not hold what tells them.
    pub pairs: Vec<PairIndex>,
    /// Groups that they come of.
    pub groups: usize,
    /// Groups left out since one of their rows has no output.
    pub left_out: usize,
    /// Variance of the output.
    pub variance: f64,
    /// How their intervals were made.
    pub resampling: Resampling,
}

/// What groups are laid out as.
const NEEDS: &str =
    "Sobol' indices need the plan Indices, k + 2 rows a group for k factors, 2 k + 2 for second-order ones";

/// First-order and total Sobol' indices of an output whose rows are those of the plan `Indices` with
/// random points, with bootstrap intervals. As [`sobol_indices_of`].
///
/// # Errors
/// [`GroupsError`].
pub fn sobol_indices(
    outputs: &[f64],
    factors: usize,
    resamples: u32,
    seed: u64,
) -> Result<SobolIndices, GroupsError> {
    sobol_indices_of(outputs, factors, false, Resampling::Bootstrap { resamples, seed })
}

/// Sobol' indices of an output whose rows are those of the plan `Indices`, of pairs too where its groups
/// are laid out for `second_order`.
///
/// First order by the estimator of Saltelli et al. (Comput Phys Commun 2010;181:259–270, their
/// table 2, (b)), B·(AB − A); total by Jansen's (1999), (A − AB)²/2; of two factors by that of Saltelli
/// (Comput Phys Commun 2002;145:280–297, from memory), BAᵢ·ABⱼ − A·B, less the first-order indices of both.
/// All are over the variance of A and B together, the mean of all rows taken off before.
///
/// # Errors
/// [`GroupsError`].
pub fn sobol_indices_of(
    outputs: &[f64],
    factors: usize,
    second_order: bool,
    resampling: Resampling,
) -> Result<SobolIndices, GroupsError> {
    if let Resampling::Bootstrap { resamples: resamples @ 1..LEAST_RESAMPLES, .. } = resampling {
        return Err(GroupsError::FewResamples { resamples });
    }
    let size = if second_order { 2 * factors + 2 } else { factors + 2 };
    let whole = whole_groups(outputs, size, NEEDS)?;
    let first_group = match resampling {
        Resampling::Bootstrap { .. } => 0,
        Resampling::Replicates { first_group, .. } => first_group,
    };
    let count = whole.len();
    #[allow(clippy::cast_precision_loss)]
    let mean = whole.iter().flat_map(|(_, group)| *group).sum::<f64>() / (count * size) as f64;

    let pairs: Vec<(usize, usize)> = if second_order {
        (0..factors).flat_map(|first| (first + 1..factors).map(move |second| (first, second))).collect()
    } else {
        Vec::new()
    };
    let mut terms = Terms::new(2 + 2 * factors + pairs.len());
    let mut off = vec![0.0; size];
    for (number, group) in &whole {
        off.iter_mut().zip(*group).for_each(|(off, output)| *off = output - mean);
        let (a, b) = (off[0], off[size - 1]);
        let (with_b, with_a) = off[1..size - 1].split_at(factors);
        let first = with_b.iter().map(|exchanged| b * (exchanged - a));
        let total = with_b.iter().map(|exchanged| (a - exchanged) * (a - exchanged) / 2.0);
        let both = pairs.iter().map(|(one, other)| with_a[*one] * with_b[*other] - a * b);
        let variance = [f64::midpoint(a, b), f64::midpoint(a * a, b * b)];
        terms.push(first_group + number, variance.into_iter().chain(first).chain(total).chain(both));
    }
    let parts = |means: &[f64]| {
        let variance = means[1] - means[0] * means[0];
        // What rounding leaves of a constant, and no more.
        if variance <= (mean.abs() * f64::EPSILON * 8.0).powi(2) {
            return None;
        }
        let mut parts: Vec<f64> = means[2..].iter().map(|mean| mean / variance).collect();
        for (at, (one, other)) in pairs.iter().enumerate() {
            parts[2 * factors + at] -= parts[*one] + parts[*other];
        }
        // Last, so that it is resampled with the rest and left out below.
        parts.push(variance);
        Some(parts)
    };
    let estimates = terms.estimates(parts, resampling).ok_or(GroupsError::Constant)?;
    let (firsts, rest) = estimates.split_at(factors);
    let (totals, rest) = rest.split_at(factors);
    let of_pair =
        |(factors, index): (&(usize, usize), &Estimate)| PairIndex { factors: *factors, index: *index };
    Ok(SobolIndices {
        factors: (firsts.iter().zip(totals))
            .map(|(first, total)| FactorIndices { first: *first, total: *total })
            .collect(),
        pairs: pairs.iter().zip(rest).map(of_pair).collect(),
        groups: count,
        left_out: outputs.len() / size - count,
        variance: rest.last().map_or(f64::NAN, |variance| variance.value),
        resampling,
    })
}
