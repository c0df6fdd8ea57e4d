//! `eminentia study from`: a case's own uncertainty as a study.

mod args;
mod failure;
mod run;

pub(crate) use args::StudyFrom;
pub(crate) use run::perform;
