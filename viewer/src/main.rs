//! The viewer's program.

use std::process::ExitCode;

use clap::Parser;
use viewer::native::arguments::Arguments;
use viewer::native::run;

fn main() -> ExitCode {
    match run(&Arguments::parse()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("viewer: {error}");
            ExitCode::from(error.status())
        }
    }
}
