//! Figures as SVG, and as PNG of the same picture.
//!
//! They are to be read in black and white and by the colour-blind: lines differ by how they are
//! dashed and carry their names, colours only help.

mod disclusion;
mod inclines;
mod raster;
pub mod study;
pub mod svg;
mod tracing;

pub use disclusion::{Column, figure as disclusion_figure};
pub use inclines::figure as inclines_figure;
pub use tracing::{figure as tracing_figure, plate as plate_figure};

/// A picture to stand on a page with other things.
pub struct Figure {
    /// An SVG of its own.
    pub svg: String,
    pub width: f64,
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
