//! A student's answer, and the empty form for it.

use serde::de::Error as _;
use serde::{Deserialize, Deserializer, Serialize};

use super::{DealNumber, Fault};
use crate::facts::Entry;
use crate::guide::CondylarGuide;
use crate::text::{self, ReadError};

/// What a student returns.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Answer {
    /// Number of the deal that it answers.
    pub deal: DealNumber,
    /// Settings of the right guide.
    pub right: SideAnswer,
    /// Settings of the left guide.
    pub left: SideAnswer,
    /// What the student found of the records and the instrument.
    pub verdicts: Verdicts,
}

/// The two settings of a guide; `None` where none is to be given.
#[derive(Clone, Copy, Debug, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SideAnswer {
    /// Horizontal condylar inclination, −30° to 85°.
    #[serde(deserialize_with = "inclination")]
    pub horizontal_inclination_deg: Option<f64>,
    /// Lateral condylar angle, −30° to 60°.
    #[serde(deserialize_with = "lateral")]
    pub lateral_angle_deg: Option<f64>,
}

/// A verdict on each thing that can be at fault.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Verdicts {
    /// The tentative centric record: does its repeat confirm it?
    pub centric_record: Verdict,
    /// The protrusive record: does it go far enough?
    pub protrusive_record: Verdict,
    /// The lateral records: do they go to the sides that they are labelled with?
    pub lateral_records: Verdict,
    /// The instrument: does it stand as zeroed?
    pub instrument: Verdict,
}

/// What a student found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Verdict {
    /// Not said.
    #[default]
    Open,
    /// Sound.
    Accepted,
    /// At fault.
    Rejected,
}

impl Verdicts {
    /// The verdict on the thing that a fault is of.
    #[must_use]
    pub(crate) const fn on(&self, fault: Fault) -> Verdict {
        match fault {
            Fault::WrongCentric => self.centric_record,
            Fault::ShortProtrusion => self.protrusive_record,
            Fault::SwappedSides => self.lateral_records,
            Fault::UnzeroedInstrument => self.instrument,
        }
    }
}

fn inclination<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Option<f64>, D::Error> {
    setting(&CondylarGuide::HORIZONTAL_INCLINATION, deserializer)
}

fn lateral<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Option<f64>, D::Error> {
    setting(&CondylarGuide::LATERAL_ANGLE, deserializer)
}

/// An angle within what the guide takes, or None.
fn setting<'de, D: Deserializer<'de>>(
    entry: &'static Entry<CondylarGuide>,
    deserializer: D,
) -> Result<Option<f64>, D::Error> {
    let given = Option::<f64>::deserialize(deserializer)?;
    if let Some(given) = given {
        entry.facts.check(given).map_err(D::Error::custom)?;
    }
    Ok(given)
}

impl Answer {
    /// Reads an answer from its text (RON).
    ///
    /// # Errors
    /// [`ReadError`] with line, column, field, what was given and what is allowed.
    pub fn from_ron(text: &str) -> Result<Self, ReadError> {
        text::read(text, |_: &Self| Ok(()))
    }

    /// Writes the answer as text that [`Answer::from_ron`] reads back as the same answer.
    #[must_use]
    pub fn to_ron(&self) -> String {
        text::write(self)
    }

    /// The empty form of a deal, with what is to be filled in explained.
    #[must_use]
    pub fn form(deal: DealNumber) -> String {
        format!(
            "// Answer to practice deal {deal} (an invented patient).
// Put each angle, in degrees, in place of None. Every setting rests on the centric record, H of both guides
// on the protrusive record, L of a guide on the lateral record to the other side: what rests on a record that
// must be taken again is left None. A verdict is Accepted (sound), Rejected (at fault) or Open (not said).
(
    deal: \"{deal}\",
    right: (horizontal_inclination_deg: None, lateral_angle_deg: None),
    left: (horizontal_inclination_deg: None, lateral_angle_deg: None),
    verdicts: (
        centric_record: Open,       // does its repeat confirm the tentative record?
        protrusive_record: Open,    // does it go far enough?
        lateral_records: Open,      // do they go to the sides they are labelled with?
        instrument: Open,           // does it stand as zeroed?
    ),
)
"
        )
    }
}
