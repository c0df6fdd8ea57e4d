//! `eminentia completion`: the completion script of a shell.

mod args;
mod run;

pub(crate) use args::Completion;
pub(crate) use run::perform;
