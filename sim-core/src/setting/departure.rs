//! What departs from the baseline at which an instrument starts.

use std::fmt;

use super::{Choice, all};
use crate::anterior::AnteriorGuide;
use crate::frame::Side;
use crate::guide::GuidePath;
use crate::instrument::{Baseline, Instrument};
use crate::units::Unit;

/// One setting that is not as the baseline has it.
#[derive(Clone, Debug, PartialEq)]
pub struct Departure {
    /// The side, for a setting of a condylar guide.
    pub side: Option<Side>,
    /// What the trade calls the setting.
    pub label: &'static str,
    /// Its address in a scene file, side left out.
    pub key: String,
    /// What it is and what it is in the baseline.
    pub value: DepartureValue,
}

/// The two values of a [`Departure`].
#[derive(Clone, Debug, PartialEq)]
pub enum DepartureValue {
    /// A number.
    Number {
        /// What is set.
        is: f64,
        /// What the baseline has.
        zeroed: f64,
        /// Unit of both.
        unit: Unit,
    },
    /// A choice between words.
    Word {
        /// What is chosen.
        is: &'static str,
        /// What the baseline has.
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
                write!(f, "{}: {is}{sign}, baseline {zeroed}{sign}", self.label)
            }
            DepartureValue::Word { is, zeroed } => write!(f, "{}: {is}, baseline {zeroed}", self.label),
        }
    }
}

/// Lists every setting that departs from a baseline; empty for an instrument that stands at it.
///
/// Geometry (intercondylar distance, the incisal point's height and distance) and design are what
/// the instrument is, not what is set, and are not listed.
#[must_use]
pub fn check_zeroed(instrument: &Instrument, baseline: &Baseline) -> Vec<Departure> {
    let at_baseline = instrument.with_settings_zeroed(baseline);
    let mut departures = Vec::new();
    for setting in all().filter(|setting| setting.facts().zeroed.is_some()) {
        let facts = setting.facts();
        for &side in setting.sides() {
            let of = |instrument| setting.of_instrument(instrument, side.unwrap_or(Side::Right));
            match (of(instrument), of(&at_baseline)) {
                (Some(is), Some(zeroed)) if is != zeroed => departures.push(Departure {
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
