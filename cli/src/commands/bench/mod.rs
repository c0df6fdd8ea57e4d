//! `eminentia bench`: the bench in the order of hands, with the gap at every groove.

mod args;
mod json;
mod report;
mod run;
mod set_at;
mod table;
mod walked;

pub(crate) use args::Bench;
pub(crate) use run::perform;
