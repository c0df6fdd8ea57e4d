//! `eminentia study`: studies run, planned and summed up; what to start from.

mod args;
mod example;
mod from;
mod loaded;
mod package;
mod plan;
mod published;
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
        Study::Package(args) => package::perform(args),
        Study::Summary(args) => summary::perform(args),
        Study::Example(args) => example::perform(args),
        Study::Published(args) => published::perform(args),
    }
}
