//! The casts in the picture: where they come from, how they are looked at, and what is read off them.
//!
//! [`Scans`] are casts as they were read, [`Mounted`] the casts on the members, [`CastView`] is how a person wants to see them, [`Readout`] is
//! what is read at the sample shown, no more than is seen. [`paint`] turns readings into colours, and
//! [`pick`] a place under the mouse into a cusp.

mod cut_plane;
mod mounted;
pub mod paint;
pub mod pick;
mod readout;
mod scans;
mod view;

pub use cut_plane::CutPlane;
pub use mounted::{CastsError, Mounted, Notes};
pub use pick::Proposal;
pub use readout::{GapMap, Print, Readout, SectionRead};
pub use scans::Scans;
pub use view::{CAP_MM, CastView, Seen, Show};
