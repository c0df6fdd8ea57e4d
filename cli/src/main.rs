//! Command line of the articulator simulator: settings in, what they do to the teeth out.
//!
//! One file a command under [`command`], one file an output format under [`mod@format`]. Numbers come
//! solved from `sim_core`; nothing here computes mechanics.

mod case;
mod cast_file;
mod casts;
mod command;
mod command_line;
mod comparison;
mod contacts;
mod failure;
mod format;
mod guidance;
mod input;
mod output;
mod pair_report;
mod photo;
mod planned;
mod plot;
mod progress;
mod run;
mod say;
mod sheet;
mod study;
mod summary;
mod table_report;
mod tracing_file;
mod tracing_report;

use std::process::ExitCode;

use clap::Parser as _;

use command_line::CommandLine;

fn main() -> ExitCode {
    let asked = match CommandLine::try_parse() {
        Ok(asked) => asked,
        Err(answer) => return command_line::answer(&answer),
    };
    match command::perform(asked) {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => failure.told(),
    }
}
