//! Frames, points, poses, sides and the occlusal plane.
//!
//! Two right-handed frames, one fixed to each member, coincide in the zeroed centric position.
//! Origin: midpoint of the intercondylar axis. `x` anterior, `y` left, `z` up; z = 0 is the
//! horizontal reference plane. Lengths are millimetres, sides are the patient's.

mod occlusal_plane;
mod point;
mod pose;
mod side;

pub use occlusal_plane::OcclusalPlane;
pub use point::{Frame, Lower, LowerPoint, Point, Scan, ScanPoint, Upper, UpperPoint};
pub use pose::JawPose;
pub use side::Side;
