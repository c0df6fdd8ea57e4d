//! Closing about the axis through the placed spheres until the guide stops it, in closed form.

use nalgebra::{Matrix3, Vector3};

use super::closed_form::{Axis, Gap, Members, Posed, Seen, first_stop, posed};
use super::mechanism::{Front, Mechanism};
use super::spheres::Pair;
use super::{Guidance, Obstacle};
use crate::anterior::{GuidePlane, Plane};
use crate::cast::LastPairs;
use crate::frame::{JawPose, PerSide};
use crate::units::Length;

/// The jaw closed on its guide.
#[derive(Clone, Copy)]
pub(super) struct Closed {
    pub(super) jaw: JawPose,
    pub(super) guidance: Guidance,
    /// How far the pin is off its table, where teeth may lead.
    pub(super) pin_lift: Option<Length>,
}

/// Cosine and sine of the opening angle, and the plane that stops there.
#[derive(Clone, Copy)]
pub(super) struct Stop {
    pub(super) cos: f64,
    pub(super) sin: f64,
    pub(super) plane: GuidePlane,
}

impl Posed {
    #[inline(always)]
    pub(super) fn jaw(&self) -> JawPose {
        let [x, y, z] = self.columns;
        JawPose::rigid(Matrix3::from_columns(&[x.into(), y.into(), z.into()]), self.translation.into())
    }
}

impl Mechanism {
    /// The jaw pose with the spheres placed and the guide touched.
    #[inline]
    pub(super) fn close(&self, spheres: &Pair, warm: Option<&mut LastPairs>) -> Result<Closed, Obstacle> {
        let axis = self.axis(spheres);
        let (planes, guidance): (_, fn(GuidePlane) -> Guidance) = match &self.front {
            Front::Table(planes) => (planes, Guidance::Table),
            Front::Incisors(planes) => (planes, Guidance::Incisors),
            Front::Teeth { planes, casts } => {
                return self.close_on_teeth(&axis, planes, casts.as_deref(), warm);
            }
            Front::Custom(facets) => return self.close_on_custom_table(&axis, facets),
        };
        let stop = self.first_stop(&axis, planes)?;
        let jaw = self.jaw_pose(&axis, stop.cos, stop.sin);
        Ok(Closed { jaw, guidance: guidance(stop.plane), pin_lift: None })
    }

    /// The jaw pose with the spheres placed and the jaw turned open by an angle about their axis.
    pub(super) fn opened(&self, spheres: &Pair, radians: f64) -> JawPose {
        let (sin, cos) = radians.sin_cos();
        self.jaw_pose(&self.axis(spheres), cos, sin)
    }

    #[inline(always)]
    pub(super) fn axis(&self, PerSide { right, left }: &Pair) -> Axis {
        Axis::through(self.span(), self.inverse_distance, &[*right, *left])
    }

    #[inline(always)]
    pub(super) fn jaw_pose(&self, axis: &Axis, cos: f64, sin: f64) -> JawPose {
        posed(self.spheres_on_lower(), axis, cos, sin).jaw()
    }

    /// Where the closing jaw first meets a plane.
    #[inline(always)]
    pub(super) fn first_stop(&self, axis: &Axis, planes: &[Plane; 3]) -> Result<Stop, Obstacle> {
        let stopped = first_stop::<true>(&self.gaps(axis, planes));
        if !stopped.is_met {
            return Err(Obstacle::GuideNotReached);
        }
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // 0, 1 or 2
        let plane = &planes[stopped.plane as usize % planes.len()];
        Ok(Stop { cos: stopped.cos, sin: stopped.sin, plane: plane.which })
    }

    /// The gap to each plane.
    #[inline(always)]
    pub(super) fn gaps(&self, axis: &Axis, planes: &[Plane; 3]) -> [Gap; 3] {
        let seen = self.seen(axis);
        let gap = |plane: &Plane| seen.gap(plane.normal.as_ref(), plane.offset_mm);
        let [plate, right, left] = planes;
        [gap(plate), gap(right), gap(left)]
    }

    /// The guided point, from which the gap to any plane follows.
    #[inline(always)]
    pub(super) fn seen<'a>(&self, axis: &'a Axis) -> Seen<'a> {
        Seen::from(axis, self.members(), self.guided_point.as_ref())
    }

    pub(super) fn members(&self) -> Members {
        Members { is_arcon: self.spheres_on_lower(), has_pin: self.has_pin }
    }
}

impl Axis {
    /// The turn of the carrier as teeth are placed by it.
    pub(super) fn turn_matrix(&self) -> Matrix3<f64> {
        let [x, y, z] = self.turn;
        Matrix3::from_columns(&[x.into(), y.into(), z.into()])
    }

    pub(super) fn middle_vector(&self) -> Vector3<f64> {
        self.middle.into()
    }
}
