//! A triangle mesh that is sound: every number finite, every index in range.

use nalgebra::Vector3;

use crate::cusp::Tooth;

/// A sound triangle mesh, in millimetres, in whatever frame its maker says.
///
/// Triangles are seen counter-clockwise from outside, where outside is known.
#[derive(Clone, Debug, PartialEq)]
pub struct Surface {
    vertices: Vec<Vector3<f64>>,
    triangles: Vec<[u32; 3]>,
    colours: Option<Vec<[u8; 3]>>,
    teeth: Option<Vec<Option<Tooth>>>,
}

/// Why vertices and triangles are no surface.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum SurfaceError {
    /// Nothing in it.
    #[error("there is no triangle in it; a cast is a surface of triangles")]
    Empty,
    /// More than indices of 32 bits can tell apart.
    #[error("there are {vertices} vertices in it; allowed are up to {}", u32::MAX)]
    TooMany {
        /// Vertices given.
        vertices: usize,
    },
    /// A coordinate that is no number.
    #[error("vertex {vertex} is at ({x}, {y}, {z}); every coordinate must be a finite number")]
    NotFinite {
        /// Which vertex, from 1.
        vertex: usize,
        /// First coordinate.
        x: f64,
        /// Second coordinate.
        y: f64,
        /// Third coordinate.
        z: f64,
    },
    /// A triangle of a vertex that is not there.
    #[error("triangle {triangle} asks for vertex {index}; there are {vertices} of them, counted from 0")]
    NoSuchVertex {
        /// Which triangle, from 1.
        triangle: usize,
        /// The index asked for.
        index: u32,
        /// Vertices there are.
        vertices: usize,
    },
    /// Colours or tooth labels that do not go with the mesh.
    #[error("{given} {what} are given for {wanted}; one each is needed")]
    Uneven {
        /// `colours` or `tooth labels`.
        what: &'static str,
        /// How many are given.
        given: usize,
        /// How many are needed.
        wanted: usize,
    },
}

impl Surface {
    /// A surface from its vertices (millimetres) and triangles (indices from 0, counter-clockwise
    /// seen from outside).
    ///
    /// # Errors
    /// [`SurfaceError`] for no triangle, a coordinate that is not finite, an index out of range.
    pub fn new(vertices: Vec<Vector3<f64>>, triangles: Vec<[u32; 3]>) -> Result<Self, SurfaceError> {
        Self::check(&vertices, &triangles)?;
        Ok(Self { vertices, triangles, colours: None, teeth: None })
    }

    /// Whether these would be a surface.
    pub(super) fn check(vertices: &[Vector3<f64>], triangles: &[[u32; 3]]) -> Result<(), SurfaceError> {
        if triangles.is_empty() {
            return Err(SurfaceError::Empty);
        }
        let count = vertices.len();
        if u32::try_from(count).is_err() {
            return Err(SurfaceError::TooMany { vertices: count });
        }
        if let Some(at) = vertices.iter().position(|vertex| !vertex.iter().all(|number| number.is_finite())) {
            let [x, y, z] = vertices[at].into();
            return Err(SurfaceError::NotFinite { vertex: at + 1, x, y, z });
        }
        for (at, triangle) in triangles.iter().enumerate() {
            if let Some(&index) = triangle.iter().find(|&&index| index as usize >= count) {
                return Err(SurfaceError::NoSuchVertex { triangle: at + 1, index, vertices: count });
            }
        }
        Ok(())
    }

    /// The same surface with a colour (red, green, blue) at each vertex.
    ///
    /// # Errors
    /// [`SurfaceError::Uneven`] unless there is one for each vertex.
    pub fn with_colours(mut self, colours: Vec<[u8; 3]>) -> Result<Self, SurfaceError> {
        let (given, wanted) = (colours.len(), self.vertices.len());
        if given != wanted {
            return Err(SurfaceError::Uneven { what: "colours", given, wanted });
        }
        self.colours = Some(colours);
        Ok(self)
    }

    /// The same surface with the tooth that each triangle belongs to, where that is known.
    ///
    /// # Errors
    /// [`SurfaceError::Uneven`] unless there is one for each triangle.
    pub fn with_teeth(mut self, teeth: Vec<Option<Tooth>>) -> Result<Self, SurfaceError> {
        let (given, wanted) = (teeth.len(), self.triangles.len());
        if given != wanted {
            return Err(SurfaceError::Uneven { what: "tooth labels", given, wanted });
        }
        self.teeth = Some(teeth);
        Ok(self)
    }

    /// The vertices, in millimetres.
    #[must_use]
    pub fn vertices(&self) -> &[Vector3<f64>] {
        &self.vertices
    }

    /// The triangles, as indices of vertices.
    #[must_use]
    pub fn triangles(&self) -> &[[u32; 3]] {
        &self.triangles
    }

    /// The colour (red, green, blue) of each vertex, if the surface has colours.
    #[must_use]
    pub fn colours(&self) -> Option<&[[u8; 3]]> {
        self.colours.as_deref()
    }

    /// The tooth of each triangle, if the surface has labels.
    #[must_use]
    pub fn teeth(&self) -> Option<&[Option<Tooth>]> {
        self.teeth.as_deref()
    }

    /// The three corners of a triangle.
    #[must_use]
    #[inline]
    pub fn corners(&self, triangle: usize) -> [Vector3<f64>; 3] {
        let [a, b, c] = self.triangles[triangle];
        [self.vertices[a as usize], self.vertices[b as usize], self.vertices[c as usize]]
    }

    /// Least and greatest coordinates.
    #[must_use]
    pub fn bounds(&self) -> (Vector3<f64>, Vector3<f64>) {
        let first = self.vertices[self.triangles[0][0] as usize];
        self.vertices.iter().fold((first, first), |(least, greatest), vertex| {
            (least.zip_map(vertex, f64::min), greatest.zip_map(vertex, f64::max))
        })
    }

    /// The surface with every vertex moved by a rigid motion or a change of unit; triangles, colours
    /// and labels stay.
    ///
    /// # Errors
    /// [`SurfaceError::NotFinite`] where the motion leaves a coordinate that is no number.
    pub fn moved(mut self, motion: impl Fn(&Vector3<f64>) -> Vector3<f64>) -> Result<Self, SurfaceError> {
        for (at, vertex) in self.vertices.iter_mut().enumerate() {
            *vertex = motion(vertex);
            if !vertex.iter().all(|number| number.is_finite()) {
                let [x, y, z] = (*vertex).into();
                return Err(SurfaceError::NotFinite { vertex: at + 1, x, y, z });
            }
        }
        Ok(self)
    }

    /// Turns the triangles for which this is true, so that their other side is out.
    pub(super) fn turn(&mut self, which: impl Fn(usize) -> bool) {
        for (at, triangle) in self.triangles.iter_mut().enumerate() {
            if which(at) {
                triangle.swap(1, 2);
            }
        }
    }
}
