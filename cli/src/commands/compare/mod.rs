//! `eminentia compare`: two scenes, or a scene and changes of its settings, cusp by cusp.

mod args;
mod csv;
mod failure;
mod report;
mod run;
mod table;

pub(crate) use args::Compare;
pub(crate) use run::perform;
