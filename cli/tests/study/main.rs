//! Checks of `eminentia study run` and `study plan` from outside: the program is run, stopped and killed
//! as people and machines do it.

// Helpers fail the test that calls them.
#![allow(clippy::unwrap_used, clippy::panic)]

mod from_case;
mod given_rows;
#[path = "../command_line/helpers.rs"]
#[allow(dead_code)] // the folder is all that is used of them
mod helpers;
mod left_behind;
mod mistakes;
mod plan;
mod runs;
mod start;
mod stopped;
mod support;
