//! The pieces that a mesh falls into.

use nalgebra::Vector3;

use super::edges::{Edges, ends};
use super::sets::Sets;

/// The shells of a mesh: triangles that hang together over shared edges.
pub(in crate::cast) struct Shells {
    /// For each triangle the shell it belongs to, from 0.
    pub(in crate::cast) of: Vec<u32>,
    /// How many there are.
    pub(in crate::cast) count: usize,
}

impl Shells {
    /// Finds them. They are numbered by their first triangles.
    pub(in crate::cast) fn of(edges: &Edges, triangles: usize) -> Self {
        let mut sets = Sets::apart(triangles);
        for (_, _, uses) in edges.each() {
            for pair in uses.windows(2) {
                sets.join(pair[0].1 / 3, pair[1].1 / 3);
            }
        }
        let mut of = vec![0; triangles];
        let mut count = 0;
        for triangle in 0..triangles {
            // The least member stands for its set, so it has been numbered before the others.
            let first = sets.of(triangle as u32) as usize;
            of[triangle] = if first == triangle {
                count += 1;
                count - 1
            } else {
                of[first]
            };
        }
        Self { of, count: count as usize }
    }

    /// Sums something over the triangles of each shell.
    pub(in crate::cast) fn sums(&self, each: impl Fn(usize) -> f64) -> Vec<f64> {
        let mut sums = vec![0.0; self.count];
        for (triangle, &shell) in self.of.iter().enumerate() {
            sums[shell as usize] += each(triangle);
        }
        sums
    }
}

/// The borders of a mesh.
pub(in crate::cast) struct Borders {
    /// How many there are; two that meet at a vertex count as one.
    pub(in crate::cast) count: usize,
    /// How long they are together, mm.
    pub(in crate::cast) length_mm: f64,
    /// For each shell whether it has one.
    pub(in crate::cast) of_shell: Vec<bool>,
}

impl Borders {
    /// Finds them: edges that only one triangle uses, joined where they meet.
    pub(in crate::cast) fn of(
        edges: &Edges,
        shells: &Shells,
        vertices: &[Vector3<f64>],
        triangles: &[[u32; 3]],
    ) -> Self {
        let mut sets = Sets::apart(vertices.len());
        let mut borders = Self { count: 0, length_mm: 0.0, of_shell: vec![false; shells.count] };
        let mut on_border = vec![false; vertices.len()];
        for (_, _, uses) in edges.each() {
            if let [(_, using)] = *uses {
                let (from, to) = ends(triangles, using);
                sets.join(from, to);
                borders.length_mm += (vertices[to as usize] - vertices[from as usize]).norm();
                borders.of_shell[shells.of[using as usize / 3] as usize] = true;
                on_border[from as usize] = true;
                on_border[to as usize] = true;
            }
        }
        borders.count = (0_u32..)
            .zip(on_border)
            .filter(|&(vertex, on_border)| on_border && sets.of(vertex) == vertex)
            .count();
        borders
    }
}

/// Twice the area of a triangle, as a vector along its normal.
pub(in crate::cast) fn doubled_area(vertices: &[Vector3<f64>], triangle: &[u32; 3]) -> Vector3<f64> {
    let [a, b, c] = triangle.map(|index| vertices[index as usize]);
    (b - a).cross(&(c - a))
}

/// The area of a triangle, mm².
pub(in crate::cast) fn area_mm2(vertices: &[Vector3<f64>], triangle: &[u32; 3]) -> f64 {
    doubled_area(vertices, triangle).norm() / 2.0
}
