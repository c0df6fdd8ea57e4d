//! `eminentia sheet`: one page to hand to the laboratory or to an examiner.

mod args;
mod failure;
mod run;

pub(crate) use args::{Paper, Sheet};
pub(crate) use run::perform;
