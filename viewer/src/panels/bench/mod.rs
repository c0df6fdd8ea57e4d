//! The bench: the guides' dials on the left, the split in the middle, its gaps and the order of the work on the
//! right, the records below.

mod answer;
mod controls;
mod dials;
mod gaps;
mod looks;
mod marks;
mod order;
mod readings;
mod records;
mod way_out;

pub(super) use dials::show as dials;
pub(super) use looks::{show as looks, words as looks_words};
pub(super) use readings::show as readings;
pub(super) use records::{show as records, words as record_words};
