//! Closing until pin or teeth stop it, whichever is met first.

use nalgebra::{Matrix3, Vector3};

use super::closed_form::Axis;
use super::closing::Closed;
use super::mechanism::Mechanism;
use super::{Guidance, Obstacle, ToothStop};
use crate::anterior::Plane;
use crate::cast::{Casts, LastPairs};
use crate::frame::UpperPoint;
use crate::units::Length;

/// How far past the zeroed centric position closing is followed where the pin meets no plane, in
/// radians: teeth that do not meet by then do not meet.
const FARTHEST_CLOSED: f64 = -0.5;

impl Mechanism {
    /// The jaw closed about the placed axis until the pin meets its table or the teeth meet.
    pub(super) fn close_on_teeth(
        &self,
        axis: &Axis,
        planes: &[Plane; 3],
        casts: Option<&Casts>,
        warm: Option<&mut LastPairs>,
    ) -> Result<Closed, Obstacle> {
        let mut nothing = LastPairs::default();
        let warm = warm.unwrap_or(&mut nothing);
        let casts = casts.ok_or(Obstacle::NoCasts)?;
        let pin = self.first_stop(axis, planes);
        let floor = pin.as_ref().map_or(FARTHEST_CLOSED, |stop| stop.sin.atan2(stop.cos));
        // Both members as they stand in the frame of the closing axis, which is the carrier's own.
        let at_home = (Matrix3::identity(), Vector3::zeros());
        let turn = axis.turn_matrix();
        let beside = (turn.transpose(), -turn.tr_mul(&axis.middle_vector()));
        let (upper, lower) = if self.spheres_on_lower() { (beside, at_home) } else { (at_home, beside) };
        let Some(touch) = casts.first_touch(&upper, &lower, floor, warm) else {
            let stop = pin?;
            return Ok(Closed {
                jaw: self.jaw_pose(axis, stop.cos, stop.sin),
                guidance: Guidance::Table(stop.plane),
                pin_lift: Some(Length::ZERO),
            });
        };
        let (sin, cos) = touch.opening_radians.sin_cos();
        let lift =
            self.gaps(axis, planes).into_iter().map(|gap| gap.at(cos, sin)).fold(f64::INFINITY, f64::min);
        let (turn, middle) = upper;
        let at = UpperPoint::from_coords(turn.tr_mul(&(touch.at - middle)));
        let stop = ToothStop { upper_tooth: touch.upper_tooth, lower_tooth: touch.lower_tooth, at };
        Ok(Closed {
            jaw: self.jaw_pose(axis, cos, sin),
            guidance: Guidance::Teeth(stop),
            pin_lift: Some(Length::from_mm(lift)),
        })
    }
}
