//! PLY, as text and binary in both byte orders.
//!
//! Header and numbers are the library's to read; this code compares what the header promises with the
//! bytes that are there before the library sets anything aside for it.

use std::io::ErrorKind;

use nalgebra::Vector3;
use ply_rs_bw::parser::{ParseError, Parser, Reader};
use ply_rs_bw::ply::{ElementDef, Encoding, Header, PropertyAccess, PropertyType, ScalarType};
use sim_core::cast::{MOST_TRIANGLES, Soup};

use super::obj::MOST_VERTICES;
use super::ply_rows::{FaceRow, OtherRow, VertexRow, is_corners};
use super::polygon::Cutter;
use super::{Parsed, colour};
use crate::error::{Fault, Found};
use crate::format::{CastFormat, PlyForm};

/// A header of a mesh has some twenty lines.
const MOST_HEADER_BYTES: usize = 64 * 1024;

/// The form that the header names, if it can be read.
pub(super) fn form(bytes: &[u8]) -> Option<PlyForm> {
    header(bytes).ok().map(|(header, _)| form_of(&header))
}

fn form_of(header: &Header) -> PlyForm {
    match header.encoding {
        Encoding::Ascii => PlyForm::Ascii,
        Encoding::BinaryLittleEndian => PlyForm::BinaryLittleEndian,
        Encoding::BinaryBigEndian => PlyForm::BinaryBigEndian,
    }
}

/// Reads a file: the elements `vertex` and `face`; others are passed over.
pub(super) fn ply(bytes: &[u8]) -> Result<Parsed, Found> {
    let (header, header_bytes) = header(bytes)?;
    let (text, body) = bytes.split_at(header_bytes);
    check_promises(&header, body.len() as u64)?;
    let mut body = Body {
        rest: body,
        encoding: header.encoding,
        line: text.iter().filter(|&&byte| byte == b'\n').count(),
    };
    let mut mesh = Mesh::default();
    for element in header.elements.values() {
        match element.name.as_str() {
            "vertex" => mesh.vertices(&mut body, element)?,
            "face" => mesh.faces(&mut body, element)?,
            _ => {
                for entry in 0..element.count {
                    body.entry::<OtherRow>(&Parser::new(), element, entry)?;
                }
            }
        }
    }
    if !header.elements.contains_key("face") {
        return Err(Fault::NoFaces.into());
    }
    let mut notes = Vec::new();
    let over = body.rest.trim_ascii_end().len();
    if over > 0 {
        notes.push(format!("{over} bytes follow the last element and were not read."));
    }
    Ok(Parsed { soup: mesh.soup, format: CastFormat::Ply(form_of(&header)), notes })
}

/// The header and how many bytes it takes.
fn header(bytes: &[u8]) -> Result<(Header, usize), Found> {
    let start = &bytes[..bytes.len().min(MOST_HEADER_BYTES)];
    let mut reader = Reader::new(start);
    let header = Parser::<OtherRow>::new().read_header(&mut reader).map_err(|error| {
        let line = error.line().unwrap_or(1);
        let text = start.split(|&byte| byte == b'\n').nth(line.saturating_sub(1)).unwrap_or_default();
        let wanted =
            "a header of comment, element and property lines from “ply” and “format” to “end_header”";
        if error.kind() == ErrorKind::UnexpectedEof {
            Fault::CutShort { wanted: format!("{wanted}, of up to {MOST_HEADER_BYTES} bytes") }.at_line(line)
        } else {
            Fault::unexpected(text, wanted).at_line(line)
        }
    })?;
    let taken = start.len() - reader.get_ref().len();
    // The library forgets the first of two of the same name, and would then read the wrong bytes.
    let lines = |keyword: &[u8]| {
        start[..taken].split(|&byte| byte == b'\n').filter(|line| line.starts_with(keyword)).count()
    };
    let properties: usize = header.elements.values().map(|element| element.properties.len()).sum();
    if lines(b"element") != header.elements.len() || lines(b"property") != properties {
        return Err(Fault::Unexpected {
            found: "the same name twice".to_owned(),
            wanted: "a header whose elements, and the properties of each, have different names".to_owned(),
        }
        .into());
    }
    Ok((header, taken))
}

