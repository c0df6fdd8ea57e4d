//! Vertices that are one point become one vertex.

use nalgebra::Vector3;

use crate::cast::quick::QuickMap;
use crate::units::Length;

/// Vertices nearer than this become one.
///
/// Files hold coordinates in 32 bits, where neighbouring numbers near 100 mm are 7.6e-6 mm apart, so
/// that a point computed twice may differ by 1.3e-5 mm. A tenth of a micrometre is above that, a
/// tenth of what contacts are found to, and far below the sides of a scan's triangles (tens of
/// micrometres; common practice, no source).
pub const WELD: Length = Length::from_mm(1e-4);

/// Cells of the grid that near vertices are looked up in, in welding distances. Kept vertices are a
/// welding distance apart, so a cell holds a bounded number of them, and few vertices are so near a
/// wall of their cell that neighbours must be looked up too.
const CELL: f64 = 4.0;

/// For each vertex the one it becomes, and how many were merged.
pub(super) struct Welded {
    /// The vertices that stay.
    pub(super) kept: Vec<u32>,
    /// For each vertex given, its place among those kept.
    pub(super) becomes: Vec<u32>,
    /// How many had exactly the coordinates of another.
    pub(super) same: usize,
    /// How many were only near another.
    pub(super) near: usize,
}

/// Merges vertices that are the same or nearer than [`WELD`]. The first of them stays where it is.
pub(super) fn weld(vertices: &[Vector3<f64>]) -> Welded {
    let exact = same(vertices);
    let near = near(&exact.kept.iter().map(|&at| vertices[at as usize]).collect::<Vec<_>>());
    Welded {
        same: vertices.len() - exact.kept.len(),
        near: exact.kept.len() - near.kept.len(),
        kept: near.kept.iter().map(|&at| exact.kept[at as usize]).collect(),
        becomes: exact.becomes.iter().map(|&at| near.becomes[at as usize]).collect(),
    }
}

struct Merged {
    kept: Vec<u32>,
    becomes: Vec<u32>,
}

/// Merges what has equal coordinates.
fn same(vertices: &[Vector3<f64>]) -> Merged {
    // Of the corners of separate triangles, about every sixth is a new place.
    let mut seen: QuickMap<[u64; 3], u32> =
        QuickMap::with_capacity_and_hasher(vertices.len() / 6, Default::default());
    let mut merged = Merged { kept: Vec::new(), becomes: Vec::with_capacity(vertices.len()) };
    for (vertex, at) in vertices.iter().zip(0_u32..) {
        // Zero has two signs, and both are the same place.
        let key: [u64; 3] = vertex.map(|number| (number + 0.0).to_bits()).into();
        let next = merged.kept.len() as u32;
        let place = *seen.entry(key).or_insert(next);
        if place == next {
            merged.kept.push(at);
        }
        merged.becomes.push(place);
    }
    merged
}

/// Merges what is near one that is kept.
fn near(vertices: &[Vector3<f64>]) -> Merged {
    let reach = WELD.mm();
    let cell = |number: f64| (number / (CELL * reach)).floor() as i64;
    // The last vertex kept in each cell, and for each kept vertex the one before it in its cell.
    let mut last: QuickMap<[i64; 3], u32> =
        QuickMap::with_capacity_and_hasher(vertices.len(), Default::default());
    let mut before: Vec<u32> = Vec::new();
    let mut merged = Merged { kept: Vec::new(), becomes: Vec::with_capacity(vertices.len()) };
    for (vertex, at) in vertices.iter().zip(0_u32..) {
        let least: [i64; 3] = vertex.map(|number| cell(number - reach)).into();
        let most: [i64; 3] = vertex.map(|number| cell(number + reach)).into();
        let mut found: Option<u32> = None;
        for x in least[0]..=most[0] {
            for y in least[1]..=most[1] {
                for z in least[2]..=most[2] {
                    let mut place = last.get(&[x, y, z]).copied();
                    while let Some(kept) = place {
                        let distance = (vertices[merged.kept[kept as usize] as usize] - vertex).norm();
                        if distance <= reach {
                            // The first one kept, so that the outcome does not hang on the cells.
                            found = Some(found.map_or(kept, |other| other.min(kept)));
                        }
                        place = Some(before[kept as usize]).filter(|&other| other != NONE);
                    }
                }
            }
        }
        let place = found.unwrap_or_else(|| {
            let place = merged.kept.len() as u32;
            let own: [i64; 3] = vertex.map(cell).into();
            before.push(last.insert(own, place).unwrap_or(NONE));
            merged.kept.push(at);
            place
        });
        merged.becomes.push(place);
    }
    merged
}

const NONE: u32 = u32::MAX;
