//! What is done to a file: bytes turned, parts left out, doubled and moved, numbers and words that nobody expects.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::Rng;

/// Words that readers are known to stumble over.
const ODD: &[&str] = &[
    "0",
    "-0.0",
    "-1",
    "1e308",
    "-1e308",
    "1e-308",
    "NaN",
    "inf",
    "4294967296",
    "18446744073709551616",
    "",
    "\"",
    "\\",
    "(",
    ")",
    "[",
    "]",
    "None",
    "Some(",
    ",",
    ":",
    "\u{1b}[2J",
    "\u{202e}",
    "\u{0}",
    "\n",
    "\r",
    "\u{feff}",
    "=1+1",
    "漢",
    "90.0",
    "89.999999",
    "1e9",
    "-90",
    "0x7f",
    "true",
    "Casts(",
    "Column(file: \"/dev/zero\", column: \"v\")",
    "nan nan nan",
    "f 1 2 3 4 5 6 7 8 9",
    "element vertex 4294967295",
];
/// Most places at which one file is damaged.
const MOST_PLACES: u64 = 6;
/// A file does not grow beyond this.
const MOST_BYTES: usize = 400_000;

/// A number below `end`, 0 where that is 0.
fn below(random: &mut ChaCha8Rng, end: usize) -> usize {
    if end == 0 { 0 } else { usize::try_from(random.next_u64() % end as u64).unwrap_or_default() }
}

/// The file, damaged.
#[must_use]
pub fn damaged(bytes: &[u8], other: &[u8], random: &mut ChaCha8Rng) -> Vec<u8> {
    let mut bytes = bytes.to_vec();
    for _ in 0..=random.next_u64() % MOST_PLACES {
        let at = below(random, bytes.len());
        let length = below(random, 40).min(bytes.len() - at);
        match random.next_u64() % 8 {
            0 if !bytes.is_empty() => bytes[at] ^= 1 << (random.next_u64() % 8),
            1 => drop(bytes.drain(at..at + length)),
            2 => {
                let part = bytes[at..at + length].to_vec();
                let to = below(random, bytes.len());
                bytes.splice(to..to, part);
            }
            3 => bytes.truncate(at),
            4 => {
                let from = below(random, other.len());
                let part = other[from..(from + 200).min(other.len())].to_vec();
                bytes.splice(at..at, part);
            }
            5 => {
                // A number in place of a number.
                let (from, to) = number_near(&bytes, at);
                bytes.splice(from..to, odd(random).bytes());
            }
            6 => {
                let long = odd(random).repeat(1 + below(random, 3000));
                bytes.splice(at..at, long.bytes());
            }
            _ => drop(bytes.splice(at..at, odd(random).bytes())),
        }
        bytes.truncate(MOST_BYTES);
    }
    bytes
}

fn odd(random: &mut ChaCha8Rng) -> &'static str {
    ODD[below(random, ODD.len())]
}

/// Where the next number stands, after a place; the place itself if there is none.
fn number_near(bytes: &[u8], at: usize) -> (usize, usize) {
    let is_digit = |byte: &u8| byte.is_ascii_digit() || matches!(byte, b'.' | b'-');
    let Some(from) = bytes[at..].iter().position(is_digit).map(|off| at + off) else { return (at, at) };
    let to = bytes[from..].iter().position(|byte| !is_digit(byte)).map_or(bytes.len(), |off| from + off);
    (from, to)
}
