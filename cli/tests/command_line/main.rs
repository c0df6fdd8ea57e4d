//! Checks of the command line from outside: the program is run as people run it.
//!
//! They stand in this package, and not with the other checks of the whole, because only here does
//! the build tell where the program is (`CARGO_BIN_EXE_eminentia`). They are modules of one test
//! program, which is linked once. Scenes are written by the tests, so that no number here hangs on
//! how a teaching scene is tuned.

// Helpers fail the test that calls them.
#![allow(clippy::unwrap_used, clippy::panic)]

mod bad_casts;
mod bad_input;
mod bench;
mod casts;
mod cautions;
mod changes;
#[cfg(unix)]
mod closed_pipes;
mod compared;
mod contacts;
mod custom_table;
mod doubt;
#[cfg(unix)]
mod ended_early;
mod formats;
mod helpers;
mod hostile_text;
mod lessons;
mod links;
mod long_runs;
mod numbers;
mod output_files;
mod papers;
mod pdf_text;
mod planned;
mod plotted;
mod practised;
mod program;
mod remount;
mod sheet;
mod side_commands;
mod stopped_short;
mod told_mistakes;
mod why;
