//! How far a record goes, as a tracing shows it.
//!
//! A protrusive record is marked on the tracing: the distance is read where the stylus draws it, along
//! its plate. Without a tracing it is that of the incisal point along the occlusal plane. The condyles
//! advance less or more meanwhile, as the guidances have it.

use super::case::Case;
use super::mounting::Mounting;
use super::program_error::ProgramError;
use crate::frame::{JawPose, LowerPoint, OcclusalPlane, UpperPoint};
use crate::units::Length;

/// What the distance of a record is measured with.
#[derive(Clone, Copy, Debug)]
pub(super) struct Front {
    /// The incisal point in centric, where both frames coincide.
    rest: UpperPoint,
    plane: OcclusalPlane,
}

impl Front {
    /// That of a case mounted so.
    pub(super) fn of(case: &Case, mounting: &Mounting) -> Result<Self, ProgramError> {
        // What is assumed for want of a field is told with the scene, which rests on it too.
        let mut told_with_the_scene = Vec::new();
        let (_, rest) = case.incisal_point(mounting, &mut told_with_the_scene)?;
        Ok(Self { rest, plane: case.occlusal_plane(mounting, &mut told_with_the_scene)? })
    }

    /// The incisal point's way from centric, projected on the occlusal plane.
    pub(super) fn distance(&self, jaw: &JawPose) -> Length {
        let there = jaw.to_upper(&LowerPoint::from_coords(*self.rest.coords()));
        self.plane.along(&(there - self.rest))
    }
}
