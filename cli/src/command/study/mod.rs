//! `eminentia study`: one file a command.

mod summary;

use crate::command_line::Study;
use crate::failure::Failure;

/// Does what was asked.
pub(super) fn perform(asked: &Study) -> Result<(), Failure> {
    match asked {
        Study::Summary(asked) => summary::perform(asked),
    }
}
