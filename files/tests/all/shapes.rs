//! Bodies of known area and volume, and files of them written here, byte by byte, apart from the
//! crate's own writers.

use std::collections::HashMap;
use std::fmt::Write as _;

use files::cast::{CastFileError, ReadCast, read_bytes};
use nalgebra::Vector3;
use sim_core::cast::{CastUnit, Soup, Surface};
use sim_core::cusp::Arch;

/// Vertices and triangles.
pub(crate) type Body = (Vec<Vector3<f64>>, Vec<[u32; 3]>);

/// A box with one corner at the origin, facing outward: 8 vertices, 12 triangles.
pub(crate) fn block(x: f64, y: f64, z: f64) -> Body {
    let vertices = (0..8)
        .map(|at| Vector3::new(x * f64::from(at & 1), y * f64::from(at >> 1 & 1), z * f64::from(at >> 2 & 1)))
        .collect();
    let faces = [[0, 2, 3, 1], [4, 5, 7, 6], [0, 1, 5, 4], [2, 6, 7, 3], [0, 4, 6, 2], [1, 3, 7, 5]];
    (vertices, faces.iter().flat_map(|&[a, b, c, d]| [[a, b, c], [a, c, d]]).collect())
}

/// A ball of radius `radius` about the origin, facing outward: an octahedron whose triangles were cut in
/// four so many times.
pub(crate) fn ball(radius: f64, cuts: u32) -> Body {
    let mut vertices: Vec<Vector3<f64>> =
        [(1, 0, 0), (-1, 0, 0), (0, 1, 0), (0, -1, 0), (0, 0, 1), (0, 0, -1)]
            .map(|(x, y, z)| Vector3::new(f64::from(x), f64::from(y), f64::from(z)))
            .to_vec();
    let mut triangles = Vec::new();
    for (x, y, z) in [(0, 2, 4), (2, 1, 4), (1, 3, 4), (3, 0, 4), (2, 0, 5), (1, 2, 5), (3, 1, 5), (0, 3, 5)]
    {
        triangles.push([x, y, z]);
    }
    for _ in 0..cuts {
        let mut middles = HashMap::new();
        let mut middle = |one: u32, other: u32| {
            *middles.entry((one.min(other), one.max(other))).or_insert_with(|| {
                vertices.push((vertices[one as usize] + vertices[other as usize]).normalize());
                vertices.len() as u32 - 1
            })
        };
        triangles = triangles
            .iter()
            .flat_map(|&[a, b, c]| {
                let (ab, bc, ca) = (middle(a, b), middle(b, c), middle(c, a));
                [[a, ab, ca], [ab, b, bc], [ca, bc, c], [ab, bc, ca]]
            })
            .collect();
    }
    (vertices.into_iter().map(|vertex| vertex * radius).collect(), triangles)
}

/// Two bodies as one list, the second moved.
pub(crate) fn together(one: Body, other: Body, moved: Vector3<f64>) -> Body {
    let (mut vertices, mut triangles) = one;
    let first = vertices.len() as u32;
    vertices.extend(other.0.into_iter().map(|vertex| vertex + moved));
    triangles.extend(other.1.into_iter().map(|triangle| triangle.map(|index| index + first)));
    (vertices, triangles)
}

/// A body as a soup without colours or labels.
pub(crate) fn soup((vertices, triangles): Body) -> Soup {
    Soup { vertices, triangles, ..Soup::default() }
}

/// The area of a surface.
pub(crate) fn area(surface: &Surface) -> f64 {
    let each = (0..surface.triangles().len()).map(|at| {
        let [a, b, c] = surface.corners(at);
        (b - a).cross(&(c - a)).norm() / 2.0
    });
    each.sum()
}

/// The volume that a closed surface encloses, positive if it faces outward.
pub(crate) fn volume(surface: &Surface) -> f64 {
    let each = (0..surface.triangles().len()).map(|at| {
        let [a, b, c] = surface.corners(at);
        a.dot(&b.cross(&c)) / 6.0
    });
    each.sum()
}

/// A binary STL file with this header.
pub(crate) fn binary_stl((vertices, triangles): &Body, header: &str) -> Vec<u8> {
    let mut bytes = format!("{header:80.80}").into_bytes();
    bytes.extend((triangles.len() as u32).to_le_bytes());
    for triangle in triangles {
        bytes.extend([0; 12]);
        for &index in triangle {
            for number in &vertices[index as usize] {
                bytes.extend((*number as f32).to_le_bytes());
            }
        }
        bytes.extend([0; 2]);
    }
    bytes
}

/// An ASCII STL solid.
pub(crate) fn ascii_stl((vertices, triangles): &Body, name: &str) -> String {
    let mut text = format!("solid {name}\n");
    for triangle in triangles {
        text.push_str("facet normal 0 0 0\n outer loop\n");
        for &index in triangle {
            let [x, y, z]: [f64; 3] = vertices[index as usize].into();
            writeln!(text, "  vertex {x:e} {y} {z}").expect("text");
        }
        text.push_str(" endloop\nendfacet\n");
    }
    text + "endsolid " + name + "\n"
}

/// An OBJ file.
pub(crate) fn obj((vertices, triangles): &Body) -> String {
    let mut text = String::from("# invented\n");
    for [x, y, z] in vertices.iter().map(|&vertex| <[f64; 3]>::from(vertex)) {
        writeln!(text, "v {x} {y} {z}").expect("text");
    }
    for triangle in triangles {
        let [a, b, c] = triangle.map(|index| index + 1);
        writeln!(text, "f {a} {b} {c}").expect("text");
    }
    text
}

/// An ASCII PLY file.
pub(crate) fn ascii_ply((vertices, triangles): &Body) -> String {
    let mut text = format!(
        "ply\nformat ascii 1.0\ncomment invented\nelement vertex {}\nproperty float x\nproperty float y\n\
         property float z\nelement face {}\nproperty list uchar int vertex_indices\nend_header\n",
        vertices.len(),
        triangles.len()
    );
    for [x, y, z] in vertices.iter().map(|&vertex| <[f64; 3]>::from(vertex)) {
        writeln!(text, "{x} {y} {z}").expect("text");
    }
    for [a, b, c] in triangles {
        writeln!(text, "3 {a} {b} {c}").expect("text");
    }
    text
}

/// A binary PLY file in either byte order, with 32-bit coordinates.
pub(crate) fn binary_ply((vertices, triangles): &Body, big: bool) -> Vec<u8> {
    let order = if big { "big" } else { "little" };
    let mut bytes = format!(
        "ply\nformat binary_{order}_endian 1.0\nelement vertex {}\nproperty float x\nproperty float y\n\
         property float z\nelement face {}\nproperty list uchar int vertex_index\nend_header\n",
        vertices.len(),
        triangles.len()
    )
    .into_bytes();
    let four = |bytes: [u8; 4]| if big { bytes.into_iter().rev().collect() } else { bytes.to_vec() };
    for number in vertices.iter().flatten() {
        bytes.extend(four((*number as f32).to_le_bytes()));
    }
    for triangle in triangles {
        bytes.push(3);
        triangle.iter().for_each(|index| bytes.extend(four(index.to_le_bytes())));
    }
    bytes
}

/// Reads bytes that are a lower cast in millimetres.
pub(crate) fn read(name: &str, bytes: impl AsRef<[u8]>) -> Result<ReadCast, CastFileError> {
    read_bytes(name, bytes.as_ref(), Arch::Lower, Some(CastUnit::Millimetre))
}
