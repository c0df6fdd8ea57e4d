//! Command line of the articulator simulator: settings in, what they do to the teeth out.
//!
//! One file a command under [`command`], one file an output format under [`mod@format`]. Numbers come
//! solved from `sim_core`; nothing here computes mechanics.

mod case;
mod cast_file;
mod casts;
mod command;
mod command_line;
mod failure;
mod format;
mod input;
mod output;
mod plot;
mod progress;
mod say;
mod tracing_file;

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
