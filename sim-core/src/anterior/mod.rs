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

mod facets;
mod height_field;
mod trough;

pub(crate) use facets::Facets;
pub use height_field::{HeightField, NoHeightField};
pub use trough::{GuidePlane, Plane, Trough};

use serde::{Deserialize, Serialize};

/// The anterior guide of an instrument.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum AnteriorGuide {
    /// The incisal table, fixed to the lower member; the pin tip of the upper member glides on it.
    Table(Trough),
    /// The upper incisors' inclines, fixed to the upper member; the lower incisal edge glides
    /// below them.
    Incisors(Trough),
    /// The teeth of both casts, or the pin on the table of these angles, whichever stops the closing
    /// first.
    Casts(Trough),
    /// A table formed to the teeth, fixed to the lower member; the pin tip glides on it.
    CustomTable(HeightField),
}

impl AnteriorGuide {
    /// The angles of the guide; none of a table formed to the teeth.
    #[must_use]
    pub const fn trough(&self) -> Option<&Trough> {
        match self {
            Self::Table(trough) | Self::Incisors(trough) | Self::Casts(trough) => Some(trough),
            Self::CustomTable(_) => None,
        }
    }

    pub(crate) const fn trough_mut(&mut self) -> Option<&mut Trough> {
        match self {
            Self::Table(trough) | Self::Incisors(trough) | Self::Casts(trough) => Some(trough),
            Self::CustomTable(_) => None,
        }
    }

    /// Whether there is an incisal pin, which glides on a table of the lower member.
    #[must_use]
    pub const fn has_pin(&self) -> bool {
        !matches!(self, Self::Incisors(_))
    }

    /// `Table`, `Incisors`, `Casts` or `CustomTable`: the word that a scene file uses.
    #[must_use]
    pub const fn name(&self) -> &'static str {
        match self {
            Self::Table(_) => "Table",
            Self::Incisors(_) => "Incisors",
            Self::Casts(_) => "Casts",
            Self::CustomTable(_) => "CustomTable",
        }
    }
}
