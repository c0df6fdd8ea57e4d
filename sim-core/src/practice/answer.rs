//! A student's answer, and the empty form for it.

use serde::de::Error as _;
use serde::{Deserialize, Deserializer, Serialize};

use super::{Check, DealNumber, Direction};
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
    /// The tracing: is it single, and the plate parallel to the occlusal plane?
    pub tracing: Verdict,
    /// The tentative centric record: does its repeat confirm it?
    pub centric_record: Verdict,
    /// Of a centric record that is rejected: where it holds the jaw.
    pub centric_off: Option<Direction>,
    /// The protrusive record: does it go far enough, has the point gone through it, do repeats agree?
    pub protrusive_record: Verdict,
    /// The lateral records: do they go to the sides that they are labelled with, has the point gone
    /// through them?
    pub lateral_records: Verdict,
    /// The guides: do they stand as zeroed?
    pub guides: Verdict,
    /// The locks of the guides: does a scale read alike whenever the same record closes?
    pub locks: Verdict,
    /// The pin: is it flush?
    pub pin: Verdict,
    /// The incisal table: are plate and wings level?
    pub table: Verdict,
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
    /// The verdict on a thing.
    #[must_use]
    pub const fn on(&self, check: Check) -> Verdict {
        match check {
            Check::Tracing => self.tracing,
            Check::CentricRecord => self.centric_record,
            Check::ProtrusiveRecord => self.protrusive_record,
            Check::LateralRecords => self.lateral_records,
            Check::Guides => self.guides,
            Check::Locks => self.locks,
            Check::Pin => self.pin,
            Check::Table => self.table,
        }
    }

    /// The same with another verdict on a thing.
    #[must_use]
    pub const fn with(mut self, check: Check, verdict: Verdict) -> Self {
        let on = match check {
            Check::Tracing => &mut self.tracing,
            Check::CentricRecord => &mut self.centric_record,
            Check::ProtrusiveRecord => &mut self.protrusive_record,
            Check::LateralRecords => &mut self.lateral_records,
            Check::Guides => &mut self.guides,
            Check::Locks => &mut self.locks,
            Check::Pin => &mut self.pin,
            Check::Table => &mut self.table,
        };
        *on = verdict;
        self
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
// Put each angle, in degrees, in place of None. Every setting rests on the tracing and the centric record, H of
// both guides on the protrusive record, L of a guide on the lateral record to the other side. Leave None where
// what it rests on must be made again first, or where the guide does not hold.
// A verdict is Accepted (sound), Rejected (at fault, to be made again or put right first) or Open (not said).
(
    deal: \"{deal}\",
    right: (horizontal_inclination_deg: None, lateral_angle_deg: None),
    left: (horizontal_inclination_deg: None, lateral_angle_deg: None),
    verdicts: (
        tracing: Open,              // one apex, and the plate within 5 degrees of the occlusal plane?
        centric_record: Open,       // does its repeat confirm the tentative record?
        centric_off: None,          // if not, where does the tentative one hold the jaw: Forward, Back, Right, Left?
        protrusive_record: Open,    // 5 mm or more on the tracing, perforated, repeats of it within 3 degrees?
        lateral_records: Open,      // labelled with the sides that they go to, perforated?
        guides: Open,               // do they stand as zeroed (H 30, L 30, no immediate translation)?
        locks: Open,                // does a scale read within 3 degrees whenever the same record closes?
        pin: Open,                  // is it flush?
        table: Open,                // are plate and wings level?
    ),
)
"
        )
    }
}
