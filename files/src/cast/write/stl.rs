//! Binary STL.

use std::io::{self, BufWriter, Write};

use sim_core::cast::Surface;

/// Writes a surface as binary STL, in millimetres. The header says that eminentia wrote it, then the
/// comment as far as its 80 bytes go (ASCII; say there if the data is invented). Coordinates are rounded
/// to 32 bits; colours and labels have no place in the format.
///
/// # Errors
/// What the writer says.
pub fn write_stl_binary(surface: &Surface, comment: &str, out: impl Write) -> io::Result<()> {
    let mut out = BufWriter::new(out);
    let mut header = [b' '; 80];
    // Never “solid”, which some programs take for text.
    let text = format!(
        "eminentia, for teaching and research. {}",
        super::comment::lines(comment).collect::<Vec<_>>().join(" ")
    );
    for (place, letter) in header.iter_mut().zip(text.chars()) {
        *place = if letter.is_ascii() { letter as u8 } else { b'?' };
    }
    out.write_all(&header)?;
    let count = u32::try_from(surface.triangles().len()).map_err(io::Error::other)?;
    out.write_all(&count.to_le_bytes())?;
    for triangle in 0..surface.triangles().len() {
        let corners @ [a, b, c] = surface.corners(triangle);
        let normal = (b - a).cross(&(c - a)).try_normalize(0.0).unwrap_or_default();
        for number in [normal].iter().chain(&corners).flatten() {
            out.write_all(&(*number as f32).to_le_bytes())?;
        }
        out.write_all(&[0, 0])?;
    }
    out.flush()
}
