//! Triangles that are no surface of teeth, by how much of it there is.

use nalgebra::Vector3;

use super::shells::area_mm2;

/// A mesh may have so many times the area of the box about it. A cast with its base has less than once; two
/// copies in one file, a hollow and crowns over their stumps make it a few times. Corners joined at random
/// make it tens of times; every one of its triangles crosses most others, and a search has nothing to go by.
/// Ours, by these reasons.
const MOST_TIMES: f64 = 8.0;

/// A mesh that fills its box with layers.
pub(super) struct Layers {
    /// Area of all triangles, mm².
    pub(super) area_mm2: f64,
    /// How many times the area of the box that is.
    pub(super) times: f64,
    /// How many times are accepted.
    pub(super) most: f64,
}

/// Refuses a mesh that fills its box with layers: that also bounds what a search in it may cost.
pub(super) fn check(vertices: &[Vector3<f64>], triangles: &[[u32; 3]]) -> Result<(), Layers> {
    let area_mm2: f64 = triangles.iter().map(|triangle| area_mm2(vertices, triangle)).sum();
    let (mut least, mut most) = (Vector3::repeat(f64::INFINITY), Vector3::repeat(f64::NEG_INFINITY));
    for &index in triangles.iter().flatten() {
        let corner = &vertices[index as usize];
        (least, most) = (least.inf(corner), most.sup(corner));
    }
    let size = most - least;
    let box_mm2 = 2.0 * (size.x * size.y + size.y * size.z + size.z * size.x);
    // Of a box without area nothing can be told; there are no needles left by now.
    if area_mm2 > MOST_TIMES * box_mm2 && box_mm2 > 0.0 {
        return Err(Layers { area_mm2, times: area_mm2 / box_mm2, most: MOST_TIMES });
    }
    Ok(())
}
