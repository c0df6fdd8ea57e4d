//! Casts: scanned or invented teeth as surfaces, how near they come, and where they touch.
//!
//! A [`Surface`] is a sound triangle mesh without a frame of its own; whoever makes one says where
//! its coordinates are. All lengths are millimetres.

mod surface;

pub use surface::{Surface, SurfaceError};
