//! The header, and whether the bytes after it can hold what it promises.

use std::io::ErrorKind;

use ply_rs_bw::parser::{Parser, Reader};
use ply_rs_bw::ply::{ElementDef, Encoding, Header, PropertyType, ScalarType};
use sim_core::cast::MOST_TRIANGLES;

use super::rows::OtherRow;
use crate::cast::error::{Fault, PlacedFault};
use crate::cast::format::PlyForm;
use crate::cast::limits::MOST_VERTICES;

/// A header of a mesh has some twenty lines.
const MOST_HEADER_BYTES: usize = 64 * 1024;

/// The form that the header names, if it can be read.
pub(in crate::cast::read) fn form(bytes: &[u8]) -> Option<PlyForm> {
    header(bytes).ok().map(|(header, _)| form_of(&header))
}

pub(super) fn form_of(header: &Header) -> PlyForm {
    match header.encoding {
        Encoding::Ascii => PlyForm::Ascii,
        Encoding::BinaryLittleEndian => PlyForm::BinaryLittleEndian,
        Encoding::BinaryBigEndian => PlyForm::BinaryBigEndian,
    }
}

/// The header and how many bytes it takes.
pub(super) fn header(bytes: &[u8]) -> Result<(Header, usize), PlacedFault> {
    // A comment may be in any alphabet; nothing else is outside ASCII.
    let plain = |&byte: &u8| if byte.is_ascii() { byte } else { b'?' };
    let start: Vec<u8> = bytes.iter().take(MOST_HEADER_BYTES).map(plain).collect();
    let mut reader = Reader::new(start.as_slice());
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
pub(super) fn check_promises(header: &Header, there: u64) -> Result<(), Fault> {
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
                what: format!("entries of “{}”", element.name),
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
