//! The remount as its file has it.

use nalgebra::Vector3;
use serde::{Deserialize, Serialize};

use super::RemountError;
use crate::cusp::Tooth;
use crate::occlusion::IntendedScheme;
use crate::record::{Millimetres, ScanPlace};
use crate::text::{self, ReadError};

/// Finished dentures put back on their instrument. Points are in the instrument's frame: the origin in the middle of
/// the axis, x forward, y left, z up, millimetres.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Remount {
    /// What it is.
    pub title: String,
    /// File of the scene with the instrument's settings and, if there are any, the casts or cusps; from the
    /// remount's own folder.
    pub scene: String,
    /// How far the pin stands off its table when the finished dentures meet on their original mounting; square to the
    /// plate. Below zero where the bite was lowered: the pin is on its table and the teeth are apart.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pin_lift_mm: Option<Millimetres>,
    /// Where the lower incisal edge is; absent, that of the invented casts, else the instrument's incisal point.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub incisors_mm: Option<ScanPlace>,
    /// A centric record taken with the finished dentures.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub centric: Option<CentricRecord>,
    /// How far a condyle may be off before the centric relation is called wrong; absent 0.3 mm (our choice).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tolerance_mm: Option<Millimetres>,
    /// What the teeth are meant to do; absent, complete dentures balance and natural teeth are guided by canines.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub intended: Option<IntendedScheme>,
    /// Teeth that processing raised, for teaching: the casts' teeth are lifted toward their antagonists; where there are
    /// cusps alone, those of these teeth are high.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub raised: Vec<RaisedTooth>,
}

/// A centric record: where the lower denture stands to the upper one in it, against the mounting.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum CentricRecord {
    /// By landmarks of the lower denture, the same in the same order.
    Landmarks {
        /// As they stand on the mounting.
        on_the_mounting_mm: Vec<ScanPlace>,
        /// As they stand in the record.
        in_the_record_mm: Vec<ScanPlace>,
        /// Standard deviation of each coordinate of either list.
        sd_mm: Millimetres,
    },
    /// As the motion from the mounting to the record.
    Transform([f64; 4], [f64; 4], [f64; 4], [f64; 4]),
    /// By the gaps at three or more teeth once the dentures are seated in the record on the mounting's instrument:
    /// how much farther apart they are than on the mounting, along the occlusal plane's normal.
    Gaps {
        /// Tooth by tooth.
        at: Vec<GapAtTooth>,
        /// Standard deviation of each gap.
        sd_mm: Millimetres,
    },
}

/// A gap at a tooth.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GapAtTooth {
    /// The lower tooth.
    pub tooth: Tooth,
    /// Where on it the gap is measured, as it stands on the mounting.
    pub at_mm: ScanPlace,
    /// The gap.
    pub gap_mm: Millimetres,
}

/// A tooth that processing raised.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RaisedTooth {
    /// The tooth, upper or lower.
    pub tooth: Tooth,
    /// By how much, along the occlusal plane's normal.
    pub by_mm: Millimetres,
}

/// Farther a pin is never off its table, nor a tooth raised, by processing.
const MOST_MM: f64 = 10.0;
/// A condyle farther off than this is wrong by any measure, in millimetres.
const MOST_TOLERANCE_MM: f64 = 5.0;
/// How far a condyle may be off where nothing is stated, in millimetres. Our choice: what landmarks of 0.05 mm tell.
const USUAL_TOLERANCE_MM: f64 = 0.3;

impl Remount {
    /// Reads a remount from its text.
    ///
    /// # Errors
    /// [`ReadError`] with line, column, field, what was given and what is allowed.
    pub fn from_ron(text: &str) -> Result<Self, ReadError> {
        text::read(text, |remount: &Self| remount.check().map_err(|error| (error.field(), error.to_string())))
    }

    /// Writes the remount as text that [`Remount::from_ron`] reads back as the same.
    #[must_use]
    pub fn to_ron(&self) -> String {
        text::write(self)
    }

    /// Checks what no field can tell by itself.
    ///
    /// # Errors
    /// The first thing found.
    pub fn check(&self) -> Result<(), RemountError> {
        let within = |field, length: Option<Millimetres>, least: f64, most: f64| {
            let given = length.map_or(least, |length| length.length().mm());
            let fits = (least..=most).contains(&given);
            if fits { Ok(()) } else { Err(RemountError::OutOfRange { field, given, least, most }) }
        };
        within("pin_lift_mm", self.pin_lift_mm, -MOST_MM, MOST_MM)?;
        within("tolerance_mm", self.tolerance_mm, 0.0, MOST_TOLERANCE_MM)?;
        for raised in &self.raised {
            within("by_mm", Some(raised.by_mm), -MOST_MM, MOST_MM)?;
        }
        match &self.centric {
            Some(CentricRecord::Landmarks { sd_mm, .. }) => {
                within("sd_mm", Some(*sd_mm), 0.0, MOST_TOLERANCE_MM)?;
            }
            Some(CentricRecord::Gaps { at, sd_mm }) => {
                within("sd_mm", Some(*sd_mm), 0.0, MOST_TOLERANCE_MM)?;
                for gap in at {
                    within("gap_mm", Some(gap.gap_mm), -2.0 * MOST_MM, 2.0 * MOST_MM)?;
                }
            }
            Some(CentricRecord::Transform(..)) => {}
            None if self.pin_lift_mm.is_none() && self.raised.is_empty() => {
                return Err(RemountError::Nothing);
            }
            None => {}
        }
        Ok(())
    }

    /// How far a condyle may be off.
    pub(super) fn tolerance_in_mm(&self) -> f64 {
        self.tolerance_mm.map_or(USUAL_TOLERANCE_MM, |length| length.length().mm())
    }
}

/// The coordinates of a place.
pub(super) fn coords(place: &ScanPlace) -> Vector3<f64> {
    *place.point().coords()
}
