//! `eminentia tracing setup`: a tracer between its rims, judged before it is used.

mod args;
mod json;
mod judged;
mod report;
mod run;
mod table;

pub(crate) use args::{Setup, length};
pub(crate) use run::{perform, worked};
