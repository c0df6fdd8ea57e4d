//! The net of excursions as triangles, and the grid that is laid over it.

use std::collections::HashMap;

use nalgebra::{Vector2, Vector3};

use super::sweep::{Fan, TableSweep};

/// Seen from above a triangle with less area than this, in square millimetres, covers nothing: those at
/// rest, where all excursions start.
const NO_AREA_MM2: f64 = 1e-12;
/// How far outside a triangle, in parts of it, a point still counts as covered.
const SEAM: f64 = 1e-9;

/// The meshes of the net.
pub(super) struct Net {
    triangles: Vec<[Vector3<f64>; 3]>,
    /// Triangle and which of its edges (from that corner to the next) for every edge of the rim.
    rim: Vec<(usize, usize)>,
}

/// The points of a table in plan, in multiples of the step from the pin's place, which is one of them.
pub(super) struct Grid {
    first: [i32; 2],
    /// Rows from back to front, columns from right to left.
    size: [usize; 2],
    step: f64,
}

impl Net {
    pub(super) fn of(fans: &[Fan; 2]) -> Self {
        let mut triangles = Vec::new();
        let mut edges: HashMap<[[u64; 2]; 2], Vec<(usize, usize)>> = HashMap::new();
        for fan in fans {
            for (one, next) in fan.iter().zip(fan.iter().skip(1)) {
                let (one, next) = (&one.places, &next.places);
                for at in 1..one.len().min(next.len()) {
                    let square = [one[at - 1], one[at], next[at], next[at - 1]];
                    for mesh in [[square[0], square[1], square[2]], [square[0], square[2], square[3]]] {
                        if area(&mesh).abs() > NO_AREA_MM2 {
                            for corner in 0..3 {
                                let ends = [key(&mesh[corner]), key(&mesh[(corner + 1) % 3])];
                                let edge = if ends[0] < ends[1] { ends } else { [ends[1], ends[0]] };
                                edges.entry(edge).or_default().push((triangles.len(), corner));
                            }
                            triangles.push(mesh);
                        }
                    }
                }
            }
        }
        // An edge of one triangle only is on the rim.
        let mut rim: Vec<_> = edges.into_values().filter(|of| of.len() == 1).flatten().collect();
        rim.sort_unstable();
        Self { triangles, rim }
    }

    /// For each point of the grid the lowest height over it, where the net covers it.
    pub(super) fn heights(&self, grid: &Grid) -> Vec<Vec<Option<f64>>> {
        let mut heights = vec![vec![None; grid.size[1]]; grid.size[0]];
        for mesh in &self.triangles {
            let whole = area(mesh);
            let (rows, columns) = grid.over(mesh);
            for row in rows {
                for column in columns.clone() {
                    let at = grid.at(row, column);
                    let part = |corner: usize| {
                        let mut moved = *mesh;
                        moved[corner] = at.push(0.0);
                        area(&moved) / whole
                    };
                    let parts = [part(0), part(1), part(2)];
                    if parts.iter().all(|part| *part >= -SEAM) {
                        let height = parts.iter().zip(mesh).map(|(part, corner)| part * corner.z).sum();
                        let lowest: &mut Option<f64> = &mut heights[row][column];
                        *lowest = Some(lowest.map_or(height, |lowest| lowest.min(height)));
                    }
                }
            }
        }
        heights
    }

    /// The rim's edges in plan, each with the plane of its triangle.
    pub(super) fn rim(&self) -> impl Iterator<Item = Edge> {
        self.rim.iter().map(|&(triangle, corner)| {
            let mesh = &self.triangles[triangle];
            Edge { from: mesh[corner], to: mesh[(corner + 1) % 3], slope: slope(mesh) }
        })
    }
}

/// An edge of the rim.
pub(super) struct Edge {
    pub(super) from: Vector3<f64>,
    pub(super) to: Vector3<f64>,
    /// Rise of its triangle's plane, forward and to the left.
    pub(super) slope: Vector2<f64>,
}

impl Grid {
    /// The grid that holds the net and the margin, for a ball wider by its radius: it touches beside its
    /// centre.
    pub(super) fn around(net: &Net, asked: &TableSweep) -> Self {
        let (step, margin) = (asked.step.mm(), asked.margin.mm() + asked.tip.radius.mm());
        let corners = || net.triangles.iter().flatten().map(Vector3::xy);
        let none = (Vector2::zeros(), Vector2::zeros());
        let (least, greatest) =
            corners().fold(none, |(least, greatest), at| (least.inf(&at), greatest.sup(&at)));
        // At least one square, whatever was swept.
        let low = |at: f64| whole(((at - margin) / step).floor()).min(-1);
        let high = |at: f64| whole(((at + margin) / step).ceil()).max(1);
        let first = [low(least.x), low(least.y)];
        let count = |from: i32, to: i32| to.abs_diff(from) as usize + 1;
        Self { first, size: [count(first[0], high(greatest.x)), count(first[1], high(greatest.y))], step }
    }

    /// The place of its rear right corner.
    pub(super) fn corner(&self) -> [f64; 2] {
        self.first.map(|first| f64::from(first) * self.step)
    }

    pub(super) const fn step(&self) -> f64 {
        self.step
    }

    pub(super) fn at(&self, row: usize, column: usize) -> Vector2<f64> {
        let place = |first: i32, index: usize| (f64::from(first) + count(index)) * self.step;
        Vector2::new(place(self.first[0], row), place(self.first[1], column))
    }

    /// Rows and columns that a triangle may cover.
    fn over(&self, mesh: &[Vector3<f64>; 3]) -> (std::ops::Range<usize>, std::ops::Range<usize>) {
        let range = |axis: usize| {
            let ends = mesh.iter().map(|corner| corner[axis] / self.step - f64::from(self.first[axis]));
            let (low, high) =
                ends.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)));
            let index = |at: f64| usize::try_from(whole(at)).unwrap_or(0);
            // A point to spare on either side, for what rounding leaves.
            index(low.floor() - 1.0)..(index(high.ceil()) + 2).min(self.size[axis])
        };
        (range(0), range(1))
    }
}

/// A whole number that is no larger than a grid has points.
#[allow(clippy::cast_possible_truncation)] // saturates
const fn whole(number: f64) -> i32 {
    number as i32
}

#[allow(clippy::cast_precision_loss)] // counts are far below 2^53
const fn count(index: usize) -> f64 {
    index as f64
}

/// Twice the area seen from above, with its sign.
fn area([a, b, c]: &[Vector3<f64>; 3]) -> f64 {
    (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x)
}

fn slope(mesh: &[Vector3<f64>; 3]) -> Vector2<f64> {
    let [a, b, c] = mesh;
    let normal = (b - a).cross(&(c - a));
    -normal.xy() / normal.z
}

/// Corners of two meshes are the same only if they are the same numbers.
fn key(corner: &Vector3<f64>) -> [u64; 2] {
    // Nought has two signs.
    [corner.x, corner.y].map(|number| (number + 0.0).to_bits())
}
