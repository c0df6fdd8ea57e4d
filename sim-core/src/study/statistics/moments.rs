//! Mean and standard deviation as numbers come in.

/// Count, mean, spread and ends of numbers as they come in, in flat memory (Welford BP,
/// Technometrics 1962;4:419–420; merging by Chan, Golub and LeVeque 1979; both from memory).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moments {
    count: u64,
    missing: u64,
    mean: f64,
    squares: f64,
    least: f64,
    greatest: f64,
}

impl Default for Moments {
    fn default() -> Self {
        Self {
            count: 0,
            missing: 0,
            mean: 0.0,
            squares: 0.0,
            least: f64::INFINITY,
            greatest: f64::NEG_INFINITY,
        }
    }
}

#[allow(clippy::cast_precision_loss)] // counts are below 2^53
impl Moments {
    /// Of all these numbers.
    #[must_use]
    pub fn of(numbers: impl IntoIterator<Item = f64>) -> Self {
        let mut moments = Self::default();
        numbers.into_iter().for_each(|number| moments.push(number));
        moments
    }

    /// Takes one more; one that is not a number is only counted, as missing.
    pub fn push(&mut self, number: f64) {
        if number.is_nan() {
            self.missing += 1;
            return;
        }
        self.count += 1;
        let off = number - self.mean;
        self.mean += off / self.count as f64;
        self.squares += off * (number - self.mean);
        self.least = self.least.min(number);
        self.greatest = self.greatest.max(number);
    }

    /// Takes all that another has taken.
    pub fn merge(&mut self, other: &Self) {
        self.missing += other.missing;
        if other.count == 0 {
            return;
        }
        let (own, others) = (self.count as f64, other.count as f64);
        let off = other.mean - self.mean;
        self.count += other.count;
        self.mean += off * others / (own + others);
        self.squares += other.squares + off * off * own * others / (own + others);
        self.least = self.least.min(other.least);
        self.greatest = self.greatest.max(other.greatest);
    }

    /// How many numbers.
    #[must_use]
    pub const fn count(&self) -> u64 {
        self.count
    }

    /// How many that were none.
    #[must_use]
    pub const fn missing(&self) -> u64 {
        self.missing
    }

    /// Their mean; not a number of none.
    #[must_use]
    pub fn mean(&self) -> f64 {
        if self.count == 0 { f64::NAN } else { self.mean }
    }

    /// Variance of what they are a sample of (divisor n − 1); 0 of fewer than two.
    #[must_use]
    pub fn variance(&self) -> f64 {
        if self.count < 2 { 0.0 } else { self.squares / (self.count - 1) as f64 }
    }

    /// Standard deviation, the root of [`Self::variance`].
    #[must_use]
    pub fn sd(&self) -> f64 {
        self.variance().sqrt()
    }

    /// The least; not a number of none.
    #[must_use]
    pub fn least(&self) -> f64 {
        if self.count == 0 { f64::NAN } else { self.least }
    }

    /// The greatest; not a number of none.
    #[must_use]
    pub fn greatest(&self) -> f64 {
        if self.count == 0 { f64::NAN } else { self.greatest }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn mean_and_variance_are_those_of_the_whole() {
        let moments = Moments::of([1.0, 2.0, f64::NAN, 4.0, 9.0]);
        assert_eq!((moments.count(), moments.missing()), (4, 1));
        assert_eq!((moments.least(), moments.greatest()), (1.0, 9.0));
        assert!((moments.mean() - 4.0).abs() < 1e-15);
        assert!((moments.variance() - 38.0 / 3.0).abs() < 1e-14);
        assert!(Moments::default().mean().is_nan());
    }

    proptest! {
        /// Sums of a hundred numbers up to a thousand keep twelve digits however they are grouped.
        #[test]
        fn parts_merge_to_the_whole(numbers in prop::collection::vec(-1e3..1e3, 2..100), cut in 0.0..1.0) {
            let cut = (cut * numbers.len() as f64) as usize;
            let mut merged = Moments::of(numbers[..cut].iter().copied());
            merged.merge(&Moments::of(numbers[cut..].iter().copied()));
            let whole = Moments::of(numbers.iter().copied());
            prop_assert_eq!(merged.count(), whole.count());
            prop_assert_eq!(merged.least(), whole.least());
            prop_assert!((merged.mean() - whole.mean()).abs() < 1e-9);
            prop_assert!((merged.variance() - whole.variance()).abs() < 1e-6);
        }
    }
}
