//! Places and parts of a picture.

/// A place in the picture in pixels: across from the left and down from the top; whole numbers are
/// the middles of pixels.
pub type Pixel = nalgebra::Vector2<f64>;

/// A part of the picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    pub left: u32,
    pub top: u32,
    pub right: u32,
    pub bottom: u32,
}
