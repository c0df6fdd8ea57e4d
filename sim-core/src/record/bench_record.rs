//! Records as the bench has them: what the scales read, what the caliper measures at the grooves.

use serde::{Deserialize, Serialize};

use super::fields::{Millimetres, SideFields};
use super::kind::RecordKind;
use crate::frame::Side;

/// What the guides' scales read when the split closed on a record, as often as it was repeated.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ScaleReadings {
    /// Which record it was: protrusive for the horizontal inclination of both guides, lateral for the
    /// lateral angle of the guide whose condyle orbits.
    pub record: RecordKind,
    /// Readings of the right guide in degrees, one a repeat; none where this record does not set it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub right_deg: Vec<f64>,
    /// Readings of the left guide, likewise.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub left_deg: Vec<f64>,
    /// Graduation of the scale: a reading is known to half of it.
    pub graduation_deg: f64,
    /// Whether the bearing point has gone through the record; see [`GrooveGaps`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub perforated: Option<bool>,
}

impl ScaleReadings {
    /// The readings of one guide.
    #[must_use]
    pub fn of(&self, side: Side) -> &[f64] {
        match side {
            Side::Right => &self.right_deg,
            Side::Left => &self.left_deg,
        }
    }
}

/// What a caliper measures at the grooves of the split with a record between the casts and the guides
/// at trial angles.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GrooveGaps {
    /// Which record lies between the casts.
    pub record: RecordKind,
    /// What the guides are set to.
    pub set_at: TrialAngles,
    /// The gap at each groove of the case, in its order, along the normal of the split.
    pub gaps_mm: Vec<f64>,
    /// Of a lateral record: how far the secondary base stands to the left of the primary at each groove
    /// (to the right below 0). The gaps do not show the lateral angle, this step does.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub aside_mm: Option<Vec<f64>>,
    /// Standard deviation of a reading of the caliper.
    pub sd_mm: Millimetres,
    /// Advance of each sphere in this record, read on the guides; that of the case when absent. In a
    /// lateral record the working sphere is then at its stop.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub advance_mm: Option<SideFields>,
    /// By how much the record holds the jaw open, in degrees (its front up below 0). It plays a part, a small one, on a
    /// non-arcon instrument only, whose guides tip with the lower member.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub opening_deg: f64,
    /// Whether the central bearing point has gone through the record, as it does where the record was
    /// made with the point in its place; nothing is known of it when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub perforated: Option<bool>,
}

/// The angles that the guides are set to on trial, in degrees.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TrialAngles {
    /// Horizontal inclination of the right guide.
    pub right_deg: f64,
    /// Horizontal inclination of the left guide.
    pub left_deg: f64,
    /// Lateral angle of the right guide; needed with `aside_mm` of a left lateral record.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub right_lateral_deg: Option<f64>,
    /// Lateral angle of the left guide; needed with `aside_mm` of a right lateral record.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub left_lateral_deg: Option<f64>,
}

impl TrialAngles {
    /// The horizontal inclination that one guide is set to, in degrees.
    #[must_use]
    pub const fn inclination_deg(&self, side: Side) -> f64 {
        match side {
            Side::Right => self.right_deg,
            Side::Left => self.left_deg,
        }
    }

    /// The lateral angle that one guide is set to, in degrees.
    #[must_use]
    pub const fn lateral_deg(&self, side: Side) -> Option<f64> {
        match side {
            Side::Right => self.right_lateral_deg,
            Side::Left => self.left_lateral_deg,
        }
    }
}

/// How a guide holds its sphere.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum GuideHold {
    /// A track holds it from above and from below: a wrong angle either way opens the split.
    #[default]
    Track,
    /// An open fossa holds it from above only: a guide too shallow stands off its sphere, and the split
    /// closes all the same.
    Open,
}

fn is_zero(number: &f64) -> bool {
    *number == 0.0
}
