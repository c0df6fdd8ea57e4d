//! `eminentia tracing`: what a digitised tracing shows.

mod args;
mod csv;
mod json;
mod report;
mod run;
mod table;

pub(crate) use args::Tracing;
pub(crate) use run::perform;
