//! Why there is no picture.

/// Pixels that are held in memory, four bytes each, while a PNG is drawn.
pub(super) const MOST_MILLIONS: u64 = 150;

/// Why there is no picture.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum FigureError {
    /// A fault of the program, not of what it draws.
    #[error("the picture could not be made: {reason}; this is a fault of the program")]
    Undrawn {
        /// What the drawing library says.
        reason: String,
    },
    /// This program was built without the feature that draws such files.
    #[error("this program was built without {what}; write the figure as SVG")]
    LeftOut {
        /// `PDF` or `PNG`.
        what: &'static str,
    },
    /// A figure that is not laid out anew would have letters that nobody reads.
    #[error("at {width_mm} mm its letters would be too small to read; from {least_mm} mm on they can be")]
    TooNarrow {
        /// What was asked for.
        width_mm: f64,
        /// The least that can be read.
        least_mm: f64,
    },
    /// More pixels than is good for any reader of pictures.
    #[error(
        "at {width_mm} mm and {dpi} dots an inch it would have {millions} million pixels; {} million are allowed",
        MOST_MILLIONS
    )]
    TooLarge {
        /// What was asked for.
        width_mm: f64,
        /// What was asked for.
        dpi: u32,
        /// What it would come to.
        millions: u64,
    },
}
