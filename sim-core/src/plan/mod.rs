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
//! - [`what_ifs`]: all of it with the pin raised or lowered, the occlusal plane tilted or shifted, on
//!   either design.

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
pub use what_if::{Variant, WhatIf, what_ifs};
