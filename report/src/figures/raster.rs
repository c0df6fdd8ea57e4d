//! PNG of an SVG, with a typeface of its own.

use png::{BitDepth, ColorType, PixelDimensions, Unit};
use resvg::tiny_skia::{Color, Pixmap, Transform};
use resvg::usvg::{Options, Tree};

use super::error::{FigureError, MOST_MILLIONS};
use super::print::{INCH_MM, Print};

/// Draws the SVG on white.
pub(super) fn png(svg: &str, print: &Print) -> Result<Vec<u8>, FigureError> {
    let undrawn = |reason: String| FigureError::Undrawn { reason };
    let mut options = Options { font_family: super::svg::FAMILY.to_owned(), ..Options::default() };
    let fonts = options.fontdb_mut();
    fonts.load_font_data(dejavu::sans::regular().to_vec());
    fonts.load_font_data(dejavu::sans::bold().to_vec());
    fonts.set_sans_serif_family(super::svg::FAMILY);
    let tree = Tree::from_str(svg, &options).map_err(|error| undrawn(error.to_string()))?;
    let size = tree.size();
    let dots = print.width_mm / INCH_MM * f64::from(print.dpi);
    let scale = dots as f32 / size.width();
    let width = dots.round() as u32;
    let height = (size.height() * scale).ceil() as u32;
    let millions = u64::from(width) * u64::from(height) / 1_000_000;
    if millions > MOST_MILLIONS {
        return Err(FigureError::TooLarge { width_mm: print.width_mm, dpi: print.dpi, millions });
    }
    let mut picture = Pixmap::new(width, height).ok_or_else(|| undrawn("it has no size".to_owned()))?;
    picture.fill(Color::WHITE);
    resvg::render(&tree, Transform::from_scale(scale, scale), &mut picture.as_mut());
    // On white nothing is transparent, so that premultiplied colours are plain ones.
    let colours: Vec<u8> = picture.data().chunks_exact(4).flat_map(|pixel| &pixel[..3]).copied().collect();
    written(&colours, (width, height), print.dpi).map_err(|error| undrawn(error.to_string()))
}

/// The file, which says how many dots stand on a metre.
fn written(colours: &[u8], (width, height): (u32, u32), dpi: u32) -> Result<Vec<u8>, png::EncodingError> {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, width, height);
    encoder.set_color(ColorType::Rgb);
    encoder.set_depth(BitDepth::Eight);
    let dots_a_metre = (f64::from(dpi) / INCH_MM * 1000.0).round() as u32;
    encoder.set_pixel_dims(Some(PixelDimensions {
        xppu: dots_a_metre,
        yppu: dots_a_metre,
        unit: Unit::Meter,
    }));
    let mut writer = encoder.write_header()?;
    writer.write_image_data(colours)?;
    writer.finish()?;
    Ok(bytes)
}
