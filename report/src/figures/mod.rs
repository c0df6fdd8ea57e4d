//! Figures as SVG, and as PNG and PDF of the same picture.
//!
//! They are to be read in black and white and by the colour-blind: lines differ by how they are
//! dashed and carry their names, colours only help.

mod colour;
mod disclusion;
mod ends;
mod error;
mod excursion;
mod figure;
mod inclines;
pub(crate) mod letters;
mod mark;
#[cfg(feature = "paper")]
pub(crate) mod pdf;
mod print;
#[cfg(feature = "raster")]
mod raster;
mod scale;
pub mod study;
pub(crate) mod svg;
mod tracing;
#[cfg(feature = "paper")]
mod typeface;

pub use disclusion::{Column, figure as disclusion_figure};
pub use error::FigureError;
pub use excursion::{ExcursionFigure, figure as excursion_figure};
pub use figure::Figure;
pub use inclines::figure as inclines_figure;
pub use print::Print;
pub use tracing::{figure as tracing_figure, plate as plate_figure};
#[cfg(feature = "paper")]
pub use typeface::without_shape;

/// Nothing: this program was built without what is set in a typeface of its own.
#[cfg(not(feature = "paper"))]
#[must_use]
pub fn without_shape(_: &str) -> Option<String> {
    None
}
