//! Numbers for other programs: as they stand.

use nalgebra::Vector3;

/// A number as it stands, but no −0, which rounding leaves of exact rest.
pub(crate) fn exact(number: f64) -> f64 {
    number + 0.0
}

/// As [`exact`], of a place.
pub(crate) fn exact_coordinates(place: &Vector3<f64>) -> [f64; 3] {
    [place.x, place.y, place.z].map(exact)
}
