//! Groups of teeth that guide alike.

use crate::cusp::Tooth;

/// What kind of tooth it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) enum ToothGroup {
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
    /// The group of a tooth.
    #[must_use]
    pub(crate) const fn of(tooth: Tooth) -> Self {
        match tooth.position() {
            1 | 2 => Self::Incisor,
            3 => Self::Canine,
            4 | 5 => Self::Premolar,
            _ => Self::Molar,
        }
    }

    /// The group that a pair of teeth counts as: that of the upper tooth, whose incline is glided on,
    /// unless the lower one alone is a back tooth. A pair is a back pair where either tooth is: a lower
    /// premolar on the upper canine is a back tooth that touches. Where one tooth cannot be told, the
    /// group is the other's.
    #[must_use]
    pub(crate) fn of_pair(upper: Option<Tooth>, lower: Option<Tooth>) -> Option<Self> {
        match (upper.map(Self::of), lower.map(Self::of)) {
            (Some(upper), Some(lower)) if lower.is_back() && !upper.is_back() => Some(lower),
            (upper, lower) => upper.or(lower),
        }
    }

    /// Whether it is a premolar or a molar.
    #[must_use]
    pub(crate) const fn is_back(self) -> bool {
        matches!(self, Self::Premolar | Self::Molar)
    }
}
