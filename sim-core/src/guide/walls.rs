//! A guide made ready for solving: tangents taken once.

use super::path::{arc_drop_mm, arc_slope};
use super::{CondylarGuide, GuidePath, PastEnd, Profile};
use crate::units::Length;

/// The walls of one guide as plain numbers; lengths in millimetres.
#[derive(Clone, Debug)]
pub(crate) struct Walls {
    superior: Superior,
    tan_lateral: f64,
    immediate: f64,
    early_amount: f64,
    early_over: f64,
    pub(crate) tan_tilt: f64,
    pub(crate) tan_retrusion: f64,
    pub(crate) tan_surtrusion: f64,
}

#[derive(Clone, Debug)]
enum Superior {
    Straight { tan: f64 },
    Arc { sin: f64, cos: f64, radius: f64 },
    Profile(Profile),
}

impl CondylarGuide {
    /// Drop of the superior wall, f(a), at an advance and no medial shift.
    ///
    /// # Errors
    /// [`PastEnd`] where the path has ended before that advance.
    pub fn drop_at(&self, advance: Length) -> Result<Length, PastEnd> {
        Walls::of(self).drop_mm(advance.mm()).map(Length::from_mm)
    }

    /// Slope of the superior wall, f'(a): how fast the condyle drops as it advances there. Its arc
    /// tangent is the wall's inclination to the horizontal reference plane in the sagittal projection.
    ///
    /// # Errors
    /// [`PastEnd`] where the path has ended before that advance, or stands upright there.
    pub fn slope_at(&self, advance: Length) -> Result<f64, PastEnd> {
        Walls::of(self).drop_slope(advance.mm())
    }

    /// Medial shift that the medial wall asks of the orbiting condyle, m = i + e(a) + a·tan L.
    #[must_use]
    pub fn medial_shift_at(&self, advance: Length) -> Length {
        Length::from_mm(Walls::of(self).medial_mm(advance.mm(), 1.0))
    }
}

impl Walls {
    pub(crate) fn of(guide: &CondylarGuide) -> Self {
        let superior = match &guide.path {
            GuidePath::Straight => Superior::Straight { tan: guide.horizontal_inclination.tan() },
            GuidePath::Arc(arc) => {
                let (sin, cos) = guide.horizontal_inclination.sin_cos();
                Superior::Arc { sin, cos, radius: arc.radius.mm() }
            }
            GuidePath::Profile(profile) => Superior::Profile(profile.clone()),
        };
        Self {
            superior,
            tan_lateral: guide.lateral_angle.tan(),
            immediate: guide.immediate_translation.mm(),
            early_amount: guide.early_translation.amount.mm(),
            early_over: guide.early_translation.over.mm(),
            tan_tilt: guide.wall_tilt.tan(),
            tan_retrusion: guide.lateroretrusion.tan(),
            tan_surtrusion: guide.laterosurtrusion.tan(),
        }
    }

    /// f(a).
    #[inline]
    pub(crate) fn drop_mm(&self, advance: f64) -> Result<f64, PastEnd> {
        match &self.superior {
            Superior::Straight { tan } => Ok(advance * tan),
            Superior::Arc { sin, cos, radius } => arc_drop_mm(*sin, *cos, *radius, advance),
            Superior::Profile(profile) => profile.drop_mm(advance),
        }
    }

    /// m = i + e(a) + a·tan L, with `shifted` of the immediate translation made (1 = all of it).
    #[inline]
    pub(crate) fn medial_mm(&self, advance: f64, shifted: f64) -> f64 {
        let early = self.early_amount * (advance / self.early_over).min(1.0);
        self.immediate * shifted + early + advance * self.tan_lateral
    }

    /// f'(a): how fast the superior wall falls there.
    pub(crate) fn drop_slope(&self, advance: f64) -> Result<f64, PastEnd> {
        match &self.superior {
            Superior::Straight { tan } => Ok(*tan),
            Superior::Arc { sin, radius, .. } => arc_slope(*sin, *radius, advance),
            Superior::Profile(profile) => profile.slope(advance),
        }
    }

    /// dm/da of the medial wall, forward of that advance: where the early translation ends, it has.
    pub(crate) fn medial_slope(&self, advance: f64) -> f64 {
        let early = if advance < self.early_over { self.early_amount / self.early_over } else { 0.0 };
        early + self.tan_lateral
    }

    /// The immediate translation i.
    pub(crate) fn immediate_mm(&self) -> f64 {
        self.immediate
    }
}
