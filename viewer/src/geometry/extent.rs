//! How far the instrument reaches: levels of its members and the boxes to look at.
//!
//! The measures of the members are a drawing's choice; they stand here because the first look must
//! hold what is drawn.

use nalgebra::Vector3;
use sim_core::cusp::Arch;
use sim_core::instrument::Instrument;
use sim_core::scene::Scene;

use super::arch;
use super::landmarks::rest_point;

/// Height of the upper member's arm above the reference plane.
pub const ARM_MM: f64 = 22.0;
/// How far the lower member's foot stands below the lowest of pin and teeth.
const FOOT_MM: f64 = 22.0;
/// How far the pillars stand behind the axis.
pub const PILLAR_MM: f64 = -16.0;

/// Where the base of an arch is fixed to its member, right and left: where the cast has it
/// (`on_cast`), else where the base of drawn teeth has it.
#[must_use]
pub fn fixings(scene: &Scene, arch: Arch, on_cast: Option<[Vector3<f64>; 2]>) -> [Vector3<f64>; 2] {
    on_cast.unwrap_or_else(|| arch::fixings(scene, arch))
}

/// Where the foot of the lower member stands, under the lower cast's fixings if there is one.
#[must_use]
pub fn foot(scene: &Scene, lower_cast: Option<[Vector3<f64>; 2]>) -> Vector3<f64> {
    let base = fixings(scene, Arch::Lower, lower_cast)[0].z;
    Vector3::z() * (base.min(rest_point(&scene.instrument).z) - FOOT_MM)
}

/// How far forward the members reach.
#[must_use]
pub fn front(scene: &Scene) -> f64 {
    rest_point(&scene.instrument).x + 7.0
}

/// A box of the world that holds the whole instrument at rest, for the first look.
#[must_use]
pub fn bounds(scene: &Scene, lower_cast: Option<[Vector3<f64>; 2]>) -> (Vector3<f64>, Vector3<f64>) {
    let half = scene.instrument.intercondylar_distance.mm() / 2.0 + 10.0;
    (
        Vector3::new(PILLAR_MM - 6.0, -half, foot(scene, lower_cast).z - 6.0),
        Vector3::new(front(scene) + 8.0, half, ARM_MM + 14.0),
    )
}

/// The part of that box that a member fills: the lower one from its foot to its spheres, the upper one from
/// its teeth to its arm.
#[must_use]
pub fn member_bounds(
    scene: &Scene,
    arch: Arch,
    lower_cast: Option<[Vector3<f64>; 2]>,
) -> (Vector3<f64>, Vector3<f64>) {
    /// Above the axis stand a sphere and what hangs on it, or a housing's floor.
    const SPHERE_MM: f64 = 8.0;
    let (low, high) = bounds(scene, lower_cast);
    match arch {
        Arch::Lower => (low, Vector3::new(high.x, high.y, SPHERE_MM)),
        Arch::Upper => (Vector3::new(low.x, low.y, rest_point(&scene.instrument).z), high),
    }
}

/// A box about the sphere centres, for the look along the axis.
#[must_use]
pub fn axis_bounds(instrument: &Instrument) -> (Vector3<f64>, Vector3<f64>) {
    let half = instrument.intercondylar_distance.mm() / 2.0;
    (Vector3::new(-20.0, -half, -18.0), Vector3::new(28.0, half, 22.0))
}
