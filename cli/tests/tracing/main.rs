//! Checks of `eminentia tracing` from outside, on tracings and photos that the checks draw.

// Helpers fail the test that calls them.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod bad_input;
mod drawn;
#[path = "../command_line/helpers.rs"]
#[allow(dead_code)] // the other test program uses the rest
mod helpers;
mod over;
mod photo;
mod plots;
mod points;
mod scenes;
mod template;
