//! Tracings: what a stylus on the upper rim draws on a horizontal plate on the lower one, and what
//! can be read from such a drawing.
//!
//! | step | function |
//! | --- | --- |
//! | an instrument's own tracing | [`draw()`] |
//! | a digitised tracing, checked | [`Recorded::new`] |
//! | what it shows, with standard errors | [`examine()`] |
//! | one laid over the other | [`lay_over`] |
//!
//! Plate axes: `forward` and `left` of the patient, millimetres, any origin. The plate goes with
//! the jaw, so that the marks run backward from the apex.
//!
//! # What is fitted
//! Each leg is a parabola across its own direction, by least squares over a stated range of
//! distances from the apex ([`Range`]): a true leg is curved a little, since the jaw turns about
//! the working condyle, and a straight line would misplace the apex. Points far from it are set
//! aside. The apex is where the two lateral legs meet; all figures carry the standard error that
//! follows from the scatter of the points by propagation of covariance.

mod double;
mod draw;
mod estimate;
mod examine;
mod figures;
mod fit;
mod leg;
mod order;
mod over;
mod plate;
mod recorded;
mod round;
mod start;

#[cfg(test)]
mod invented;

pub use double::SecondApex;
pub use draw::{TracingError, draw};
pub use estimate::{Ellipse, Estimate};
pub use examine::{
    Apex, Asymmetry, ExamineError, Findings, LARGEST_SHARP_RADIUS, LegFindings, Meeting, Objection,
    USUAL_RADIUS, examine,
};
pub use fit::Range;
pub use leg::Leg;
pub use order::Order;
pub use over::{Apart, Overlay, lay_over};
pub use plate::{PlatePoint, Tracing};
pub use recorded::{Recorded, RecordedError};
pub use round::{Roundness, Shape};
