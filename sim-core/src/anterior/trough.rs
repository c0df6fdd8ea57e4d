//! The trough of three planes that an anterior guide is made of.

use nalgebra::Vector3;

use crate::frame::Side;
use crate::units::{Angle, Length};

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
        let (sin, cos) = self.sagittal_inclination.sin_cos();
        let plate = Vector3::new(sin, 0.0, cos);
        let rises_outward = if wings_go_up { 1.0 } else { -1.0 };
        let wing = |side: Side, angle: Angle| {
            let (sin, cos) = angle.sin_cos();
            let normal = plate * cos - Vector3::y() * (sin * rises_outward * side.outward_y());
            let hinge = rest + Vector3::y() * (self.flat_half_width.mm() * side.outward_y());
            Plane { which: GuidePlane::Wing(side), normal, offset_mm: normal.dot(&hinge) }
        };
        [
            Plane { which: GuidePlane::Plate, normal: plate, offset_mm: plate.dot(&rest) },
            wing(Side::Right, self.right_wing),
            wing(Side::Left, self.left_wing),
        ]
    }
}
