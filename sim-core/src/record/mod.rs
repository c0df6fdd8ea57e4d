//! A patient's jaw-relation records: what they say of the joints, and how surely.
//!
//! A record is a jaw pose. It is found from landmarks of the lower cast seen in centric and in the
//! record ([`registration`]), carried into the instrument by the mounting ([`mounting`]), checked
//! against a repeat of the centric record ([`split_cast`]) and read as settings ([`program`]).
//! [`fit`] does the last on the bench, by closing the gap over all records at once; [`incisal`] sets
//! the anterior guide.
//!
//! ```
//! use sim_core::frame::Side;
//! use sim_core::record::Case;
//!
//! // Invented: one protrusive record, in which the jaw goes 6 mm forward and 4 mm down without turning.
//! // The scan happens to lie as the instrument's frame does.
//! let case = Case::from_ron(r#"(
//!     title: "Straight protrusion (invented)",
//!     design: Arcon,
//!     mounting: FaceBow(
//!         right_axis_mm: (0, -55, 0),
//!         left_axis_mm: (0, 55, 0),
//!         anterior_reference_mm: (85, 0, 0),
//!     ),
//!     lower_landmarks: (in_centric_mm: [(80, 0, -40), (50, 25, -35), (50, -25, -35)], sd_mm: 0.05),
//!     records: [
//!         Protrusive(transform: (
//!             (1, 0, 0, 6),
//!             (0, 1, 0, 0),
//!             (0, 0, 1, -4),
//!             (0, 0, 0, 1),
//!         )),
//!     ],
//! )"#)?;
//! let programmed = case.program()?;
//! let right = programmed.side(Side::Right).expect("no repeat of centric speaks against it");
//! let inclination = right.horizontal_inclination.angle.value;
//! assert!((inclination.tan() - 4.0 / 6.0).abs() < 1e-12);
//! // Without lateral records the lateral angle follows by the rule L = H/8 + 12.
//! let lateral = right.lateral_angle.angle.value;
//! assert!((lateral.degrees() - (inclination.degrees() / 8.0 + 12.0)).abs() < 1e-12);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod bench_record;
mod case;
mod check_bench;
mod combine;
mod distance;
mod fields;
mod find_warnings;
pub mod fit;
pub mod from_gaps;
mod from_scales;
mod front;
pub mod incisal;
mod kind;
pub mod mounting;
pub mod program;
mod program_error;
mod read_record;
mod reading;
pub(crate) mod reference;
pub mod registration;
mod senseless;
pub(crate) mod settings;
pub mod split_cast;
mod spread;
pub mod trial;
pub mod warning;

pub use bench_record::{GrooveGaps, GuideHold, ScaleReadings, TrialAngles};
pub use case::{
    CanineGuidance, Case, CaseCasts, CuspPlace, IncisalGuidance, LandmarkFields, MountingFields, NamedAxis,
    PoseFields, RecordFields,
};
pub use fields::{Millimetres, ScanPlace, SideFields};
pub use kind::{RecordKind, nth_record};
pub use reading::RecordReading;
pub use senseless::SenselessCase;
