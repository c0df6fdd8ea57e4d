//! `eminentia manual`: the manual page.

mod args;
mod failure;
mod run;

pub(crate) use args::Manual;
pub(crate) use run::perform;
