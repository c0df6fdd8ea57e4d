//! The settings that the invented casts follow from.

use serde::{Deserialize, Serialize};

use crate::units::{Angle, Length};

/// What the invented casts stand for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum CastKind {
    /// Natural teeth: front teeth touch at rest and can guide.
    Dentate,
    /// Complete dentures: front teeth stand clear at rest (common practice, no source), so that the
    /// back teeth can stay in contact on both sides.
    CompleteDenture,
}

/// The curve on which the lower incisal edges and buccal cusps stand, seen along the occlusal
/// plane's normal. Each runs from the incisal midpoint to half the arch width at the arch length.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum ArchForm {
    /// Half an ellipse, widest at the arch length.
    Ellipse,
    /// A catenary: rounder in front than a parabola, straighter behind than an ellipse.
    Catenary,
    /// A parabola: the most pointed.
    Parabola,
}

settings_struct! {
    /// The settings of the generator of invented casts.
    pub struct InventedCasts {
        cusp_angle as CUSP_ANGLE: Angle = "cusp_angle_deg", "cusp angle", 0.0..=45.0, step 1.0, zeroed None, absent 25.0,
            "Incline of the back teeth's cusps halfway between tip and fossa, to the occlusal plane where the compensating curves are flat, to their tangent elsewhere.";
        sagittal_curve_radius as SAGITTAL_CURVE_RADIUS: Length = "sagittal_curve_radius_mm", "radius of the sagittal compensating curve",
            0.0..=1000.0, step 10.0, zeroed None, absent 0.0,
            "Radius of the circle, seen from the side, through lower incisal edges and last molar cusps; 0 is flat, otherwise at least 60.";
        transverse_curve_radius as TRANSVERSE_CURVE_RADIUS: Length = "transverse_curve_radius_mm", "radius of the transverse compensating curve",
            0.0..=1000.0, step 10.0, zeroed None, absent 0.0,
            "Radius of the circle, seen from the front, on which lower buccal and lingual cusps of both sides lie; 0 is flat, otherwise at least 60.";
        overbite as OVERBITE: Length = "overbite_mm", "vertical overlap (overbite)", 0.0..=5.0, step 0.5, zeroed None, absent 2.5,
            "How far the upper incisal edges reach below the lower ones, along the occlusal plane's normal.";
        overjet as OVERJET: Length = "overjet_mm", "horizontal overlap (overjet)", 1.0..=6.0, step 0.5, zeroed None, absent 2.5,
            "How far the upper incisal edges stand in front of the lower ones, along the occlusal plane.";
        front_clearance as FRONT_CLEARANCE: Length = "front_clearance_mm", "clearance of a denture's front teeth", 0.0..=3.0, step 0.1,
            zeroed None, absent 1.0,
            "How far apart the front teeth of complete dentures stand at rest, along the occlusal plane's normal; those of natural teeth touch.";
        arch_width as ARCH_WIDTH: Length = "arch_width_mm", "arch width", 40.0..=70.0, step 1.0, zeroed None, absent 54.0,
            "Width of the lower arch line from side to side at the arch length.";
        arch_length as ARCH_LENGTH: Length = "arch_length_mm", "arch length", 25.0..=60.0, step 1.0, zeroed None, absent 42.0,
            "How far behind the lower incisal midpoint the arch line reaches its width.";
        incisal_x as INCISAL_X: Length = "incisal_x_mm", "lower incisal midpoint, in front of the axis",
            60.0..=120.0, step 1.0, zeroed None, absent 90.0,
            "Where the edges of the two lower central incisors meet, in front of the axis.";
        incisal_z as INCISAL_Z: Length = "incisal_z_mm", "lower incisal midpoint, above the reference plane",
            -80.0..=0.0, step 1.0, zeroed None, absent -40.6,
            "Where the edges of the two lower central incisors meet; below the horizontal reference plane is negative.";
        fineness as FINENESS: Length = "fineness_mm", "fineness of the surface", 0.08..=1.5, step 0.05, zeroed None, absent 0.5,
            "Edge length of the triangles on the crowns; gingiva and base are coarser.";
    }
    also {
        kind: CastKind = "kind", "Natural teeth or complete dentures.";
        arch_form: ArchForm = "arch_form", absent ArchForm::Ellipse, "The curve of the arch.";
    }
}

impl InventedCasts {
    /// Natural teeth with the front teeth as guides.
    #[must_use]
    pub const fn dentate() -> Self {
        Self {
            cusp_angle: Angle::from_degrees(25.0),
            sagittal_curve_radius: Length::from_mm(0.0),
            transverse_curve_radius: Length::from_mm(0.0),
            overbite: Length::from_mm(2.5),
            overjet: Length::from_mm(2.5),
            front_clearance: Length::from_mm(1.0),
            arch_width: Length::from_mm(54.0),
            arch_length: Length::from_mm(42.0),
            incisal_x: Length::from_mm(90.0),
            incisal_z: Length::from_mm(-40.6),
            fineness: Length::from_mm(0.5),
            kind: CastKind::Dentate,
            arch_form: ArchForm::Ellipse,
        }
    }

    /// Complete dentures: little vertical overlap, lower cusps and both compensating curves, as a balanced
    /// occlusion asks for.
    #[must_use]
    pub const fn complete_denture() -> Self {
        Self {
            cusp_angle: Angle::from_degrees(20.0),
            sagittal_curve_radius: Length::from_mm(100.0),
            transverse_curve_radius: Length::from_mm(100.0),
            overbite: Length::from_mm(0.5),
            overjet: Length::from_mm(2.0),
            kind: CastKind::CompleteDenture,
            ..Self::dentate()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::InventedCasts;

    #[test]
    fn a_file_that_names_only_the_kind_gets_the_defaults() {
        let read: InventedCasts = ron::from_str("(kind: Dentate)").unwrap();
        assert_eq!(read, InventedCasts::dentate());
    }

    #[test]
    fn settings_are_written_as_they_are_read() {
        let casts = InventedCasts::complete_denture();
        let text = ron::to_string(&casts).unwrap();
        assert_eq!(ron::from_str::<InventedCasts>(&text).unwrap(), casts);
    }
}
