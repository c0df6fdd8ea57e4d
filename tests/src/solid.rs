//! Closed surfaces looked at as solids, by crossing them with lines along one direction.
//!
//! Written without the distance library and without the generators of surfaces, to check both.

use std::collections::HashMap;

use nalgebra::Vector3;
use sim_core::cast::Surface;
use sim_core::cusp::Tooth;

/// Where a line enters or leaves a surface.
#[derive(Clone, Copy, Debug)]
pub struct Crossing {
    /// How far along the direction.
    pub height: f64,
    /// The tooth crossed, if it is one.
    pub tooth: Option<Tooth>,
}

/// A surface sorted by what stands over each square of a plane.
#[derive(Debug)]
pub struct Shadow {
    /// Corners as (two places in the plane, height).
    corners: Vec<[Vector3<f64>; 3]>,
    teeth: Vec<Option<Tooth>>,
    squares: HashMap<(i64, i64), Vec<usize>>,
}

const SQUARE_MM: f64 = 0.7;

fn square(at: f64) -> i64 {
    #[allow(clippy::cast_possible_truncation)]
    let square = (at / SQUARE_MM).floor() as i64;
    square
}

/// A surface's vertices as (two places in the plane, height) in axes given as three unit vectors.
pub fn in_axes(surface: &Surface, axes: &[Vector3<f64>; 3]) -> Vec<Vector3<f64>> {
    surface.vertices().iter().map(|vertex| Vector3::from_fn(|axis, _| axes[axis].dot(vertex))).collect()
}

impl Shadow {
    /// The shadow along the third of three axes.
    pub fn new(surface: &Surface, axes: &[Vector3<f64>; 3]) -> Self {
        let vertices = in_axes(surface, axes);
        let corners: Vec<[Vector3<f64>; 3]> = surface
            .triangles()
            .iter()
            .map(|triangle| triangle.map(|index| vertices[index as usize]))
            .collect();
        let mut squares: HashMap<_, Vec<usize>> = HashMap::new();
        for (index, corners) in corners.iter().enumerate() {
            let range = |axis: usize| {
                let least = corners.iter().map(|corner| corner[axis]).fold(f64::INFINITY, f64::min);
                let greatest = corners.iter().map(|corner| corner[axis]).fold(f64::NEG_INFINITY, f64::max);
                square(least)..=square(greatest)
            };
            for x in range(0) {
                for y in range(1) {
                    squares.entry((x, y)).or_default().push(index);
                }
            }
        }
        let teeth = surface.teeth().map_or_else(|| vec![None; corners.len()], <[_]>::to_vec);
        Self { corners, teeth, squares }
    }

    /// Every crossing over a place in the plane, upward.
    pub fn crossings(&self, x: f64, y: f64) -> Vec<Crossing> {
        let mut crossings = Vec::new();
        for &index in self.squares.get(&(square(x), square(y))).map_or(&[][..], Vec::as_slice) {
            let [a, b, c] = &self.corners[index];
            let area = |p: [f64; 2], q: [f64; 2]| (p[0] - x) * (q[1] - y) - (p[1] - y) * (q[0] - x);
            let [p, q, r] = [[a.x, a.y], [b.x, b.y], [c.x, c.y]];
            let weights = [area(q, r), area(r, p), area(p, q)];
            let inside =
                weights.iter().all(|&weight| weight > 0.0) || weights.iter().all(|&weight| weight < 0.0);
            if inside {
                let sum: f64 = weights.iter().sum();
                let height = (weights[0] * a.z + weights[1] * b.z + weights[2] * c.z) / sum;
                crossings.push(Crossing { height, tooth: self.teeth[index] });
            }
        }
        crossings.sort_by(|a, b| a.height.total_cmp(&b.height));
        crossings
    }
}

/// The gap between an upper and a lower solid over a place, with the teeth on both sides of it;
/// below zero where they pass through each other. `None` where one of them is not there.
pub fn gap(upper: &[Crossing], lower: &[Crossing]) -> Option<(f64, [Option<Tooth>; 2])> {
    let mut least: Option<(f64, [Option<Tooth>; 2])> = None;
    for up in upper.chunks_exact(2) {
        for low in lower.chunks_exact(2) {
            let gap = up[0].height - low[1].height;
            if least.is_none_or(|(known, _)| gap < known) {
                least = Some((gap, [up[0].tooth, low[1].tooth]));
            }
        }
    }
    least
}
