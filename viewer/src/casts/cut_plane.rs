//! The planes that cut the casts.

use serde::Serialize;

/// A family of planes to cut the casts with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum CutPlane {
    /// Fore and aft.
    Sagittal,
    /// From side to side.
    Frontal,
    /// Square to the arch.
    Square,
}

impl CutPlane {
    /// Each of them, in the order of their buttons.
    pub const ALL: [Self; 3] = [Self::Sagittal, Self::Frontal, Self::Square];

    /// The words on the button.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Sagittal => "sagittal",
            Self::Frontal => "frontal",
            Self::Square => "square to the arch",
        }
    }

    /// What across is in the section.
    #[must_use]
    pub const fn across(self) -> &'static str {
        match self {
            Self::Sagittal => "forward",
            Self::Frontal => "to the left",
            Self::Square => "outward",
        }
    }

    /// What its position is measured as.
    #[must_use]
    pub const fn position(self) -> &'static str {
        match self {
            Self::Sagittal => "left of the midline",
            Self::Frontal => "in front of the axis",
            Self::Square => "along the arch, to the left",
        }
    }

    /// Its place in [`Self::ALL`].
    #[must_use]
    pub const fn number(self) -> usize {
        match self {
            Self::Sagittal => 0,
            Self::Frontal => 1,
            Self::Square => 2,
        }
    }
}
