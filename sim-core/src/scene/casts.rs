//! Which casts a scene carries, and where they come to stand.

use serde::{Deserialize, Serialize};

use crate::cast::{CastUnit, Surface, SurfaceError};
use crate::frame::ScanPoint;
use crate::record::MountingFields;
use crate::record::mounting::{Mounting, MountingError};
use crate::units::Length;

/// Scanned casts, as a scene file names them. Both are in one frame, with the jaw in centric.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Casts")]
pub struct CastFiles {
    /// File of the upper cast (STL, PLY or OBJ), from the scene's own folder.
    pub upper: String,
    /// File of the lower cast, likewise.
    pub lower: String,
    /// Unit of the files' coordinates; told from their size when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit: Option<CastUnit>,
    /// How the scan is related to the axis; absent where it is in the instrument's frame already.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mounting: Option<MountingFields>,
}

/// Why scanned casts cannot be mounted.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum CastMountingError {
    /// By this mounting record.
    #[error("casts.mounting: {0}")]
    Mounting(#[from] MountingError),
    /// With coordinates that the mounting carries out of all range.
    #[error("casts: {0}")]
    Surface(#[from] SurfaceError),
}

impl CastFiles {
    /// Both surfaces, upper and lower, carried from the scan into the instrument's frame, where upper
    /// and lower frame coincide in centric; `base` is the intercondylar distance, which a mounting by
    /// averages needs.
    ///
    /// # Errors
    /// [`CastMountingError`] for axis points that no human has, casts upside down or behind the axis.
    pub fn mounted(&self, surfaces: [Surface; 2], base: Length) -> Result<[Surface; 2], CastMountingError> {
        let Some(fields) = &self.mounting else { return Ok(surfaces) };
        let (least, greatest) = surfaces[1].bounds();
        let middle = ScanPoint::from_coords((least + greatest) / 2.0);
        let mounting = Mounting::new(&fields.record(), Some(base), &[middle])?;
        let carried = |surface: Surface| {
            surface.moved(|vertex| *mounting.to_upper(&ScanPoint::from_coords(*vertex)).coords())
        };
        let [upper, lower] = surfaces;
        Ok([carried(upper)?, carried(lower)?])
    }
}
