//! What the checks share: instruments drawn at random, the definitions they are held to, written anew
//! here rather than taken from the code under test, and the reader of the tables of other libraries.

use sim_core::units::Angle;

pub mod apart;
pub mod by_hand;
pub mod definition;
pub mod hand_made;
pub mod invented_bench;
pub mod invented_cases;
pub mod patient;
#[cfg(feature = "random")]
pub mod random;
pub mod solid;
pub mod student;
pub mod table;
pub mod tolerance;
#[cfg(feature = "random")]
pub mod written;

/// An angle of some degrees.
#[must_use]
pub fn deg(degrees: f64) -> Angle {
    Angle::from_degrees(degrees)
}
