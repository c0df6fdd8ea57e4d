//! `eminentia program`: from records to settings.

mod args;
mod report;
mod run;
mod table;

pub(crate) use args::Program;
pub(crate) use run::perform;
