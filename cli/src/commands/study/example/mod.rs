//! `eminentia study example`: studies to start from.

mod args;
mod failure;
mod run;

pub(crate) use args::StudyExample;
pub(crate) use run::perform;
