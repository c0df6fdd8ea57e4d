//! `eminentia contacts`: what teeth touch, what guides, what is in the way.

mod args;
mod beside;
mod csv;
mod failure;
mod missing;
mod report;
mod run;
mod table;

pub(crate) use args::Contacts;
pub(crate) use run::perform;
