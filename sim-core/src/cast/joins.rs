//! Which triangles of a surface join along an edge or about a corner.
//!
//! Corners at the same coordinates are one corner, whether the mesh shares the vertex or repeats it.

use std::collections::HashMap;

use nalgebra::Vector3;

use super::Surface;

/// Nothing joins here: the border of an open surface, or an edge that more than two triangles share.
const NOTHING: u32 = u32::MAX;
/// A point this near to an edge, in millimetres, is on it: above what rounding leaves of a projection.
const ON_EDGE_MM: f64 = 1e-9;

/// The joins of a surface.
#[derive(Debug)]
pub(super) struct Joins {
    /// Across each edge (from corner 0 to 1, 1 to 2, 2 to 0) of each triangle.
    across: Vec<[u32; 3]>,
    /// The first vertex at the same coordinates, for each vertex.
    same: Vec<u32>,
}

impl Joins {
    pub(super) fn of(surface: &Surface) -> Self {
        let mut places: HashMap<[u64; 3], u32> = HashMap::with_capacity(surface.vertices().len());
        // Zero of either sign is one place.
        let place =
            |vertex: &Vector3<f64>| -> [u64; 3] { vertex.map(|number| (number + 0.0).to_bits()).into() };
        let same: Vec<u32> = (0u32..)
            .zip(surface.vertices())
            .map(|(at, vertex)| *places.entry(place(vertex)).or_insert(at))
            .collect();
        let mut edges = Vec::with_capacity(surface.triangles().len() * 3);
        for (at, triangle) in (0u32..).zip(surface.triangles()) {
            let corners = triangle.map(|index| same[index as usize]);
            for edge in 0..3u8 {
                let ends = [corners[usize::from(edge)], corners[usize::from(edge + 1) % 3]];
                edges.push((ends[0].min(ends[1]), ends[0].max(ends[1]), at, edge));
            }
        }
        edges.sort_unstable();
        let mut across = vec![[NOTHING; 3]; surface.triangles().len()];
        for shared in edges.chunk_by(|one, other| (one.0, one.1) == (other.0, other.1)) {
            if let [one, other] = shared {
                across[one.2 as usize][usize::from(one.3)] = other.2;
                across[other.2 as usize][usize::from(other.3)] = one.2;
            }
        }
        Self { across, same }
    }

    /// The triangles across the edges of one, and which edge that is.
    pub(super) fn across(&self, triangle: u32) -> impl Iterator<Item = (u32, usize)> {
        let across = self.across[triangle as usize].into_iter().zip(0..);
        across.filter(|&(next, _)| next != NOTHING)
    }

    /// The triangles that a point of a triangle is on: that one, the two of an edge, all about a
    /// corner. `None` at a border.
    pub(super) fn about(&self, triangle: u32, point: &Vector3<f64>, surface: &Surface) -> Option<Vec<u32>> {
        let corners = surface.corners(triangle as usize);
        let is_on = |edge: usize| {
            let (from, along) = (corners[edge], corners[(edge + 1) % 3] - corners[edge]);
            let from_it = (point - from).cross(&along).norm();
            from_it <= ON_EDGE_MM * along.norm()
        };
        let on = [0, 1, 2].map(is_on);
        match on {
            [false, false, false] => Some(vec![triangle]),
            [true, true, _] => self.fan(triangle, 1, surface),
            [_, true, true] => self.fan(triangle, 2, surface),
            [true, _, true] => self.fan(triangle, 0, surface),
            _ => {
                let next = (0..3).find(|&edge| on[edge]).map(|edge| self.across[triangle as usize][edge]);
                next.filter(|&next| next != NOTHING).map(|next| vec![triangle, next])
            }
        }
    }

    /// All triangles about a corner of one; `None` if they do not close to a ring.
    fn fan(&self, triangle: u32, corner: usize, surface: &Surface) -> Option<Vec<u32>> {
        let corners = |at: u32| surface.triangles()[at as usize].map(|index| self.same[index as usize]);
        let hub = corners(triangle)[corner];
        let mut ring = vec![triangle];
        // Out over the edge that begins at the corner, and on over the edge not come by.
        let mut next = self.across[triangle as usize][corner];
        let mut last = triangle;
        while next != triangle {
            // A mesh joined to itself in a knot about the corner has no ring either.
            if next == NOTHING || ring.contains(&next) {
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
