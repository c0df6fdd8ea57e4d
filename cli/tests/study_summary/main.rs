//! Checks of `eminentia study summary` from outside, on studies that the checks write and run.

// Helpers fail the test that calls them.
#![allow(clippy::unwrap_used, clippy::panic)]

mod bad_input;
#[path = "../command_line/helpers.rs"]
#[allow(dead_code)] // the other test programs use the rest
mod helpers;
mod left_out;
mod numbers;
mod origin;
mod pictures;
mod report;
mod sensitivity;
mod tables;
