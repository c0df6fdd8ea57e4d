//! What ends a command short, and the exit status that tells it to other programs.

use std::process::ExitCode;

/// The exit status of a command that did not do all of its work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Status {
    /// The work failed.
    Failed,
    /// The input or the command line is wrong.
    Wrong,
    /// Nobody reads the output any longer, as after `| head`.
    Closed,
}

/// What a shell has for a program that a closed pipe ended: 128 and the signal's number.
const CLOSED: u8 = 141;

impl Status {
    /// Ends the program as a closed pipe ends others: without a word, by the signal where there are signals.
    pub(crate) fn end(self) -> ExitCode {
        #[cfg(unix)]
        if self == Self::Closed {
            // It does not come back; where it does, the exit status says the same.
            let _ = signal_hook::low_level::emulate_default_handler(signal_hook::consts::SIGPIPE);
        }
        self.into()
    }
}

impl From<Status> for ExitCode {
    fn from(status: Status) -> Self {
        Self::from(match status {
            Status::Failed => 1,
            Status::Wrong => 2,
            Status::Closed => CLOSED,
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
