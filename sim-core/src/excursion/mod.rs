//! Excursions: what the patient's jaw is asked to do, and the motion that the settings make of it.
//!
//! An [`Excursion`] is a [`Movement`] and how far it goes. A [`Mechanism`] (an instrument made
//! ready) solves it into [`Placement`]s, one a sample; a [`Motion`] is all of them.

mod closing;
mod displacement;
mod error;
mod file;
mod mechanism;
mod motion;
mod movement;
mod placement;
mod samples;
mod spheres;

pub use error::{NoPose, Obstacle};
pub use mechanism::{Mechanism, Station};
pub use motion::{BennettMovement, Motion};
pub use movement::{Drive, Excursion, ExcursionError, Movement, Ratio};
pub use placement::{CondyleReading, Guidance, Placement};
pub use samples::Samples;
