//! `eminentia baseline`: the examiner's checklist, and what departs from the baseline.

mod args;
mod checked;
mod csv;
mod json;
mod names;
mod report;
mod run;
mod table;

pub(crate) use args::Baseline;
pub(crate) use run::perform;
