//! Small meshes with closed forms, and poses.

use nalgebra::{Matrix3, Rotation3, Vector3};
use parry3d_f64::math::{Pose, Vector};
use parry3d_f64::shape::TriMesh;

use crate::cast::Surface;
use crate::frame::JawPose;

/// A grid of a surface over parameters in the unit square, closed or not in either, seen from the side
/// of ∂u × ∂v.
pub(super) fn grid(
    [columns, rows]: [usize; 2],
    [round, over]: [bool; 2],
    at: impl Fn(f64, f64) -> Vector3<f64>,
) -> Surface {
    let (wide, high) = (columns + usize::from(!round), rows + usize::from(!over));
    let mut vertices = Vec::new();
    for row in 0..high {
        for column in 0..wide {
            vertices.push(at(column as f64 / columns as f64, row as f64 / rows as f64));
        }
    }
    let index = |column: usize, row: usize| u32::try_from(column % wide + row % high * wide).unwrap();
    let mut triangles = Vec::new();
    for row in 0..rows {
        for column in 0..columns {
            let [a, b] = [index(column, row), index(column + 1, row)];
            let [c, d] = [index(column, row + 1), index(column + 1, row + 1)];
            triangles.extend([[a, b, d], [a, d, c]]);
        }
    }
    Surface::new(vertices, triangles).unwrap()
}

/// A level sheet over ± half a side, with a height over it; seen from above, or from below.
pub(super) fn sheet(
    steps: usize,
    [wide, deep]: [f64; 2],
    above: bool,
    height: impl Fn(f64, f64) -> f64,
) -> Surface {
    grid([steps; 2], [false; 2], |u, v| {
        let (x, y) = (wide * (u - 0.5), deep * (v - 0.5));
        let x = if above { x } else { -x };
        Vector3::new(x, y, height(x, y))
    })
}

/// A torus about z.
pub(super) fn torus(middle: f64, tube: f64, steps: [usize; 2]) -> Surface {
    grid(steps, [true; 2], |u, v| {
        let (u, v) = (u * std::f64::consts::TAU, v * std::f64::consts::TAU);
        let out = middle + tube * v.cos();
        Vector3::new(out * u.cos(), out * u.sin(), tube * v.sin())
    })
}

/// A sphere with a vertex at its top and one at its bottom.
pub(super) fn sphere(radius: f64, steps: usize) -> Surface {
    grid([2 * steps, steps], [true, false], |u, v| {
        let (sin, cos) = (u * std::f64::consts::TAU).sin_cos();
        let (across, up) = ((v - 0.5) * std::f64::consts::PI).sin_cos();
        Vector3::new(radius * up * cos, radius * up * sin, radius * across)
    })
}

/// A surface of hills at random places, seen from above or from below.
pub(super) fn hills(seed: u64, steps: usize, above: bool) -> Surface {
    let phase = |k: u64| ((seed.wrapping_mul(2_654_435_761).wrapping_add(k * 40_503)) % 6283) as f64 / 1000.0;
    let sign = if above { 1.0 } else { -1.0 };
    sheet(steps, [20.0, 20.0], above, |x, y| {
        sign * ((0.5 * x + phase(1)).sin()
            + (0.7 * y + phase(2)).sin()
            + 0.3 * (1.9 * (x + y) + phase(3)).sin())
    })
}

pub(super) fn shifted(surface: Surface, by: Vector3<f64>) -> Surface {
    surface.moved(|vertex| vertex + by).unwrap()
}

pub(super) fn turned(surface: Surface, turn: &Matrix3<f64>) -> Surface {
    surface.moved(|vertex| turn * vertex).unwrap()
}

pub(super) fn rotation(roll: f64, pitch: f64, yaw: f64) -> Matrix3<f64> {
    *Rotation3::from_euler_angles(roll, pitch, yaw).matrix()
}

pub(super) fn pose(turn: Matrix3<f64>, shift: Vector3<f64>) -> JawPose {
    JawPose::rigid(turn, shift)
}

/// The same mesh as parry has it, moved.
pub(super) fn parry(surface: &Surface, place: impl Fn(&Vector3<f64>) -> Vector3<f64>) -> TriMesh {
    let vertices = surface.vertices().iter().map(place).map(|v| Vector::new(v.x, v.y, v.z));
    TriMesh::new(vertices.collect(), surface.triangles().to_vec()).unwrap()
}

/// Whether two surfaces cross, by parry.
pub(super) fn cross(one: &TriMesh, other: &TriMesh) -> bool {
    parry3d_f64::query::intersection_test(&Pose::IDENTITY, one, &Pose::IDENTITY, other).unwrap().intersecting
}
