//! Excursions driven by the incisal point: the station at which it has gone so far.

use super::mechanism::Mechanism;
use super::{Movement, NoPose, Obstacle, Placement, Station};
use crate::bracket;
use crate::cast::LastPairs;
use crate::frame::{OcclusalPlane, UpperPoint};
use crate::units::Length;

/// Length to which the station is found along the movement, in millimetres: what rounding leaves of
/// the coordinates that go into it, and no more.
const TOLERANCE_MM: f64 = 1e-12;
/// Stride in which the station is first looked for; over it the displacement grows steadily.
const STRIDE_MM: f64 = 1.0;
/// Condylar advance past which no incisal displacement is looked for.
const FARTHEST_MM: f64 = 60.0;
/// Below this the stride toward the end of a path is not halved further.
const LEAST_STRIDE_MM: f64 = 1e-9;

/// How the way of the incisal point is measured.
#[derive(Clone, Copy, Debug)]
enum Way {
    /// In a straight line.
    Straight,
    /// Along a plane, as a tracing shows it.
    Along(OcclusalPlane),
}

impl Way {
    fn mm(self, from: &UpperPoint, to: &UpperPoint) -> f64 {
        match self {
            Self::Straight => to.distance_mm(from),
            Self::Along(plane) => plane.along(&(*to - *from)).mm(),
        }
    }

    fn not_reached(self, wanted_mm: f64, farthest_mm: f64) -> Obstacle {
        match self {
            Self::Straight => Obstacle::DisplacementNotReached { wanted_mm, farthest_mm },
            Self::Along(_) => Obstacle::TracingNotReached { wanted_mm, farthest_mm },
        }
    }
}

impl Mechanism {
    /// Solves the pose in which the incisal point is so far, in a straight line, from where it
    /// stands at [`Self::rest`]. Bracketed search on the condylar advance, to 1e-12 mm.
    ///
    /// # Errors
    /// [`NoPose`] when the incisal point never gets so far, or a path ends before.
    pub fn at_incisal_displacement(
        &self,
        movement: Movement,
        displacement: Length,
    ) -> Result<Placement, NoPose> {
        self.at_displacement_from(movement, displacement, &mut LastPairs::default())
    }

    /// Solves the pose in which the incisal point has gone so far along the occlusal plane, as a
    /// tracing shows it, from where it stands at [`Self::rest`]: the length of its displacement
    /// projected on the plane. Bracketed search on the condylar advance, to 1e-12 mm.
    ///
    /// # Errors
    /// [`NoPose`] when the incisal point never gets so far, a path ends before, or the mechanism knows
    /// of no plane ([`Self::with_occlusal_plane`]).
    pub fn at_tracing_distance(&self, movement: Movement, distance: Length) -> Result<Placement, NoPose> {
        self.at_tracing_from(movement, distance, &mut LastPairs::default())
    }

    /// As [`Self::at_incisal_displacement`], started from where the last pose's search ended.
    pub(super) fn at_displacement_from(
        &self,
        movement: Movement,
        displacement: Length,
        warm: &mut LastPairs,
    ) -> Result<Placement, NoPose> {
        self.at_way_from(movement, (displacement, Way::Straight), warm)
    }

    /// As [`Self::at_tracing_distance`], started from where the last pose's search ended.
    pub(super) fn at_tracing_from(
        &self,
        movement: Movement,
        distance: Length,
        warm: &mut LastPairs,
    ) -> Result<Placement, NoPose> {
        let no_plane = || self.no_pose(movement, Length::ZERO, Obstacle::NoOcclusalPlane);
        let plane = self.occlusal_plane.ok_or_else(no_plane)?;
        self.at_way_from(movement, (distance, Way::Along(plane)), warm)
    }

    fn at_way_from(
        &self,
        movement: Movement,
        (length, way): (Length, Way),
        warm: &mut LastPairs,
    ) -> Result<Placement, NoPose> {
        let wanted = length.mm();
        let rest = self.at_from(movement, Station::REST, warm)?;
        if wanted <= 0.0 {
            return Ok(rest);
        }
        let mut excess = |parameter: f64| {
            self.at_from(movement, Station::from_parameter(parameter), warm)
                .map(|placed| way.mm(&rest.incisal_point, &placed.incisal_point) - wanted)
        };
        let mut near = self.travel(movement, Length::ZERO).start().parameter();
        let mut near_excess = -wanted;
        let mut stride = STRIDE_MM;
        let mut end = None;
        while near < FARTHEST_MM && stride > LEAST_STRIDE_MM {
            let far = near + stride;
            match excess(far) {
                Ok(far_excess) if far_excess >= 0.0 => {
                    let parameter =
                        bracket::root((near, far), (near_excess, far_excess), TOLERANCE_MM, &mut excess)?;
                    return self.at(movement, Station::from_parameter(parameter));
                }
                Ok(far_excess) => (near, near_excess) = (far, far_excess),
                Err(no_pose) => {
                    end = Some(no_pose);
                    stride /= 2.0;
                }
            }
        }
        let obstacle = way.not_reached(wanted, near_excess + wanted);
        Err(end.unwrap_or_else(|| self.no_pose(movement, Length::from_mm(near), obstacle)))
    }
}
