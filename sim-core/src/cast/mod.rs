//! Casts: scanned or invented teeth as surfaces, how near they come, and where they touch.
//!
//! A [`Surface`] is a sound triangle mesh without a frame of its own; whoever makes one says where
//! its coordinates are. [`Casts`] are two of them made ready to be searched, each in its member's
//! frame. All lengths are millimetres.

mod casts;
mod joins;
mod lowering;
mod map;
mod measure;
mod nearness;
mod opening;
mod piercing;
mod places;
mod search;
mod surface;
#[cfg(test)]
mod tests;
mod tree;
mod turning;

pub use casts::{Casts, Touch, Warm};
pub use measure::{CastsReading, Nearest, ToothReading};
pub use places::{TOOTH_REACH_MM, ToothPlaces};
pub use surface::{Surface, SurfaceError};
