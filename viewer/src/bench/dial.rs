//! What is turned at a guide.

use sim_core::facts::Facts;
use sim_core::frame::Side;
use sim_core::guide::CondylarGuide;

/// What is turned at a guide.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dial {
    /// The horizontal inclination, H.
    Inclination(Side),
    /// The lateral angle, L.
    Lateral(Side),
}

impl Dial {
    /// All four.
    pub const ALL: [Self; 4] = [
        Self::Inclination(Side::Right),
        Self::Inclination(Side::Left),
        Self::Lateral(Side::Right),
        Self::Lateral(Side::Left),
    ];

    /// Its guide.
    #[must_use]
    pub const fn side(self) -> Side {
        match self {
            Self::Inclination(side) | Self::Lateral(side) => side,
        }
    }

    /// The same of the other guide.
    #[must_use]
    pub const fn across(self) -> Self {
        match self {
            Self::Inclination(side) => Self::Inclination(side.opposite()),
            Self::Lateral(side) => Self::Lateral(side.opposite()),
        }
    }

    /// What is known of the setting.
    #[must_use]
    pub const fn facts(self) -> &'static Facts {
        match self {
            Self::Inclination(_) => &CondylarGuide::HORIZONTAL_INCLINATION.facts,
            Self::Lateral(_) => &CondylarGuide::LATERAL_ANGLE.facts,
        }
    }

    /// Its name in the report, and for tests: `H.right`.
    #[must_use]
    pub fn key(self) -> String {
        let letter = match self {
            Self::Inclination(_) => "H",
            Self::Lateral(_) => "L",
        };
        format!("{letter}.{}", self.side())
    }
}
