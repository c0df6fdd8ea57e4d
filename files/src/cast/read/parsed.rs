//! What a reader of one format hands on.

use sim_core::cast::Soup;

use crate::cast::format::CastFormat;

/// What a reader of one format makes of a file.
pub(super) struct Parsed {
    pub(super) soup: Soup,
    pub(super) format: CastFormat,
    pub(super) notes: Vec<String>,
}
