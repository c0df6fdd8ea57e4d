//! `eminentia settings`: the one list of what can be set.

mod csv;
mod json;
mod report;
mod run;
mod table;

pub(crate) use run::perform;
pub(crate) use table::text;
