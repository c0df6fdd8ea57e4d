//! Why no points come of a photo.

/// Why no points come of a photo.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[allow(missing_docs)] // the message of each says what its fields are
pub enum PhotoError {
    #[error("this program was built without the reading of photos; points (CSV) are read")]
    LeftOut,
    #[error("cannot be read as a picture: {reason}; a PNG or JPEG is needed")]
    Broken { reason: String },
    #[error("is {width} × {height} pixels; allowed are up to {most} on a side")]
    TooLarge { width: u32, height: u32, most: u32 },
    #[error(
        "is {width} × {height} pixels; allowed are up to {most} million in all: make it smaller, or cut it to the tracing"
    )]
    TooMany { width: u32, height: u32, most: u64 },
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
