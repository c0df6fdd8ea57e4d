//! Text to link and back: version, base64url, zlib.

use base64::Engine as _;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use miniz_oxide::deflate::compress_to_vec_zlib;
use miniz_oxide::inflate::TINFLStatus;
use miniz_oxide::inflate::core::inflate_flags::{
    TINFL_FLAG_COMPUTE_ADLER32, TINFL_FLAG_PARSE_ZLIB_HEADER, TINFL_FLAG_USING_NON_WRAPPING_OUTPUT_BUF,
};
use miniz_oxide::inflate::core::{DecompressorOxide, decompress};
use words::quoted::value;

use super::error::LinkError;
use super::limits::{MOST_LINK_LETTERS, MOST_UNPACKED_BYTES, VERSION};

/// The most that zlib's levels pack; a scene takes no time at any of them.
const TIGHTEST: u8 = 10;

pub(super) fn pack(text: &str) -> Result<String, LinkError> {
    if text.len() > MOST_UNPACKED_BYTES {
        return Err(LinkError::TooLarge);
    }
    let mut link = VERSION.to_string();
    URL_SAFE_NO_PAD.encode_string(compress_to_vec_zlib(text.as_bytes(), TIGHTEST), &mut link);
    if link.len() > MOST_LINK_LETTERS { Err(LinkError::TooLong { letters: link.len() }) } else { Ok(link) }
}

pub(super) fn unpack(link: &str) -> Result<String, LinkError> {
    if link.len() > MOST_LINK_LETTERS {
        return Err(LinkError::TooLong { letters: link.chars().count() });
    }
    let Some(version) = link.chars().next() else { return Err(LinkError::Empty) };
    let is_of_link = |letter: char| letter.is_ascii_alphanumeric() || letter == '-' || letter == '_';
    if let Some((before, letter)) = link.chars().enumerate().find(|(_, letter)| !is_of_link(*letter)) {
        return Err(LinkError::Letter { given: value(&letter.to_string()), place: before + 1 });
    }
    let Some(packed) = link.strip_prefix(VERSION) else {
        return Err(LinkError::Version { given: version.to_string() });
    };
    if packed.is_empty() {
        return Err(LinkError::Empty);
    }
    let packed = URL_SAFE_NO_PAD.decode(packed).map_err(|_| LinkError::Damaged)?;
    String::from_utf8(inflated(&packed)?).map_err(|_| LinkError::NotText)
}

/// What a whole zlib stream holds, its checksum compared, nothing left over behind it.
fn inflated(packed: &[u8]) -> Result<Vec<u8>, LinkError> {
    let mut text = vec![0; MOST_UNPACKED_BYTES];
    let flags =
        TINFL_FLAG_PARSE_ZLIB_HEADER | TINFL_FLAG_COMPUTE_ADLER32 | TINFL_FLAG_USING_NON_WRAPPING_OUTPUT_BUF;
    let mut state = Box::<DecompressorOxide>::default();
    let (status, taken, length) = decompress(&mut state, packed, &mut text, 0, flags);
    match status {
        TINFLStatus::Done if taken == packed.len() => {
            text.truncate(length);
            Ok(text)
        }
        TINFLStatus::HasMoreOutput => Err(LinkError::TooLarge),
        _ => Err(LinkError::Damaged),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A link of a stream that is given as it is.
    fn link_of(stream: &[u8]) -> String {
        format!("{VERSION}{}", URL_SAFE_NO_PAD.encode(stream))
    }

    #[test]
    fn a_stream_written_by_another_program_is_read() {
        // Python 3: zlib.compress(b"a set-up by a link", 9), base64.urlsafe_b64encode.
        assert_eq!(unpack("1eNpLVChOLdEtLVBIqlRIVMjJzMsGADl-Bio").as_deref(), Ok("a set-up by a link"));
    }

    #[test]
    fn a_stream_that_bursts_is_refused_within_its_bound() {
        let link = link_of(&compress_to_vec_zlib(&vec![b' '; 11_000_000], TIGHTEST));
        assert!(link.len() < MOST_LINK_LETTERS, "{}", link.len());
        let mut refused = None;
        let taken = allocation_counter::measure(|| refused = Some(unpack(&link))).bytes_max;
        assert_eq!(refused, Some(Err(LinkError::TooLarge)));
        // The text, the packed bytes, and what the unpacker itself keeps.
        let most = (MOST_UNPACKED_BYTES + MOST_LINK_LETTERS + 32_768) as u64;
        assert!(taken <= most, "{taken} bytes for at most {most}");
    }

    #[test]
    fn exactly_as_much_as_is_allowed_is_unpacked_and_one_byte_more_is_not() {
        let most = " ".repeat(MOST_UNPACKED_BYTES);
        assert_eq!(pack(&most).and_then(|link| unpack(&link)).as_ref(), Ok(&most));
        assert_eq!(pack(&format!("{most} ")), Err(LinkError::TooLarge));
        let more = compress_to_vec_zlib(format!("{most} ").as_bytes(), TIGHTEST);
        assert_eq!(unpack(&link_of(&more)), Err(LinkError::TooLarge));
    }

    #[test]
    fn what_does_not_shrink_is_too_long() {
        // Digits of a sequence that packs badly: x → 48271 x mod 2³¹ − 1.
        let digits = std::iter::successors(Some(1_u64), |x| Some(x * 48_271 % 2_147_483_647));
        let text: String = digits.take(4_000).map(|x| x.to_string()).collect();
        let Err(LinkError::TooLong { letters }) = pack(&text) else { panic!("it is short") };
        assert!(letters > MOST_LINK_LETTERS);
        let long = format!("{VERSION}{}", "A".repeat(MOST_LINK_LETTERS));
        assert_eq!(unpack(&long), Err(LinkError::TooLong { letters: MOST_LINK_LETTERS + 1 }));
    }

    #[test]
    fn letters_versions_and_remains_are_told_apart() {
        assert_eq!(unpack(""), Err(LinkError::Empty));
        assert_eq!(unpack("1"), Err(LinkError::Empty));
        assert_eq!(unpack("2eNpLVC"), Err(LinkError::Version { given: "2".to_owned() }));
        let letter = |given: &str, place| Err(LinkError::Letter { given: given.to_owned(), place });
        assert_eq!(unpack("1eNp+"), letter("+", 5));
        assert_eq!(unpack("1e\u{1b}"), letter("\\u{1b}", 3));
        let mut stream = compress_to_vec_zlib(b"a scene", TIGHTEST);
        assert!(unpack(&link_of(&stream)).is_ok());
        stream.push(0);
        assert_eq!(unpack(&link_of(&stream)), Err(LinkError::Damaged));
        assert_eq!(unpack(&link_of(&compress_to_vec_zlib(&[0xff, 0xfe], 1))), Err(LinkError::NotText));
    }
}
