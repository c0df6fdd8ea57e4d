//! PLY.

use std::io::{self, BufWriter, Write};

use sim_core::cast::Surface;

use crate::cast::format::PlyForm;

/// Writes a surface as PLY, in millimetres, with its colours if it has them. Coordinates are written in
/// full (64 bits). The header says that eminentia wrote it, and the comment (say there if the data is
/// invented). Labels have no place in the format.
///
/// # Errors
/// What the writer says.
pub fn write_ply(surface: &Surface, form: PlyForm, comment: &str, out: impl Write) -> io::Result<()> {
    let mut out = BufWriter::new(out);
    let format = match form {
        PlyForm::Ascii => "ascii",
        PlyForm::BinaryLittleEndian => "binary_little_endian",
        PlyForm::BinaryBigEndian => "binary_big_endian",
    };
    writeln!(out, "ply\nformat {format} 1.0\ncomment {}", super::comment::ORIGIN)?;
    for line in super::comment::lines(comment) {
        writeln!(out, "comment {line}")?;
    }
    writeln!(out, "comment lengths are millimetres\nelement vertex {}", surface.vertices().len())?;
    writeln!(out, "property double x\nproperty double y\nproperty double z")?;
    if surface.colours().is_some() {
        writeln!(out, "property uchar red\nproperty uchar green\nproperty uchar blue")?;
    }
    writeln!(
        out,
        "element face {}\nproperty list uchar uint vertex_indices\nend_header",
        surface.triangles().len()
    )?;

    for (at, vertex) in surface.vertices().iter().enumerate() {
        let colour = surface.colours().map(|colours| colours[at]);
        match form {
            PlyForm::Ascii => {
                write!(out, "{} {} {}", vertex.x, vertex.y, vertex.z)?;
                if let Some([red, green, blue]) = colour {
                    write!(out, " {red} {green} {blue}")?;
                }
                writeln!(out)?;
            }
            PlyForm::BinaryLittleEndian => {
                vertex.iter().try_for_each(|number| out.write_all(&number.to_le_bytes()))?;
            }
            PlyForm::BinaryBigEndian => {
                vertex.iter().try_for_each(|number| out.write_all(&number.to_be_bytes()))?;
            }
        }
        if let (Some(colour), true) = (colour, form != PlyForm::Ascii) {
            out.write_all(&colour)?;
        }
    }
    for triangle in surface.triangles() {
        let [a, b, c] = triangle;
        match form {
            PlyForm::Ascii => writeln!(out, "3 {a} {b} {c}")?,
            PlyForm::BinaryLittleEndian => {
                out.write_all(&[3])?;
                triangle.iter().try_for_each(|index| out.write_all(&index.to_le_bytes()))?;
            }
            PlyForm::BinaryBigEndian => {
                out.write_all(&[3])?;
                triangle.iter().try_for_each(|index| out.write_all(&index.to_be_bytes()))?;
            }
        }
    }
    out.flush()
}
