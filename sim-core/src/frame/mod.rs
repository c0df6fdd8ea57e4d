//! Frames, points, poses, sides and the occlusal plane.
//!
//! Two right-handed frames, one fixed to each member, coincide in the zeroed centric position.
//! Origin: midpoint of the intercondylar axis. `x` anterior, `y` left, `z` up; z = 0 is the
//! horizontal reference plane. Lengths are millimetres, sides are the patient's.
//!
//! ```
//! use sim_core::excursion::Mechanism;
//! use sim_core::frame::LowerPoint;
//! use sim_core::instrument::Instrument;
//! use sim_core::units::Angle;
//!
//! // A jaw turned open about its axis by 10° takes a point 100 mm in front of the axis with it.
//! let jaw = Mechanism::new(&Instrument::zeroed()).opened_to(Angle::from_degrees(10.0)).jaw;
//! let in_the_jaw = LowerPoint::mm(100.0, 0.0, 0.0);
//! let seen_from_above = jaw.to_upper(&in_the_jaw);
//! let (sin, cos) = Angle::from_degrees(10.0).sin_cos();
//! assert!((seen_from_above.x() - 100.0 * cos).abs() < 1e-12);
//! assert!((seen_from_above.z() + 100.0 * sin).abs() < 1e-12);
//! assert!(jaw.to_lower(&seen_from_above).distance_mm(&in_the_jaw) < 1e-12);
//! ```

mod lanes;
mod occlusal_plane;
mod point;
mod pose;
mod side;

pub use lanes::JawLanes;
pub use occlusal_plane::OcclusalPlane;
pub use point::{Frame, Lower, LowerPoint, Point, Scan, ScanPoint, Upper, UpperPoint};
pub use pose::{JawPose, PoseError};
pub use side::{PerSide, Side};
