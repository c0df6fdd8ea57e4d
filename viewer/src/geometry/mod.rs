//! Where things stand, in millimetres and without graphics: the two members as the jaw pose puts them,
//! points of the mechanism, the arch that drawn teeth stand on, the box that holds it all.
//!
//! State, drawing and picking all read it, so that what is clicked is what is drawn.

pub mod arch;
pub mod extent;
pub mod landmarks;
pub mod poses;
pub mod reach;
