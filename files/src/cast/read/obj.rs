//! OBJ.
//!
//! Own code, because the library for it takes lines of three points for faces, mixes up colours where
//! only some vertices have one, and does not say in which line it stumbled.

use std::borrow::Cow;

use nalgebra::Vector3;
use sim_core::cast::{MOST_TRIANGLES, Soup};
use sim_core::cusp::Tooth;

use super::parsed::Parsed;
use super::polygon::Cutter;
use super::words::{Words, number, without_mark};
use super::{colour, label};
use crate::cast::error::{Fault, PlacedFault};
use crate::cast::format::CastFormat;
use crate::cast::limits::MOST_VERTICES;

/// The statements of the format that do not matter here, besides `v`, `f`, `g` and `o`.
const PASSED_OVER: [&str; 40] = [
    "vt",
    "vn",
    "vp",
    "l",
    "p",
    "s",
    "mg",
    "usemtl",
    "mtllib",
    "usemap",
    "maplib",
    "bevel",
    "c_interp",
    "d_interp",
    "lod",
    "shadow_obj",
    "trace_obj",
    "deg",
    "bmat",
    "step",
    "cstype",
    "curv",
    "curv2",
    "surf",
    "parm",
    "trim",
    "hole",
    "scrv",
    "sp",
    "end",
    "con",
    "ctech",
    "stech",
    "call",
    "csh",
    "bsp",
    "bzp",
    "cdc",
    "cdp",
    "res",
];

/// Whether a text begins with a statement of the format.
pub(super) fn begins_as_obj(text: &[u8]) -> bool {
    let mut lines = text.split(|&byte| byte == b'\n').map(<[u8]>::trim_ascii);
    lines
        .find(|line| !line.is_empty() && !line.starts_with(b"#"))
        .and_then(|line| Words::of(line).next())
        .is_some_and(|word| matches!(word, b"v" | b"f" | b"g" | b"o") || is_passed_over(word))
}

fn is_passed_over(word: &[u8]) -> bool {
    PASSED_OVER.iter().any(|statement| statement.as_bytes() == word)
}

/// Reads a file. Normals, textures and materials are passed over.
pub(super) fn obj(bytes: &[u8]) -> Result<Parsed, PlacedFault> {
    let mut reader = Reader::default();
    let mut lines = (1..).zip(without_mark(bytes).split(|&byte| byte == b'\n'));
    while let Some((at, line)) = lines.next() {
        let mut line = Cow::from(line.trim_ascii_end());
        // A line may go on in the next, but a comment may end in a folder's name.
        while line.ends_with(b"\\") && !line.trim_ascii_start().starts_with(b"#") {
            let whole = line.to_mut();
            whole.pop();
            whole.push(b' ');
            whole.extend_from_slice(lines.next().map_or(&[][..], |(_, line)| line.trim_ascii_end()));
        }
        reader.statement(&line, at)?;
    }
    Ok(reader.finish())
}

#[derive(Default)]
struct Reader {
    soup: Soup,
    colours: Vec<[f32; 3]>,
    teeth: Vec<Option<Tooth>>,
    tooth: Option<Tooth>,
    cutter: Cutter,
    face: Vec<u32>,
}

impl Reader {
    fn statement(&mut self, line: &[u8], at: usize) -> Result<(), PlacedFault> {
        let mut words = Words::of(line);
        match words.next() {
            None => Ok(()),
            Some(b"v") => self.vertex(words, at),
            Some(b"f") => self.face(words, at),
            Some(b"g" | b"o") => {
                self.tooth = label::tooth(words.skip_line());
                Ok(())
            }
            Some(word) if word.starts_with(b"#") || is_passed_over(word) => Ok(()),
            Some(word) => Err(Fault::unexpected(
                word,
                "a statement of an OBJ file: v, vt, vn, f, g, o, s, usemtl, mtllib or a comment (#)",
            )
            .at_line(at)),
        }
    }

    /// Three coordinates; then nothing, a weight, or a colour, which may have an opacity.
    fn vertex(&mut self, words: Words<'_>, at: usize) -> Result<(), PlacedFault> {
        let mut numbers = [0.0; 7];
        let mut count = 0;
        for word in words.take_while(|word| !word.starts_with(b"#")) {
            let Some(place) = numbers.get_mut(count) else {
                return Err(Fault::unexpected(word, "up to seven numbers").at_line(at));
            };
            *place = number(word, at)?;
            count += 1;
        }
        if count < 3 || count == 5 {
            let wanted = "v with three coordinates, and no more than a weight or a colour after them";
            return Err(Fault::Unexpected {
                found: format!("v with {count} numbers"),
                wanted: wanted.to_owned(),
            }
            .at_line(at));
        }
        let [x, y, z, colour @ .., _] = numbers;
        if self.soup.vertices.len() == MOST_VERTICES {
            let given = MOST_VERTICES as u64 + 1;
            return Err(Fault::TooMany { given, what: "vertices", most: MOST_VERTICES }.at_line(at));
        }
        self.soup.vertices.push(Vector3::new(x, y, z));
        if count >= 6 {
            self.colours.push(colour.map(|part| part as f32));
        }
        Ok(())
    }

    /// Corners as `vertex`, `vertex/texture`, `vertex//normal` or `vertex/texture/normal`.
    fn face(&mut self, words: Words<'_>, at: usize) -> Result<(), PlacedFault> {
        let vertices = self.soup.vertices.len();
        self.face.clear();
        for word in words.take_while(|word| !word.starts_with(b"#")) {
            let index = word.split(|&byte| byte == b'/').next().unwrap_or_default();
            let index = std::str::from_utf8(index).ok().and_then(|index| index.parse::<i64>().ok());
            let Some(index) = index else {
                let wanted = "a corner such as 7, 7/2, 7//3, 7/2/3 or, counted back from the last, -1";
                return Err(Fault::unexpected(word, wanted).at_line(at));
            };
            // From 1, or back from the last one so far.
            let from_0 = if index < 0 { vertices as i64 + index } else { index - 1 };
            match usize::try_from(from_0) {
                Ok(from_0) if from_0 < vertices => self.face.push(from_0 as u32),
                _ => return Err(Fault::NoSuchVertex { index, vertices, first: 1 }.at_line(at)),
            }
        }
        self.cutter
            .cut(&self.soup.vertices, &self.face, &mut self.soup.triangles)
            .map_err(|fault| fault.at_line(at))?;
        let triangles = self.soup.triangles.len();
        if triangles > MOST_TRIANGLES {
            return Err(Fault::too_many_triangles(triangles as u64).at_line(at));
        }
        self.teeth.resize(triangles, self.tooth);
        Ok(())
    }

    fn finish(self) -> Parsed {
        let Self { mut soup, colours, teeth, .. } = self;
        let mut notes = Vec::new();
        if colours.len() == soup.vertices.len() {
            soup.colours = Some(colour::from_fractions(&colours));
        } else if !colours.is_empty() {
            notes.push(format!(
                "Only {} of {} vertices have a colour; the colours were not used.",
                colours.len(),
                soup.vertices.len()
            ));
        }
        if teeth.iter().any(Option::is_some) {
            soup.teeth = Some(teeth);
        }
        Parsed { soup, format: CastFormat::Obj, notes }
    }
}
