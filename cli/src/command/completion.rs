//! `eminentia completion`: made from the command line's own definition.

use clap::CommandFactory as _;
use clap_complete::Shell;

use crate::command_line::CommandLine;
use crate::failure::Failure;
use crate::output::Output;

/// Prints a shell's completion script.
pub(super) fn perform(shell: Shell) -> Result<(), Failure> {
    let mut command = CommandLine::command();
    // Into memory first: the generator takes a failing writer for a fault in the program.
    let mut script = Vec::new();
    clap_complete::generate(shell, &mut command, "eminentia", &mut script);
    Output::Standard.write(false, |out| out.write_all(&script))?;
    Ok(())
}
