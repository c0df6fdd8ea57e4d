//! `eminentia completion`: made from the command line's own definition.

use clap::Command;

use super::args::Completion;
use crate::failure::Outcome;
use crate::output::Output;

/// Prints a shell's completion script.
pub(crate) fn perform(args: &Completion, mut definition: Command) -> Outcome {
    // Into memory first: the generator takes a failing writer for a fault in the program.
    let mut script = Vec::new();
    clap_complete::generate(args.shell, &mut definition, "eminentia", &mut script);
    Output::Standard.write(false, |out| out.write_all(&script))?;
    Ok(())
}
