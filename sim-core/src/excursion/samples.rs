//! The samples of an excursion, one at a time.

use super::{Drive, Excursion, Mechanism, NoPose, Placement, SampleCount, Station};
use crate::cast::Warm;
use crate::units::{Angle, Length};

/// Iterator over the samples of an excursion, both ends included, evenly spaced in what drives it.
///
/// A movement with immediate lateral translation that is driven by advance has one sample more:
/// the first is at rest, the second at no advance with the translation made. The iterator ends
/// after the first error.
#[derive(Clone, Debug)]
pub struct Samples<'m> {
    mechanism: &'m Mechanism,
    excursion: Excursion,
    count: u64,
    next: u64,
    rest_first: bool,
    stopped: bool,
    warm: Warm,
}

impl Mechanism {
    /// Solves an excursion sample by sample, in flat memory.
    ///
    /// An item is an error where the settings admit no pose; it is the last item.
    #[must_use]
    pub fn samples(&self, excursion: &Excursion, count: SampleCount) -> Samples<'_> {
        let by_advance = matches!(excursion.drive(), Drive::Advance(_));
        Samples {
            mechanism: self,
            excursion: *excursion,
            count: count.get(),
            next: 0,
            rest_first: by_advance && self.has_immediate_translation(excursion.movement()),
            stopped: false,
            warm: Warm::default(),
        }
    }
}

impl Samples<'_> {
    #[allow(clippy::cast_precision_loss)] // counts are far below 2^53
    fn solve(&mut self, index: u64) -> Result<Placement, NoPose> {
        let movement = self.excursion.movement();
        // Multiplied before it is divided, so that round numbers stay round.
        let last = (self.count - 1) as f64;
        let part = |whole: f64| whole * index as f64 / last;
        match self.excursion.drive() {
            Drive::Advance(whole) => {
                let station = Station::advanced(Length::from_mm(part(whole.mm())));
                self.mechanism.at_from(movement, station, &mut self.warm)
            }
            Drive::IncisalDisplacement(whole) => {
                let displacement = Length::from_mm(part(whole.mm()));
                self.mechanism.at_displacement_from(movement, displacement, &mut self.warm)
            }
            Drive::Opening(whole) => Ok(self.mechanism.opened_to(Angle::from_degrees(part(whole.degrees())))),
        }
    }
}

impl Iterator for Samples<'_> {
    type Item = Result<Placement, NoPose>;

    fn next(&mut self) -> Option<Self::Item> {
        if self.stopped || self.next == self.count {
            return None;
        }
        let solved = if self.rest_first {
            self.rest_first = false;
            self.mechanism.at_from(self.excursion.movement(), Station::REST, &mut self.warm)
        } else {
            self.next += 1;
            self.solve(self.next - 1)
        };
        self.stopped = solved.is_err();
        Some(solved)
    }
}
