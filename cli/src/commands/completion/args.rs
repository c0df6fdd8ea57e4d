//! What `eminentia completion` takes.

use clap::Args;
use clap_complete::Shell;

#[derive(Args)]
pub(crate) struct Completion {
    /// The shell it is for
    pub(crate) shell: Shell,
}
