//! STL, binary and as text.
//!
//! Own code, because the library for it reads only the first of several solids, refuses text whose
//! solid has no name or whose normals are no numbers, and takes every file that begins with `solid` for
//! text.

use nalgebra::Vector3;
use sim_core::cast::{MOST_TRIANGLES, Soup};
use sim_core::cusp::Tooth;

use super::label;
use super::parsed::Parsed;
use super::words::{Words, number, without_mark};
use crate::cast::error::{Fault, PlacedFault};
use crate::cast::format::CastFormat;

/// 80 bytes of anything and a count.
const HEADER: usize = 84;
/// Normal and corners as twelve numbers of 32 bits, and two bytes more.
const TRIANGLE: usize = 50;

/// The count that the header of a binary file gives.
pub(super) fn count(bytes: &[u8]) -> Option<u64> {
    let count = bytes.get(HEADER - 4..HEADER)?.try_into().ok()?;
    Some(u64::from(u32::from_le_bytes(count)))
}

/// Reads a binary file. The normals in it are not used: the order of the corners says the same.
pub(super) fn binary(bytes: &[u8]) -> Result<Parsed, PlacedFault> {
    let Some(promised) = count(bytes) else {
        return Err(Fault::CutShort { wanted: format!("a header of {HEADER} bytes") }.into());
    };
    let rest = &bytes[HEADER..];
    let there = (rest.len() / TRIANGLE) as u64;
    let mut notes = Vec::new();
    let read = if promised == 0 && there > 0 {
        notes.push(format!("The header counts no triangles; the {there} that follow it were read."));
        there
    } else {
        promised
    };
    if read > there {
        let (least_bytes, there) = (read * TRIANGLE as u64, rest.len() as u64);
        return Err(Fault::Promised { promised, what: "triangles".to_owned(), least_bytes, there }.into());
    }
    if read > MOST_TRIANGLES as u64 {
        return Err(Fault::too_many_triangles(read).into());
    }
    // Not more than is there, which is less than the most.
    let read = read as usize;
    let over = rest.len() - read * TRIANGLE;
    if over > 0 {
        notes.push(format!("{over} bytes follow the last triangle and were not read."));
    }

    let mut soup = Soup { vertices: Vec::with_capacity(read * 3), ..Soup::default() };
    for (at, triangle) in rest.chunks_exact(TRIANGLE).take(read).enumerate() {
        let mut numbers = triangle.chunks_exact(4).skip(3).map(|number| match *number {
            [a, b, c, d] => f64::from(f32::from_le_bytes([a, b, c, d])),
            _ => f64::NAN,
        });
        for _ in 0..3 {
            let mut next = || numbers.next().unwrap_or(f64::NAN);
            let corner = Vector3::new(next(), next(), next());
            if let Some(found) = corner.iter().find(|number| !number.is_finite()) {
                return Err(Fault::NotFinite { found: found.to_string() }.at_triangle(at));
            }
            soup.vertices.push(corner);
        }
    }
    soup.triangles = in_turn(read);
    Ok(Parsed { soup, format: CastFormat::StlBinary, notes })
}

/// Reads text: any number of solids, a solid named for a tooth labelling its triangles.
pub(super) fn ascii(bytes: &[u8]) -> Result<Parsed, PlacedFault> {
    let mut words = Words::of(without_mark(bytes));
    let mut soup = Soup::default();
    let mut teeth: Vec<Option<Tooth>> = Vec::new();
    let mut inside: Option<Option<Tooth>> = None;
    while let Some(word) = words.next() {
        let is = |keyword: &str| word.eq_ignore_ascii_case(keyword.as_bytes());
        match inside {
            None if is("solid") => inside = Some(label::tooth(words.skip_line())),
            Some(_) if is("endsolid") => {
                words.skip_line();
                inside = None;
            }
            Some(tooth) if is("facet") => {
                facet(&mut words, &mut soup.vertices)?;
                teeth.push(tooth);
                if teeth.len() > MOST_TRIANGLES {
                    return Err(Fault::too_many_triangles(teeth.len() as u64).at_line(words.line));
                }
            }
            Some(_) => {
                return Err(Fault::unexpected(word, "“facet” or “endsolid”").at_line(words.line));
            }
            None => return Err(Fault::unexpected(word, "“solid” or the end").at_line(words.line)),
        }
    }
    if inside.is_some() {
        return Err(Fault::CutShort { wanted: "“facet” or “endsolid”".to_owned() }.at_line(words.line));
    }
    soup.triangles = in_turn(teeth.len());
    if teeth.iter().any(Option::is_some) {
        soup.teeth = Some(teeth);
    }
    Ok(Parsed { soup, format: CastFormat::StlAscii, notes: Vec::new() })
}

/// What follows the word `facet`. Its normal may be anything: programs write `nan` where a triangle has
/// no area.
fn facet(words: &mut Words<'_>, vertices: &mut Vec<Vector3<f64>>) -> Result<(), PlacedFault> {
    expect(words, "normal")?;
    for _ in 0..3 {
        next(words, "three numbers of a normal")?;
    }
    expect(words, "outer")?;
    expect(words, "loop")?;
    for _ in 0..3 {
        expect(words, "vertex")?;
        let mut coordinate = || {
            let word = next(words, "three coordinates")?;
            number(word, words.line)
        };
        vertices.push(Vector3::new(coordinate()?, coordinate()?, coordinate()?));
    }
    expect(words, "endloop")?;
    expect(words, "endfacet")
}

fn next<'t>(words: &mut Words<'t>, wanted: &str) -> Result<&'t [u8], PlacedFault> {
    let line = words.line;
    words.next().ok_or_else(|| Fault::CutShort { wanted: wanted.to_owned() }.at_line(line))
}

fn expect(words: &mut Words<'_>, wanted: &str) -> Result<(), PlacedFault> {
    let word = next(words, wanted)?;
    if word.eq_ignore_ascii_case(wanted.as_bytes()) {
        Ok(())
    } else {
        Err(Fault::unexpected(word, format!("“{wanted}”")).at_line(words.line))
    }
}

/// Triangles whose corners are the vertices in turn.
fn in_turn(count: usize) -> Vec<[u32; 3]> {
    (0..count as u32).map(|at| [3 * at, 3 * at + 1, 3 * at + 2]).collect()
}
