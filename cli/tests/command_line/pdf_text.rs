//! The text of a PDF, by the rules of ISO 32000-1 for fonts with a map to Unicode (9.10.3), as far as our pages need
//! them: what a reader finds when it searches the page, and what is copied off it.

use std::collections::HashMap;
use std::io::Read as _;

use flate2::read::ZlibDecoder;

/// What a PDF says.
pub(crate) struct PdfText {
    /// Every letter of its pages in the order in which it is drawn, without blanks.
    pub(crate) letters: String,
    /// Its title, as a reader has it in the head of its window.
    pub(crate) title: String,
}

/// An object: its dictionary, and its stream unpacked.
struct Object {
    about: String,
    stream: Vec<u8>,
}

impl PdfText {
    pub(crate) fn of(pdf: &[u8]) -> Self {
        let objects = objects(pdf);
        let mut letters = String::new();
        for page in objects.values().filter(|object| object.about.contains("/Contents ")) {
            let own = |name: &str, about: &str| objects.get(&reference(about, name).unwrap()).unwrap();
            let resources = own("/Resources", &page.about);
            let fonts =
                resources.about.split("/Font<<").nth(1).map_or("", |rest| rest.split(">>").next().unwrap());
            let fonts: HashMap<&str, HashMap<u16, String>> = fonts
                .split('/')
                .filter(|font| !font.is_empty())
                .map(|font| {
                    let (name, _) = font.split_once(' ').unwrap();
                    let font = &objects[&reference(font, name).unwrap()];
                    (name, map(&own("/ToUnicode", &font.about).stream))
                })
                .collect();
            drawn(&own("/Contents", &page.about).stream, &fonts, &mut letters);
        }
        let title = pdf.windows(6).position(|at| at == b"/Title").map(|at| &pdf[at + 6..]);
        let title = title.map(|behind| match behind[0] {
            b'(' => literal(&behind[1..]).0,
            _ => hexadecimal(&behind[1..]).0,
        });
        Self { letters, title: title.map(|bytes| text_string(&bytes)).unwrap_or_default() }
    }
}

/// All objects by their numbers.
fn objects(pdf: &[u8]) -> HashMap<u32, Object> {
    let mut objects = HashMap::new();
    let find = |from: usize, what: &[u8]| {
        pdf[from..].windows(what.len()).position(|at| at == what).map(|at| from + at)
    };
    let mut from = 0;
    while let Some(at) = find(from, b" 0 obj\n") {
        let digits = pdf[..at].iter().rev().take_while(|byte| byte.is_ascii_digit()).count();
        let number = std::str::from_utf8(&pdf[at - digits..at]).unwrap().parse().unwrap();
        let end = find(at, b"endobj").unwrap();
        let body = &pdf[at + 7..end];
        let stream = body.windows(7).position(|at| at == b"stream\n");
        let mut unpacked = Vec::new();
        if let Some(stream) = stream {
            // What is not packed is the description for archives.
            let _ = ZlibDecoder::new(&body[stream + 7..]).read_to_end(&mut unpacked);
        }
        let about = String::from_utf8_lossy(&body[..stream.unwrap_or(body.len())]).into_owned();
        objects.insert(number, Object { about, stream: unpacked });
        from = end;
    }
    objects
}

/// The object that stands behind a name.
fn reference(about: &str, name: &str) -> Option<u32> {
    let behind = about.split(name).nth(1)?.trim_start();
    behind.split(' ').next()?.parse().ok()
}

/// A font's codes and what they stand for.
fn map(stream: &[u8]) -> HashMap<u16, String> {
    let text = String::from_utf8_lossy(stream);
    let mut map = HashMap::new();
    for block in text.split("beginbfchar").skip(1) {
        for line in block.split("endbfchar").next().unwrap().lines().filter(|line| !line.trim().is_empty()) {
            let hexes: Vec<Vec<u16>> = line.split(['<', '>']).skip(1).step_by(2).map(units).collect();
            map.insert(hexes[0][0], String::from_utf16(&hexes[1]).unwrap());
        }
    }
    assert!(!text.contains("beginbfrange"), "ranges are not written, and not read");
    map
}

