//! Histograms.

use super::{quantile, sorted};

/// Most bins; more cannot be told apart in a picture.
pub(crate) const MOST_BINS: usize = 1000;

/// Counts in bins of equal width.
#[derive(Clone, Debug, PartialEq)]
pub struct Histogram {
    /// Edges of the bins, one more than counts, from the least number to the greatest.
    pub edges: Vec<f64>,
    /// Numbers in each bin; one on an edge is counted in the bin above it, the greatest in the last.
    pub counts: Vec<u64>,
    /// Numbers that were none.
    pub missing: u64,
}

/// A histogram with bins by the rule of Freedman and Diaconis (1981): their width is at most twice the
/// distance between the quartiles over the cube root of the count. Where the quartiles are equal, by
/// Sturges's: the binary logarithm of the count and one more, rounded up. Numbers that are all equal
/// have one bin of width 1 about them. `None` of no numbers.
#[must_use]
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, clippy::cast_precision_loss)] // at most MOST_BINS
pub fn histogram(numbers: &[f64]) -> Option<Histogram> {
    let ordered = sorted(numbers.iter().copied().filter(|number| number.is_finite()));
    let (least, greatest) = (*ordered.first()?, *ordered.last()?);
    let missing = (numbers.len() - ordered.len()) as u64;
    if least == greatest {
        let edges = vec![least - 0.5, least + 0.5];
        return Some(Histogram { edges, counts: vec![ordered.len() as u64], missing });
    }
    let count = ordered.len() as f64;
    let width = 2.0 * (quantile(&ordered, 0.75) - quantile(&ordered, 0.25)) / count.cbrt();
    let bins = if width > 0.0 { (greatest - least) / width } else { count.log2() + 1.0 };
    let bins = (bins.ceil() as usize).clamp(1, MOST_BINS);
    let part = |edge: usize| edge as f64 / bins as f64;
    let edges: Vec<f64> = (0..=bins).map(|edge| least * (1.0 - part(edge)) + greatest * part(edge)).collect();
    let mut counts = Vec::with_capacity(bins);
    let mut before = 0;
    for edge in &edges[1..bins] {
        let below = ordered.partition_point(|number| number < edge);
        counts.push((below - before) as u64);
        before = below;
    }
    counts.push((ordered.len() - before) as u64);
    Some(Histogram { edges, counts, missing })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn bins_are_as_wide_as_the_rule_says() {
        // 1,000 numbers from 0 to 999: quartiles 499.5 apart, so at most 99.9 wide: ten of them.
        let numbers: Vec<f64> = (0..1000).map(f64::from).collect();
        let found = histogram(&numbers).expect("a histogram");
        assert_eq!(found.counts, [100; 10]);
        // Most equal: Sturges, log2(8) + 1 = 4.
        let found = histogram(&[0.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 4.0]).expect("a histogram");
        assert_eq!(found.counts, [1, 6, 0, 1]);
        let found = histogram(&[3.0, 3.0, f64::NAN]).expect("a histogram");
        assert_eq!((found.edges, found.counts, found.missing), (vec![2.5, 3.5], vec![2], 1));
        assert_eq!(histogram(&[f64::NAN]), None);
    }

    proptest! {
        #[test]
        fn every_number_is_counted_once(numbers in prop::collection::vec(-1e3..1e3, 1..300)) {
            let found = histogram(&numbers).expect("a histogram");
            prop_assert_eq!(found.counts.iter().sum::<u64>(), numbers.len() as u64);
            prop_assert_eq!(found.edges.len(), found.counts.len() + 1);
            prop_assert!(found.edges.windows(2).all(|pair| pair[0] < pair[1]));
        }
    }
}
