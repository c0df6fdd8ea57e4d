//! Triangles as a file holds them: nothing about them is known yet.

use nalgebra::Vector3;

use super::CastUnit;
use crate::cusp::Tooth;

/// Vertices and triangles in no particular order, not yet checked, in whatever unit; what a reader
/// hands to [`mend`](super::mend).
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Soup {
    /// The vertices.
    pub vertices: Vec<Vector3<f64>>,
    /// The triangles, as indices of vertices, from 0.
    pub triangles: Vec<[u32; 3]>,
    /// A colour (red, green, blue) for each vertex.
    pub colours: Option<Vec<[u8; 3]>>,
    /// The tooth of each triangle, where it is known.
    pub teeth: Option<Vec<Option<Tooth>>>,
}

impl Soup {
    /// Extents along the three axes of what the triangles use; all zero without any triangle.
    /// Indices that name no vertex are passed over.
    #[must_use]
    pub fn extents(&self) -> [f64; 3] {
        let mut corners =
            self.triangles.iter().flatten().filter_map(|&index| self.vertices.get(index as usize));
        let Some(&first) = corners.next() else {
            return [0.0; 3];
        };
        let (least, greatest) = corners.fold((first, first), |(least, greatest), corner| {
            (least.zip_map(corner, f64::min), greatest.zip_map(corner, f64::max))
        });
        (greatest - least).into()
    }

    /// The same in millimetres, from the unit it is in.
    #[must_use]
    pub fn in_mm(mut self, unit: CastUnit) -> Self {
        if unit != CastUnit::Millimetre {
            for vertex in &mut self.vertices {
                *vertex *= unit.mm();
            }
        }
        self
    }
}
