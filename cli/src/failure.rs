//! What ends a command short, and the exit status that tells it to other programs.

use std::process::ExitCode;

/// The exit status of a command that did not do all of its work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Status {
    /// The work failed.
    Failed,
    /// The input or the command line is wrong.
    Wrong,
}

impl From<Status> for ExitCode {
    fn from(status: Status) -> Self {
        Self::from(match status {
            Status::Failed => 1,
            Status::Wrong => 2,
        })
    }
}

/// An error that ends a command.
pub(crate) trait Failure: std::error::Error {
    fn status(&self) -> Status;

    /// What is said of it, one message for each thing that went wrong.
    fn messages(&self) -> Vec<String> {
        vec![self.to_string()]
    }
}

impl<F: Failure + 'static> From<F> for Box<dyn Failure> {
    fn from(failure: F) -> Self {
        Box::new(failure)
    }
}

/// What a command gives back.
pub(crate) type Outcome<T = ()> = Result<T, Box<dyn Failure>>;

/// A fault of the program.
#[derive(Debug, thiserror::Error)]
#[error("{0}; this is a fault of the program")]
pub(crate) struct Unexpected(pub(crate) String);

impl Failure for Unexpected {
    fn status(&self) -> Status {
        Status::Failed
    }
}
