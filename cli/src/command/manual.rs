//! `eminentia manual`: made from the command line's own definition.

use clap::CommandFactory as _;
use clap_mangen::Man;

use crate::command_line::CommandLine;
use crate::failure::Failure;
use crate::output::Output;

/// Prints the manual page of the program or of one command.
pub(super) fn perform(command: Option<&str>) -> Result<(), Failure> {
    let mut program = CommandLine::command();
    program.build();
    let page = match command {
        None => Man::new(program),
        Some(given) => Man::new(program.find_subcommand(given).cloned().ok_or_else(|| {
            let known: Vec<&str> = program.get_subcommands().map(clap::Command::get_name).collect();
            Failure::NoSuchCommand { given: given.to_owned(), known: known.join(", ") }
        })?),
    };
    Output::Standard.write(false, |out| page.render(out))?;
    Ok(())
}
