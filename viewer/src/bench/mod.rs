//! A case on the bench: the records between its casts, the guides at trial angles, and what hands do with
//! them.
//!
//! | module | what lives there |
//! | --- | --- |
//! | `dial` | what is turned at a guide |
//! | `dealing` | what patient is to be dealt |
//! | `patient` | a dealt patient, and the student's answer |
//! | `drawn` | the instrument that is drawn |
//! | `split` | where the two bases stand, and the gaps between them |
//! | `on_bench` | the case, and how everything stands |
//! | `hands` | what hands do |
//! | `misplaced` | the same case by a facebow that is off |
//! | `order` | the order of the work: what is done, skipped, still to come |
//!
//! All numbers come of [`sim_core::bench::Bench`]; nothing here knows another way to a gap.

mod dealing;
mod dial;
mod drawn;
mod hands;
mod misplaced;
mod on_bench;
mod order;
mod patient;
mod split;
#[cfg(test)]
mod testing;

pub use dealing::Dealing;
pub use dial::Dial;
pub use hands::{BenchAct, Refusal};
pub use misplaced::with_facebow_off;
pub use on_bench::{LateralFrom, Locks, Magnified, OnBench, Reading};
pub use order::{Item, OrderLine, Standing};
pub use patient::Patient;
pub use split::{Misfit, Split};
