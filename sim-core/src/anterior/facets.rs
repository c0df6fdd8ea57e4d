//! The triangles of a table formed to the teeth, made ready to be met by the pin.

use nalgebra::Vector3;

use super::HeightField;

/// How far outside a triangle a point may seem to lie and still be on it, in millimetres: above what
/// rounding leaves on an edge that two triangles share.
const EDGE_MM: f64 = 1e-9;

/// The triangles of a table, in the lower member's frame.
#[derive(Clone, Debug)]
pub(crate) struct Facets(Vec<Facet>);

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
    /// The triangles of a table; `rest` is the pin tip's place at rest with the pin flush.
    pub(crate) fn of(field: &HeightField, rest: Vector3<f64>) -> Self {
        let facet = |corners: [[f64; 3]; 3]| {
            let corners = corners.map(|corner| rest + Vector3::from(corner));
            let normal = (corners[1] - corners[0]).cross(&(corners[2] - corners[0])).normalize();
            Facet { normal, offset: normal.dot(&corners[0]), corners }
        };
        Self(field.triangles().map(facet).collect())
    }

    pub(crate) fn iter(&self) -> impl Iterator<Item = &Facet> {
        self.0.iter()
    }
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
