//! `eminentia remount`: finished dentures on their instrument again.

mod args;
mod csv;
mod failure;
mod json;
mod report;
mod run;
mod table;

pub(crate) use args::Remount;
pub(crate) use run::perform;
