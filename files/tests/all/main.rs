//! Files to surfaces and back: what is read, what is refused, what is mended.

#![allow(clippy::expect_used, clippy::panic)] // a check that cannot run should stop

mod against_trimesh;
mod any_bytes;
mod formats;
mod malformed;
mod mending;
mod polygons;
mod shapes;
mod units;
mod written;
