//! `eminentia sheet`: one page to set an instrument from, to hand on.

mod args;
mod failure;
mod run;

pub(crate) use args::{Paper, Sheet};
pub(crate) use run::perform;
