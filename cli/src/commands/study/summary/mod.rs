//! `eminentia study summary`: what a study's table comes to.

mod args;
mod csv;
mod failure;
mod json;
mod report;
mod run;
mod table;

pub(crate) use args::StudySummary;
pub(crate) use run::perform;
