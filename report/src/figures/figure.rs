//! A figure, as SVG and as PNG of the same picture.

use super::raster;

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
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("the picture could not be made: {reason}")]
pub struct FigureError {
    /// What the drawing library says.
    pub reason: String,
}

impl Figure {
    /// The figure on white as PNG, in a typeface of its own.
    ///
    /// # Errors
    ///
    /// Where its SVG cannot be drawn, which is a fault of the program.
    pub fn png(&self) -> Result<Vec<u8>, FigureError> {
        raster::png(&self.svg).map_err(|reason| FigureError { reason })
    }
}
