//! Groups of rows for Shapley effects: a row, and beside it every choice of factors drawn anew, given
//! those that are kept.
//!
//! Factors that are correlated are drawn anew under the condition of those that are kept: with
//! scores s of the row and t of another that is independent of it, a Gaussian score that is drawn anew is
//! t + Σ·(s − t), Σ being its regression on the scores that are kept (conditioning by kriging, Journel
//! 1974, from memory; it is exact for Gaussian scores).

use nalgebra::{Cholesky, DMatrix};

use super::super::correlation::Correlation;

/// Most factors of such a plan: a group has two to the power of them rows.
pub(super) const MOST_FACTORS: usize = 10;

/// The number of rows of a group.
pub(super) const fn group_rows(factors: usize) -> usize {
    1 << factors
}

/// Whether the row at a place of its group has this factor drawn anew: the places count in binary, and
/// the first row keeps all.
pub(super) const fn is_anew(place: usize, factor: usize) -> bool {
    place >> factor & 1 == 1
}

/// Regressions of the factors of one correlation on each choice of them.
#[derive(Clone, Debug)]
pub(super) struct Conditional {
    /// The factors' places in a row.
    places: Vec<usize>,
    /// For each choice of factors drawn anew, in binary over `places`: what the difference of each kept
    /// score adds to each score, row by row.
    weights: Vec<Vec<f64>>,
}

impl Conditional {
    pub(super) fn of(correlation: &Correlation) -> Self {
        let places = correlation.places().to_vec();
        let count = places.len();
        let matrix = correlation.matrix();
        let regressions = (0..1_usize << count).map(|choice| {
            let mut weights = vec![0.0; count * count];
            let kept: Vec<usize> = (0..count).filter(|factor| !is_anew(choice, *factor)).collect();
            let among =
                DMatrix::from_fn(kept.len(), kept.len(), |row, column| matrix[(kept[row], kept[column])]);
            // Part of a positive definite matrix is one too.
            let Some(among) = Cholesky::new(among).filter(|_| !kept.is_empty()) else { return weights };
            for factor in (0..count).filter(|factor| is_anew(choice, *factor)) {
                let with = nalgebra::DVector::from_fn(kept.len(), |row, _| matrix[(factor, kept[row])]);
                for (of, weight) in kept.iter().zip(among.solve(&with).iter()) {
                    weights[factor * count + of] = *weight;
                }
            }
            weights
        });
        let weights = regressions.collect();
        Self { places, weights }
    }

    /// Puts the kept scores into those of the other row, and draws those anew with them.
    pub(super) fn draw(&self, place: usize, row: &[f64], other: &mut [f64]) {
        let count = self.places.len();
        let choice =
            (0..count).filter(|own| is_anew(place, self.places[*own])).fold(0, |bits, own| bits | 1 << own);
        let mut differences = [0.0; MOST_FACTORS];
        for (difference, at) in differences.iter_mut().zip(&self.places) {
            *difference = row[*at] - other[*at];
        }
        for (own, at) in self.places.iter().enumerate() {
            if is_anew(place, *at) {
                let weights = &self.weights[choice][own * count..(own + 1) * count];
                other[*at] += weights
                    .iter()
                    .zip(differences)
                    .map(|(weight, difference)| weight * difference)
                    .sum::<f64>();
            } else {
                other[*at] = row[*at];
            }
        }
    }
}
