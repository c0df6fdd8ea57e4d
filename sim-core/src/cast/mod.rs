//! Casts: scanned or invented teeth as surfaces, how near they come, and where they touch.
//!
//! A [`Surface`] is a sound triangle mesh without a frame of its own; whoever makes one says where
//! its coordinates are. What a file holds is a [`Soup`]; [`mend`] makes a surface of it and says what it
//! had to do. [`Casts`] are two surfaces made ready to be searched, each in its member's frame. All
//! lengths are millimetres.
//!
//! ```
//! use std::sync::Arc;
//! use sim_core::anterior::{AnteriorGuide, Trough};
//! use sim_core::cast::invented::InventedCasts;
//! use sim_core::cast::{Casts, ToothPlaces};
//! use sim_core::excursion::Mechanism;
//! use sim_core::frame::OcclusalPlane;
//! use sim_core::instrument::Instrument;
//! use sim_core::units::{Angle, Length};
//!
//! // Invented teeth, coarse, mounted where they were made.
//! let plane = OcclusalPlane { inclination: Angle::ZERO };
//! let coarse = InventedCasts { fineness: Length::from_mm(1.5), ..InventedCasts::dentate() };
//! let made = coarse.make(plane)?;
//! let casts = Arc::new(Casts::new(made.upper, made.lower, &ToothPlaces::none()));
//! // The jaw closes until teeth meet, the pin raised out of the way.
//! let instrument = Instrument {
//!     anterior_guide: AnteriorGuide::Casts(Trough::LEVEL),
//!     pin_extension: Length::from_mm(-20.0),
//!     ..Instrument::zeroed()
//! };
//! let rest = Mechanism::new(&instrument).with_casts(Arc::clone(&casts)).rest()?;
//! assert!(rest.guidance.teeth().is_some());
//! let (_, nearest) = casts.measure_overall(&rest.jaw, plane, &mut Default::default());
//! assert!(nearest.gap.abs() < Length::from_mm(1e-6), "{} mm apart", nearest.gap.mm());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

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
mod misplaced;
mod nearby;
mod nearest;
mod nearness;
mod opening;
mod pairs;
mod pieces;
mod piercing;
mod places;
mod print;
mod quick;
mod search;
mod section;
mod soup;
mod splits;
mod surface;
#[cfg(test)]
mod tests;
mod tooth_row;
mod tree;
mod turning;
mod unit;

pub use casts::{Casts, LastPairs};
pub use facing::{facing, toward_opposing};
pub use film::{Film, NoSuchFilm};
pub use marks::{CastPlace, Mark, ToothMarks};
pub use measure::{CastsReading, ToothReading};
pub use mend::{Islands, MOST_TRIANGLES, MendError, MendReport, WELD, mend};
pub use misplaced::Misplaced;
pub use nearest::Nearest;
pub use places::ToothPlaces;
pub use print::TooIntricate;
pub use section::{Cut, Section, SectionGap, SectionLine};
pub use soup::Soup;
pub use surface::{Surface, SurfaceError};
pub use tooth_row::ToothRow;
pub use unit::{CAST_EXTENT_MM, CastUnit, UnitUnclear};
