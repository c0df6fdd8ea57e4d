//! The triangles of a table formed to the teeth, made ready to be met by the pin.

use std::ops::RangeInclusive;

use nalgebra::{Vector2, Vector3};

use super::HeightField;

/// How far outside a triangle a point may seem to lie and still be on it, in millimetres: above what
/// rounding leaves on an edge that two triangles share.
const EDGE_MM: f64 = 1e-9;

/// The triangles of a table, in the lower member's frame.
#[derive(Clone, Debug)]
pub(crate) struct Facets {
    /// Two a square, squares row by row.
    facets: Vec<Facet>,
    /// The rear right corner in plan.
    corner: Vector2<f64>,
    step: f64,
    /// Squares from back to front, and from right to left.
    squares: [usize; 2],
    /// The least and the greatest height.
    heights: [f64; 2],
}

/// One triangle.
#[derive(Clone, Debug)]
pub(crate) struct Facet {
    /// Unit normal, pointing up.
    pub(crate) normal: Vector3<f64>,
    /// n·p for every point p of it, in millimetres.
    pub(crate) offset: f64,
    corners: [Vector3<f64>; 3],
}

impl Facets {
    /// The triangles of a table; `rest` is the place at rest of what glides on it, with the pin flush.
    pub(crate) fn of(field: &HeightField, rest: Vector3<f64>) -> Self {
        let facet = |corners: [[f64; 3]; 3]| {
            let corners = corners.map(|corner| rest + Vector3::from(corner));
            let normal = (corners[1] - corners[0]).cross(&(corners[2] - corners[0])).normalize();
            Facet { normal, offset: normal.dot(&corners[0]), corners }
        };
        let facets: Vec<Facet> = field.triangles().map(facet).collect();
        let (rows, columns) = field.size();
        let all = || facets.iter().flat_map(|facet| facet.corners.iter().map(|corner| corner.z));
        Self {
            corner: (rest + Vector3::from(field.at(0))).xy(),
            step: field.step_mm(),
            squares: [rows - 1, columns - 1],
            heights: [all().fold(f64::INFINITY, f64::min), all().fold(f64::NEG_INFINITY, f64::max)],
            facets,
        }
    }

    /// The least and the greatest height, in millimetres.
    pub(crate) const fn heights(&self) -> [f64; 2] {
        self.heights
    }

    /// All triangles.
    pub(crate) fn all(&self) -> impl Iterator<Item = &Facet> {
        self.facets.iter()
    }

    /// The triangles that a place no farther than `reach` from the way between two places may stand on,
    /// all seen from above.
    pub(crate) fn near(&self, [from, to]: [Vector2<f64>; 2], reach: f64) -> impl Iterator<Item = &Facet> {
        let range = |axis: usize| -> RangeInclusive<usize> {
            let place = |at: f64| (at - self.corner[axis]) / self.step;
            let (low, high) = (from[axis].min(to[axis]) - reach, from[axis].max(to[axis]) + reach);
            // A square to spare on either side, for what rounding leaves. A range may be empty.
            let first = square(place(low).floor() - 1.0);
            let last = (square(place(high).floor() + 1.0)).min(self.squares[axis] - 1);
            if place(high) < -1.0 { RangeInclusive::new(1, 0) } else { first..=last }
        };
        let (rows, columns) = (range(0), range(1));
        let across = self.squares[1];
        rows.flat_map(move |row| columns.clone().map(move |column| 2 * (row * across + column)))
            .flat_map(|first| self.facets[first..first + 2].iter())
    }
}

/// A place in the grid as a number; below nought it is the first.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // saturates
const fn square(place: f64) -> usize {
    place as usize
}

impl Facet {
    /// Whether a point of its plane is on it, seen from above.
    pub(crate) fn holds(&self, point: &Vector3<f64>) -> bool {
        (0..3).all(|from| {
            let (from, to) = (self.corners[from], self.corners[(from + 1) % 3]);
            let (along, across) = (to - from, point - from);
            along.x * across.y - along.y * across.x >= -EDGE_MM * along.x.hypot(along.y)
        })
    }
}
