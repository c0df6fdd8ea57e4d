//! `eminentia scene`: a scene to start one's own from.

mod run;

pub(crate) use run::perform;
