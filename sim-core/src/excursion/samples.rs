//! The samples of an excursion, one at a time.

use super::mechanism::Mechanism;
use super::{Drive, Excursion, Movement, NoPose, Placement, SampleCount, Travel};
use crate::cast::LastPairs;
use crate::units::{Angle, Length};

/// Iterator over the samples of an excursion, both ends included, evenly spaced in what drives it.
///
/// A movement with immediate lateral translation that is driven by advance has one sample more:
/// the first is at rest, the second at no advance with the translation made ([`Travel::stations`]).
/// The iterator ends after the first error.
#[derive(Clone, Debug)]
pub struct Samples<'m> {
    mechanism: &'m Mechanism,
    movement: Movement,
    walk: Walk,
    count: SampleCount,
    /// How many there are, unless one fails.
    total: u64,
    next: u64,
    stopped: bool,
    warm: LastPairs,
}

/// What the samples are evenly spaced in.
#[derive(Clone, Copy, Debug)]
enum Walk {
    Advance(Travel),
    IncisalDisplacement(Length),
    Tracing(Length),
    Opening(Angle),
}

impl Mechanism {
    /// Solves an excursion sample by sample, in constant memory.
    ///
    /// An item is an error where the settings admit no pose; it is the last item.
    #[must_use]
    pub fn samples(&self, excursion: &Excursion, count: SampleCount) -> Samples<'_> {
        let movement = excursion.movement();
        let (walk, total) = match excursion.drive() {
            Drive::Advance(whole) => {
                let travel = self.travel(movement, whole);
                (Walk::Advance(travel), travel.station_count(count))
            }
            Drive::IncisalDisplacement(whole) => (Walk::IncisalDisplacement(whole), count.get()),
            Drive::Tracing(whole) => (Walk::Tracing(whole), count.get()),
            Drive::Opening(whole) => (Walk::Opening(whole), count.get()),
        };
        let warm = LastPairs::default();
        Samples { mechanism: self, movement, walk, count, total, next: 0, stopped: false, warm }
    }
}

impl Samples<'_> {
    #[allow(clippy::cast_precision_loss)] // counts are far below 2^53
    fn solve(&mut self, index: u64) -> Result<Placement, NoPose> {
        let Self { mechanism, movement, count, .. } = *self;
        // A length or an angle times `index` over `last`: multiplied first, so that round numbers stay
        // round.
        let (index_number, last) = (index as f64, (count.get() - 1) as f64);
        match self.walk {
            Walk::Advance(travel) => {
                mechanism.at_from(movement, travel.nth_station(index, count), &mut self.warm)
            }
            Walk::IncisalDisplacement(whole) => {
                mechanism.at_displacement_from(movement, whole * index_number / last, &mut self.warm)
            }
            Walk::Tracing(whole) => {
                mechanism.at_tracing_from(movement, whole * index_number / last, &mut self.warm)
            }
            Walk::Opening(whole) => Ok(mechanism.opened_to(whole * index_number / last)),
        }
    }
}

impl Iterator for Samples<'_> {
    type Item = Result<Placement, NoPose>;

    fn next(&mut self) -> Option<Self::Item> {
        if self.stopped || self.next == self.total {
            return None;
        }
        let solved = self.solve(self.next);
        self.next += 1;
        self.stopped = solved.is_err();
        Some(solved)
    }
}
