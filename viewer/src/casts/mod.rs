//! The casts in the picture: where they come from, how they are looked at, and what is read off them.
//!
//! [`Mounted`] are the casts of a scene, [`CastView`] is how a person wants to see them, [`Readout`] is
//! what is read at the stop shown, no more than is seen. [`paint`] turns readings into colours, and
//! [`pick`] a place under the mouse into a cusp.

mod mounted;
pub mod paint;
pub mod pick;
mod readout;
mod view;

pub use mounted::Mounted;
pub use pick::Proposal;
pub use readout::{GapMap, Print, Readout, SectionRead};
pub use view::{CAP_MM, CastView, CutPlane, Page, Seen, Show};
