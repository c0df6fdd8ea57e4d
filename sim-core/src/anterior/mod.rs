//! The anterior guide: what stops the closing.
//!
//! ```
//! use sim_core::anterior::{AnteriorGuide, GuidePlane, Trough};
//! use sim_core::excursion::{Guidance, Mechanism, Movement, Station};
//! use sim_core::frame::Side;
//! use sim_core::instrument::Instrument;
//! use sim_core::units::{Angle, Length};
//!
//! // Both wings of the table are raised by 20°.
//! let wing = Angle::from_degrees(20.0);
//! let table = Trough { right_wing: wing, left_wing: wing, ..Trough::LEVEL };
//! let instrument = Instrument { anterior_guide: AnteriorGuide::Table(table), ..Instrument::zeroed() };
//! let mechanism = Mechanism::new(&instrument);
//! let at = Station::advanced(Length::from_mm(3.0));
//! // To the right the pin runs up the left wing, since the table moves to the right beneath it.
//! let right = mechanism.at(Movement::Lateral { working: Side::Right }, at)?;
//! assert_eq!(right.guidance, Guidance::Table(GuidePlane::Wing(Side::Left)));
//! let level = Mechanism::new(&Instrument::zeroed()).at(Movement::Lateral { working: Side::Right }, at)?;
//! assert!(right.incisal_point.z() < level.incisal_point.z(), "the wing holds the jaw farther open");
//! # Ok::<(), sim_core::excursion::NoPose>(())
//! ```

mod anterior_guide;
mod facets;
mod height_field;
mod pin_tip;
mod trough;

pub use anterior_guide::AnteriorGuide;
pub(crate) use facets::{Facet, Facets};
pub(crate) use height_field::MOST_HEIGHTS;
pub use height_field::{HeightField, NoHeightField};
pub use pin_tip::PinTip;
pub(crate) use trough::TroughTurns;
pub use trough::{GuidePlane, Plane, Trough};
