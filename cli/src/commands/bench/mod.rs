//! `eminentia bench`: the bench in the order of hands, with the gap at every groove.

mod args;
mod report;
mod run;
mod set_at;
mod table;

pub(crate) use args::Bench;
pub(crate) use run::perform;
