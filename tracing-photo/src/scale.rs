//! What is said of a photo: two marks, their distance, and where the front lies.

use super::place::Pixel;

/// Which way in the picture the patient's front lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Forward {
    /// So many degrees clockwise from the top of the picture.
    Clockwise(f64),
    /// From the first mark to the second.
    AlongMarks,
}

/// What brings pixels to millimetres: the plate is seen from above.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scale {
    /// Two marks, in pixels.
    pub marks: [Pixel; 2],
    /// Their distance on the plate.
    pub apart_mm: f64,
    /// Where the patient’s front lies.
    pub forward: Forward,
}
