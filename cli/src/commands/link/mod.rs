//! `eminentia link`: a set-up into a link, and out of one.

mod args;
mod failure;
mod run;

pub(crate) use args::Link;
pub(crate) use run::perform;
