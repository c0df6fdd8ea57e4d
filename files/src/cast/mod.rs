//! Scanned casts from files and back: STL, PLY, OBJ.
//!
//! [`read`] takes a file as a scanner or a modelling program wrote it, finds out what it is by looking
//! inside, and makes a sound [`Surface`](sim_core::cast::Surface) of it in millimetres, with a report of
//! what had to be mended. No bytes make it panic or take memory out of proportion to their number: what
//! a header promises is compared with the bytes that are there before anything is set aside for it.
//!
//! | format | read | written |
//! | --- | --- | --- |
//! | STL | binary (also where its header begins with `solid`), ASCII with any number of solids | binary |
//! | PLY | ASCII and binary in both byte orders; colours of vertices; polygons | the same |
//! | OBJ | polygons, indices counted back from the end, colours of vertices, groups named for a tooth | with groups |
//!
//! ```
//! use files::cast::{PlyForm, read_bytes, write_ply};
//! use sim_core::cast::CastUnit;
//! use sim_core::cusp::Arch;
//!
//! let tetrahedron = "v 0 0 0\nv 40 0 0\nv 0 40 0\nv 0 0 40\nf 1 3 2\nf 1 2 4\nf 2 3 4\nf 1 4 3\n";
//! let cast = read_bytes("block.obj", tetrahedron.as_bytes(), Arch::Lower, Some(CastUnit::Millimetre))?;
//! assert_eq!(cast.report.closed_shells, 1);
//!
//! let mut file = Vec::new();
//! write_ply(&cast.surface, PlyForm::BinaryLittleEndian, "An invented block.", &mut file)?;
//! let again = read_bytes("block.ply", &file, Arch::Lower, Some(CastUnit::Millimetre))?;
//! assert_eq!(again.surface, cast.surface);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod error;
mod format;
mod limits;
mod read;
mod write;

pub use error::{CastFileError, Fault, Location};
pub use format::{CastFormat, PlyForm};
pub use limits::{MOST_BYTES, MOST_CORNERS};
pub use read::{ReadCast, read, read_bytes, read_in, told_apart};
pub use write::{WrittenFormat, write_obj, write_ply, write_stl_binary};
