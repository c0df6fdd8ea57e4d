//! Random numbers for a patient.

use rand_chacha::rand_core::Rng;
use rand_distr::{Distribution, StandardNormal, StandardUniform};

use crate::frame::Side;

/// Random numbers for a patient.
pub(crate) struct Dice<R>(pub(crate) R);

impl<R: Rng> Dice<R> {
    pub(crate) fn within(&mut self, (least, most): (f64, f64)) -> f64 {
        let part: f64 = StandardUniform.sample(&mut self.0);
        least + (most - least) * part
    }

    /// Rounded to a step, as a person would write it.
    pub(crate) fn stepped(&mut self, range: (f64, f64), step: f64) -> f64 {
        let steps_in_one = (1.0 / step).round();
        (self.within(range) * steps_in_one).round() / steps_in_one
    }

    pub(crate) fn normal(&mut self) -> f64 {
        StandardNormal.sample(&mut self.0)
    }

    pub(crate) fn coin(&mut self) -> bool {
        self.within((0.0, 1.0)) < 0.5
    }

    pub(crate) fn index(&mut self, count: usize) -> usize {
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // 0 to count
        let index = self.within((0.0, count as f64)) as usize;
        index.min(count - 1)
    }

    /// One of several; the slice is not empty.
    pub(crate) fn one_of<T: Copy>(&mut self, all: &[T]) -> T {
        all[self.index(all.len())]
    }

    pub(crate) fn side(&mut self) -> Side {
        if self.coin() { Side::Right } else { Side::Left }
    }
}
