//! `eminentia lesson`: lessons listed, and looked into before a class.

mod args;
mod checked;
mod failure;
mod json;
mod report;
mod run;
mod table;

pub(crate) use args::Lesson;
pub(crate) use run::perform;
