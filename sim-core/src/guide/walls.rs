//! A guide made ready for solving: tangents taken once.

use super::path::{arc_drop_mm, arc_end, arc_slope};
use super::{CondylarGuide, GuidePath, PastEnd, Profile};
use crate::units::{Length, SinCos, Tangent};

/// The walls of one guide as plain numbers; lengths in millimetres.
#[derive(Clone, Debug)]
pub(crate) struct Walls {
    superior: Superior,
    pub(super) medial: Medial,
    tan_lateral: Tangent,
    tan_tilt: Tangent,
    tan_retrusion: Tangent,
    tan_surtrusion: Tangent,
}

/// The medial wall but for its inclination.
#[derive(Clone, Copy, Debug)]
pub(super) struct Medial {
    pub(super) immediate: f64,
    pub(super) early_amount: f64,
    pub(super) early_over: f64,
}

#[derive(Clone, Debug)]
pub(super) enum Superior {
    Straight { tan: Tangent },
    Arc { of: SinCos, radius: f64 },
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

impl Superior {
    fn of(guide: &CondylarGuide) -> Self {
        match &guide.path {
            GuidePath::Straight => Self::Straight { tan: Tangent::of(guide.horizontal_inclination) },
            GuidePath::Arc(arc) => {
                Self::Arc { of: SinCos::of(guide.horizontal_inclination), radius: arc.radius.mm() }
            }
            GuidePath::Profile(profile) => Self::Profile(profile.clone()),
        }
    }

    /// Made anew where something is another: tangents take longer than all the rest, and a shared record is
    /// counted by all threads at once.
    #[inline]
    fn renew(&mut self, guide: &CondylarGuide) {
        match (self, &guide.path) {
            (Self::Straight { tan }, GuidePath::Straight) => tan.renew(guide.horizontal_inclination),
            (Self::Arc { of, radius }, GuidePath::Arc(arc)) => {
                of.renew(guide.horizontal_inclination);
                *radius = arc.radius.mm();
            }
            (Self::Profile(known), GuidePath::Profile(profile)) if known.is(profile) => {}
            (other, _) => *other = Self::of(guide),
        }
    }
}

impl Walls {
    pub(crate) fn of(guide: &CondylarGuide) -> Self {
        Self {
            superior: Superior::of(guide),
            medial: Medial::of(guide),
            tan_lateral: Tangent::of(guide.lateral_angle),
            tan_tilt: Tangent::of(guide.wall_tilt),
            tan_retrusion: Tangent::of(guide.lateroretrusion),
            tan_surtrusion: Tangent::of(guide.laterosurtrusion),
        }
    }

    /// As [`Self::of`], sooner where most is as it was.
    #[inline]
    pub(crate) fn renew(&mut self, guide: &CondylarGuide) {
        self.superior.renew(guide);
        self.medial = Medial::of(guide);
        self.tan_lateral.renew(guide.lateral_angle);
        self.tan_tilt.renew(guide.wall_tilt);
        self.tan_retrusion.renew(guide.lateroretrusion);
        self.tan_surtrusion.renew(guide.laterosurtrusion);
    }

    /// As [`Self::renew`], with the tangents of the other side's guide at hand, which often is set alike.
    #[inline]
    pub(crate) fn renew_beside(&mut self, guide: &CondylarGuide, other: &Self) {
        if let (Superior::Straight { tan }, Superior::Straight { tan: known }) =
            (&mut self.superior, &other.superior)
        {
            tan.take_if(known, guide.horizontal_inclination);
        }
        if let (Superior::Arc { of, .. }, Superior::Arc { of: known, .. }) =
            (&mut self.superior, &other.superior)
        {
            of.take_if(known, guide.horizontal_inclination);
        }
        self.tan_lateral.take_if(&other.tan_lateral, guide.lateral_angle);
        self.tan_tilt.take_if(&other.tan_tilt, guide.wall_tilt);
        self.renew(guide);
    }

    /// f(a).
    #[inline]
    pub(crate) fn drop_mm(&self, advance: f64) -> Result<f64, PastEnd> {
        match &self.superior {
            Superior::Straight { tan } => Ok(advance * tan.tan()),
            Superior::Arc { of, radius } => {
                let drop = arc_drop_mm(of.sin(), of.cos(), *radius, advance);
                if drop.is_nan() { Err(arc_end(of.sin(), *radius)) } else { Ok(drop) }
            }
            Superior::Profile(profile) => profile.drop_mm(advance),
        }
    }

    /// m = i + e(a) + a·tan L, with `shifted` of the immediate translation made (1 = all of it).
    #[inline]
    pub(crate) fn medial_mm(&self, advance: f64, shifted: f64) -> f64 {
        self.medial.mm(self.tan_lateral.tan(), advance, shifted)
    }

    /// f'(a): how fast the superior wall falls there.
    pub(crate) fn drop_slope(&self, advance: f64) -> Result<f64, PastEnd> {
        match &self.superior {
            Superior::Straight { tan } => Ok(tan.tan()),
            Superior::Arc { of, radius } => arc_slope(of.sin(), *radius, advance),
            Superior::Profile(profile) => profile.slope(advance),
        }
    }

    /// dm/da of the medial wall, forward of that advance: where the early translation ends, it has.
    pub(crate) fn medial_slope(&self, advance: f64) -> f64 {
        let Medial { early_amount, early_over, .. } = self.medial;
        let early = if advance < early_over { early_amount / early_over } else { 0.0 };
        early + self.tan_lateral.tan()
    }

    /// The immediate translation i.
    pub(crate) const fn immediate_mm(&self) -> f64 {
        self.medial.immediate
    }

    pub(super) const fn superior(&self) -> &Superior {
        &self.superior
    }

    pub(crate) const fn tan_lateral(&self) -> f64 {
        self.tan_lateral.tan()
    }

    /// Of the superior wall's tilt.
    pub(crate) const fn tan_tilt(&self) -> f64 {
        self.tan_tilt.tan()
    }

    pub(crate) const fn tan_retrusion(&self) -> f64 {
        self.tan_retrusion.tan()
    }

    pub(crate) const fn tan_surtrusion(&self) -> f64 {
        self.tan_surtrusion.tan()
    }
}

impl Medial {
    fn of(guide: &CondylarGuide) -> Self {
        Self {
            immediate: guide.immediate_translation.mm(),
            early_amount: guide.early_translation.amount.mm(),
            early_over: guide.early_translation.over.mm(),
        }
    }

    #[inline(always)]
    pub(super) fn mm(self, tan_lateral: f64, advance: f64, shifted: f64) -> f64 {
        let early = self.early_amount * (advance / self.early_over).min(1.0);
        self.immediate * shifted + early + advance * tan_lateral
    }
}
