//! What the viewer writes.

mod png;
mod snapshot;

pub use snapshot::snapshot;
