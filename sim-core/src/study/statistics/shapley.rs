//! Shapley effects: an output's variance shared out among factors that may be correlated.

use super::estimate::Estimate;
use super::groups::{GroupsError, whole_groups};
use super::terms::{Resampling, Terms};

/// What of an output's variance goes to one factor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FactorShare {
    /// Its share, what is common to several factors shared out evenly among them; the shares of all add up
    /// to 1.
    pub share: Estimate,
    /// Part of the variance that would go if the factor alone were known, and with it what it tells of
    /// those it is correlated with.
    pub alone: Estimate,
    /// Part of the variance that would stay if all but the factor were known.
    pub last: Estimate,
}

/// Shapley effects of an output, factor by factor.
#[derive(Clone, Debug, PartialEq)]
pub struct ShapleyEffects {
    /// Each factor's, in the order of the study.
    pub factors: Vec<FactorShare>,
    /// Groups that they come of.
    pub groups: usize,
    /// Groups left out since one of their rows has no output.
    pub left_out: usize,
    /// Variance of the output.
    pub variance: f64,
}

/// What groups are laid out as.
const NEEDS: &str = "Shapley effects need the plan Shapley, 2^k rows a group for k factors";
/// More factors have more rows in a group than anyone draws.
const MOST_FACTORS: usize = 20;

/// Shapley effects of an output whose rows are those of the plan `Shapley`; the first output is that of the
/// first row of the group of this number in its study.
///
/// For a choice of factors drawn anew, half of the mean squared change is the variance that stays while
/// the others are known (Jansen 1999, from memory); a factor's share is the mean of what it adds to that over
/// all orders in which factors may be let go (Song E, Nelson BL, Staum J, SIAM/ASA J Uncertainty Quantification
/// 2016;4:1060–1083, from memory). Intervals are Student's by the jackknife over so many `parts` of the
/// groups, to which they belong in turn.
///
/// # Errors
/// [`GroupsError`].
pub fn shapley_effects(
    outputs: &[f64],
    factors: usize,
    parts: usize,
    first_group: u64,
) -> Result<ShapleyEffects, GroupsError> {
    let size = if factors > MOST_FACTORS { usize::MAX } else { 1 << factors };
    let whole = whole_groups(outputs, size, NEEDS)?;
    let weights = weights(factors);
    let all = size - 1;
    // Shares are sums of what stays, so that a group needs only these.
    let mut terms = Terms::new(3 * factors + 1);
    let mut stays = vec![0.0; size];
    let mut own = vec![0.0; 3 * factors + 1];
    for (number, group) in &whole {
        for (stay, output) in stays.iter_mut().zip(*group) {
            *stay = (output - group[0]) * (output - group[0]) / 2.0;
        }
        own.fill(0.0);
        for factor in 0..factors {
            let bit = 1 << factor;
            let others = (0..size).filter(|choice| choice & bit == 0);
            own[factor] = others
                .map(|choice| weights[choice.count_ones() as usize] * (stays[choice | bit] - stays[choice]))
                .sum();
            own[factors + factor] = stays[all] - stays[all & !bit];
            own[2 * factors + factor] = stays[bit];
        }
        own[3 * factors] = stays[all];
        terms.push(first_group + number, own.iter().copied());
    }
    let scale =
        outputs.iter().filter(|output| output.is_finite()).fold(0.0_f64, |most, is| most.max(is.abs()));
    let statistic = |means: &[f64]| {
        let (variance, rest) = means.split_last()?;
        // What rounding leaves of a constant, and no more.
        if *variance <= (scale * f64::EPSILON * 8.0).powi(2) {
            return None;
        }
        Some(rest.iter().map(|mean| mean / variance).chain([*variance]).collect())
    };
    let resampling = Resampling::Replicates { replicates: parts, first_group };
    let estimates = terms.estimates(statistic, resampling).ok_or(GroupsError::Constant)?;
    let (shares, rest) = estimates.split_at(factors);
    let (alone, rest) = rest.split_at(factors);
    let (last, rest) = rest.split_at(factors);
    let of_factor = |((share, alone), last): ((&Estimate, &Estimate), &Estimate)| FactorShare {
        share: *share,
        alone: *alone,
        last: *last,
    };
    Ok(ShapleyEffects {
        factors: shares.iter().zip(alone).zip(last).map(of_factor).collect(),
        groups: whole.len(),
        left_out: outputs.len() / size - whole.len(),
        variance: rest.first().map_or(f64::NAN, |variance| variance.value),
    })
}

/// For each number of factors let go before it, in how many of all orders a factor comes next.
fn weights(factors: usize) -> Vec<f64> {
    let mut weights = Vec::with_capacity(factors);
    // r! (k − 1 − r)! / k!, each from the one before.
    #[allow(clippy::cast_precision_loss)] // below the most
    let mut weight = 1.0 / factors.max(1) as f64;
    for before in 0..factors {
        weights.push(weight);
        #[allow(clippy::cast_precision_loss)]
        let next = (before + 1) as f64 / (factors - 1 - before).max(1) as f64;
        weight *= next;
    }
    weights
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_order_counts_once() {
        // 1/3, 1/6, 1/3: of six orders of three factors, one comes first in two.
        for (is, should_be) in weights(3).into_iter().zip([1.0 / 3.0, 1.0 / 6.0, 1.0 / 3.0]) {
            assert!((is - should_be).abs() < 1e-15, "{is}");
        }
    }

    #[test]
    fn of_one_group_after_the_other_the_shares_add_up_to_1() {
        let outputs: Vec<f64> = (0..40).map(|row| f64::from(row * row % 17)).collect();
        let effects = shapley_effects(&outputs, 3, 5, 0).expect("effects");
        let sum: f64 = effects.factors.iter().map(|own| own.share.value).sum();
        assert!((sum - 1.0).abs() < 1e-12 && effects.groups == 5);
        assert_eq!(
            shapley_effects(&outputs[..38], 3, 5, 0),
            Err(GroupsError::Layout { rows: 38, size: 8, needs: NEEDS })
        );
        assert_eq!(shapley_effects(&[2.5; 16], 3, 5, 0), Err(GroupsError::Constant));
    }
}
