//! `eminentia tracing`: what a digitised tracing shows; the tracer set up before it is made, and the
//! template made of it.

mod args;
mod csv;
mod json;
mod report;
mod run;
mod setup;
mod table;
mod template;

pub(crate) use args::Tracing;
pub(crate) use run::perform;
