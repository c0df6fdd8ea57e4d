//! A patient's jaw-relation records: what they say of the joints, and how surely.
//!
//! A record is a jaw pose. It is found from landmarks of the lower cast seen in centric and in the
//! record ([`registration`]), carried into the instrument by the mounting ([`mounting`]), checked
//! against a repeat of the centric record ([`split_cast`]) and read as settings ([`program`]).
//! [`fit`] does the last on the bench, by closing the gap over all records at once; [`incisal`] sets
//! the anterior guide.

mod case;
pub mod fit;
pub mod incisal;
pub mod mounting;
pub mod program;
mod read_record;
mod reading;
pub mod registration;
pub(crate) mod settings;
pub mod split_cast;
mod spread;
pub mod warning;

pub use case::{
    CanineGuidance, Case, CaseCasts, CuspPlace, IncisalGuidance, LandmarkFields, Millimetres, MountingFields,
    PoseFields, RecordFields, RecordKind, ScanPlace, SenselessCase, SideFields,
};
pub use reading::RecordReading;
