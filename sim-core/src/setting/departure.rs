//! What departs from the zeroed baseline.

use std::fmt;

use super::{Choice, all};
use crate::anterior::AnteriorGuide;
use crate::frame::Side;
use crate::guide::GuidePath;
use crate::instrument::Instrument;
use crate::units::Unit;

/// One setting that is not as zeroing leaves it.
#[derive(Clone, Debug, PartialEq)]
pub struct Departure {
    /// The side, for a setting of a condylar guide.
    pub side: Option<Side>,
    /// What the trade calls the setting.
    pub label: &'static str,
    /// Its address in a scene file, side left out.
    pub key: String,
    /// What it is and what it would be when zeroed.
    pub value: DepartureValue,
}

/// The two values of a [`Departure`].
#[derive(Clone, Debug, PartialEq)]
pub enum DepartureValue {
    /// A number.
    Number {
        /// What is set.
        is: f64,
        /// What zeroing would leave.
        zeroed: f64,
        /// Unit of both.
        unit: Unit,
    },
    /// A choice between words.
    Word {
        /// What is chosen.
        is: &'static str,
        /// What zeroing would leave.
        zeroed: &'static str,
    },
}

impl fmt::Display for Departure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(side) = self.side {
            write!(f, "{side} ")?;
        }
        match self.value {
            DepartureValue::Number { is, zeroed, unit } => {
                let sign = unit.sign();
                write!(f, "{}: {is}{sign}, zeroed {zeroed}{sign}", self.label)
            }
            DepartureValue::Word { is, zeroed } => write!(f, "{}: {is}, zeroed {zeroed}", self.label),
        }
    }
}

/// Lists every setting that departs from the zeroed baseline; empty for a zeroed instrument.
///
/// Geometry (intercondylar distance, the incisal point's height and distance) and design are what
/// the instrument is, not what is set, and are not listed.
#[must_use]
pub fn check_zeroed(instrument: &Instrument) -> Vec<Departure> {
    let mut departures = Vec::new();
    for setting in all() {
        let facts = setting.facts();
        let Some(zeroed) = facts.zeroed else { continue };
        for &side in setting.sides() {
            match setting.of_instrument(instrument, side.unwrap_or(Side::Right)) {
                Some(is) if is != zeroed => departures.push(Departure {
                    side,
                    label: facts.label,
                    key: setting.key(),
                    value: DepartureValue::Number { is, zeroed, unit: facts.unit },
                }),
                _ => {}
            }
        }
    }
    if !matches!(instrument.anterior_guide, AnteriorGuide::Table(_)) {
        departures.push(word(None, Choice::AnteriorGuide, instrument.anterior_guide.name(), "Table"));
    }
    for side in Side::BOTH {
        let path = &instrument.guide(side).path;
        if *path != GuidePath::Straight {
            departures.push(word(Some(side), Choice::Path, path.name(), "Straight"));
        }
    }
    departures
}

fn word(side: Option<Side>, choice: Choice, is: &'static str, zeroed: &'static str) -> Departure {
    Departure {
        side,
        label: choice.label(),
        key: choice.key().to_owned(),
        value: DepartureValue::Word { is, zeroed },
    }
}
