//! Which way round triangles are.

use nalgebra::Vector3;

use super::edges::{CROWDED, OPEN, ends};
use super::shells::area_mm2;

/// Triangles that hang together over edges of exactly two triangles, so that the way round of one
/// gives that of all.
pub(super) struct Patch {
    /// Its triangles.
    pub(super) triangles: Vec<u32>,
    /// Whether every edge of it has two triangles that agree: the patch encloses a volume.
    pub(super) closed: bool,
}

/// What [`agree`] found and did.
pub(super) struct Agreed {
    /// The patches, by their first triangles.
    pub(super) patches: Vec<Patch>,
    /// How many triangles were turned.
    pub(super) turned: usize,
    /// Edges over which the two triangles cannot be made to agree: the surface has only one side.
    pub(super) one_sided_edges: usize,
}

/// Turns triangles so that neighbours agree which side is out. In each patch the side that most of
/// the area has stays. `across` is what [`Edges::across`](super::edges::Edges::across) says of them.
pub(super) fn agree(vertices: &[Vector3<f64>], triangles: &mut [[u32; 3]], across: &[u32]) -> Agreed {
    let mut way = vec![Winding::Unknown; triangles.len()];
    let mut agreed = Agreed { patches: Vec::new(), turned: 0, one_sided_edges: 0 };
    let mut conflicts = 0;
    for first in 0..triangles.len() as u32 {
        if way[first as usize] != Winding::Unknown {
            continue;
        }
        way[first as usize] = Winding::AsGiven;
        let mut patch = Patch { triangles: vec![first], closed: true };
        let mut next = 0;
        while let Some(&triangle) = patch.triangles.get(next) {
            next += 1;
            for using in triangle * 3..triangle * 3 + 3 {
                let other = across[using as usize];
                if other == OPEN || other == CROWDED {
                    patch.closed = false;
                    continue;
                }
                // Neighbours that agree run along their common edge in opposite directions.
                let same = ends(triangles, using).0 != ends(triangles, other).0;
                let wanted = if same { way[triangle as usize] } else { way[triangle as usize].other() };
                let neighbour = &mut way[other as usize / 3];
                if *neighbour == Winding::Unknown {
                    *neighbour = wanted;
                    patch.triangles.push(other / 3);
                } else if *neighbour != wanted {
                    patch.closed = false;
                    conflicts += 1;
                }
            }
        }
        // Each triangle's own area, before any of the patch is turned.
        let area_of = |wanted: Winding| -> f64 {
            let such = patch.triangles.iter().filter(|&&at| way[at as usize] == wanted);
            such.map(|&at| area_mm2(vertices, &triangles[at as usize])).sum()
        };
        let minority = if area_of(Winding::Turned) > area_of(Winding::AsGiven) {
            Winding::AsGiven
        } else {
            Winding::Turned
        };
        for &at in &patch.triangles {
            if way[at as usize] == minority {
                agreed.turned += 1;
                way[at as usize] = Winding::ToTurn;
            }
        }
        agreed.patches.push(patch);
    }
    // Only now: until here the ends of every use are those that `across` was made from.
    for (triangle, way) in triangles.iter_mut().zip(way) {
        if way == Winding::ToTurn {
            triangle.swap(1, 2);
        }
    }
    // Each was met from both of its sides.
    agreed.one_sided_edges = conflicts / 2;
    agreed
}

/// How a triangle stands to the first of its patch.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Winding {
    Unknown,
    AsGiven,
    Turned,
    /// Belongs to the lesser part of its patch, and will be turned.
    ToTurn,
}

impl Winding {
    const fn other(self) -> Self {
        match self {
            Self::AsGiven => Self::Turned,
            _ => Self::AsGiven,
        }
    }
}
