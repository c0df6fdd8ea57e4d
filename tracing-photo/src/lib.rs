//! A photo of a tracing, turned into points.
//!
//! | step | file |
//! | --- | --- |
//! | whether a file is a photo | `kind` |
//! | picture in shades of grey, bounded in size | `picture` |
//! | uneven light taken off, dark or light line told | `ground` |
//! | the line found and thinned to its skeleton | `line`, `skeleton` |
//! | three legs from where they join | `legs` |
//! | which pixels lie near, and which farthest | `near` |
//! | the middle of the line, finer than a pixel | `middle` |
//! | pixels to plate millimetres by two marks | `scale`, `scaled` |
//!
//! The feature `reading` brings what finds the tracing, and with it the libraries of pictures. Without it a photo is still
//! known for one ([`is_photo`]).
//!
//! # Example
//!
//! ```
//! # #[cfg(feature = "reading")] {
//! use tracing_photo::{Forward, PhotoError, Scale, points};
//!
//! let scale = Scale {
//!     marks: [[210.0, 640.0].into(), [980.0, 652.0].into()],
//!     apart_mm: 30.0,
//!     forward: Forward::Clockwise(0.0),
//! };
//! assert!(matches!(points(b"no picture", &scale, None), Err(PhotoError::Broken { .. })));
//! # }
//! ```

mod error;
#[cfg(feature = "reading")]
mod ground;
mod kind;
#[cfg(feature = "reading")]
mod legs;
#[cfg(feature = "reading")]
mod line;
#[cfg(feature = "reading")]
mod middle;
#[cfg(feature = "reading")]
mod near;
#[cfg(feature = "reading")]
mod picture;
mod place;
mod scale;
#[cfg(feature = "reading")]
mod scaled;
#[cfg(feature = "reading")]
mod skeleton;

use sim_core::tracing::PlatePoint;

pub use error::PhotoError;
pub use kind::{is_photo, kind_of_picture};
pub use place::{Part, Pixel};
pub use scale::{Forward, Scale};

/// What came of a photo.
pub struct Photo {
    /// Points of the legs, in the order of `Leg::ALL`.
    pub legs: [Vec<PlatePoint>; 3],
    /// What else the photo tells.
    pub facts: PhotoFacts,
}

/// What a photo tells of itself.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PhotoFacts {
    /// Scale of the picture.
    pub pixels_per_mm: f64,
    /// Mean width of the line.
    pub line_width_mm: f64,
    /// Distance of the two marks in the picture.
    pub marks_apart_pixels: f64,
}

/// Finds the tracing in a photo.
///
/// # Errors
/// [`PhotoError`].
#[cfg(feature = "reading")]
pub fn points(bytes: &[u8], scale: &Scale, part: Option<Part>) -> Result<Photo, PhotoError> {
    let picture = picture::read(bytes)?;
    let (width, height) = picture.dimensions();
    scale.check(width, height)?;
    let part = picture::part(part, width, height)?;
    let per_mm = scale.per_mm();
    // From here on pixels count from the part's corner.
    let corner = Pixel::new(f64::from(part.left), f64::from(part.top));
    let marks = scale.marks.map(|mark| mark - corner);
    let depth = ground::depth(picture::cut(picture, part), per_mm, marks)?;
    let line = line::find(&depth, per_mm)?;
    let legs = legs::of(&line, per_mm)?;
    let legs = scale.named(legs)?;
    let traced = middle::points(&depth, &line, &legs, per_mm);
    let to_plate = |points: Vec<Pixel>| points.iter().map(|point| scale.on_plate(point + corner)).collect();
    let facts = PhotoFacts {
        pixels_per_mm: per_mm,
        line_width_mm: line.width / per_mm,
        marks_apart_pixels: per_mm * scale.apart_mm,
    };
    Ok(Photo { legs: traced.map(to_plate), facts })
}

/// Finds nothing: this program was built without.
///
/// # Errors
/// [`PhotoError::LeftOut`].
#[cfg(not(feature = "reading"))]
pub fn points(_: &[u8], _: &Scale, _: Option<Part>) -> Result<Photo, PhotoError> {
    Err(PhotoError::LeftOut)
}
