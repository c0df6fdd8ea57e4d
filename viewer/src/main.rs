//! The viewer's program: arguments, state, then a picture in a file or a window.

use std::process::ExitCode;

use clap::Parser;
use viewer::arguments::Arguments;
use viewer::error::ViewerError;
use viewer::report::Report;
use viewer::{export, start, window};

fn main() -> ExitCode {
    match run(&Arguments::parse()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("viewer: {error}");
            ExitCode::from(error.status())
        }
    }
}

fn run(arguments: &Arguments) -> Result<(), ViewerError> {
    let state = start::state(arguments)?;
    match &arguments.snapshot {
        Some(path) => export::snapshot(&state, arguments.size, path),
        None => {
            let report = arguments.report.as_deref().map(Report::start).transpose()?;
            window::run(state, arguments.size, report)
        }
    }
}
