//! The vertical gap at every vertex of an arch.

use nalgebra::{Matrix3, Vector3};

use super::Surface;
use super::casts::Casts;
use super::map::Map;
use crate::cusp::Arch;
use crate::frame::{JawPose, OcclusalPlane};
use crate::units::Length;

/// How far outside an edge, in parts of the triangle, a point counts as inside: so that rounding leaves
/// no gap between neighbours.
const SEAM: f64 = 1e-10;
/// Cells of the grid in plan reach farther than they are wide by this part, so that no vertex is lost to
/// rounding.
const OVERLAP: f64 = 1e-6;

impl Casts {
    /// The vertical gap from each vertex of an arch to the opposing surface in a jaw pose, in the order
    /// of [`Surface::vertices`].
    ///
    /// The vertical is the normal of the occlusal plane in the upper frame. As for
    /// [`super::CastsReading::vertical`], only sides that face each other count, and the gap is below zero
    /// where the lower surface stands above the upper; of several opposing layers the one that gives
    /// the least gap. `None` where the vertex faces away or nothing is opposite within `cap` either
    /// way.
    #[must_use]
    pub fn clearance_map(
        &self,
        pose: &JawPose,
        plane: OcclusalPlane,
        arch: Arch,
        cap: Length,
    ) -> Vec<Option<Length>> {
        let rows = [plane.anterior(), Vector3::y(), plane.normal()].map(|row| row.transpose());
        let axes = Matrix3::from_rows(&rows);
        let seen = |arch| match arch {
            Arch::Upper => seen_from(self.surface(arch), &Map::identity().seen(&axes)),
            Arch::Lower => seen_from(self.surface(arch), &Map::jaw(pose).seen(&axes)),
        };
        let (own, opposing) = (seen(arch), seen(arch.opposite()));
        let faces = |arch, corners: [&Vector3<f64>; 3]| match arch {
            Arch::Upper => -doubled_area(corners),
            Arch::Lower => doubled_area(corners),
        };
        let mut facing = vec![false; own.len()];
        for triangle in self.surface(arch).triangles() {
            if faces(arch, triangle.map(|index| &own[index as usize])) > 0.0 {
                for &vertex in triangle {
                    facing[vertex as usize] = true;
                }
            }
        }
        let grid = Grid::of(&own, &facing);
        let mut gaps = vec![None; own.len()];
        for triangle in self.surface(arch.opposite()).triangles() {
            let corners = triangle.map(|index| &opposing[index as usize]);
            if faces(arch.opposite(), corners) <= 0.0 {
                continue;
            }
            grid.within(corners, |vertex| {
                let Some(height) = height_at(corners, &own[vertex as usize]) else { return };
                let above = height - own[vertex as usize].z;
                let gap = if arch == Arch::Lower { above } else { -above };
                let least: &mut Option<f64> = &mut gaps[vertex as usize];
                if gap.abs() <= cap.mm() && least.is_none_or(|least| gap < least) {
                    *least = Some(gap);
                }
            });
        }
        gaps.into_iter().map(|gap| gap.map(Length::from_mm)).collect()
    }
}

fn seen_from(surface: &Surface, map: &Map) -> Vec<Vector3<f64>> {
    surface.vertices().iter().map(|vertex| map.point(vertex)).collect()
}

/// Twice the area of a triangle in plan, less than zero where it is seen from below.
#[inline]
fn doubled_area([a, b, c]: [&Vector3<f64>; 3]) -> f64 {
    (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x)
}

/// The height of a triangle at a place in plan, if it is there.
#[inline]
fn height_at([a, b, c]: [&Vector3<f64>; 3], at: &Vector3<f64>) -> Option<f64> {
    let area = doubled_area([a, b, c]);
    let parts = [[at, b, c], [a, at, c], [a, b, at]].map(|corners| doubled_area(corners) / area);
    let is_inside = parts.iter().all(|part| *part >= -SEAM);
    is_inside.then(|| parts[0] * a.z + parts[1] * b.z + parts[2] * c.z)
}

/// Vertices sorted into square cells in plan, about one a cell.
struct Grid {
    start: [f64; 2],
    cell: f64,
    columns: usize,
    rows: usize,
    /// Where each cell's vertices begin in `vertices`, and where the last one's end.
    begins: Vec<usize>,
    vertices: Vec<u32>,
}

impl Grid {
    fn of(vertices: &[Vector3<f64>], wanted: &[bool]) -> Self {
        let chosen =
            || (0u32..).zip(vertices).zip(wanted).filter(|(_, wanted)| **wanted).map(|(vertex, _)| vertex);
        let everywhere = [f64::INFINITY, f64::NEG_INFINITY];
        let widened = |[least, most]: [f64; 2], number: f64| [least.min(number), most.max(number)];
        let (across, along, count) = chosen()
            .fold((everywhere, everywhere, 0_u32), |(x, y, n), (_, vertex)| {
                (widened(x, vertex.x), widened(y, vertex.y), n + 1)
            });
        let sides = [across[1] - across[0], along[1] - along[0]].map(|side| side.max(f64::MIN_POSITIVE));
        // A line of vertices gets as many cells as a field of them.
        let count_in_field = f64::from(count.max(1));
        let cell = (sides[0] * sides[1] / count_in_field).sqrt().max(sides[0].max(sides[1]) / count_in_field);
        let mut grid = Self {
            start: [across[0], along[0]],
            cell,
            columns: 1,
            rows: 1,
            begins: Vec::new(),
            vertices: Vec::new(),
        };
        if count == 0 {
            (grid.start, grid.cell, grid.begins) = ([0.0; 2], 1.0, vec![0, 0]);
            return grid;
        }
        grid.columns = grid.steps(0, across[1]) + 1;
        grid.rows = grid.steps(1, along[1]) + 1;
        let place = |vertex: &Vector3<f64>| grid.steps(1, vertex.y) * grid.columns + grid.steps(0, vertex.x);
        let mut begins = vec![0; grid.columns * grid.rows + 1];
        for (_, vertex) in chosen() {
            begins[place(vertex) + 1] += 1;
        }
        for at in 1..begins.len() {
            begins[at] += begins[at - 1];
        }
        let mut next = begins.clone();
        let mut sorted = vec![0; count as usize];
        for (index, vertex) in chosen() {
            let cell = &mut next[place(vertex)];
            sorted[*cell] = index;
            *cell += 1;
        }
        (grid.begins, grid.vertices) = (begins, sorted);
        grid
    }

    /// How many cells from the start a coordinate is.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // less than zero is zero here
    #[inline]
    fn steps(&self, axis: usize, coordinate: f64) -> usize {
        ((coordinate - self.start[axis]) / self.cell) as usize
    }

    /// Visits the vertices in the cells about a triangle.
    #[inline]
    fn within(&self, corners: [&Vector3<f64>; 3], mut visit: impl FnMut(u32)) {
        let margin = self.cell * OVERLAP;
        let span = |axis: usize| {
            let [a, b, c] = corners.map(|corner| corner[axis]);
            (a.min(b).min(c) - margin, a.max(b).max(c) + margin)
        };
        let (across, along) = (span(0), span(1));
        if across.1 < self.start[0] || along.1 < self.start[1] {
            return;
        }
        let last_column = self.steps(0, across.1).min(self.columns - 1);
        for row in self.steps(1, along.0)..=self.steps(1, along.1).min(self.rows - 1) {
            let first = self.steps(0, across.0);
            if first > last_column {
                return;
            }
            let cells = row * self.columns;
            for &vertex in &self.vertices[self.begins[cells + first]..self.begins[cells + last_column + 1]] {
                visit(vertex);
            }
        }
    }
}
