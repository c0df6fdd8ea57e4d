//! Checks of `eminentia study run` and `study plan` from outside: the program is run, stopped and killed
//! as people and machines do it.

// Helpers fail the test that calls them.
#![allow(clippy::unwrap_used, clippy::panic)]

mod mistakes;
mod plan;
mod runs;
mod stopped;
mod support;
