//! `eminentia custom-table`: the incisal table that makes the pin repeat what the teeth do.

mod args;
mod csv;
mod failure;
mod json;
mod report;
mod run;
mod table;

pub(crate) use args::CustomTable;
pub(crate) use run::perform;
