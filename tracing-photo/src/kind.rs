//! What kind of picture a file is, by its first bytes.

/// Whether bytes are those of a picture that is read here.
pub fn is_photo(bytes: &[u8]) -> bool {
    // ISO/IEC 15948, 5.2; ISO/IEC 10918-1, B.1.1.3: the start of an image, and of the marker after it.
    bytes.starts_with(b"\x89PNG\r\n\x1a\n") || bytes.starts_with(b"\xff\xd8\xff")
}

/// The name of the kind of picture that bytes begin like, where they do and it is not read here.
pub fn kind_of_picture(bytes: &[u8]) -> Option<&'static str> {
    let begins = |with: &[u8]| bytes.starts_with(with);
    let brand = bytes.get(4..12);
    let is_webp = begins(b"RIFF") && bytes.get(8..12).is_some_and(|form| form == b"WEBP");
    match () {
        () if begins(b"%PDF") => Some("PDF"),
        // Phones' own kind.
        () if brand.is_some_and(|brand| brand.starts_with(b"ftyphei") || brand == b"ftypmif1") => {
            Some("HEIC picture")
        }
        () if begins(b"GIF8") => Some("GIF picture"),
        () if begins(b"II*\0") || begins(b"MM\0*") => Some("TIFF picture"),
        () if is_webp => Some("WebP picture"),
        () if begins(b"BM") => Some("BMP picture"),
        () if brand.is_some_and(|brand| brand == b"ftypavif") => Some("AVIF picture"),
        () => None,
    }
}

#[cfg(all(test, feature = "reading"))]
mod tests {
    use image::ImageFormat;

    use super::{is_photo, kind_of_picture};

    /// What the library of pictures takes each for.
    #[test]
    fn kinds_are_known_by_their_first_bytes() {
        let begun: [(&[u8], Option<&str>, Option<ImageFormat>); 9] = [
            (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", None, Some(ImageFormat::Png)),
            (b"\xff\xd8\xff\xe0\0\x10JFIF\0", None, Some(ImageFormat::Jpeg)),
            (b"GIF89a\x01\0\x01\0\0\0", Some("GIF picture"), Some(ImageFormat::Gif)),
            (b"II*\0\x08\0\0\0\0\0\0\0", Some("TIFF picture"), Some(ImageFormat::Tiff)),
            (b"MM\0*\0\0\0\x08\0\0\0\0", Some("TIFF picture"), Some(ImageFormat::Tiff)),
            (b"RIFF\x24\0\0\0WEBPVP8 ", Some("WebP picture"), Some(ImageFormat::WebP)),
            (b"BM\x46\0\0\0\0\0\0\0\x36\0", Some("BMP picture"), Some(ImageFormat::Bmp)),
            (b"\0\0\0\x1cftypavif", Some("AVIF picture"), Some(ImageFormat::Avif)),
            (b"leg,forward_mm,left_mm", None, None),
        ];
        for (bytes, kind, known) in begun {
            assert_eq!(kind_of_picture(bytes), kind, "{bytes:?}");
            assert_eq!(image::guess_format(bytes).ok(), known, "{bytes:?}");
            let is_read = matches!(known, Some(ImageFormat::Png | ImageFormat::Jpeg));
            assert_eq!(is_photo(bytes), is_read, "{bytes:?}");
        }
        assert_eq!(kind_of_picture(b"%PDF-1.7"), Some("PDF"));
        assert_eq!(kind_of_picture(b"\0\0\0\x18ftypheic\0\0"), Some("HEIC picture"));
    }
}
