//! What can be wrong with a file: which file, where in it, what, and what would be accepted.

use std::fmt;
use std::io;

use sim_core::cast::{MOST_TRIANGLES, MendError, UnitUnclear};

use crate::cast::format::CastFormat;
use crate::cast::limits::{MOST_BYTES, MOST_CORNERS};
use crate::open::OpenError;

/// Why a file is no cast.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("{name}{}{}: {fault}", Of(.format), At(.location))]
pub struct CastFileError {
    /// The file, as it was named.
    pub name: String,
    /// What it was read as, once that was known.
    pub format: Option<CastFormat>,
    /// Where in it.
    pub location: Option<Location>,
    /// What is wrong.
    pub fault: Fault,
}

/// A location in a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Location {
    /// A line of text, from 1.
    Line(usize),
    /// A triangle, from 1.
    Triangle(usize),
    /// An entry of one of a PLY file's elements, from 1.
    Element {
        /// The element's name.
        element: String,
        /// Which entry.
        entry: usize,
    },
}

/// What is wrong with a file.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Fault {
    /// The system does not hand it over.
    #[error("cannot be read: {why}")]
    Unreadable {
        /// What kind of refusal it was.
        kind: io::ErrorKind,
        /// What the system says.
        why: String,
    },
    /// A folder or a device.
    #[error("is no file; a cast is read from an STL, PLY or OBJ file")]
    NotAFile,
    /// Both casts of a scene name files that are one where the folders in their names say nothing.
    #[error("stands for both casts; give the file of each a name of its own")]
    ForBoth,
    /// More than [`MOST_BYTES`].
    #[error("has {bytes} bytes; a cast's file may have up to {MOST_BYTES}")]
    TooLarge {
        /// Its size.
        bytes: u64,
    },
    /// No bytes.
    #[error("is empty; a cast is read from an STL, PLY or OBJ file")]
    Empty,
    /// None of the formats.
    #[error("begins with “{begins}”, which is neither STL nor PLY nor OBJ; these three are read")]
    NotAMesh {
        /// The first few bytes.
        begins: String,
    },
    /// Something else than belongs there.
    #[error("there is “{found}”; accepted is {wanted}")]
    Unexpected {
        /// What stands there.
        found: String,
        /// What could stand there.
        wanted: String,
    },
    /// Ends too early.
    #[error("the file ends here; accepted is {wanted}")]
    CutShort {
        /// What should follow.
        wanted: String,
    },
    /// A header that promises more than is there.
    #[error("the header promises {promised} {what}, at least {least_bytes} bytes; there are {there} bytes")]
    Promised {
        /// How many it promises.
        promised: u64,
        /// Of what.
        what: String,
        /// What they would take.
        least_bytes: u64,
        /// What is there.
        there: u64,
    },
    /// A coordinate or colour that is no number.
    #[error("there is {found}; every coordinate and colour must be a finite number")]
    NotFinite {
        /// What stands there.
        found: String,
    },
    /// A corner of a vertex that is not there.
    #[error("a corner is vertex {index}; there are {vertices} vertices{}, counted from {first}", if *.first == 1 { " so far" } else { "" })]
    NoSuchVertex {
        /// The vertex asked for.
        index: i64,
        /// The vertices there are.
        vertices: usize,
        /// Where the format begins to count.
        first: u8,
    },
    /// A face of one or two corners, or of more than can be cut up.
    #[error("a face has {corners} corners; accepted are 3 to {MOST_CORNERS}")]
    Corners {
        /// How many.
        corners: usize,
    },
    /// Faces that take too long to cut up.
    #[error(
        "the faces down to this one have so many corners and hollows that cutting them into triangles takes more \
         than {most} comparisons; cut them where the file was made"
    )]
    Hollow {
        /// How many comparisons are made at most.
        most: u64,
    },
    /// Too many triangles or vertices.
    #[error("there are {given} {what}; a cast may have up to {most}")]
    TooMany {
        /// How many, at least.
        given: u64,
        /// Of what.
        what: &'static str,
        /// How many may be.
        most: usize,
    },
    /// A mesh without any face.
    #[error("there are no faces in it; a cast is a surface of triangles or polygons, not only points")]
    NoFaces,
    /// No unit fits.
    #[error("{0}")]
    Unit(UnitUnclear),
    /// No surface can be made.
    #[error("{0}")]
    Mend(MendError),
}

/// A fault with its location, before the file's name is added.
#[derive(Debug, PartialEq)]
pub(crate) struct PlacedFault {
    pub(crate) location: Option<Location>,
    pub(crate) fault: Fault,
}

impl Fault {
    /// At a line.
    pub(crate) fn at_line(self, line: usize) -> PlacedFault {
        PlacedFault { location: Some(Location::Line(line)), fault: self }
    }

    /// At a triangle, from 0.
    pub(crate) fn at_triangle(self, triangle: usize) -> PlacedFault {
        PlacedFault { location: Some(Location::Triangle(triangle + 1)), fault: self }
    }

    /// At an entry of an element, from 0.
    pub(crate) fn at_entry(self, element: &str, entry: usize) -> PlacedFault {
        PlacedFault {
            location: Some(Location::Element { element: element.to_owned(), entry: entry + 1 }),
            fault: self,
        }
    }

    pub(crate) fn unexpected(found: &[u8], wanted: impl Into<String>) -> Self {
        Self::Unexpected { found: excerpt(found), wanted: wanted.into() }
    }

    pub(crate) fn too_many_triangles(given: u64) -> Self {
        Self::TooMany { given, what: "triangles", most: MOST_TRIANGLES }
    }
}

impl From<OpenError> for Fault {
    fn from(error: OpenError) -> Self {
        match error {
            OpenError::Folder | OpenError::NotAFile => Self::NotAFile,
            OpenError::TooLarge { bytes } => Self::TooLarge { bytes },
            OpenError::Unreadable { kind, why } => Self::Unreadable { kind, why },
        }
    }
}

impl From<Fault> for PlacedFault {
    fn from(fault: Fault) -> Self {
        Self { location: None, fault }
    }
}

/// As much of some bytes as helps to find them, with what cannot be printed made visible.
pub(crate) fn excerpt(bytes: &[u8]) -> String {
    const MOST: usize = 40;
    let mut shown = bytes.get(..MOST).unwrap_or(bytes).trim_ascii().escape_ascii().to_string();
    if bytes.len() > MOST {
        shown.push('…');
    }
    shown
}

impl CastFileError {
    /// Of a file that gives no bytes.
    pub(crate) fn of_file(name: &str, error: OpenError) -> Self {
        Self { name: name.to_owned(), format: None, location: None, fault: error.into() }
    }

    /// Whether the file is not there.
    #[must_use]
    pub const fn is_missing(&self) -> bool {
        matches!(self.fault, Fault::Unreadable { kind: io::ErrorKind::NotFound, .. })
    }
}

struct Of<'f>(&'f Option<CastFormat>);

impl fmt::Display for Of<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.map_or(Ok(()), |format| write!(f, " ({format})"))
    }
}

struct At<'p>(&'p Option<Location>);

impl fmt::Display for At<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.0 {
            Some(Location::Line(line)) => write!(f, ", line {line}"),
            Some(Location::Triangle(triangle)) => write!(f, ", triangle {triangle}"),
            Some(Location::Element { element, entry }) => write!(f, ", {element} {entry}"),
            None => Ok(()),
        }
    }
}