/// Compares what a header promises with the bytes there are.
fn check_promises(header: &Header, there: u64) -> Result<(), Fault> {
    let mut all: u64 = 0;
    for element in header.elements.values() {
        let count = element.count as u64;
        if count > 0 && element.properties.is_empty() {
            return Err(Fault::Unexpected {
                found: format!("element {} {count} without properties", element.name),
                wanted: "an element with at least one property".to_owned(),
            });
        }
        let least_bytes = count.saturating_mul(least_bytes(element, header.encoding));
        all = all.saturating_add(least_bytes);
        // The last line of a text may lack its end.
        if all > there + u64::from(header.encoding == Encoding::Ascii) {
            return Err(Fault::Promised {
                promised: count,
                what: format!("“{}”", element.name),
                least_bytes,
                there,
            });
        }
        let (what, most) = match element.name.as_str() {
            "vertex" => ("vertices", MOST_VERTICES),
            "face" => ("triangles", MOST_TRIANGLES),
            _ => continue,
        };
        if element.count > most {
            return Err(Fault::TooMany { given: count, what, most });
        }
    }
    Ok(())
}

/// The fewest bytes that an entry of an element can take.
fn least_bytes(element: &ElementDef, encoding: Encoding) -> u64 {
    let each = element.properties.values().map(|property| match (encoding, &property.data_type) {
        // A digit and what parts it from the next.
        (Encoding::Ascii, _) => 2,
        // An empty list is only its count.
        (_, PropertyType::Scalar(scalar) | PropertyType::List(scalar, _)) => match scalar {
            ScalarType::Char | ScalarType::UChar => 1,
            ScalarType::Short | ScalarType::UShort => 2,
            ScalarType::Int | ScalarType::UInt | ScalarType::Float => 4,
            ScalarType::Double => 8,
        },
    });
    each.sum()
}

/// What follows the header.
struct Body<'b> {
    rest: &'b [u8],
    encoding: Encoding,
    /// Of a text, the lines gone by.
    line: usize,
}

impl Body<'_> {
    /// The next entry of an element.
    fn entry<E: PropertyAccess>(
        &mut self,
        parser: &Parser<E>,
        element: &ElementDef,
        entry: usize,
    ) -> Result<E, Found> {
        let binary = match self.encoding {
            Encoding::Ascii => return self.text_entry(parser, element),
            Encoding::BinaryLittleEndian => parser.read_little_endian_element(&mut self.rest, element),
            Encoding::BinaryBigEndian => parser.read_big_endian_element(&mut self.rest, element),
        };
        binary.map_err(|error| fault(&error, "bytes that do not fit", element).at_entry(&element.name, entry))
    }

    fn text_entry<E: PropertyAccess>(
        &mut self,
        parser: &Parser<E>,
        element: &ElementDef,
    ) -> Result<E, Found> {
        loop {
            if self.rest.is_empty() {
                return Err(Fault::CutShort { wanted: in_words(element) }.at_line(self.line));
            }
            let end = self.rest.iter().position(|&byte| byte == b'\n').map_or(self.rest.len(), |at| at + 1);
            let (line, rest) = self.rest.split_at(end);
            self.rest = rest;
            self.line += 1;
            let line = line.trim_ascii();
            if line.is_empty() {
                continue;
            }
            let unexpected = || Fault::unexpected(line, in_words(element)).at_line(self.line);
            let text = std::str::from_utf8(line).map_err(|_| unexpected())?;
            return parser.read_ascii_element(text, element).map_err(|_| unexpected());
        }
    }

    /// Where an entry just read stood.
    fn at(&self, fault: Fault, element: &ElementDef, entry: usize) -> Found {
        match self.encoding {
            Encoding::Ascii => fault.at_line(self.line),
            _ => fault.at_entry(&element.name, entry),
        }
    }
}

fn fault(error: &ParseError, found: &str, element: &ElementDef) -> Fault {
    match error.kind() {
        ErrorKind::UnexpectedEof => Fault::CutShort { wanted: in_words(element) },
        _ => Fault::Unexpected { found: found.to_owned(), wanted: in_words(element) },
    }
}

