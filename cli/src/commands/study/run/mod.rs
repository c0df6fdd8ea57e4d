//! `eminentia study run`: every row of a study into a table.

mod args;
mod failure;
mod progress;
// Named as in every other command.
#[allow(clippy::module_inception)]
mod run;

pub(crate) use args::StudyRun;
pub(crate) use run::perform;
