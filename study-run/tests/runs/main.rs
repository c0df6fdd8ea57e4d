//! Studies run to files: the same bytes whatever the threads, the parts and the interruptions.

// Helpers fail the test that calls them.
#![allow(clippy::unwrap_used, clippy::panic)]

mod cut;
mod forms;
mod put_together;
mod refused;
mod support;
mod threads_and_parts;
