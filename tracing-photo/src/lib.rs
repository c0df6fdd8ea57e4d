//! A photo of a tracing, turned into points.
//!
//! | step | file |
//! | --- | --- |
//! | picture in shades of grey, bounded in size | [`picture`] |
//! | uneven light taken off, dark or light line told | [`ground`] |
//! | the line found and thinned to its skeleton | [`mod@line`], [`skeleton`] |
//! | three legs from where they join | [`legs`] |
//! | the middle of the line, finer than a pixel | [`middle`] |
//! | pixels to plate millimetres by two marks | [`scale`] |

mod ground;
mod legs;
mod line;
mod middle;
mod picture;
mod scale;
mod skeleton;

use sim_core::tracing::PlatePoint;

pub use picture::{is_photo, kind_of_picture};
pub use scale::{Forward, Scale};

/// A place in the picture in pixels: across from the left and down from the top; whole numbers are
/// the middles of pixels.
type Pixel = nalgebra::Vector2<f64>;

/// A part of the picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    pub left: u32,
    pub top: u32,
    pub right: u32,
    pub bottom: u32,
}

/// Why no points come of a photo.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum PhotoError {
    #[error("cannot be read as a picture: {reason}; a PNG or JPEG is needed")]
    Broken { reason: String },
    #[error("is {width} × {height} pixels; allowed are up to {most} on a side")]
    TooLarge { width: u32, height: u32, most: u32 },
    #[error(
        "--within {left},{top},{right},{bottom} is no part of the picture, which is {width} × {height} pixels; LEFT is less than RIGHT and TOP less than BOTTOM"
    )]
    Part { left: u32, top: u32, right: u32, bottom: u32, width: u32, height: u32 },
    #[error("--marks: ({x}, {y}) lies outside of the picture, which is {width} × {height} pixels")]
    MarkOutside { x: f64, y: f64, width: u32, height: u32 },
    #[error(
        "--marks: the two marks are {pixels:.0} pixels apart; 20 or more are needed, at the ends of a long distance"
    )]
    MarksTogether { pixels: f64 },
    #[error(
        "by the marks a millimetre is {per_mm:.2} pixels; {least} or more are needed to find the middle of a line, and \
         more than {most} are none of a photo: are the marks and --apart right?"
    )]
    Scale { per_mm: f64, least: f64, most: f64 },
    #[error(
        "no line stands out from its ground; a photo with more contrast, or --within about the tracing, is needed"
    )]
    NoLine,
    #[error(
        "the line that was found has no three legs that join (the shortest is {shortest_mm:.1} mm long); with other lines in the \
         picture, give --within about the tracing"
    )]
    NoLegs { shortest_mm: f64 },
    #[error(
        "the arrow points {degrees:.0}° clockwise from the top of the picture, but --forward says that the patient's front is {forward:.0}° \
         from it; give --forward {nearest}, or the number of degrees"
    )]
    OtherWay { degrees: f64, forward: f64, nearest: &'static str },
}

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
pub fn points(bytes: &[u8], scale: &Scale, part: Option<Part>) -> Result<Photo, PhotoError> {
    let picture = picture::read(bytes)?;
    let (width, height) = picture.dimensions();
    scale.check(width, height)?;
    let part = picture::part(part, width, height)?;
    let per_mm = scale.per_mm();
    // From here on pixels count from the part's corner.
    let corner = Pixel::new(f64::from(part.left), f64::from(part.top));
    let marks = scale.marks.map(|mark| mark - corner);
    let depth = ground::depth(&picture::cut(&picture, part), per_mm, marks)?;
    let found = line::find(&depth, per_mm)?;
    let legs = legs::of(&found, per_mm)?;
    let legs = scale.named(legs)?;
    let traced = middle::points(&depth, &found, &legs, per_mm);
    let to_plate = |points: Vec<Pixel>| points.iter().map(|point| scale.on_plate(point + corner)).collect();
    let facts = PhotoFacts {
        pixels_per_mm: per_mm,
        line_width_mm: found.width / per_mm,
        marks_apart_pixels: per_mm * scale.apart_mm,
    };
    Ok(Photo { legs: traced.map(to_plate), facts })
}
