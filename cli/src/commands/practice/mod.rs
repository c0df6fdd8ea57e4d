//! `eminentia practice`: deals an invented patient, and marks the answer.

mod args;
mod failure;
mod json;
mod report;
mod run;
mod table;
mod texts;

pub(crate) use args::Practice;
pub(crate) use run::perform;
