//! Damaged input for every reader and for the solver, in one process and on stable Rust.
//!
//! Each input is a file of the corpus (what people open: scenes, cases, studies, lessons, remounts, tracings, and the small
//! casts in `fuzz/corpus/`), damaged in up to six places. It is read as what it was and, where it can be read, solved.
//! A panic, an input that takes too long or too much memory, and a message that steers a terminal or is not cut are
//! failures. The same seed gives the same inputs.
//!
//! | what | file |
//! | --- | --- |
//! | the files to start from | `corpus` |
//! | what is done to them | `damage` |
//! | what is done with them | `taken` |
//! | one after the other | `inputs` |

pub mod corpus;
pub mod damage;
mod inputs;
pub mod taken;

pub use inputs::{Came, inputs};
