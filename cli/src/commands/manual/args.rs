//! What `eminentia manual` takes.

use clap::Args;

#[derive(Args)]
pub(crate) struct Manual {
    /// The command, as in `eminentia manual excursion`
    pub(crate) command: Option<String>,
}
