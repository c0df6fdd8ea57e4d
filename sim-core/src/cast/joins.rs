//! Which triangles of a surface join along an edge or about a corner.
//!
//! Corners at the same coordinates are one corner, whether the mesh shares the vertex or repeats it.

use nalgebra::Vector3;

use super::Surface;
use super::mend::{CROWDED, Edges, OPEN, doubled_area};
use super::quick::QuickMap;

/// Nothing joins here: the border of an open surface, or an edge that more than two triangles share.
const NOTHING: u32 = u32::MAX;
/// A point this near to an edge, in millimetres, is on it: above what rounding leaves of a projection.
const ON_EDGE_MM: f64 = 1e-9;

/// More triangles than this about a corner are not listed: those of a fan over a whole base would be gone
/// through for every point that is nearest to its hub. Teeth do not meet in such corners.
const MOST_ABOUT: usize = 256;

/// The joins of a surface.
#[derive(Debug)]
pub(super) struct Joins {
    /// Across each edge (from corner 0 to 1, 1 to 2, 2 to 0) of each triangle.
    across: Vec<[u32; 3]>,
    /// The first vertex at the same coordinates, for each vertex.
    same: Vec<u32>,
    /// For each vertex that is the first of its place, the sum of the outward unit normals about it, each
    /// by the angle that its triangle has there; zero where the triangles about it do not close to rings.
    outward: Vec<Vector3<f64>>,
}

impl Joins {
    pub(super) fn of(surface: &Surface) -> Self {
        let mut places: QuickMap<[u64; 3], u32> =
            QuickMap::with_capacity_and_hasher(surface.vertices().len(), Default::default());
        // Zero of either sign is one place.
        let place =
            |vertex: &Vector3<f64>| -> [u64; 3] { vertex.map(|number| (number + 0.0).to_bits()).into() };
        let same: Vec<u32> = (0u32..)
            .zip(surface.vertices())
            .map(|(at, vertex)| *places.entry(place(vertex)).or_insert(at))
            .collect();
        let corners: Vec<[u32; 3]> =
            surface.triangles().iter().map(|triangle| triangle.map(|index| same[index as usize])).collect();
        let uses = Edges::of(&corners, same.len()).across();
        let beyond = |&using: &u32| if using == OPEN || using == CROWDED { NOTHING } else { using / 3 };
        let across: Vec<[u32; 3]> =
            uses.as_chunks().0.iter().map(|uses: &[u32; 3]| uses.each_ref().map(beyond)).collect();
        let outward = outward(surface, &across, &same);
        Self { across, same, outward }
    }

    /// The way out of a surface at one of its points, which a triangle has: a point away from there along
    /// the shortest way lies outside where this goes along with it. Of no particular length; `None` at a
    /// border, where there is no inside.
    ///
    /// On an edge it is the sum of both normals, at a corner that of all, by the angles: J. A. Baerentzen and
    /// H. Aanaes, "Signed distance computation using the angle weighted pseudonormal", IEEE Transactions on
    /// Visualization and Computer Graphics 11 (2005) (from memory).
    pub(super) fn outward(
        &self,
        triangle: u32,
        point: &Vector3<f64>,
        surface: &Surface,
    ) -> Option<Vector3<f64>> {
        let normal = |at: u32| unit_normal(surface, at);
        match Place::of(triangle, point, surface) {
            Place::Inside => Some(normal(triangle)),
            Place::Edge(edge) => {
                let next = self.across[triangle as usize][edge];
                (next != NOTHING).then(|| normal(triangle) + normal(next))
            }
            Place::Corner(corner) => {
                let vertex = surface.triangles()[triangle as usize][corner];
                Some(self.outward[self.same[vertex as usize] as usize])
            }
        }
    }

    /// The triangles across the edges of one, and which edge that is.
    pub(super) fn across(&self, triangle: u32) -> impl Iterator<Item = (u32, usize)> {
        let across = self.across[triangle as usize].into_iter().zip(0..);
        across.filter(|&(next, _)| next != NOTHING)
    }

