//! Reports as objects: the fields that other programs rely on, in full precision. The command line writes them as JSON,
//! and Python has them as dictionaries.

mod bench;
mod condyle;
mod contacts;
mod doubt;
mod plan;
mod program;

pub use bench::bench;
pub use condyle::Condyle;
pub use contacts::contacts;
pub use doubt::doubt;
pub use plan::plan;
pub use program::{ProgramObject, program};
