//! `eminentia viva`: questions drawn at random, with their key.

mod args;
mod drawn;
mod json;
mod report;
mod run;
mod table;

pub(crate) use args::Viva;
pub(crate) use run::perform;
