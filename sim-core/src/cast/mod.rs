//! Casts: scanned or invented teeth as surfaces, how near they come, and where they touch.
//!
//! A [`Surface`] is a sound triangle mesh without a frame of its own; whoever makes one says where
//! its coordinates are. What a file holds is a [`Soup`]; [`mend`] makes a surface of it and says what it
//! had to do. [`Casts`] are two surfaces made ready to be searched, each in its member's frame. All
//! lengths are millimetres.

mod casts;
mod clearance;
mod closing;
mod facing;
mod film;
pub mod invented;
mod joins;
mod lowering;
mod map;
mod marks;
mod measure;
mod mend;
mod nearest;
mod nearness;
mod opening;
mod pairs;
mod piercing;
mod places;
mod print;
mod search;
mod section;
mod soup;
mod surface;
#[cfg(test)]
mod tests;
mod tooth_row;
mod tree;
mod turning;
mod unit;

pub use casts::{Casts, Warm};
pub use closing::Touch;
pub use facing::{facing, toward_opposing};
pub use film::{Film, NoSuchFilm};
pub use marks::{CastPlace, Mark, ToothMarks};
pub use measure::{CastsReading, ToothReading};
pub use mend::{Islands, MOST_TRIANGLES, MendError, MendReport, WELD, mend};
pub use nearest::Nearest;
pub use places::{TOOTH_REACH_MM, ToothPlaces};
pub use section::{Cut, Section, SectionGap, SectionLine};
pub use soup::Soup;
pub use surface::{Surface, SurfaceError};
pub use tooth_row::ToothRow;
pub use unit::{CAST_EXTENT_MM, CastUnit, UnitUnclear};
