//! `eminentia study`: studies run, planned and summed up.

mod args;
mod from;
mod loaded;
mod plan;
mod run;
mod summary;
mod threads;

use crate::failure::Outcome;

pub(crate) use args::Study;

/// Does what is asked for.
pub(crate) fn perform(args: &Study) -> Outcome {
    match args {
        Study::Run(args) => run::perform(args),
        Study::Plan(args) => plan::perform(args),
        Study::From(args) => from::perform(args),
        Study::Summary(args) => summary::perform(args),
    }
}
