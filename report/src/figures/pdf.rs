//! PDF of an SVG, with its typeface in the file.

use krilla::Document;
use krilla::geom::Size;
use krilla::metadata::Metadata;
use krilla::page::PageSettings;
use krilla_svg::{SurfaceExt as _, SvgSettings};
use resvg::usvg::{Options, Tree};

use super::svg::FAMILY;

/// Points of an inch, over units of a figure of one.
const POINTS: f64 = 72.0 / 96.0;

/// A figure on a page of its own size.
pub(super) fn of_figure(svg: &str, title: &str) -> Result<Vec<u8>, String> {
    let tree = tree(svg, [dejavu::sans::regular(), dejavu::sans::bold()])?;
    let (width, height) = (f64::from(tree.size().width()), f64::from(tree.size().height()));
    written(&tree, (width * POINTS, height * POINTS), title)
}

/// A page drawn as SVG, in points, with the title that the file is to have. In the narrow cut of the family: one page
/// holds more, and the same name finds it.
pub(crate) fn of_page(svg: &str, size: (f64, f64), title: &str) -> Result<Vec<u8>, String> {
    let tree = tree(svg, [dejavu::sans_condensed::regular(), dejavu::sans_condensed::bold()])?;
    written(&tree, size, title)
}

fn tree(svg: &str, cuts: [&[u8]; 2]) -> Result<Tree, String> {
    let mut options = Options { font_family: FAMILY.to_owned(), ..Options::default() };
    let fonts = options.fontdb_mut();
    cuts.into_iter().for_each(|cut| fonts.load_font_data(cut.to_vec()));
    fonts.set_sans_serif_family(FAMILY);
    Tree::from_str(svg, &options).map_err(|error| error.to_string())
}

fn written(tree: &Tree, (width, height): (f64, f64), title: &str) -> Result<Vec<u8>, String> {
    let wrong = || "the page has no size".to_owned();
    let (width, height) = (width as f32, height as f32);
    let mut document = Document::new();
    document.set_metadata(
        Metadata::new()
            .title(words::quoted::escaped(title).into_owned())
            .creator("eminentia".to_owned())
            .language("en".to_owned()),
    );
    let settings = PageSettings::from_wh(width, height).ok_or_else(wrong)?;
    let mut sheet_of_paper = document.start_page_with(settings);
    let mut surface = sheet_of_paper.surface();
    let size = Size::from_wh(width, height).ok_or_else(wrong)?;
    surface.draw_svg(tree, size, SvgSettings::default()).ok_or("the page could not be drawn")?;
    surface.finish();
    sheet_of_paper.finish();
    document.finish().map_err(|error| format!("{error:?}"))
}
