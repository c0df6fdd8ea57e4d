//! Finished dentures put back on their instrument: what processing did, whether the centric relation is right, and
//! what to grind in which order.
//!
//! - [`Remount`]: the remount as its file has it.
//! - [`processing`]: the pin's lift off its table, as a turn about the axis and a change of vertical dimension.
//! - [`centric`]: a centric record taken with the finished dentures, parted into a hinge turn, which every record taken
//!   a little open has, and what no hinge turn explains: the error of the centric relation.
//! - [`grinding`]: selective grinding by the rule of the intended scheme.
//!
//! ```
//! use sim_core::remount::{CentricVerdict, Remount};
//! use sim_core::scene::Scene;
//!
//! // Invented: the record finds the jaw 1 mm farther back than it was mounted.
//! let remount = Remount::from_ron(r#"(
//!     title: "Mounted too far forward (invented)",
//!     scene: "thirty_degree.ron",
//!     pin_lift_mm: 1.0,
//!     centric: Transform((1, 0, 0, -1), (0, 1, 0, 0), (0, 0, 1, 0), (0, 0, 0, 1)),
//! )"#)?;
//! let scene = Scene::thirty_degree();
//! let centric = remount.centric(&scene)?.expect("a record");
//! assert!((centric.shift_mm.x + 1.0).abs() < 1e-12);
//! assert_eq!(centric.verdict, CentricVerdict::Wrong);
//! let processing = remount.processing(&scene)?.expect("a lift");
//! assert!(processing.turn.degrees() > 0.0);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

pub mod centric;
pub mod cusps;
mod error;
mod errors;
mod file;
mod gaps;
pub mod grinding;
mod ground;
mod parted;
pub mod processing;
mod raised;
mod rule;

pub use centric::{Centric, CentricVerdict};
pub use cusps::CuspGrinding;
pub use error::RemountError;
pub use errors::CentricErrors;
pub use file::{CentricRecord, GapAtTooth, RaisedTooth, Remount};
pub use grinding::{Grinding, GrindingList};
pub use ground::Ground;
pub use processing::{GapByLift, Processing};
