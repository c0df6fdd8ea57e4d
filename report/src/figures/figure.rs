//! A figure, as SVG, and as PNG and PDF of the same picture.

use words::CAUTION;

use super::error::FigureError;
use super::letters::LETTER;
use super::print::{Print, mm};
use super::svg::{Anchor, Svg};

/// Size of the caution under a figure that stands alone, and how far its lines are apart.
const FOOT: f64 = 11.0;
const FOOT_LINE: f64 = 15.0;
/// Room at the left and right of it.
const FOOT_MARGIN: f64 = 20.0;

/// A picture to stand on a page with other things.
pub struct Figure {
    /// An SVG of its own.
    pub svg: String,
    /// In the units of the SVG.
    pub width: f64,
    /// In the units of the SVG.
    pub height: f64,
    /// What it shows, whether or not it stands on it.
    pub title: String,
    /// What its lines and colours mean, in sentences; empty where all of that stands on it.
    pub explanation: String,
}

/// A figure's letters, which have 9 units and more, stay above 4 points.
const LEAST_SCALE: f64 = 0.6;

impl Figure {
    /// The figure as an SVG that goes on without a page, with the caution under it.
    ///
    /// # Errors
    /// [`FigureError::TooNarrow`] for a figure that is not laid out anew.
    pub fn alone(&self, print: &Print) -> Result<String, FigureError> {
        let scale = print.width_mm / mm(self.width);
        if scale < LEAST_SCALE {
            // Up, so that what is said to be enough is.
            let least_mm = (mm(self.width) * LEAST_SCALE).ceil();
            return Err(FigureError::TooNarrow { width_mm: print.width_mm, least_mm });
        }
        let letters = ((self.width - 2.0 * FOOT_MARGIN) / (FOOT * LETTER)) as usize;
        let lines = textwrap::wrap(CAUTION, letters.max(8));
        let height = self.height + FOOT_LINE * (lines.len() as f64 + 0.5);
        let mut svg = Svg::on_paper((self.width, height), (print.width_mm, mm(height) * scale));
        svg.picture(&self.svg);
        for (index, line) in lines.iter().enumerate() {
            let y = self.height + FOOT_LINE * (index as f64 + 0.8);
            svg.words((FOOT_MARGIN, y), FOOT, false, Anchor::Start, line);
        }
        Ok(svg.end())
    }

    /// The figure alone on white as PNG, in a typeface of its own; the file says how many dots it has to an inch.
    ///
    /// # Errors
    /// [`FigureError`].
    #[cfg(feature = "raster")]
    pub fn png(&self, print: &Print) -> Result<Vec<u8>, FigureError> {
        super::raster::png(&self.alone(print)?, print)
    }

    /// No PNG: this program was built without.
    ///
    /// # Errors
    /// [`FigureError::LeftOut`].
    #[cfg(not(feature = "raster"))]
    pub fn png(&self, _: &Print) -> Result<Vec<u8>, FigureError> {
        Err(FigureError::LeftOut { what: "PNG" })
    }

    /// The figure alone as PDF on a page of its own size, with its typeface in the file.
    ///
    /// # Errors
    /// [`FigureError`].
    #[cfg(feature = "paper")]
    pub fn pdf(&self, print: &Print) -> Result<Vec<u8>, FigureError> {
        super::pdf::of_figure(&self.alone(print)?, &self.title)
            .map_err(|reason| FigureError::Undrawn { reason })
    }

