//! The compensating curves: how far the occlusal surfaces leave the plane.

use super::{InventedCasts, InventedError};
use crate::units::Length;

/// Least radius that is not flat: half an arch with its gingiva is narrower than this.
const LEAST_RADIUS_MM: f64 = 60.0;

/// A height over the occlusal plane that both arches share.
///
/// Sagittal: a circle, seen from the side, through the lower incisal midpoint and the distobuccal
/// cusps of the lower second molars, hollow above. Transverse: a circle seen from the front, hollow
/// above; it lifts whatever stands to the side, so a slope from front to back is taken off again
/// that leaves the second molars' distobuccal cusps in the occlusal plane.
#[derive(Clone, Copy, Debug)]
pub(super) struct CompensatingCurves {
    sagittal: Option<f64>,
    transverse: Option<f64>,
    /// Middle of the sagittal circle, anterior coordinate.
    middle: f64,
    /// Fall per millimetre backward that brings the last cusps back to the plane.
    slope: f64,
}

impl CompensatingCurves {
    /// The curves of these settings; `last_cusp` is the plan place of the last lower molar's
    /// distobuccal tip.
    pub(super) fn new(casts: &InventedCasts, last_cusp: [f64; 2]) -> Result<Self, InventedError> {
        let sagittal = radius(InventedCasts::SAGITTAL_CURVE_RADIUS.facts.key, casts.sagittal_curve_radius)?;
        let transverse =
            radius(InventedCasts::TRANSVERSE_CURVE_RADIUS.facts.key, casts.transverse_curve_radius)?;
        let [anterior, left] = last_cusp;
        let slope = transverse.map_or(0.0, |radius| hollow(radius, left) / anterior);
        Ok(Self { sagittal, transverse, middle: anterior / 2.0, slope })
    }

    /// Height over the occlusal plane.
    pub(super) fn height(&self, [anterior, left]: [f64; 2]) -> f64 {
        let sagittal = self
            .sagittal
            .map_or(0.0, |radius| hollow(radius, anterior - self.middle) - hollow(radius, self.middle));
        let transverse = self.transverse.map_or(0.0, |radius| hollow(radius, left));
        sagittal + transverse - self.slope * anterior
    }

    /// Rise per millimetre forward and to the left.
    pub(super) fn gradient(&self, [anterior, left]: [f64; 2]) -> [f64; 2] {
        let forward = self.sagittal.map_or(0.0, |radius| incline(radius, anterior - self.middle));
        let leftward = self.transverse.map_or(0.0, |radius| incline(radius, left));
        [forward - self.slope, leftward]
    }
}

fn radius(key: &'static str, given: Length) -> Result<Option<f64>, InventedError> {
    let given_mm = given.mm();
    if given_mm == 0.0 {
        Ok(None)
    } else if given_mm < LEAST_RADIUS_MM {
        Err(InventedError::CurveTooTight { key, given_mm, least_mm: LEAST_RADIUS_MM })
    } else {
        Ok(Some(given_mm))
    }
}

/// How far a circle rises from its lowest point, so far to the side of it.
fn hollow(radius: f64, aside: f64) -> f64 {
    aside * aside / (radius + (radius * radius - aside * aside).sqrt())
}

fn incline(radius: f64, aside: f64) -> f64 {
    aside / (radius * radius - aside * aside).sqrt()
}
