//! `eminentia study published`: the distributions from the literature that a study can name.

mod csv;
mod json;
mod report;
mod run;
mod table;
mod words;

pub(crate) use run::perform;