    /// No PDF: this program was built without.
    ///
    /// # Errors
    /// [`FigureError::LeftOut`].
    #[cfg(not(feature = "paper"))]
    pub fn pdf(&self, _: &Print) -> Result<Vec<u8>, FigureError> {
        Err(FigureError::LeftOut { what: "PDF" })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawn(width: f64) -> Figure {
        let mut svg = Svg::new(width, 50.0);
        svg.words((1.0, 20.0), 10.0, false, Anchor::Start, "drawn");
        Figure { svg: svg.end(), width, height: 50.0, title: String::new(), explanation: String::new() }
    }

    fn of_width(width_mm: f64) -> Print {
        Print { width_mm, ..Print::USUAL }
    }

    /// The picture's own words stay, and those of the caution stand under it, within its width.
    #[test]
    fn a_figure_alone_has_the_caution_under_it_however_narrow_it_is() {
        for width in [120.0, 400.0, 980.0] {
            let alone = drawn(width).alone(&of_width(mm(width))).expect("a figure");
            let tree = resvg::usvg::roxmltree::Document::parse(&alone).expect("it is XML");
            let texts: Vec<_> = tree.descendants().filter(|node| node.has_tag_name("text")).collect();
            let y = |node: &resvg::usvg::roxmltree::Node<'_, '_>| -> f64 {
                node.attribute("y").and_then(|text| text.parse().ok()).expect("a number")
            };
            assert_eq!(texts[0].text(), Some("drawn"));
            let said: Vec<&str> = texts[1..].iter().filter_map(|node| node.text()).collect();
            assert_eq!(said.join(" "), CAUTION);
            let view_box = tree.root_element().attribute("viewBox").expect("a view box");
            let height: f64 =
                view_box.rsplit(' ').next().and_then(|text| text.parse().ok()).expect("a number");
            assert!(texts[1..].iter().all(|node| (50.0..height).contains(&y(node))), "{alone}");
            assert!(said.iter().all(|line| line.len() as f64 * FOOT * LETTER <= width), "{said:?}");
        }
    }

    /// 96 units are an inch: so says the standard of what a browser takes for a pixel (CSS Values 3, 5.2).
    #[test]
    fn it_is_as_wide_on_paper_as_was_asked() {
        let alone = drawn(302.362_204_724).alone(&of_width(80.0)).expect("a figure");
        let tree = resvg::usvg::Tree::from_str(&alone, &resvg::usvg::Options::default()).expect("a picture");
        assert!((f64::from(tree.size().width()) - 80.0 / 25.4 * 96.0).abs() < 1e-3);
        assert!(alone.contains("width=\"80mm\""), "{alone}");
    }

    #[test]
    fn letters_that_nobody_reads_are_refused_with_the_least_that_can_be() {
        let Err(FigureError::TooNarrow { least_mm, .. }) = drawn(980.0).alone(&of_width(80.0)) else {
            panic!("80 mm of 259")
        };
        assert!(drawn(980.0).alone(&of_width(least_mm)).is_ok());
        assert!(drawn(980.0).alone(&of_width(least_mm - 1.0)).is_err());
    }

    /// What the file says of its dots, and how many there are, come to the width that was asked for.
    #[cfg(feature = "raster")]
    #[test]
    fn a_png_has_its_dots_an_inch_and_says_so() {
        for (width_mm, dpi) in [(84.0, 600), (190.5, 300), (100.0, 72)] {
            let print = Print { width_mm, dpi, titled: false };
            let bytes = drawn(print.units()).png(&print).expect("a picture");
            let picture = png::Decoder::new(std::io::Cursor::new(&bytes)).read_info().expect("a PNG");
            let (wide, dims) = (picture.info().width, picture.info().pixel_dims.expect("pHYs"));
            assert_eq!(dims.unit, png::Unit::Meter);
            let width = f64::from(wide) / f64::from(dims.xppu) * 1000.0;
            // To a dot, and to what whole dots a metre leave.
            assert!(
                (width - width_mm).abs() < 25.4 / f64::from(dpi) + 1e-4 * width_mm,
                "{width} of {width_mm}"
            );
            assert!((f64::from(dims.xppu) * 0.0254 - f64::from(dpi)).abs() < 0.02);
        }
    }

    #[cfg(feature = "raster")]
    #[test]
    fn a_png_too_large_to_hold_is_refused_before_it_is_drawn() {
        let print = Print { width_mm: 420.0, dpi: 1200, titled: false };
        let mut tall = drawn(print.units());
        tall.height = 2.0 * tall.width;
        assert!(matches!(tall.png(&print), Err(FigureError::TooLarge { .. })));
    }

    #[cfg(feature = "paper")]
    #[test]
    fn a_pdf_has_a_page_of_the_figures_size() {
        let print = of_width(84.0);
        let bytes = drawn(print.units()).pdf(&print).expect("a page");
        let text = String::from_utf8_lossy(&bytes);
        let at = text.find("/MediaBox").expect("a page's size");
        let numbers: Vec<f64> = text[at..]
            .split(['[', ']'])
            .nth(1)
            .expect("four numbers")
            .split_whitespace()
            .filter_map(|number| number.parse().ok())
            .collect();
        // A point is a 72nd of an inch.
        assert!((numbers[2] - 84.0 / 25.4 * 72.0).abs() < 0.01, "{numbers:?}");
    }
}
