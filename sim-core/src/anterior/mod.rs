//! The anterior guide: what stops the closing.

mod trough;

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
}

impl AnteriorGuide {
    /// The angles of the guide.
    #[must_use]
    pub const fn trough(&self) -> &Trough {
        match self {
            Self::Table(trough) | Self::Incisors(trough) => trough,
        }
    }

    pub(crate) const fn trough_mut(&mut self) -> &mut Trough {
        match self {
            Self::Table(trough) | Self::Incisors(trough) => trough,
        }
    }

    /// `Table` or `Incisors`: the word that a scene file uses.
    #[must_use]
    pub const fn name(&self) -> &'static str {
        match self {
            Self::Table(_) => "Table",
            Self::Incisors(_) => "Incisors",
        }
    }
}
