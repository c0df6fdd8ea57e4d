//! Form of the superior wall in the sagittal plane: f(a).

use serde::{Deserialize, Serialize};

use super::{PastEnd, Profile};
use crate::units::Length;

settings_struct! {
    /// A wall that is a circular arc, inclined by H at the seat and flattening forward.
    #[derive(Copy)]
    pub struct ArcPath {
        radius as RADIUS: Length = "radius_mm", "radius of the arc path", 2.0..=500.0, step 1.0, zeroed None,
            "Radius of a superior wall that is an arc, tangent to H at the seat and flattening forward.";
    }
}

/// The form of a superior wall.
#[derive(Clone, Debug, PartialEq, Default, Serialize, Deserialize)]
pub enum GuidePath {
    /// f = a·tan H.
    #[default]
    Straight,
    /// With k = sin H − a/r: f = r(√(1−k²) − cos H).
    Arc(ArcPath),
    /// A recorded path; the horizontal condylar inclination plays no part.
    Profile(Profile),
}

impl GuidePath {
    /// `Straight`, `Arc` or `Profile`: the word that a scene file uses.
    #[must_use]
    pub const fn name(&self) -> &'static str {
        match self {
            Self::Straight => "Straight",
            Self::Arc(_) => "Arc",
            Self::Profile(_) => "Profile",
        }
    }
}

/// The arc's drop, written so that it does not cancel for large radii:
/// r(√(1−k²) − cos H) = a(sin H + k)/(√(1−k²) + cos H); not a number past the arc's end.
#[inline(always)]
pub(crate) fn arc_drop_mm(sin: f64, cos: f64, radius_mm: f64, advance_mm: f64) -> f64 {
    let k = sin - advance_mm / radius_mm;
    advance_mm * (sin + k) / ((1.0 - k * k).sqrt() + cos)
}

/// Where the arc can be used no farther.
pub(crate) const fn arc_end(sin: f64, radius_mm: f64) -> PastEnd {
    PastEnd { path: "arc", ends_at_mm: radius_mm * (1.0 + sin) }
}

/// The arc's slope f' = k/√(1−k²).
pub(crate) fn arc_slope(sin: f64, radius_mm: f64, advance_mm: f64) -> Result<f64, PastEnd> {
    let k = sin - advance_mm / radius_mm;
    let square = 1.0 - k * k;
    if square <= 0.0 {
        return Err(arc_end(sin, radius_mm));
    }
    Ok(k / square.sqrt())
}
