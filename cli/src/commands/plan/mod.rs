//! `eminentia plan`: which inclines, factors or guidance give the occlusion wanted.

mod args;
mod csv;
mod failure;
mod report;
mod run;
mod table;

pub(crate) use args::Plan;
pub(crate) use run::perform;
