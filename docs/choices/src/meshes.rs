//! Readers of STL, OBJ and PLY.

use std::io::Cursor;

use files::cast::{PlyForm, read_bytes, write_obj, write_ply, write_stl_binary};
use nalgebra::Vector3;
use sim_core::cast::{CastUnit, Surface};
use sim_core::cusp::Arch;

use crate::measure::{measured, row};

/// An invented sheet of bumps, 60 by 60 mm, of `side` by `side` squares, facing up.
pub(crate) fn sheet(side: u32) -> Surface {
    bumps(side, 0.0, |x, y| 3.0 * (x.sin() * y.cos()), false)
}

/// Another, `lift` above it and facing down, whose bumps are set closer.
pub(crate) fn sheet_above(side: u32, lift: f64) -> Surface {
    bumps(side, lift, |x, y| 3.0 + 1.5 * ((1.3 * x).cos() * (1.1 * y).sin()), true)
}

fn bumps(side: u32, lift: f64, height: impl Fn(f64, f64) -> f64, faces_down: bool) -> Surface {
    let step = 60.0 / f64::from(side);
    let vertices = (0..=side)
        .flat_map(|y| (0..=side).map(move |x| (f64::from(x) * step, f64::from(y) * step)))
        .map(|(x, y)| Vector3::new(x, y, lift + height(x, y)))
        .collect();
    let at = |x: u32, y: u32| y * (side + 1) + x;
    let triangles = (0..side)
        .flat_map(|y| (0..side).map(move |x| (x, y)))
        .flat_map(|(x, y)| {
            [[at(x, y), at(x + 1, y), at(x + 1, y + 1)], [at(x, y), at(x + 1, y + 1), at(x, y + 1)]]
        })
        .map(|[a, b, c]: [u32; 3]| if faces_down { [a, c, b] } else { [a, b, c] })
        .collect();
    Surface::new(vertices, triangles).expect("sound")
}

fn ours(name: &str, file: &[u8]) -> Result<usize, String> {
    read_bytes(name, file, Arch::Lower, Some(CastUnit::Millimetre))
        .map(|cast| cast.surface.triangles().len())
        .map_err(|error| error.to_string())
}

fn obj_by_crate(file: &[u8]) -> Result<usize, String> {
    let options = tobj::LoadOptions { triangulate: true, ..Default::default() };
    tobj::load_obj_buf(&mut Cursor::new(file), &options, |_| tobj::load_mtl_buf(&mut Cursor::new("")))
        .map(|(models, _)| models.iter().map(|model| model.mesh.indices.len() / 3).sum())
        .map_err(|error| error.to_string())
}

fn ply_by_crate(file: &[u8]) -> Result<usize, String> {
    ply_rs_bw::parser::Parser::<ply_rs_bw::ply::DefaultElement>::new()
        .read_ply(&mut Cursor::new(file))
        .map(|ply| ply.payload.get("face").map_or(0, Vec::len))
        .map_err(|error| error.to_string())
}

fn stl_by_crate(file: &[u8]) -> Result<usize, String> {
    stl_io::read_stl(&mut Cursor::new(file)).map(|mesh| mesh.faces.len()).map_err(|error| error.to_string())
}

type Reader = fn(&[u8]) -> Result<usize, String>;

pub(crate) fn rows() {
    let surface = sheet(707);
    let mut files = [const { Vec::new() }; 3];
    write_stl_binary(&surface, "Invented.", &mut files[0]).expect("written");
    write_obj(&surface, "Invented.", &mut files[1]).expect("written");
    write_ply(&surface, PlyForm::BinaryLittleEndian, "Invented.", &mut files[2]).expect("written");
    let readers: [(&str, Reader, Reader, &str); 3] = [
        ("STL", |file| ours("a.stl", file), stl_by_crate, "stl_io 0.11.0"),
        ("OBJ", |file| ours("a.obj", file), obj_by_crate, "tobj 4.0.5"),
        ("PLY", |file| ours("a.ply", file), ply_by_crate, "ply-rs-bw 4.0.1 alone"),
    ];
    for ((format, own, other, name), file) in readers.into_iter().zip(&files) {
        for (who, reader) in [("ours, welded, mended and turned", own), (name, other)] {
            let (ms, mb, triangles) = measured(3, || reader(file));
            let note = triangles.map_or_else(|error| error, |count| format!("{count} triangles"));
            row(&format!("{format} of 999,698 triangles"), who, (ms, mb), &note);
        }
    }
    damaged(&readers, &files);
}

/// What each says of a file that is cut short, and of a header that promises four thousand million.
fn damaged(readers: &[(&str, Reader, Reader, &str); 3], files: &[Vec<u8>; 3]) {
    let mut promising = files[0][..84 + 50].to_vec();
    promising[80..84].copy_from_slice(&4_000_000_000_u32.to_le_bytes());
    let ply = "ply\nformat binary_little_endian 1.0\nelement vertex 4000000000\nproperty float x\n\
               property float y\nproperty float z\nelement face 1\nproperty list uchar int vertex_indices\nend_header\n"
        .as_bytes()
        .to_vec();
    let not_a_number = b"v 0 0 0\nv 40 0 nan\nv 0 40 0\nf 1 2 3\n".to_vec();
    let cases = [
        ("STL cut in the middle", 0, files[0][..files[0].len() / 2].to_vec()),
        ("STL that promises 4·10⁹ triangles", 0, promising),
        ("OBJ with `nan`", 1, not_a_number),
        ("OBJ with corner 9 of 3", 1, b"v 0 0 0\nv 40 0 0\nv 0 40 0\nf 1 2 9\n".to_vec()),
        ("PLY that promises 4·10⁹ vertices", 2, ply),
    ];
    for (what, reader, file) in cases {
        let (_, own, other, name) = readers[reader];
        for (who, reader) in [("ours", own), (name, other)] {
            let (ms, mb, result) = measured(1, || reader(&file));
            let note = result.map_or_else(|error| error, |count| format!("taken: {count} triangles"));
            row(what, who, (ms, mb), &note.replace('\n', " "));
        }
    }
}
