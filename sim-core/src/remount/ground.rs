//! Surfaces that selective grinding takes from.

use crate::cusp::Arch;

/// A surface that is ground.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Ground {
    /// The fossa of the upper tooth, deepened.
    UpperFossa,
    /// The fossa of the lower tooth, deepened.
    LowerFossa,
    /// The upper palatal cusp.
    UpperPalatalCusp,
    /// The lower buccal cusp.
    LowerBuccalCusp,
    /// The palatal incline of the upper buccal cusp.
    UpperBuccalPalatalIncline,
    /// The buccal incline of the lower lingual cusp.
    LowerLingualBuccalIncline,
    /// The lingual incline of the lower buccal cusp.
    LowerBuccalLingualIncline,
    /// The distal incline of the upper buccal cusp.
    UpperDistalIncline,
    /// The mesial incline of the lower cusp.
    LowerMesialIncline,
    /// The edge of the lower front tooth.
    LowerEdge,
}

impl Ground {
    /// Every surface.
    pub const ALL: [Self; 10] = [
        Self::UpperFossa,
        Self::LowerFossa,
        Self::UpperPalatalCusp,
        Self::LowerBuccalCusp,
        Self::UpperBuccalPalatalIncline,
        Self::LowerLingualBuccalIncline,
        Self::LowerBuccalLingualIncline,
        Self::UpperDistalIncline,
        Self::LowerMesialIncline,
        Self::LowerEdge,
    ];

    /// The arch whose tooth is ground.
    #[must_use]
    pub const fn arch(self) -> Arch {
        match self {
            Self::UpperFossa
            | Self::UpperPalatalCusp
            | Self::UpperBuccalPalatalIncline
            | Self::UpperDistalIncline => Arch::Upper,
            Self::LowerFossa
            | Self::LowerBuccalCusp
            | Self::LowerLingualBuccalIncline
            | Self::LowerBuccalLingualIncline
            | Self::LowerMesialIncline
            | Self::LowerEdge => Arch::Lower,
        }
    }

    /// `upper_fossa`, `lower_buccal_lingual_incline`, …
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::UpperFossa => "upper_fossa",
            Self::LowerFossa => "lower_fossa",
            Self::UpperPalatalCusp => "upper_palatal_cusp",
            Self::LowerBuccalCusp => "lower_buccal_cusp",
            Self::UpperBuccalPalatalIncline => "upper_buccal_palatal_incline",
            Self::LowerLingualBuccalIncline => "lower_lingual_buccal_incline",
            Self::LowerBuccalLingualIncline => "lower_buccal_lingual_incline",
            Self::UpperDistalIncline => "upper_distal_incline",
            Self::LowerMesialIncline => "lower_mesial_incline",
            Self::LowerEdge => "lower_edge",
        }
    }
}
