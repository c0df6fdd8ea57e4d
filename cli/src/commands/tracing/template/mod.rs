//! `eminentia tracing template`: the holes of the records in their own size, to print.

mod args;
mod run;

pub(crate) use args::Template;
pub(crate) use run::perform;
