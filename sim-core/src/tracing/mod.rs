//! Tracings: what a stylus on the upper rim draws on a horizontal plate on the lower one, and what
//! can be read from such a drawing.
//!
//! | step | function |
//! | --- | --- |
//! | an instrument's own tracing | [`draw()`] |
//! | a digitised tracing, checked | [`Recorded::new`] |
//! | what it shows, with standard errors | [`examine()`] |
//! | one laid over the other | [`lay_over`] |
//! | a tracer set up between rims | [`set_up`] |
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
//!
//! ```
//! use sim_core::excursion::{Mechanism, SampleCount};
//! use sim_core::frame::UpperPoint;
//! use sim_core::instrument::Instrument;
//! use sim_core::tracing::{Leg, PlatePoint, Recorded, USUAL_RADIUS, draw, examine, lay_over};
//! use sim_core::units::Length;
//!
//! let mechanism = Mechanism::new(&Instrument::zeroed());
//! let stylus = UpperPoint::mm(60.0, 0.0, -30.0);
//! let drawn = draw(&mechanism, &stylus, Length::from_mm(8.0), SampleCount::new(81)?)?;
//! // Read as if a plate had been digitised.
//! let leg = |leg| drawn.leg(leg).to_vec();
//! let recorded = Recorded::new(leg(Leg::Protrusive), leg(Leg::RightLateral), leg(Leg::LeftLateral))?;
//! let findings = examine(&recorded, USUAL_RADIUS)?;
//! assert!(findings.apex.at.distance(&PlatePoint::APEX) < Length::from_mm(0.05));
//! // Equal sides make equal legs …
//! assert!(findings.asymmetry.difference.value.degrees().abs() < 0.01);
//! // … and the instrument's own tracing lies on itself.
//! let apart = lay_over(&drawn, &findings).whole.expect("points along the legs");
//! assert!(apart.rms < Length::from_mm(0.05), "{} mm", apart.rms.mm());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

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
mod setup;
mod start;
mod tracer;

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
pub use setup::{
    LEAST_HEEL_GAP, LegSetup, PARALLEL_WITHIN, RimGaps, SetupError, TracingSetup, set_up, stylus_at,
};
pub use tracer::{Member, Tracer, TracerError, TracerFields};
