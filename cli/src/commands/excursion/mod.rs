//! `eminentia excursion`: what the settings do to the teeth.

mod args;
mod json;
mod report;
mod run;
mod table;

pub(crate) use args::Excursion;
pub(crate) use run::perform;
