//! What results mean, in sentences: one file a subject.
//!
//! A function takes the result as the maths gives it and says it in words, with its numbers beside.

pub mod account;
pub mod baseline;
pub mod bench;
pub mod centric;
pub mod formed_table;
pub mod idle;
pub mod mark;
pub mod mend;
pub mod misplaced;
pub mod observed;
pub mod opened;
pub mod plan;
pub mod refused;
pub mod remount;
pub mod scheme;
pub mod study;
pub mod tracer;
pub mod unmarked;
pub mod warning;

/// How many, for a sentence: thousands apart.
fn count(of: usize) -> String {
    crate::number::in_threes(of as u64)
}
