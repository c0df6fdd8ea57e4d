//! A table as a solid that can be printed.

use nalgebra::Vector3;

use super::error::{NoTable, TableSize, check};
use crate::anterior::HeightField;
use crate::cast::Surface;
use crate::units::Length;

/// How a table is printed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TablePrint {
    /// Material below the lowest point of the table; 0.5 to 50 mm.
    pub thickness: Length,
}

impl Default for TablePrint {
    /// Three millimetres at the thinnest place.
    fn default() -> Self {
        Self { thickness: Length::from_mm(3.0) }
    }
}

impl TablePrint {
    /// The table as one closed solid: its own triangles on top, upright walls, a level base. In
    /// millimetres, anterior, left and up from the pin tip's place at rest.
    ///
    /// # Errors
    /// [`NoTable::Size`] for a thickness out of range.
    pub fn solid(&self, field: &HeightField) -> Result<Surface, NoTable> {
        check(TableSize::Thickness, self.thickness, 0.5, 50.0)?;
        let (rows, columns) = field.size();
        let at = |row, column| field.point(row, column).map(Vector3::from);
        let mut vertices: Vec<Vector3<f64>> =
            (0..rows * columns).filter_map(|index| at(index / columns, index % columns)).collect();
        let lowest = vertices.iter().map(|vertex| vertex.z).fold(f64::INFINITY, f64::min);
        let base = lowest - self.thickness.mm();
        let mut triangles: Vec<[usize; 3]> = field.meshes().collect();
        // Once round the rim, counter-clockwise seen from above, where anterior is x and left is y.
        let front = (0..rows).map(|row| row * columns);
        let left = (1..columns).map(|column| (rows - 1) * columns + column);
        let back = (0..rows - 1).rev().map(|row| row * columns + columns - 1);
        let right = (1..columns - 1).rev();
        let rim: Vec<usize> = front.chain(left).chain(back).chain(right).collect();
        let below = vertices.len();
        for &index in &rim {
            vertices.push(vertices[index].xy().push(base));
        }
        let middle = vertices.len();
        let across = vertices[0] + vertices[below - 1];
        vertices.push(Vector3::new(across.x / 2.0, across.y / 2.0, base));
        for (place, &one) in rim.iter().enumerate() {
            let after = (place + 1) % rim.len();
            let (next, under, under_next) = (rim[after], below + place, below + after);
            triangles.push([one, under, next]);
            triangles.push([next, under, under_next]);
            triangles.push([middle, under_next, under]);
        }
        #[allow(clippy::cast_possible_truncation)] // a table has at most 100,000 heights
        let triangles = triangles.into_iter().map(|triangle| triangle.map(|index| index as u32)).collect();
        Ok(Surface::new(vertices, triangles)?)
    }
}

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use super::TablePrint;
    use crate::anterior::HeightField;
    use crate::cast::Surface;
    use crate::units::Length;

    fn volume(surface: &Surface) -> f64 {
        (0..surface.triangles().len())
            .map(|triangle| {
                let [a, b, c] = surface.corners(triangle);
                a.dot(&b.cross(&c)) / 6.0
            })
            .sum()
    }

    fn solid(rows: &[Vec<f64>], thickness: f64) -> Surface {
        let field = HeightField::new([-1.0, -2.0], 0.5, rows).unwrap();
        TablePrint { thickness: Length::from_mm(thickness) }.solid(&field).unwrap()
    }

    #[test]
    fn a_level_table_is_a_block() {
        // 2 × 1 squares of half a millimetre, 3 mm thick.
        let block = solid(&[vec![0.7; 2], vec![0.7; 2], vec![0.7; 2]], 3.0);
        assert!((volume(&block) - 1.0 * 0.5 * 3.0).abs() < 1e-12);
    }

    #[test]
    fn every_edge_joins_two_triangles_and_the_volume_is_that_under_the_heights() {
        let rows = [vec![0.0, 1.0, 0.5], vec![-0.5, 0.2, 0.3], vec![0.9, 0.0, -0.1], vec![1.0, 0.4, 0.6]];
        let surface = solid(&rows, 2.0);
        let mut edges = HashSet::new();
        for [a, b, c] in surface.triangles() {
            for edge in [(a, b), (b, c), (c, a)] {
                assert!(edges.insert((*edge.0, *edge.1)), "an edge twice in one direction");
            }
        }
        assert!(edges.iter().all(|(from, to)| edges.contains(&(*to, *from))));
        // Each square is two prisms of mean height over half a square, parted along the lower diagonal.
        let mut expected = 0.0;
        for row in 1..rows.len() {
            for column in 1..rows[0].len() {
                let height = |back: usize, right: usize| rows[row - back][column - right] + 0.5 + 2.0;
                let (a, b, c, d) = (height(1, 1), height(0, 1), height(0, 0), height(1, 0));
                let (lower, other) = if a + c <= b + d { (a + c, b + d) } else { (b + d, a + c) };
                expected += 0.125 * (2.0 * lower + other) / 3.0;
            }
        }
        assert!((volume(&surface) - expected).abs() < 1e-12);
    }

    #[test]
    fn a_table_without_thickness_is_refused() {
        let field = HeightField::new([0.0, 0.0], 1.0, &[vec![0.0; 2], vec![0.0; 2]]).unwrap();
        for thickness in [0.0, -1.0, f64::NAN, 51.0] {
            assert!(TablePrint { thickness: Length::from_mm(thickness) }.solid(&field).is_err());
        }
    }
}
