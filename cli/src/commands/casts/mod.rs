//! `eminentia casts`: writes an invented pair, with its cusps named.

mod args;
mod csv;
mod failure;
mod report;
mod run;
mod table;

pub(crate) use args::Casts;
pub(crate) use run::perform;