fn units(hex: &str) -> Vec<u16> {
    let digits: Vec<char> = hex.chars().collect();
    digits.chunks(4).map(|unit| u16::from_str_radix(&unit.iter().collect::<String>(), 16).unwrap()).collect()
}

/// Puts what a page's content draws behind `letters`.
fn drawn(content: &[u8], fonts: &HashMap<&str, HashMap<u16, String>>, letters: &mut String) {
    let mut font = None;
    let mut at = 0;
    while at < content.len() {
        match content[at] {
            b'/' => {
                let name: Vec<u8> =
                    content[at + 1..].iter().copied().take_while(u8::is_ascii_alphanumeric).collect();
                at += name.len();
                font = fonts.get(String::from_utf8(name).unwrap().as_str()).or(font);
            }
            // What a part of the page is about, not what is drawn.
            b'<' if content[at + 1..].starts_with(b"<") => {
                at += content[at..].windows(2).position(|end| end == b">>").unwrap() + 1;
            }
            open @ (b'(' | b'<') => {
                let (codes, length) =
                    if open == b'(' { literal(&content[at + 1..]) } else { hexadecimal(&content[at + 1..]) };
                at += length;
                for code in codes.chunks(2) {
                    let code = u16::from_be_bytes([code[0], code[1]]);
                    // A letter without a shape is the box, which stands for nothing.
                    letters.extend(font.and_then(|font| font.get(&code)).map(String::as_str));
                }
            }
            _ => {}
        }
        at += 1;
    }
    letters.retain(|letter| !letter.is_whitespace());
}

/// A string behind its opening bracket (7.3.4.2), and how many bytes it took with the closing one.
fn literal(bytes: &[u8]) -> (Vec<u8>, usize) {
    let (mut read, mut at, mut depth) = (Vec::new(), 0, 0);
    loop {
        match bytes[at] {
            b')' if depth == 0 => return (read, at + 1),
            b'\\' => {
                at += 1;
                let octal =
                    bytes[at..].iter().take(3).take_while(|byte| (b'0'..=b'7').contains(*byte)).count();
                if octal > 0 {
                    let digits = std::str::from_utf8(&bytes[at..at + octal]).unwrap();
                    read.push(u8::try_from(u16::from_str_radix(digits, 8).unwrap()).unwrap());
                    at += octal - 1;
                } else {
                    read.push(match bytes[at] {
                        b'n' => b'\n',
                        b'r' => b'\r',
                        b't' => b'\t',
                        b'b' => 8,
                        b'f' => 12,
                        other => other,
                    });
                }
            }
            byte => {
                depth += i32::from(byte == b'(') - i32::from(byte == b')');
                read.push(byte);
            }
        }
        at += 1;
    }
}

/// A string of hexadecimal digits behind its opening bracket (7.3.4.3), and how many bytes it took with the closing one.
fn hexadecimal(bytes: &[u8]) -> (Vec<u8>, usize) {
    let digits: Vec<u8> = bytes.iter().copied().take_while(|byte| *byte != b'>').collect();
    let byte = |two: &[u8]| u8::from_str_radix(std::str::from_utf8(two).unwrap(), 16).unwrap();
    (digits.chunks(2).map(byte).collect(), digits.len() + 1)
}

/// A string of words (7.9.2.2): UTF-16 with its mark, or one byte a letter.
fn text_string(bytes: &[u8]) -> String {
    match bytes.strip_prefix(b"\xfe\xff") {
        Some(units) => {
            let units: Vec<u16> =
                units.chunks(2).map(|unit| u16::from_be_bytes([unit[0], unit[1]])).collect();
            String::from_utf16(&units).unwrap()
        }
        None => bytes.iter().map(|byte| char::from(*byte)).collect(),
    }
}
