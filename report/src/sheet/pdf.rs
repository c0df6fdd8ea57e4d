//! A drawn page as PDF, with its typeface in the file.

use krilla::Document;
use krilla::geom::Size;
use krilla::metadata::Metadata;
use krilla::page::PageSettings;
use krilla_svg::{SurfaceExt as _, SvgSettings};
use resvg::usvg::{Options, Tree};

use super::content::Sheet;
use super::page;
use super::paper::Paper;
use crate::figures::svg::FAMILY;

/// The file.
pub(super) fn bytes(sheet: &Sheet, paper: Paper) -> Result<Vec<u8>, String> {
    let (svg, width, height) = page::svg(sheet, paper);
    of_page(&svg, (width, height), &sheet.title)
}

/// A page drawn as SVG, in points, with the title that the file is to have.
pub(crate) fn of_page(svg: &str, (width, height): (f64, f64), title: &str) -> Result<Vec<u8>, String> {
    let mut options = Options { font_family: FAMILY.to_owned(), ..Options::default() };
    let fonts = options.fontdb_mut();
    // The narrow cut of the family: one page holds more, and the same name finds it.
    fonts.load_font_data(dejavu::sans_condensed::regular().to_vec());
    fonts.load_font_data(dejavu::sans_condensed::bold().to_vec());
    fonts.set_sans_serif_family(FAMILY);
    let tree = Tree::from_str(svg, &options).map_err(|error| error.to_string())?;
    let wrong = || "the page has no size".to_owned();
    let (width, height) = (width as f32, height as f32);
    let mut document = Document::new();
    document.set_metadata(
        Metadata::new().title(title.to_owned()).creator("eminentia".to_owned()).language("en".to_owned()),
    );
    let settings = PageSettings::from_wh(width, height).ok_or_else(wrong)?;
    let mut sheet_of_paper = document.start_page_with(settings);
    let mut surface = sheet_of_paper.surface();
    let size = Size::from_wh(width, height).ok_or_else(wrong)?;
    surface.draw_svg(&tree, size, SvgSettings::default()).ok_or("the page could not be drawn")?;
    surface.finish();
    sheet_of_paper.finish();
    document.finish().map_err(|error| format!("{error:?}"))
}
