//! What ties factors to each other or to other settings.

use serde::{Deserialize, Serialize};

use super::error::StudyError;
use crate::guide::CondylarGuide;
use crate::record::settings::lateral_angle_by_rule;
use crate::setting::{Near, Setting, SettingName};
use crate::units::Angle;

/// A tie between factors, or of another setting to a factor.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Constraint {
    /// A setting that is no factor follows one.
    Derived {
        /// The setting that follows.
        setting: SettingName,
        /// How.
        by: Rule,
    },
    /// The left guide's setting of this name follows the right guide's.
    LeftEqualsRight(SettingName),
    /// Factors vary together; see [`super::Correlation`] for what the matrix means.
    Correlated {
        /// The factors.
        between: Vec<SettingName>,
        /// Their correlations, row by row in the order of the factors.
        matrix: Vec<Vec<f64>>,
    },
}

/// How a setting follows from another.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Rule {
    /// L = H/8 + 12 degrees (common practice, no source).
    HOverEightPlusTwelve {
        /// The horizontal condylar inclination H.
        of: SettingName,
    },
    /// `times` × the other + `plus`.
    Linear {
        /// The other setting.
        of: SettingName,
        /// What it is multiplied with.
        times: f64,
        /// What is added, in the unit of the setting that follows.
        plus: f64,
    },
}

/// How a value follows from another, names left out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Formula {
    HOverEightPlusTwelve,
    Linear { times: f64, plus: f64 },
}

impl Formula {
    pub(super) const SAME: Self = Self::Linear { times: 1.0, plus: 0.0 };

    #[inline]
    pub(super) fn of(self, value: f64) -> f64 {
        match self {
            Self::HOverEightPlusTwelve => lateral_angle_by_rule(Angle::from_degrees(value)).degrees(),
            Self::Linear { times, plus } => times * value + plus,
        }
    }
}

impl Constraint {
    /// The right and the left name of a [`Self::LeftEqualsRight`]; `None` of any other.
    pub(super) fn sides(&self) -> Result<Option<(SettingName, SettingName)>, StudyError> {
        let Self::LeftEqualsRight(name) = self else { return Ok(None) };
        let side = |side: &str| format!("{side}_guide.{name}").parse::<SettingName>();
        match (side("right"), side("left")) {
            (Ok(right), Ok(left)) if name.side().is_none() => Ok(Some((right, left))),
            _ => Err(StudyError::NoSides { name: name.written().to_owned() }),
        }
    }
}

impl Rule {
    pub(super) const fn of(&self) -> &SettingName {
        match self {
            Self::HOverEightPlusTwelve { of } | Self::Linear { of, .. } => of,
        }
    }

    pub(super) const fn formula(&self) -> Formula {
        match self {
            Self::HOverEightPlusTwelve { .. } => Formula::HOverEightPlusTwelve,
            Self::Linear { times, plus, .. } => Formula::Linear { times: *times, plus: *plus },
        }
    }

    /// Checks a rule by which a setting follows from one of those known before it.
    pub(super) fn check(&self, setting: &SettingName, before: &[&SettingName]) -> Result<(), StudyError> {
        known(self.of(), before)?;
        match self {
            Self::HOverEightPlusTwelve { of } => {
                if setting.is(Setting::Guide(&CondylarGuide::LATERAL_ANGLE))
                    && of.is(Setting::Guide(&CondylarGuide::HORIZONTAL_INCLINATION))
                {
                    return Ok(());
                }
                let (setting, of) = (setting.written().to_owned(), of.written().to_owned());
                Err(StudyError::RuleOfOthers { setting, of })
            }
            Self::Linear { times, plus, .. } => {
                let wrong = [("times", *times), ("plus", *plus)].into_iter().find(|(_, it)| !it.is_finite());
                wrong.map_or(Ok(()), |(field, given)| {
                    Err(StudyError::RuleNumber { setting: setting.written().to_owned(), field, given })
                })
            }
        }
    }
}

/// That a name is one of those.
pub(super) fn known(name: &SettingName, among: &[&SettingName]) -> Result<(), StudyError> {
    if among.contains(&name) {
        return Ok(());
    }
    let near = Near::to(name.written(), among.iter().map(|known| known.written().to_owned()));
    Err(StudyError::NotAFactor { name: name.written().to_owned(), near })
}
