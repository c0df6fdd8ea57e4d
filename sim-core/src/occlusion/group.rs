//! Groups of teeth that guide alike.

use crate::cusp::Tooth;

/// What kind of tooth it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum ToothGroup {
    /// Central and lateral incisors.
    Incisor,
    /// The canine.
    Canine,
    /// First and second premolars.
    Premolar,
    /// First to third molars.
    Molar,
}

impl ToothGroup {
    /// From the midline back.
    pub const ALL: [Self; 4] = [Self::Incisor, Self::Canine, Self::Premolar, Self::Molar];

    /// The group of a tooth.
    #[must_use]
    pub const fn of(tooth: Tooth) -> Self {
        match tooth.position() {
            1 | 2 => Self::Incisor,
            3 => Self::Canine,
            4 | 5 => Self::Premolar,
            _ => Self::Molar,
        }
    }

    /// The group that a pair of teeth guides as: that of the upper tooth, whose incline is glided on;
    /// of the lower one where the upper cannot be told.
    #[must_use]
    pub fn of_pair(upper: Option<Tooth>, lower: Option<Tooth>) -> Option<Self> {
        upper.or(lower).map(Self::of)
    }

    /// Whether it is a premolar or a molar.
    #[must_use]
    pub const fn is_back(self) -> bool {
        matches!(self, Self::Premolar | Self::Molar)
    }

    /// `incisor`, `canine`, `premolar` or `molar`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Incisor => "incisor",
            Self::Canine => "canine",
            Self::Premolar => "premolar",
            Self::Molar => "molar",
        }
    }
}
