//! The backward questions: which inclines, which factors, which guidance give the occlusion wanted.
//!
//! Everything here asks the forward solver ([`crate::excursion`]) and changes what is to be found until
//! it answers as wanted, so that an answer put into the instrument gives what was asked for.
//!
//! Teeth meet where the pin stops the closing ([`crate::excursion::Mechanism::rest`]), and ways are
//! measured from there: with the pin flush that is the zeroed centric position, with another pin
//! extension it is another vertical dimension at which the teeth are set anew.
//!
//! - [`required_inclines`]: the incline that each facet needs to glide in contact.
//! - [`balance`]: the five factors of balanced articulation.
//! - [`disclude`]: guidance for clearances wanted.
//! - [`SteepGuidance`]: whether what is planned in front is much steeper than the condylar path.
//! - [`what_ifs`]: all of it with the pin raised or lowered, the occlusal plane tilted or shifted, on
//!   either design.
//!
//! ```
//! use sim_core::anterior::{AnteriorGuide, Trough};
//! use sim_core::frame::OcclusalPlane;
//! use sim_core::instrument::Instrument;
//! use sim_core::plan::{ArchForm, FacetPlace, required_inclines};
//! use sim_core::units::{Angle, Length};
//!
//! // Table and condylar guides fall alike by 30°, so that the jaw protrudes without turning …
//! let thirty = Angle::from_degrees(30.0);
//! let table = Trough { sagittal_inclination: thirty, ..Trough::LEVEL };
//! let instrument = Instrument { anterior_guide: AnteriorGuide::Table(table), ..Instrument::zeroed() };
//! let level = OcclusalPlane { inclination: Angle::ZERO };
//! let teeth = ArchForm::usual(&instrument).teeth(&instrument, level)?;
//! let places: Vec<_> = teeth.iter().map(|tooth| FacetPlace::of_tooth(tooth, &[])).collect();
//! // … and every facet needs those 30°, wherever it stands.
//! for needed in required_inclines(&instrument, level, &places, Length::from_mm(3.0))? {
//!     let incline = needed.protrusive.tangent.along_way;
//!     assert!((incline.degrees() - 30.0).abs() < 1e-9, "{}: {}°", needed.place.tooth, incline.degrees());
//! }
//! # Ok::<(), sim_core::plan::PlanError>(())
//! ```

mod answer;
mod arch;
mod balance;
mod check;
mod disclusion;
mod error;
mod factor;
mod gap;
mod goal;
mod incline;
mod passage;
mod proportion;
mod question;
mod sensitivity;
mod solve;
mod steepness;
mod what_if;

pub use answer::Answer;
pub(crate) use arch::CURVE_READ_AT_MM;
pub use arch::{ArchForm, ToothPlace};
pub use balance::{Alone, Balanced, balance};
pub use disclusion::{Disclosed, Reached, disclude};
pub use error::PlanError;
pub use factor::{Factor, FactorChange, Setup};
pub use gap::ToothGap;
pub use goal::{
    AngleRange, AxisTip, Balance, Clearances, CurveRange, Free, Goal, Meeting, Moulds, Plan, Wanted, Weight,
};
pub use incline::{
    FacetPlace, Glide, Incline, RequiredInclines, required_inclines, required_inclines_of_cusps,
};
pub use passage::Role;
pub use proportion::ProportionRow;
pub use question::Allowance;
pub use sensitivity::Sensitivity;
pub use steepness::{MUCH_STEEPER, SteepGuidance};
pub use what_if::{Variant, WhatIf, what_ifs};
