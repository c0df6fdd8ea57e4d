//! Command line of the articulator simulator: settings in, what they do to the teeth out.
//!
//! One folder a command under [`commands`]; every report is written by [`mod@output`]. Numbers come
//! solved from `sim_core`.

mod args;
mod case;
mod cast_file;
mod casts;
mod commands;
mod examined;
mod failure;
mod input;
mod left_out;
mod library_failures;
mod output;
mod plot;
mod progress;
mod say;
mod stopped;
mod tracing_file;

use std::process::ExitCode;

use clap::Parser as _;

use commands::CommandLine;
use failure::{Outcome, Status};
use output::Output;

fn main() -> ExitCode {
    let outcome = match CommandLine::try_parse() {
        Ok(command_line) => command_line.perform(),
        Err(mistake) if mistake.use_stderr() => {
            say::mistake(mistake, std::env::args_os());
            return Status::Wrong.into();
        }
        Err(help) => print(&help),
    };
    let Err(failure) = outcome else { return ExitCode::SUCCESS };
    let status = failure.status();
    if status != Status::Closed {
        failure.messages().iter().for_each(|message| say::error(message));
    }
    status.end()
}

/// Prints help or the version.
fn print(help: &clap::Error) -> Outcome {
    Output::Standard.write(true, |out| write!(out, "{}", help.render().ansi()))?;
    Ok(())
}
