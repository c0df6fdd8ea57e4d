//! What the front of a case is measured from: its incisal point and its occlusal plane, or what is
//! taken for want of them.

use nalgebra::Vector3;

use super::case::{Case, MountingFields};
use super::mounting::Mounting;
use super::program_error::ProgramError;
use super::warning::Warning;
use crate::frame::{OcclusalPlane, UpperPoint};
use crate::instrument::Instrument;
use crate::units::Angle;

/// Inclination of the occlusal plane to a plane through the axis where nothing tells it (common
/// practice, no source).
const USUAL_OCCLUSAL_PLANE_DEG: f64 = 10.0;
/// A plane tilted less from side to side is level for what a scene is used for.
const LEVEL_DEG: f64 = 2.0;
/// Points of a plane nearer to one line than this do not fix it, in millimetres.
const LEAST_BREADTH_MM: f64 = 5.0;

impl Case {
    /// The lower incisal point in centric, and the field that gives it.
    ///
    /// # Errors
    /// [`ProgramError::Scene`] where nothing gives one.
    pub(crate) fn incisal_point(
        &self,
        mounting: &Mounting,
        warnings: &mut Vec<Warning>,
    ) -> Result<(&'static str, UpperPoint), ProgramError> {
        match (self.incisal_point_mm, &self.mounting) {
            (Some(place), _) => Ok(("incisal_point_mm", mounting.to_upper(&place.point()))),
            (None, MountingFields::Average { incisal_mm, .. }) => {
                Ok(("incisal_mm", mounting.to_upper(&incisal_mm.point())))
            }
            (None, MountingFields::FaceBow { .. } | MountingFields::Named { .. }) => {
                let Some(lower) = &self.lower_landmarks else {
                    warnings.push(Warning::IncisalPointOfTheExample);
                    let example = Instrument::zeroed().incisal_point;
                    return Ok(("incisal_point_mm", UpperPoint::from_coords(example.coords())));
                };
                let foremost = lower
                    .in_centric_mm
                    .iter()
                    .map(|place| mounting.to_upper(&place.point()))
                    .enumerate()
                    .max_by(|one, other| one.1.x().total_cmp(&other.1.x()));
                let (landmark, place) =
                    foremost.ok_or_else(|| wrong("in_centric_mm", &"no landmark is given"))?;
                warnings.push(Warning::IncisalPointAssumed { landmark });
                Ok(("in_centric_mm", place))
            }
        }
    }

    /// The occlusal plane.
    ///
    /// # Errors
    /// [`ProgramError::Scene`] for points that make no plane, or one too steep.
    pub(crate) fn occlusal_plane(
        &self,
        mounting: &Mounting,
        warnings: &mut Vec<Warning>,
    ) -> Result<OcclusalPlane, ProgramError> {
        let Some(places) = &self.occlusal_plane_mm else {
            // The reference plane of a mounting by averages is the occlusal plane.
            let inclination = match &self.mounting {
                MountingFields::Average { .. } => Angle::ZERO,
                MountingFields::FaceBow { .. } | MountingFields::Named { .. } => {
                    Angle::from_degrees(USUAL_OCCLUSAL_PLANE_DEG)
                }
            };
            if !self.cusps.is_empty() && inclination != Angle::ZERO {
                warnings.push(Warning::OcclusalPlaneAssumed { inclination });
            }
            return Ok(OcclusalPlane { inclination });
        };
        let field = "occlusal_plane_mm";
        let points: Vec<Vector3<f64>> =
            places.iter().map(|place| *mounting.to_upper(&place.point()).coords()).collect();
        let [a, b, c] = points.as_slice() else {
            return Err(wrong(field, &"three points are needed"));
        };
        let across = (b - a).cross(&(c - a));
        let longest = (b - a).norm().max((c - a).norm()).max((c - b).norm());
        if across.norm() < LEAST_BREADTH_MM * longest || longest < LEAST_BREADTH_MM {
            return Err(wrong(field, &format!("the points lie within {LEAST_BREADTH_MM} mm of one line")));
        }
        let normal = if across.z < 0.0 { -across } else { across };
        // n = (sin ι, 0, cos ι) where the plane is level from side to side.
        let inclination = Angle::from_radians(normal.x.atan2(normal.z));
        let tilt = Angle::from_radians(-normal.y.atan2(normal.z));
        OcclusalPlane::INCLINATION.check(inclination.degrees()).map_err(|why| wrong(field, &why))?;
        if tilt.degrees().abs() > LEVEL_DEG {
            warnings.push(Warning::OcclusalPlaneTilted { tilt });
        }
        Ok(OcclusalPlane { inclination })
    }
}

/// The complaint about a field of the case.
pub(crate) fn wrong(field: &str, why: &dyn std::fmt::Display) -> ProgramError {
    ProgramError::Scene { field: field.to_owned(), why: why.to_string() }
}
