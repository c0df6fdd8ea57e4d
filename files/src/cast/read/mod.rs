//! From a file to a surface.

mod colour;
mod label;
mod look;
mod obj;
mod parsed;
mod ply;
mod polygon;
mod stl;
mod words;

use std::path::Path;

use sim_core::cast::{CastUnit, MendReport, Soup, Surface, mend};
use sim_core::cusp::Arch;
use sim_core::scene::CastFiles;

use self::look::{Looks, look};
use self::parsed::Parsed;
use crate::cast::error::{CastFileError, Fault, PlacedFault, excerpt};
use crate::cast::format::CastFormat;
use crate::cast::limits::MOST_BYTES;
use crate::folder::Folder;

/// A cast as read and mended.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadCast {
    /// The surface, in millimetres, in the scan's own frame.
    pub surface: Surface,
    /// What had to be mended.
    pub report: MendReport,
    /// The unit of the file's coordinates.
    pub unit: CastUnit,
    /// Whether the unit was told from the size, because none was given.
    pub unit_inferred: bool,
    /// The file's format.
    pub format: CastFormat,
    /// What else there was to say about the file.
    notes: Vec<String>,
}

impl ReadCast {
    /// What a person should know before relying on the cast, as sentences; empty for a clean scan in a
    /// unit that was given.
    #[must_use]
    pub fn warnings(&self) -> Vec<String> {
        let mut said = Vec::new();
        if self.unit_inferred {
            said.push(format!("No unit is given; by its size the cast is in {}.", self.unit.several()));
        }
        said.extend(self.notes.iter().cloned());
        said.extend(::words::verdict::mend::warnings(&self.report));
        said
    }
}

/// Reads a cast from a file: STL, PLY or OBJ, told by its content. Without a unit, the size tells it.
///
/// Open shells keep the way round that the file gives them. Once the cast stands in the instrument,
/// [`sim_core::cast::toward_opposing`] checks that they face the other arch.
///
/// # Errors
/// [`CastFileError`] for what cannot be read, is in no format that is known, is damaged, has no size of
/// a cast in any unit, or has more than [`MOST_BYTES`] or
/// [`MOST_TRIANGLES`](sim_core::cast::MOST_TRIANGLES).
pub fn read(path: &Path, arch: Arch, unit: Option<CastUnit>) -> Result<ReadCast, CastFileError> {
    read_in(Path::new(""), path, arch, unit)
}

/// As [`read`], from a file in a folder.
///
/// # Errors
/// As [`read`].
pub fn read_in<F: Folder + ?Sized>(
    folder: &F,
    file: &Path,
    arch: Arch,
    unit: Option<CastUnit>,
) -> Result<ReadCast, CastFileError> {
    let name = ::words::quoted::path(&folder.path(file));
    let bytes = folder.bytes(file, MOST_BYTES).map_err(|error| CastFileError::of_file(&name, error))?;
    read_bytes(&name, &bytes, arch, unit)
}

/// Refuses two casts that are one file, though their names differ: files that are [`Given`](crate::Given) are found by
/// their last names.
///
/// # Errors
/// [`CastFileError`] names the file.
pub fn told_apart<F: Folder + ?Sized>(folder: &F, files: &CastFiles) -> Result<(), CastFileError> {
    let (upper, lower) = (Path::new(&files.upper), Path::new(&files.lower));
    let path = folder.path(upper);
    if upper == lower || path != folder.path(lower) {
        return Ok(());
    }
    let name = ::words::quoted::path(&path);
    Err(CastFileError { name, format: None, location: None, fault: Fault::ForBoth })
}

/// Reads a cast from a file's bytes. The name is for messages; its ending is asked only where the bytes
/// leave the format open.
///
/// # Errors
/// As [`read`].
pub fn read_bytes(
    name: &str,
    bytes: &[u8],
    arch: Arch,
    unit: Option<CastUnit>,
) -> Result<ReadCast, CastFileError> {
    let named = |format| {
        move |fault: PlacedFault| CastFileError {
            name: name.to_owned(),
            format,
            location: fault.location,
            fault: fault.fault,
        }
    };
    let size = bytes.len() as u64;
    if size > MOST_BYTES {
        return Err(named(None)(Fault::TooLarge { bytes: size }.into()));
    }
    if bytes.is_empty() {
        return Err(named(None)(Fault::Empty.into()));
    }
    let Parsed { soup, format, notes } = match look(bytes, name) {
        Looks::StlBinary => stl::binary(bytes).map_err(named(Some(CastFormat::StlBinary))),
        Looks::StlAscii => stl::ascii(bytes).map_err(named(Some(CastFormat::StlAscii))),
        Looks::Ply => {
            let form = ply::form(bytes);
            ply::ply(bytes).map_err(named(form.map(CastFormat::Ply)))
        }
        Looks::Obj => obj::obj(bytes).map_err(named(Some(CastFormat::Obj))),
        Looks::Nothing => Err(named(None)(Fault::NotAMesh { begins: excerpt(bytes) }.into())),
    }?;
    finish(soup, arch, unit, format, notes).map_err(|fault| named(Some(format))(fault.into()))
}

/// Unit and mending.
fn finish(
    soup: Soup,
    arch: Arch,
    given: Option<CastUnit>,
    format: CastFormat,
    mut notes: Vec<String>,
) -> Result<ReadCast, Fault> {
    if soup.triangles.is_empty() {
        return Err(Fault::NoFaces);
    }
    let extents = soup.extents();
    let unit = match given {
        Some(unit) => {
            if !unit.fits(extents) {
                let [x, y, z] = extents.map(|extent| extent * unit.mm());
                notes.push(format!(
                    "In {} the cast is {x:.1} × {y:.1} × {z:.1} mm, which is no size of an arch.",
                    unit.several()
                ));
            }
            unit
        }
        None => CastUnit::of_extents(extents).map_err(Fault::Unit)?,
    };
    let (surface, report) = mend(soup.in_mm(unit), arch).map_err(Fault::Mend)?;
    Ok(ReadCast { surface, report, unit, unit_inferred: given.is_none(), format, notes })
}
