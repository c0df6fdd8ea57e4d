//! The trough of three planes that an anterior guide is made of.

use nalgebra::Vector3;

use crate::frame::Side;
use crate::units::{Angle, Length, SinCos};

settings_struct! {
    /// A plate inclined to the horizontal reference plane, with a lateral wing on each side.
    #[derive(Copy)]
    pub struct Trough {
        sagittal_inclination as SAGITTAL_INCLINATION: Angle = "sagittal_inclination_deg", "incisal guide inclination",
            -30.0..=85.0, step 1.0, zeroed Some(0.0),
            "Inclination α of the plate to the horizontal reference plane, in the sagittal view.";
        right_wing as RIGHT_WING: Angle = "right_wing_deg", "right wing of the incisal guide", 0.0..=85.0, step 1.0,
            zeroed Some(0.0),
            "Angle β by which the right wing is raised from the plate (for incisors, falls away from it).";
        left_wing as LEFT_WING: Angle = "left_wing_deg", "left wing of the incisal guide", 0.0..=85.0, step 1.0,
            zeroed Some(0.0),
            "Angle β by which the left wing is raised from the plate (for incisors, falls away from it).";
        flat_half_width as FLAT_HALF_WIDTH: Length = "flat_half_width_mm", "half width of the plate", 0.0..=20.0, step 0.5,
            zeroed Some(0.0),
            "Distance h from the middle to the hinge of each wing.";
    }
}

impl Trough {
    /// Plate and wings level, as on the zeroed instrument.
    pub const LEVEL: Self = Self {
        sagittal_inclination: Angle::ZERO,
        right_wing: Angle::ZERO,
        left_wing: Angle::ZERO,
        flat_half_width: Length::ZERO,
    };
}

/// Which plane of a trough.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GuidePlane {
    /// The plate in the middle.
    Plate,
    /// The wing of one side.
    Wing(Side),
}

impl GuidePlane {
    /// `plate`, `right_wing` or `left_wing`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Plate => "plate",
            Self::Wing(Side::Right) => "right_wing",
            Self::Wing(Side::Left) => "left_wing",
        }
    }
}

/// One plane of a guide, in the frame of the member that carries the guide.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plane {
    /// Which one.
    pub which: GuidePlane,
    /// Unit normal, pointing up.
    pub normal: Vector3<f64>,
    /// n·p in millimetres for every point p of the plane.
    pub offset_mm: f64,
}

impl Trough {
    /// The three planes as in [`super::AnteriorGuide::planes`]; a table's wings go up outward, the incisors'
    /// go down.
    pub(crate) fn planes(&self, rest: Vector3<f64>, wings_go_up: bool) -> [Plane; 3] {
        TroughTurns::of(self).planes(self, rest, wings_go_up)
    }
}

/// Sines and cosines of a trough's angles, kept with them.
#[derive(Clone, Copy, Debug)]
pub(crate) struct TroughTurns {
    sagittal: SinCos,
    right_wing: SinCos,
    left_wing: SinCos,
}

impl TroughTurns {
    pub(crate) fn of(trough: &Trough) -> Self {
        Self {
            sagittal: SinCos::of(trough.sagittal_inclination),
            right_wing: SinCos::of(trough.right_wing),
            left_wing: SinCos::of(trough.left_wing),
        }
    }

    /// The planes of a trough, as [`Trough::planes`], sooner where its angles are as they were.
    #[inline]
    pub(crate) fn renewed(&mut self, trough: &Trough, rest: Vector3<f64>, wings_go_up: bool) -> [Plane; 3] {
        self.sagittal.renew(trough.sagittal_inclination);
        self.right_wing.renew(trough.right_wing);
        self.left_wing.renew(trough.left_wing);
        self.planes(trough, rest, wings_go_up)
    }

    #[inline]
    fn planes(&self, trough: &Trough, rest: Vector3<f64>, wings_go_up: bool) -> [Plane; 3] {
        let plate = Vector3::new(self.sagittal.sin(), 0.0, self.sagittal.cos());
        let rises_outward = if wings_go_up { 1.0 } else { -1.0 };
        let wing = |side: Side, angle: &SinCos| {
            let normal =
                plate * angle.cos() - Vector3::y() * (angle.sin() * rises_outward * side.outward_y());
            let hinge = rest + Vector3::y() * (trough.flat_half_width.mm() * side.outward_y());
            Plane { which: GuidePlane::Wing(side), normal, offset_mm: normal.dot(&hinge) }
        };
        [
            Plane { which: GuidePlane::Plate, normal: plate, offset_mm: plate.dot(&rest) },
            wing(Side::Right, &self.right_wing),
            wing(Side::Left, &self.left_wing),
        ]
    }
}
