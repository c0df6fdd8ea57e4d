//! Pictures from bytes, bounded in size.

use std::io::Cursor;

use image::Luma;
use image::{DynamicImage, ImageDecoder as _, ImageReader, Limits};
use imageproc::definitions::Image;

use super::error::PhotoError;
use super::place::Part;

/// Most pixels on a side.
const MOST_ON_A_SIDE: u32 = 12_000;
/// Most pixels in all, in millions: a phone's photo has 12 to 50. A pixel takes some 16 bytes until it is worked out.
const MOST_MEGAPIXELS: u64 = 64;
/// Most memory that decoding takes.
const MOST_BYTES: u64 = 600_000_000;

/// A picture in shades of grey, 0 black to 255 white.
pub(super) type Grey = Image<Luma<f32>>;

/// Reads a picture upright, as it is shown.
pub(super) fn read(bytes: &[u8]) -> Result<Grey, PhotoError> {
    let broken = |error: image::ImageError| PhotoError::Broken { reason: error.to_string() };
    let mut reader = ImageReader::new(Cursor::new(bytes))
        .with_guessed_format()
        .map_err(|error| PhotoError::Broken { reason: error.to_string() })?;
    let mut limits = Limits::default();
    limits.max_alloc = Some(MOST_BYTES);
    reader.limits(limits);
    let mut decoder = reader.into_decoder().map_err(broken)?;
    // Known before any pixel is unpacked.
    let (width, height) = decoder.dimensions();
    if width > MOST_ON_A_SIDE || height > MOST_ON_A_SIDE {
        return Err(PhotoError::TooLarge { width, height, most: MOST_ON_A_SIDE });
    }
    if u64::from(width) * u64::from(height) > MOST_MEGAPIXELS * 1_000_000 {
        return Err(PhotoError::TooMany { width, height, most: MOST_MEGAPIXELS });
    }
    let orientation = decoder.orientation().map_err(broken)?;
    let mut picture = DynamicImage::from_decoder(decoder).map_err(broken)?;
    picture.apply_orientation(orientation);
    let mut grey = picture.to_luma32f();
    drop(picture);
    for Luma([shade]) in grey.pixels_mut() {
        *shade *= 255.0;
    }
    Ok(grey)
}

/// The part asked for, else the whole.
pub(super) fn part(selection: Option<Part>, width: u32, height: u32) -> Result<Part, PhotoError> {
    let Some(part) = selection else { return Ok(Part { left: 0, top: 0, right: width, bottom: height }) };
    let Part { left, top, right, bottom } = part;
    if left < right && top < bottom && right <= width && bottom <= height {
        Ok(part)
    } else {
        Err(PhotoError::Part { left, top, right, bottom, width, height })
    }
}

/// A part of a picture.
pub(super) fn cut(picture: Grey, part: Part) -> Grey {
    let (width, height) = picture.dimensions();
    if part == (Part { left: 0, top: 0, right: width, bottom: height }) {
        return picture;
    }
    Grey::from_fn(part.right - part.left, part.bottom - part.top, |x, y| {
        *picture.get_pixel(part.left + x, part.top + y)
    })
}
