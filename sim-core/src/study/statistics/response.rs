//! Response curves: how an output goes with one factor while the others vary.

use super::{Moments, quantile, sorted};

/// The quantiles of a band: the median, the middle half and all but one in ten.
pub const BAND: [f64; 5] = [0.05, 0.25, 0.5, 0.75, 0.95];

/// The output over one stretch of a factor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ResponseBin {
    /// Least value of the factor in it.
    pub from: f64,
    /// Greatest value of the factor in it.
    pub to: f64,
    /// Mean value of the factor in it.
    pub at: f64,
    /// Count, mean and spread of the output.
    pub output: Moments,
    /// The output's quantiles, at [`BAND`].
    pub quantiles: [f64; BAND.len()],
}

/// The output against one factor: a bin for each value of a factor that has no more than `bins`, else
/// that many bins of about as many rows each. Equal values of the factor are never parted. Pairs
/// without a factor value are left out; without an output they are counted as missing.
#[must_use]
pub fn response_curve(factor: &[f64], output: &[f64], bins: usize) -> Vec<ResponseBin> {
    let mut pairs: Vec<(f64, f64)> =
        factor.iter().copied().zip(output.iter().copied()).filter(|(x, _)| !x.is_nan()).collect();
    pairs.sort_by(|one, other| one.0.total_cmp(&other.0));
    let runs: Vec<&[(f64, f64)]> = pairs.chunk_by(|one, other| one.0 == other.0).collect();
    if runs.len() <= bins {
        return runs.into_iter().map(bin).collect();
    }
    let mut curve = Vec::with_capacity(bins);
    let (mut start, mut end) = (0, 0);
    for run in runs {
        end += run.len();
        // Full once the rows so far reach the share of the bins so far.
        if end * bins >= (curve.len() + 1) * pairs.len() {
            curve.push(bin(&pairs[start..end]));
            start = end;
        }
    }
    curve
}

fn bin(pairs: &[(f64, f64)]) -> ResponseBin {
    let x = Moments::of(pairs.iter().map(|pair| pair.0));
    let outputs = sorted(pairs.iter().map(|pair| pair.1));
    ResponseBin {
        from: x.least(),
        to: x.greatest(),
        at: x.mean(),
        output: Moments::of(pairs.iter().map(|pair| pair.1)),
        quantiles: BAND.map(|part| quantile(&outputs, part)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn few_values_have_a_bin_each_with_the_band_of_their_outputs() {
        let factor = [2.0, 1.0, 2.0, 1.0, 2.0, f64::NAN];
        let curve = response_curve(&factor, &[10.0, 1.0, 20.0, f64::NAN, 30.0, 5.0], 5);
        let [one, two] = curve[..] else { panic!("{curve:?}") };
        assert_eq!((one.from, one.to, one.at), (1.0, 1.0, 1.0));
        assert_eq!((one.output.count(), one.output.missing(), one.output.mean()), (1, 1, 1.0));
        assert_eq!(two.quantiles, [11.0, 15.0, 20.0, 25.0, 29.0]);
    }

    proptest! {
        #[test]
        fn many_values_are_parted_in_order_and_every_row_is_in_one_bin(
            factor in prop::collection::vec(0_u8..40, 50..300), bins in 1_usize..20,
        ) {
            let factor: Vec<f64> = factor.into_iter().map(f64::from).collect();
            let curve = response_curve(&factor, &factor, bins);
            prop_assert!(!curve.is_empty() && curve.len() <= bins.max(1));
            prop_assert!(curve.windows(2).all(|pair| pair[0].to < pair[1].from));
            prop_assert_eq!(curve.iter().map(|bin| bin.output.count()).sum::<u64>(), factor.len() as u64);
        }
    }
}
