//! The split cast: the primary base with its grooves on the upper cast, the secondary base with its keys on the
//! upper member.
//!
//! Both are made in the upper frame, in centric with the split closed, where each key lies in its groove and the
//! shoulders beside them touch at the place of the groove. Between open shoulders one sees through: that slit is the
//! gap, in its own size.

use nalgebra::Vector3;
use sim_core::cusp::Arch;
use sim_core::scene::Scene;

use super::mesh::Mesh;
use crate::geometry::extent::{ARM_MM, fixings};

/// Half of a groove's block along the groove, and across it. All of this is a drawing's choice.
const BLOCK_MM: (f64, f64) = (4.5, 4.0);
/// Half width of a groove at its shoulders, and its depth.
const NOTCH_MM: (f64, f64) = (1.8, 1.8);
/// How thick a block is.
const BLOCK_HEIGHT_MM: f64 = 3.4;
/// How thick a base is, behind its blocks.
const BASE_MM: f64 = 3.0;
/// How far a base reaches beyond the grooves.
const BORDER_MM: f64 = 7.0;
/// Radius of what holds a base.
const POST_MM: f64 = 3.6;

/// The two bases, in the upper frame, the split closed.
#[derive(Clone, Debug, Default)]
pub struct SplitMeshes {
    /// The primary base, on the upper cast.
    pub primary: Mesh,
    /// Its grooves.
    pub grooves: Mesh,
    /// The secondary base, on the upper member.
    pub secondary: Mesh,
    /// Its keys.
    pub keys: Mesh,
}

/// Which side of the split a block is on.
#[derive(Clone, Copy, PartialEq)]
enum Half {
    Groove,
    Key,
}

/// The bases of a split with grooves at these places.
#[must_use]
pub fn split_meshes(scene: &Scene, places: &[Vector3<f64>]) -> SplitMeshes {
    let mut meshes = SplitMeshes::default();
    if places.is_empty() {
        return meshes;
    }
    #[allow(clippy::cast_precision_loss, reason = "some grooves")]
    let middle = places.iter().sum::<Vector3<f64>>() / places.len() as f64;
    for place in places {
        // A groove runs outward, so that its shoulders are seen from the side.
        let outward = Vector3::new(place.x - middle.x, place.y - middle.y, 0.0);
        let along = outward.try_normalize(1e-6).unwrap_or_else(Vector3::x);
        block(&mut meshes.grooves, *place, along, Half::Groove);
        block(&mut meshes.keys, *place, along, Half::Key);
    }
    let lowest = places.iter().map(|place| place.z).fold(f64::INFINITY, f64::min);
    let highest = places.iter().map(|place| place.z).fold(f64::NEG_INFINITY, f64::max);
    let outline = outline(places, &middle);
    let (below, above) = (lowest - BLOCK_HEIGHT_MM, highest + BLOCK_HEIGHT_MM);
    slab(&mut meshes.primary, &outline, below - BASE_MM, below);
    slab(&mut meshes.secondary, &outline, above, above + BASE_MM);
    for place in fixings(scene, Arch::Upper, None) {
        let at = |z: f64| Vector3::new(place.x, place.y, z);
        meshes.primary.rod(&[place - Vector3::z(), at(below - BASE_MM / 2.0)], POST_MM);
        meshes.secondary.rod(&[at(above + BASE_MM / 2.0), at(ARM_MM)], POST_MM);
    }
    let [right, left] = fixings(scene, Arch::Upper, None).map(|place| Vector3::new(place.x, place.y, ARM_MM));
    meshes.secondary.bar(right, left, Vector3::z(), 9.0, 5.0);
    meshes
}

/// A block with a groove along it, or the key that lies in it. Its shoulders are at the place.
fn block(mesh: &mut Mesh, place: Vector3<f64>, along: Vector3<f64>, half: Half) {
    let across = Vector3::z().cross(&along);
    let (half_along, half_across) = BLOCK_MM;
    let (half_notch, depth) = NOTCH_MM;
    // The profile is the same for both, so that the key fills its groove.
    let profile =
        [(-half_across, 0.0), (-half_notch, 0.0), (0.0, -depth), (half_notch, 0.0), (half_across, 0.0)];
    let back = if half == Half::Groove { -BLOCK_HEIGHT_MM } else { BLOCK_HEIGHT_MM };
    let at = |end: f64, t: f64, z: f64| place + along * (end * half_along) + across * t + Vector3::z() * z;
    for pair in profile.windows(2) {
        let [(t0, z0), (t1, z1)] = [pair[0], pair[1]];
        mesh.polygon(&[at(-1.0, t0, z0), at(1.0, t0, z0), at(1.0, t1, z1), at(-1.0, t1, z1)]);
        for end in [-1.0, 1.0] {
            mesh.polygon(&[at(end, t0, back), at(end, t1, back), at(end, t1, z1), at(end, t0, z0)]);
        }
    }
    for t in [-half_across, half_across] {
        mesh.polygon(&[at(-1.0, t, 0.0), at(1.0, t, 0.0), at(1.0, t, back), at(-1.0, t, back)]);
    }
    mesh.polygon(&[
        at(-1.0, -half_across, back),
        at(1.0, -half_across, back),
        at(1.0, half_across, back),
        at(-1.0, half_across, back),
    ]);
}

