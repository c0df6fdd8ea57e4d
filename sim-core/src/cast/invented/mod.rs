//! Invented demo casts: both arches as closed surfaces that meet evenly at rest.
//!
//! Nobody's teeth. The crown widths are published means; everything else about the form is made up
//! here and follows from the settings of [`InventedCasts`].
//!
//! # How they are made
//!
//! A place on the occlusal surfaces is given by how far along the arch line it stands and how far
//! outward of it; *height* is along the occlusal plane's normal. The arch line is the line of the
//! lower incisal edges and buccal cusps. Over one and the same grid of such places both occlusal
//! surfaces are height fields, from the upper palatal contour out to the lower buccal one, split
//! into the same triangles. So the vertical gap between them is linear over each triangle, and
//! where it is not negative at the grid's points it is negative nowhere.
//!
//! 1. `arch`: the arch line. `teeth`: widths and forms. `lines`: where crests and contours run.
//! 2. `rise`: every cusp, edge, ridge and cingulum is a rounded cone; a crown is the highest of its
//!    cones, so that fossae and grooves lie where they meet. `crowns` and `layout` set the teeth up.
//! 3. `occlusal`: lower crowns first; each upper cusp is let down until it touches.
//! 4. `seat`: the gap left is closed by the greatest smooth layer that fits into it, put on where
//!    the fossae are, so that cusp tips stay where they were set.
//! 5. `curves`: the compensating curves are added to both arches alike, which leaves the gap alone.
//! 6. `section`, `mesh`: walls, gingiva and base close each arch; the right side mirrors the left.
//!
//! ```
//! use sim_core::cast::invented::InventedCasts;
//! use sim_core::frame::OcclusalPlane;
//! use sim_core::units::{Angle, Length};
//!
//! let plane = OcclusalPlane { inclination: Angle::ZERO };
//! let coarse = InventedCasts { fineness: Length::from_mm(1.5), ..InventedCasts::dentate() };
//! let pair = coarse.make(plane)?;
//! assert!(pair.cusps.iter().any(|cusp| cusp.tooth().number() == 36));
//! // A finer net has more triangles, and the same cusps.
//! let finer = InventedCasts { fineness: Length::from_mm(1.0), ..coarse }.make(plane)?;
//! assert!(finer.lower.triangles().len() > pair.lower.triangles().len());
//! assert_eq!(finer.cusps.len(), pair.cusps.len());
//! # Ok::<(), sim_core::cast::invented::InventedError>(())
//! ```

mod arch;
mod crowns;
mod curves;
mod error;
mod frame;
mod knots;
mod layout;
mod lines;
mod mesh;
mod named;
mod occlusal;
mod rise;
mod seat;
mod section;
mod settings;
mod stations;
mod teeth;

pub use error::InventedError;
pub use settings::{ArchForm, CastKind, InventedCasts};

use super::Surface;
use crate::cusp::Cusp;
use crate::frame::OcclusalPlane;

/// Both arches, in the instrument's frame at rest, where the two members' frames coincide.
#[derive(Clone, Debug, PartialEq)]
pub struct InventedPair {
    /// The upper cast in the upper frame: one closed shell, every crown's triangles labelled 11–17
    /// and 21–27.
    pub upper: Surface,
    /// The lower cast in the lower frame: one closed shell, every crown's triangles labelled 31–37
    /// and 41–47.
    pub lower: Surface,
    /// Cusps of both arches, each tip a vertex of its surface, with the inclines that oppose it.
    pub cusps: Vec<Cusp>,
}

impl InventedCasts {
    /// Builds both arches.
    ///
    /// Every premolar and molar touches its antagonist at rest, and so do the front teeth of a
    /// dentate pair; nothing passes through anything. The incisors of complete dentures stand at least
    /// [`InventedCasts::front_clearance`] apart along the occlusal plane's normal; from the canines back the gap
    /// closes toward the first premolars.
    ///
    /// # Errors
    /// [`InventedError`] for a setting out of its range and for settings that do not go together.
    pub fn make(&self, plane: OcclusalPlane) -> Result<InventedPair, InventedError> {
        for entry in Self::SETTINGS {
            entry.facts.check((entry.get)(self))?;
        }
        let arch = arch::ArchLine::new(self);
        let layout = layout::Layout::new(self, &arch)?;
        let curves = curves::CompensatingCurves::new(self, layout.last_cusp())?;
        let stations = stations::Stations::new(&layout, &arch, self.fineness.mm());
        let surfaces = occlusal::OcclusalSurfaces::carve(&layout, &stations);
        let frame = frame::PlaneFrame::new(self, plane);
        let cusps = named::cusps(&layout, &stations, &surfaces, &curves, &frame)?;
        let [upper, lower] =
            mesh::arches(&layout, &stations, &surfaces, &curves, &frame, self.fineness.mm())?;
        Ok(InventedPair { upper, lower, cusps })
    }
}
