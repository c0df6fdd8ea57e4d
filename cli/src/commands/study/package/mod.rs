//! `eminentia study package`: a table and its study in a folder that describes itself.

mod args;
mod failure;
mod run;

pub(crate) use args::StudyPackage;
pub(crate) use run::perform;
