//! Solving one pose: the spheres are placed, then the jaw is closed on its guide.

use super::closed_form::Shift;
use super::closing::Closed;
use super::mechanism::Mechanism;
use super::spheres::Pair;
use super::{CondyleReading, Guidance, Movement, NoPose, Placement, Station};
use crate::cast::LastPairs;
use crate::frame::{JawPose, LowerPoint};
use crate::units::{Angle, Length};

impl Mechanism {
    /// Solves one pose of a movement.
    ///
    /// For [`Movement::Opening`] this is the jaw at rest on its axis; the jaw turned open by an angle
    /// is [`Self::opened_to`].
    ///
    /// # Errors
    /// [`NoPose`] names the setting that admits none and the advance.
    #[inline]
    pub fn at(&self, movement: Movement, station: Station) -> Result<Placement, NoPose> {
        self.solve(movement, station, None)
    }

    /// As [`Self::at`], with the search for touching teeth started from where the last pose's ended:
    /// the same pose, sooner, when poses follow one another.
    ///
    /// # Errors
    /// As [`Self::at`].
    #[inline]
    pub fn at_from(
        &self,
        movement: Movement,
        station: Station,
        warm: &mut LastPairs,
    ) -> Result<Placement, NoPose> {
        self.solve(movement, station, Some(warm))
    }

    /// Without a search to go on from no memory is made ready for what this one finds, which took a tenth of a pose.
    #[inline]
    fn solve(
        &self,
        movement: Movement,
        station: Station,
        warm: Option<&mut LastPairs>,
    ) -> Result<Placement, NoPose> {
        let failed = |obstacle| self.no_pose(movement, station.advance(), obstacle);
        let spheres = self.spheres(movement, station).map_err(failed)?;
        let closed = if movement == Movement::Opening {
            Closed { jaw: self.opened(&spheres, 0.0), guidance: Guidance::None, pin_lift: None }
        } else {
            self.close(&spheres, warm).map_err(failed)?
        };
        Ok(self.placement(station, &spheres, closed))
    }

    /// The jaw closed on the guide with both condyles seated. With a pin extension this is where
    /// every excursion starts; without, it is the zeroed centric position.
    ///
    /// # Errors
    /// [`NoPose`] where the guide is not reached.
    pub fn rest(&self) -> Result<Placement, NoPose> {
        self.at(Movement::Protrusive, Station::REST)
    }

    /// The jaw turned open about the intercondylar axis from the zeroed centric position, spheres
    /// seated, no guide.
    #[must_use]
    pub fn opened_to(&self, angle: Angle) -> Placement {
        let seated = Pair::default();
        let jaw = self.opened(&seated, angle.radians());
        self.placement(Station::REST, &seated, Closed { jaw, guidance: Guidance::None, pin_lift: None })
    }

    #[inline]
    fn placement(&self, station: Station, spheres: &Pair, closed: Closed) -> Placement {
        let Closed { jaw, guidance, pin_lift } = closed;
        Placement::of(station, spheres, (jaw, guidance, pin_lift), &self.incisal_point)
    }
}

impl Placement {
    /// `rest` is where the lower incisal point stands in its own frame.
    #[inline(always)]
    pub(super) fn of(
        station: Station,
        spheres: &Pair,
        (jaw, guidance, pin_lift): (JawPose, Guidance, Option<Length>),
        rest: &LowerPoint,
    ) -> Self {
        let reading = |shift: &Shift| CondyleReading {
            advance: Length::from_mm(shift.advance),
            medial: Length::from_mm(shift.medial),
            drop: Length::from_mm(shift.drop),
        };
        Self {
            station,
            jaw,
            right: reading(&spheres.right),
            left: reading(&spheres.left),
            guidance,
            pin_lift,
            incisal_point: jaw.to_upper(rest),
        }
    }
}
