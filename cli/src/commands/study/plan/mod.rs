//! `eminentia study plan`: what a run will take.

mod args;
mod json;
mod report;
mod run;
mod table;

pub(crate) use args::StudyPlan;
pub(crate) use run::perform;
