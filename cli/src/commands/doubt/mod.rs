//! `eminentia doubt`: how far to trust a case's settings, and what that does to the teeth.

mod args;
mod failure;
mod report;
mod run;
mod table;

pub(crate) use args::Doubt;
pub(crate) use run::perform;
