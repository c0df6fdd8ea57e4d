//! `eminentia baseline`: what departs from the zeroed instrument.

mod args;
mod csv;
mod json;
mod names;
mod report;
mod run;
mod table;

pub(crate) use args::Baseline;
pub(crate) use run::perform;
