//! The tracing on the plate: what the stylus of a scene's tracer draws, and a recorded tracing under it.

mod drawn;
mod under;

pub use drawn::{ARC_MM, DrawnPlate, Plate, leg_of};
pub use under::Under;
