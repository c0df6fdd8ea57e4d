//! What stops the closing in front: a table, incisors, the teeth.

use nalgebra::Vector3;
use serde::{Deserialize, Serialize};

use super::{HeightField, Plane, Trough};

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

impl AnteriorGuide {
    /// The three planes through (or hinged beside) the guided point's rest position, plate first,
    /// in the frame of the member that carries them: upper for `Incisors`, lower for a table. None of
    /// a table formed to the teeth.
    ///
    /// n₀ = (sin α, 0, cos α); wings cos β n₀ ∓ sin β ŷ, hinged `h` to each side. A table's wings
    /// go up outward, the incisors' go down.
    #[must_use]
    pub fn planes(&self, rest: Vector3<f64>) -> Option<[Plane; 3]> {
        self.trough().map(|trough| trough.planes(rest, self.has_pin()))
    }
}
