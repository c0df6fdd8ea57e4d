//! Places and parts of a picture.

/// A place in the picture in pixels: across from the left and down from the top; whole numbers are
/// the middles of pixels.
pub type Pixel = nalgebra::Vector2<f64>;

/// A part of the picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    /// First column.
    pub left: u32,
    /// First row.
    pub top: u32,
    /// Column after the last.
    pub right: u32,
    /// Row after the last.
    pub bottom: u32,
}
