//! `eminentia manual`: made from the command line's own definition.

use clap::Command;
use clap_mangen::Man;

use super::args::Manual;
use super::failure::ManualFailure;
use crate::failure::Outcome;
use crate::output::Output;

/// Prints the manual page of the program or of one command.
pub(crate) fn perform(args: &Manual, mut program: Command) -> Outcome {
    program.build();
    let page = match &args.command {
        None => Man::new(program),
        Some(given) => Man::new(program.find_subcommand(given).cloned().ok_or_else(|| {
            let known: Vec<&str> = program.get_subcommands().map(Command::get_name).collect();
            ManualFailure::NoSuchCommand { given: given.clone(), known: known.join(", ") }
        })?),
    };
    Output::Standard.write(false, |out| page.render(out))?;
    Ok(())
}
