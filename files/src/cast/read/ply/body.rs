//! What follows the header, entry by entry.

use std::io::ErrorKind;

use ply_rs_bw::parser::{ParseError, Parser};
use ply_rs_bw::ply::{ElementDef, Encoding, PropertyAccess, PropertyType};

use crate::cast::error::{Fault, PlacedFault};

/// The most bytes in a line of text: a face of as many corners as may be takes a fifth of it.
const MOST_LINE_BYTES: usize = 256 * 1024;

/// What follows the header.
pub(super) struct Body<'b> {
    pub(super) rest: &'b [u8],
    encoding: Encoding,
    /// Of a text, the lines gone by.
    line: usize,
}

impl<'b> Body<'b> {
    /// What comes after the header's text.
    pub(super) fn after(header: &[u8], rest: &'b [u8], encoding: Encoding) -> Self {
        Self { rest, encoding, line: header.iter().filter(|&&byte| byte == b'\n').count() }
    }

    /// The next entry of an element.
    pub(super) fn entry<E: PropertyAccess>(
        &mut self,
        parser: &Parser<E>,
        element: &ElementDef,
        entry: usize,
    ) -> Result<E, PlacedFault> {
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
    ) -> Result<E, PlacedFault> {
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
            // The library holds all words of a line at once.
            if line.len() > MOST_LINE_BYTES {
                return Err(unexpected());
            }
            let text = std::str::from_utf8(line).map_err(|_| unexpected())?;
            return parser.read_ascii_element(text, element).map_err(|_| unexpected());
        }
    }

    /// Where an entry just read stood.
    pub(super) fn at(&self, fault: Fault, element: &ElementDef, entry: usize) -> PlacedFault {
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
pub(super) fn in_words(element: &ElementDef) -> String {
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
