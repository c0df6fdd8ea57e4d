//! PLY, as text and binary in both byte orders.
//!
//! Header and numbers are the library's to read; this code compares what the header promises with the
//! bytes that are there before the library sets anything aside for it.

mod body;
mod header;
mod rows;

use nalgebra::Vector3;
use ply_rs_bw::parser::Parser;
use ply_rs_bw::ply::{ElementDef, PropertyType, ScalarType};
use sim_core::cast::{MOST_TRIANGLES, Soup};

use body::{Body, in_words};
pub(super) use header::form;
use header::{check_promises, form_of, header};
use rows::{FaceRow, OtherRow, VertexRow, is_corners};

use super::colour;
use super::parsed::Parsed;
use super::polygon::Cutter;
use crate::cast::error::{Fault, PlacedFault};
use crate::cast::format::CastFormat;

/// Reads a file: the elements `vertex` and `face`; others are passed over.
pub(super) fn ply(bytes: &[u8]) -> Result<Parsed, PlacedFault> {
    let (header, header_bytes) = header(bytes)?;
    let (text, body) = bytes.split_at(header_bytes);
    check_promises(&header, body.len() as u64)?;
    let mut body = Body::after(text, body, header.encoding);
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

#[derive(Default)]
struct Mesh {
    soup: Soup,
    has_vertices: bool,
}

impl Mesh {
    fn vertices(&mut self, body: &mut Body<'_>, element: &ElementDef) -> Result<(), PlacedFault> {
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

    fn faces(&mut self, body: &mut Body<'_>, element: &ElementDef) -> Result<(), PlacedFault> {
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