/// What the header says that an entry of an element consists of.
fn in_words(element: &ElementDef) -> String {
    let each: Vec<String> = element
        .properties
        .values()
        .map(|property| match property.data_type {
            PropertyType::Scalar(_) => property.name.clone(),
            PropertyType::List(..) => format!("{} (a count and as many numbers)", property.name),
        })
        .collect();
    format!("a {} as the header has it: {}", element.name, each.join(", "))
}

#[derive(Default)]
struct Mesh {
    soup: Soup,
    has_vertices: bool,
}

impl Mesh {
    fn vertices(&mut self, body: &mut Body<'_>, element: &ElementDef) -> Result<(), Found> {
        let scalar = |name: &str| match &element.properties.get(name)?.data_type {
            PropertyType::Scalar(scalar) => Some(scalar),
            PropertyType::List(..) => None,
        };
        if ["x", "y", "z"].into_iter().any(|name| scalar(name).is_none()) {
            return Err(Fault::Unexpected {
                found: in_words(element),
                wanted: "an element vertex with the properties x, y and z".to_owned(),
            }
            .into());
        }
        let colour = ["red", "green", "blue"].map(scalar);
        let parser = Parser::<VertexRow>::new();
        let mut colours = Vec::new();
        self.soup.vertices.reserve(element.count);
        for entry in 0..element.count {
            let row = body.entry(&parser, element, entry)?;
            let numbers = row.place.into_iter().chain(row.colour.map(f64::from));
            if let Some(found) = numbers.into_iter().find(|number| !number.is_finite()) {
                return Err(body.at(Fault::NotFinite { found: found.to_string() }, element, entry));
            }
            self.soup.vertices.push(Vector3::from(row.place));
            if colour[0].is_some() {
                colours.push(row.colour);
            }
        }
        self.soup.colours = match colour {
            [Some(scalar), Some(_), Some(_)] => Some(match scalar {
                ScalarType::Float | ScalarType::Double => colour::from_fractions(&colours),
                // 65,535 is 255 × 257.
                ScalarType::UShort => each(&colours, 1.0 / 257.0),
                _ => each(&colours, 1.0),
            }),
            _ => None,
        };
        self.has_vertices = true;
        Ok(())
    }

    fn faces(&mut self, body: &mut Body<'_>, element: &ElementDef) -> Result<(), Found> {
        let lists = element.properties.values().filter(|property| is_corners(&property.name));
        let of_whole_numbers = lists.filter(|list| match &list.data_type {
            PropertyType::List(_, number) => !matches!(number, ScalarType::Float | ScalarType::Double),
            PropertyType::Scalar(_) => false,
        });
        if of_whole_numbers.count() != 1 || !self.has_vertices {
            return Err(Fault::Unexpected {
                found: in_words(element),
                wanted: "an element face after the element vertex, with a list of whole numbers called \
                         vertex_indices or vertex_index"
                    .to_owned(),
            }
            .into());
        }
        let parser = Parser::<FaceRow>::new();
        let vertices = self.soup.vertices.len();
        let (mut cutter, mut face) = (Cutter::default(), Vec::new());
        self.soup.triangles.reserve(element.count);
        for entry in 0..element.count {
            let row = body.entry(&parser, element, entry)?;
            face.clear();
            for index in row.corners {
                match usize::try_from(index) {
                    Ok(corner) if corner < vertices => face.push(corner as u32),
                    _ => {
                        return Err(body.at(
                            Fault::NoSuchVertex { index, vertices, first: 0 },
                            element,
                            entry,
                        ));
                    }
                }
            }
            cutter
                .cut(&self.soup.vertices, &face, &mut self.soup.triangles)
                .map_err(|fault| body.at(fault, element, entry))?;
            let triangles = self.soup.triangles.len();
            if triangles > MOST_TRIANGLES {
                return Err(body.at(Fault::too_many_triangles(triangles as u64), element, entry));
            }
        }
        Ok(())
    }
}

/// Colours as bytes. The cast keeps within 0 to 255.
fn each(colours: &[[f32; 3]], scale: f32) -> Vec<[u8; 3]> {
    colours.iter().map(|colour| colour.map(|part| (part * scale).round() as u8)).collect()
}
