//! The tracer: a plate on one member, a stylus on the other, between rims.

use nalgebra::Vector3;
use serde::{Deserialize, Serialize};

use crate::frame::OcclusalPlane;
use crate::instrument::IncisalPoint;
use crate::units::{Angle, Length};

/// How far behind the incisal point a central bearing stands: about the middle of the arch (common
/// practice, no source).
const BEARING_BEHIND_MM: f64 = 35.0;
/// Length and width of a plate between rims (common practice, no source).
const PLATE_MM: (f64, f64) = (40.0, 40.0);
/// How far behind the incisal point the heels of the rims lie, and how far to the side (example values).
const HEELS_MM: (f64, f64) = (50.0, 25.0);
/// Space between rims that are cut back for the tracing (example value; up to 4 mm, common practice, no
/// source).
const RIMS_APART_MM: f64 = 3.0;
/// No place of a tracer is farther from the axis.
const FARTHEST_MM: f64 = 300.0;
/// Plates are smaller than this each way, rims nearer together.
const LARGEST_MM: f64 = 200.0;
/// Steeper plates are none.
const STEEPEST_DEG: f64 = 60.0;

/// A member of the instrument.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Member {
    /// The lower member.
    #[default]
    Lower,
    /// The upper member.
    Upper,
}

/// A tracer as a scene's `tracer: (…)` gives it; every field may be absent. Places are those at rest, in
/// millimetres from the middle of the axis: ahead, left, up.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Tracer")]
pub struct TracerFields {
    /// Which member carries the plate; the lower one when absent. The stylus is on the other.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plate_on: Option<Member>,
    /// Where the tip of the stylus stands at rest; 35 mm behind the incisal point on the occlusal plane
    /// when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stylus_mm: Option<(f64, f64, f64)>,
    /// Middle of the plate, ahead and left; at the stylus when absent. Its height follows, since the tip
    /// rests on the plate.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plate_centre_mm: Option<(f64, f64)>,
    /// Inclination of the plate to the horizontal reference plane, anterior edge down; that of the
    /// occlusal plane when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plate_inclination_deg: Option<f64>,
    /// Length and width of the plate; 40 by 40 mm when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plate_size_mm: Option<(f64, f64)>,
    /// The right heel of the lower rim; 50 mm behind the incisal point and 25 mm aside, on the occlusal
    /// plane, when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub right_heel_mm: Option<(f64, f64, f64)>,
    /// The left heel, likewise.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub left_heel_mm: Option<(f64, f64, f64)>,
    /// Space between the rims at rest, square to the occlusal plane; 3 mm when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rims_apart_mm: Option<f64>,
}

/// A number of a tracer that no tracer has.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[error("{field} is {given}; allowed are {least} to {most}")]
pub struct TracerError {
    /// The field.
    pub field: &'static str,
    /// What was given.
    pub given: f64,
    /// The least allowed.
    pub least: f64,
    /// The most allowed.
    pub most: f64,
}

/// A tracer with all that its fields leave open taken from the occlusal plane and the incisal point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tracer {
    /// Which member carries the plate.
    pub plate_on: Member,
    /// The tip of the stylus at rest, where both frames coincide.
    pub stylus_mm: Vector3<f64>,
    /// Middle of the plate from the tip at rest, along the plate: forward, left.
    pub centre_mm: (f64, f64),
    /// The plate's plane, by its inclination.
    pub plate: OcclusalPlane,
    /// Half of its length and of its width.
    pub half_mm: (f64, f64),
    /// The heels of the lower rim, right and left, at rest.
    pub heels_mm: [Vector3<f64>; 2],
    /// Space between the rims at rest.
    pub rims_apart: Length,
}

impl TracerFields {
    /// Checks every number given.
    ///
    /// # Errors
    /// The first one out of range.
    pub fn check(&self) -> Result<(), TracerError> {
        let within = |field, given: f64, least: f64, most: f64| {
            let inside = (least..=most).contains(&given);
            if inside { Ok(()) } else { Err(TracerError { field, given, least, most }) }
        };
        let place = |field, at: Option<(f64, f64, f64)>| {
            let (x, y, z) = at.unwrap_or_default();
            [x, y, z].into_iter().try_for_each(|mm| within(field, mm, -FARTHEST_MM, FARTHEST_MM))
        };
        place("stylus_mm", self.stylus_mm)?;
        if let Some((ahead, ..)) = self.stylus_mm {
            // The tip guides the jaw, as a pin does.
            within("stylus_mm", ahead, IncisalPoint::X.facts.min, IncisalPoint::X.facts.max)?;
        }
        place("right_heel_mm", self.right_heel_mm)?;
        place("left_heel_mm", self.left_heel_mm)?;
        let centre = self.plate_centre_mm.map(|(ahead, left)| (ahead, left, 0.0));
        place("plate_centre_mm", centre)?;
        if let Some(inclination) = self.plate_inclination_deg {
            within("plate_inclination_deg", inclination, -STEEPEST_DEG, STEEPEST_DEG)?;
        }
        if let Some((length, width)) = self.plate_size_mm {
            within("plate_size_mm", length, 1.0, LARGEST_MM)?;
            within("plate_size_mm", width, 1.0, LARGEST_MM)?;
        }
        self.rims_apart_mm.map_or(Ok(()), |apart| within("rims_apart_mm", apart, 0.0, LARGEST_MM))
    }

    /// The tracer between rims on an occlusal plane that passes through the incisal point.
    #[must_use]
    pub fn completed(&self, plane: OcclusalPlane, incisal_point: &IncisalPoint) -> Tracer {
        let edge = incisal_point.coords();
        let on_the_plane = |behind: f64, left: f64| {
            Vector3::new(edge.x - behind, left, edge.z + behind * plane.inclination.tan())
        };
        let given = |place: Option<(f64, f64, f64)>| place.map(|(x, y, z)| Vector3::new(x, y, z));
        let stylus_mm = given(self.stylus_mm).unwrap_or_else(|| on_the_plane(BEARING_BEHIND_MM, 0.0));
        let inclination = self.plate_inclination_deg.map_or(plane.inclination, Angle::from_degrees);
        let plate = OcclusalPlane { inclination };
        let (length, width) = self.plate_size_mm.unwrap_or(PLATE_MM);
        let centre_mm = self.plate_centre_mm.map_or((0.0, 0.0), |(ahead, left)| {
            ((ahead - stylus_mm.x) / inclination.sin_cos().1, left - stylus_mm.y)
        });
        let (behind, aside) = HEELS_MM;
        Tracer {
            plate_on: self.plate_on.unwrap_or_default(),
            stylus_mm,
            centre_mm,
            plate,
            half_mm: (length / 2.0, width / 2.0),
            heels_mm: [
                given(self.right_heel_mm).unwrap_or_else(|| on_the_plane(behind, -aside)),
                given(self.left_heel_mm).unwrap_or_else(|| on_the_plane(behind, aside)),
            ],
            rims_apart: Length::from_mm(self.rims_apart_mm.unwrap_or(RIMS_APART_MM)),
        }
    }
}
