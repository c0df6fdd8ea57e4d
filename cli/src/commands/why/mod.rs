//! `eminentia why`: a number taken apart.

mod args;
mod failure;
mod json;
mod report;
mod run;
mod table;

pub(crate) use args::Why;
pub(crate) use run::perform;
