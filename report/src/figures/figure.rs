//! A figure, as SVG and as PNG of the same picture.

use words::CAUTION;

use super::letters::LETTER;
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
}

/// Why a figure is no picture of pixels. A fault of the program, not of what it draws.
#[cfg(feature = "raster")]
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("the picture could not be made: {reason}")]
pub struct FigureError {
    /// What the drawing library says.
    pub reason: String,
}

impl Figure {
    /// The figure as an SVG that goes on without a page, with the caution under it.
    pub fn alone(&self) -> String {
        let letters = ((self.width - 2.0 * FOOT_MARGIN) / (FOOT * LETTER)) as usize;
        let lines = textwrap::wrap(CAUTION, letters.max(8));
        let mut svg = Svg::new(self.width, self.height + FOOT_LINE * (lines.len() as f64 + 0.5));
        svg.picture(&self.svg);
        for (index, line) in lines.iter().enumerate() {
            let y = self.height + FOOT_LINE * (index as f64 + 0.8);
            svg.words((FOOT_MARGIN, y), FOOT, false, Anchor::Start, line);
        }
        svg.end()
    }

    /// The figure alone on white as PNG, in a typeface of its own.
    ///
    /// # Errors
    ///
    /// Where its SVG cannot be drawn, which is a fault of the program.
    #[cfg(feature = "raster")]
    pub fn png(&self) -> Result<Vec<u8>, FigureError> {
        super::raster::png(&self.alone()).map_err(|reason| FigureError { reason })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The picture's own words stay, and those of the caution stand under it, within its width.
    #[test]
    fn a_figure_alone_has_the_caution_under_it_however_narrow_it_is() {
        for width in [120.0, 400.0, 980.0] {
            let mut svg = Svg::new(width, 50.0);
            svg.words((1.0, 20.0), 10.0, false, Anchor::Start, "drawn");
            let alone = Figure { svg: svg.end(), width, height: 50.0 }.alone();
            let tree = resvg::usvg::roxmltree::Document::parse(&alone).expect("it is XML");
            let texts: Vec<_> = tree.descendants().filter(|node| node.has_tag_name("text")).collect();
            let number = |node: &resvg::usvg::roxmltree::Node<'_, '_>, name| -> f64 {
                node.attribute(name).and_then(|text| text.parse().ok()).expect("a number")
            };
            assert_eq!(texts[0].text(), Some("drawn"));
            let said: Vec<&str> = texts[1..].iter().filter_map(|node| node.text()).collect();
            assert_eq!(said.join(" "), CAUTION);
            let height = number(&tree.root_element(), "height");
            assert!(texts[1..].iter().all(|node| (50.0..height).contains(&number(node, "y"))), "{alone}");
            assert!(said.iter().all(|line| line.len() as f64 * FOOT * LETTER <= width), "{said:?}");
        }
    }
}
