//! Excursions driven by the incisal point: the station at which it has gone so far.

use super::mechanism::Mechanism;
use super::{Movement, NoPose, Obstacle, Placement, Station};
use crate::bracket;
use crate::cast::LastPairs;
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

    /// As [`Self::at_incisal_displacement`], started from where the last pose's search ended.
    pub(super) fn at_displacement_from(
        &self,
        movement: Movement,
        displacement: Length,
        warm: &mut LastPairs,
    ) -> Result<Placement, NoPose> {
        let wanted = displacement.mm();
        let rest = self.at_from(movement, Station::REST, warm)?;
        if wanted <= 0.0 {
            return Ok(rest);
        }
        let mut excess = |parameter: f64| {
            self.at_from(movement, Station::from_parameter(parameter), warm)
                .map(|placed| placed.incisal_point.distance_mm(&rest.incisal_point) - wanted)
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
        let obstacle =
            Obstacle::DisplacementNotReached { wanted_mm: wanted, farthest_mm: near_excess + wanted };
        Err(end.unwrap_or_else(|| self.no_pose(movement, Length::from_mm(near), obstacle)))
    }
}
