//! OBJ.

use std::io::{self, BufWriter, Write};

use sim_core::cast::Surface;

/// Writes a surface as OBJ, in millimetres, with its colours if it has them and a group `tooth_36` for
/// the triangles of each tooth. The first lines say that eminentia wrote it, and the comment (say there
/// if the data is invented).
///
/// # Errors
/// What the writer says.
pub fn write_obj(surface: &Surface, comment: &str, out: impl Write) -> io::Result<()> {
    let mut out = BufWriter::new(out);
    writeln!(out, "# {}", super::comment::ORIGIN)?;
    for line in super::comment::lines(comment) {
        writeln!(out, "# {line}")?;
    }
    writeln!(out, "# lengths are millimetres")?;
    for (at, vertex) in surface.vertices().iter().enumerate() {
        write!(out, "v {} {} {}", vertex.x, vertex.y, vertex.z)?;
        if let Some(colours) = surface.colours() {
            let [red, green, blue] = colours[at].map(|part| f64::from(part) / 255.0);
            write!(out, " {red:.4} {green:.4} {blue:.4}")?;
        }
        writeln!(out)?;
    }
    let mut tooth = None;
    for (at, triangle) in surface.triangles().iter().enumerate() {
        let of_this = surface.teeth().and_then(|teeth| teeth[at]);
        if of_this != tooth {
            match of_this {
                Some(tooth) => writeln!(out, "g tooth_{tooth}")?,
                None => writeln!(out, "g unlabelled")?,
            }
            tooth = of_this;
        }
        let [a, b, c] = triangle.map(|index| u64::from(index) + 1);
        writeln!(out, "f {a} {b} {c}")?;
    }
    out.flush()
}
