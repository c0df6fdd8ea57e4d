//! The maths in a page is the maths: invented set-ups with the poses that they have natively, to be solved
//! again in a browser.
//!
//! Sines and roots of angles come from another library there, and may differ in their last digit; nothing
//! that a person reads may show it.

pub mod drawn;
pub mod set_up;
pub mod tooth_guided;

/// Set-ups drawn at random with their poses, solved natively.
pub const POSES: &str = include_str!("../poses.csv");

/// Set-ups whose poses a general minimiser of another library found.
pub const MINIMISED: &str = include_str!("../../../tests/outside/scipy_poses.csv");

/// Poses in which the teeth of invented casts hold the jaw, solved natively.
pub const TOOTH_GUIDED: &str = include_str!("../tooth_guided.csv");
