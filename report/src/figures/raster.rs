//! PNG of an SVG, with a typeface of its own.

use std::io::Cursor;

use image::{ImageFormat, RgbaImage};
use resvg::tiny_skia::{Color, Pixmap, Transform};
use resvg::usvg::{Options, Tree};

/// Pixels for each unit of the SVG: at the plot's width, some 250 a printed inch on A4.
const SCALE: f32 = 2.0;

/// Draws the SVG on white.
pub(super) fn png(svg: &str) -> Result<Vec<u8>, String> {
    let mut options = Options { font_family: super::svg::FAMILY.to_owned(), ..Options::default() };
    let fonts = options.fontdb_mut();
    fonts.load_font_data(dejavu::sans::regular().to_vec());
    fonts.load_font_data(dejavu::sans::bold().to_vec());
    fonts.set_sans_serif_family(super::svg::FAMILY);
    let tree = Tree::from_str(svg, &options).map_err(|error| error.to_string())?;
    let size = tree.size();
    let pixels = |length: f32| (length * SCALE).ceil() as u32;
    let (width, height) = (pixels(size.width()), pixels(size.height()));
    let mut picture = Pixmap::new(width, height).ok_or("it has no size")?;
    picture.fill(Color::WHITE);
    resvg::render(&tree, Transform::from_scale(SCALE, SCALE), &mut picture.as_mut());
    // On white nothing is transparent, so that premultiplied colours are plain ones.
    let image = RgbaImage::from_raw(width, height, picture.take()).ok_or("it has lost pixels")?;
    let mut bytes = Cursor::new(Vec::new());
    image::DynamicImage::ImageRgba8(image)
        .to_rgb8()
        .write_to(&mut bytes, ImageFormat::Png)
        .map_err(|error| error.to_string())?;
    Ok(bytes.into_inner())
}