    /// The triangles that a point of a triangle is on: that one, the two of an edge, all about a
    /// corner. `None` at a border.
    pub(super) fn about(&self, triangle: u32, point: &Vector3<f64>, surface: &Surface) -> Option<Vec<u32>> {
        match Place::of(triangle, point, surface) {
            Place::Inside => Some(vec![triangle]),
            Place::Corner(corner) => self.fan(triangle, corner, surface),
            Place::Edge(edge) => {
                let next = self.across[triangle as usize][edge];
                (next != NOTHING).then(|| vec![triangle, next])
            }
        }
    }

    /// All triangles about a corner of one; `None` if they do not close to a ring, or are too many.
    fn fan(&self, triangle: u32, corner: usize, surface: &Surface) -> Option<Vec<u32>> {
        let corners = |at: u32| surface.triangles()[at as usize].map(|index| self.same[index as usize]);
        let hub = corners(triangle)[corner];
        let mut ring = vec![triangle];
        // Out over the edge that begins at the corner, and on over the edge not come by.
        let mut next = self.across[triangle as usize][corner];
        let mut last = triangle;
        while next != triangle {
            if next == NOTHING || ring.len() == MOST_ABOUT {
                return None;
            }
            ring.push(next);
            let at = corners(next).iter().position(|&index| index == hub)?;
            let ways = [at, (at + 2) % 3].map(|edge| self.across[next as usize][edge]);
            let on = if ways[0] == last { ways[1] } else { ways[0] };
            (last, next) = (next, on);
        }
        Some(ring)
    }
}

/// Where on a triangle a point is.
enum Place {
    Inside,
    Edge(usize),
    Corner(usize),
}

impl Place {
    fn of(triangle: u32, point: &Vector3<f64>, surface: &Surface) -> Self {
        let corners = surface.corners(triangle as usize);
        let is_on = |edge: usize| {
            let (from, along) = (corners[edge], corners[(edge + 1) % 3] - corners[edge]);
            let from_it = (point - from).cross(&along).norm();
            from_it <= ON_EDGE_MM * along.norm()
        };
        match [0, 1, 2].map(is_on) {
            [false, false, false] => Self::Inside,
            [true, true, _] => Self::Corner(1),
            [_, true, true] => Self::Corner(2),
            [true, _, true] => Self::Corner(0),
            [true, ..] => Self::Edge(0),
            [_, true, _] => Self::Edge(1),
            _ => Self::Edge(2),
        }
    }
}

fn unit_normal(surface: &Surface, triangle: u32) -> Vector3<f64> {
    let area = doubled_area(surface.vertices(), &surface.triangles()[triangle as usize]);
    area.try_normalize(0.0).unwrap_or_else(Vector3::zeros)
}

/// [`Joins::outward`] of every vertex.
fn outward(surface: &Surface, across: &[[u32; 3]], same: &[u32]) -> Vec<Vector3<f64>> {
    let mut outward = vec![Vector3::zeros(); same.len()];
    // Of a border, or of an edge that more than two triangles share, are both its ends.
    let mut is_open = vec![false; same.len()];
    for (at, triangle) in (0u32..).zip(surface.triangles()) {
        let normal = unit_normal(surface, at);
        let corners = surface.corners(at as usize);
        for corner in 0..3 {
            let vertex = same[triangle[corner] as usize] as usize;
            let [to, from] = [1, 2].map(|step| corners[(corner + step) % 3] - corners[corner]);
            outward[vertex] += normal * to.cross(&from).norm().atan2(to.dot(&from));
            if across[at as usize][corner] == NOTHING {
                is_open[vertex] = true;
                is_open[same[triangle[(corner + 1) % 3] as usize] as usize] = true;
            }
        }
    }
    for (outward, is_open) in outward.iter_mut().zip(is_open) {
        if is_open {
            *outward = Vector3::zeros();
        }
    }
    outward
}
