//! How a number answers to a setting.

use crate::cusp::OpposingInclines;
use crate::facts::{Entry, Facts};
use crate::frame::Side;
use crate::setting::Setting;

/// What is turned.
#[derive(Clone, Copy, Debug)]
pub enum Mover {
    /// A setting, on one side where each side has its own.
    Setting(Setting, Option<Side>),
    /// An incline opposing the cusp whose clearance is read.
    Incline(&'static Entry<OpposingInclines>),
}

impl Mover {
    /// Name, unit, range and meaning of what is turned.
    #[must_use]
    pub const fn facts(&self) -> &'static Facts {
        match self {
            Self::Setting(setting, _) => setting.facts(),
            Self::Incline(entry) => &entry.facts,
        }
    }

    /// The side it belongs to, where each side has its own.
    #[must_use]
    pub const fn side(&self) -> Option<Side> {
        match self {
            Self::Setting(_, side) => *side,
            Self::Incline(_) => None,
        }
    }

    /// Its name as output for other programs writes it: `right_guide.horizontal_inclination_deg`,
    /// `opposing.working_deg`.
    #[must_use]
    pub fn key(&self) -> String {
        match self {
            Self::Setting(setting, Some(side)) => format!("{side}_guide.{}", setting.key()),
            Self::Setting(setting, None) => setting.key(),
            Self::Incline(entry) => format!("opposing.{}", entry.facts.key),
        }
    }
}

/// The derivative of a number by a setting, in the number's unit for each unit of the setting.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Slope {
    /// The same both ways; of a setting at the end of its range, the way that is left.
    Smooth(f64),
    /// The number has a kink here.
    Kink {
        /// The derivative toward smaller values of the setting.
        lowered: f64,
        /// The derivative toward greater values of the setting.
        raised: f64,
    },
}

impl Slope {
    /// The derivative toward greater values of the setting: what a degree or a millimetre more does.
    #[must_use]
    pub const fn raised(self) -> f64 {
        match self {
            Self::Smooth(slope) | Self::Kink { raised: slope, .. } => slope,
        }
    }

    /// The derivative toward smaller values of the setting.
    #[must_use]
    pub const fn lowered(self) -> f64 {
        match self {
            Self::Smooth(slope) | Self::Kink { lowered: slope, .. } => slope,
        }
    }

    /// The greater of the two without its sign: by how much the setting moves the number at most.
    #[must_use]
    pub fn steepest(self) -> f64 {
        self.raised().abs().max(self.lowered().abs())
    }
}

/// A setting and how the number answers to it.
#[derive(Clone, Copy, Debug)]
pub struct SettingSlope {
    /// What is turned.
    pub mover: Mover,
    /// How the number answers.
    pub slope: Slope,
}

/// Why no derivative is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoSlopes {
    /// Teeth stop the closing: the place of contact is found by a search, and jumps from tooth to tooth.
    TeethGuide,
    /// A table formed to the teeth guides: heights from a grid, no angle that could be turned.
    CustomTable,
    /// The incisal point drives and the guided point lies on more than one plane: each answers for itself.
    Crease,
    /// A wall stands upright at this place, or the incisal point does not go on as the condyles do: the six
    /// equations have no answer.
    Upright,
}