/// The outline of a base: round the places, in the order of their bearing from the middle, and a border beyond.
fn outline(places: &[Vector3<f64>], middle: &Vector3<f64>) -> Vec<[f64; 2]> {
    const CORNERS: u32 = 48;
    // The support of the places and their border, direction by direction, is convex.
    (0..CORNERS)
        .map(|corner| {
            let (sin, cos) = (std::f64::consts::TAU * f64::from(corner) / f64::from(CORNERS)).sin_cos();
            let farthest = places.iter().copied().max_by(|a, b| {
                let reach = |at: &Vector3<f64>| (at.x - middle.x) * cos + (at.y - middle.y) * sin;
                reach(a).total_cmp(&reach(b))
            });
            let farthest = farthest.unwrap_or(*middle);
            [farthest.x + cos * BORDER_MM, farthest.y + sin * BORDER_MM]
        })
        .collect()
}

fn slab(mesh: &mut Mesh, outline: &[[f64; 2]], low: f64, high: f64) {
    let ring =
        |z: f64| -> Vec<Vector3<f64>> { outline.iter().map(|[x, y]| Vector3::new(*x, *y, z)).collect() };
    let (bottom, top) = (ring(low), ring(high));
    mesh.polygon(&bottom);
    mesh.polygon(&top);
    for corner in 0..outline.len() {
        let next = (corner + 1) % outline.len();
        mesh.polygon(&[bottom[corner], bottom[next], top[next], top[corner]]);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const PLACES: [[f64; 3]; 6] = [
        [34.0, -22.0, -14.0],
        [34.0, 22.0, -14.0],
        [56.0, -26.0, -15.0],
        [56.0, 26.0, -15.0],
        [84.0, -9.0, -16.0],
        [84.0, 9.0, -16.0],
    ];

    /// What is seen between the shoulders of an open split is its gap: closed, they lie on each other, and nothing of
    /// the one half reaches into the other.
    #[test]
    fn closed_the_keys_fill_their_grooves_and_shoulders_touch_at_the_place_of_the_groove() {
        let places: Vec<Vector3<f64>> = PLACES.iter().map(|at| Vector3::from(*at)).collect();
        let meshes = split_meshes(&Scene::thirty_degree(), &places);
        for place in &places {
            let near = |mesh: &Mesh| -> Vec<f64> {
                let reach = BLOCK_MM.0.hypot(BLOCK_MM.1) + 1e-9;
                let points = mesh.points().iter();
                points.filter(|at| (*at - place).xy().norm() <= reach).map(|at| at.z - place.z).collect()
            };
            let (grooves, keys) = (near(&meshes.grooves), near(&meshes.keys));
            let greatest = grooves.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            let shoulder = keys.iter().filter(|z| **z > -1e-9).copied().fold(f64::INFINITY, f64::min);
            assert!(greatest.abs() < 1e-9 && shoulder.abs() < 1e-9, "{greatest} {shoulder}");
            let deepest = |heights: &[f64]| {
                heights.iter().filter(|z| **z > -NOTCH_MM.1 - 1e-9).copied().fold(f64::INFINITY, f64::min)
            };
            assert!((deepest(&grooves) - deepest(&keys)).abs() < 1e-9);
        }
        // Neither base reaches over the split.
        let low = meshes.secondary.points().iter().map(|at| at.z).fold(f64::INFINITY, f64::min);
        let high = meshes.primary.points().iter().map(|at| at.z).fold(f64::NEG_INFINITY, f64::max);
        assert!(low > -14.0 && high < -16.0, "{low} {high}");
    }

    #[test]
    fn without_a_groove_there_is_no_split_to_draw() {
        assert!(split_meshes(&Scene::thirty_degree(), &[]).primary.is_empty());
    }
}
