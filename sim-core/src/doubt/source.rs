//! Where errors come from, and how large they are taken to be.

use crate::record::Case;
use crate::units::{Angle, Length};

/// A source of error.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum DoubtSource {
    /// Reading the landmarks, in centric and in every record, and the scales and gaps of a record as the
    /// bench has it.
    Landmarks,
    /// Finding the axis: its points, or for a mounting by averages the spread between people.
    Axis,
    /// The reference points of the mounting: the anterior one, or those of the occlusal plane.
    Reference,
    /// The records' own thickness: uneven, or compressed between the teeth.
    Records,
    /// Setting the instrument by its scales.
    Scale,
}

impl DoubtSource {
    /// All of them, in order.
    pub const ALL: [Self; 5] = [Self::Landmarks, Self::Axis, Self::Reference, Self::Records, Self::Scale];

    /// `landmarks`, `axis`, `reference`, `records` or `scale`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Landmarks => "landmarks",
            Self::Axis => "axis",
            Self::Reference => "reference",
            Self::Records => "records",
            Self::Scale => "scale",
        }
    }
}

/// How large each error is taken to be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Uncertainties {
    /// Standard deviation of each coordinate of a landmark.
    pub landmark_sd: Length,
    /// Whether scales and caliper are read anew with the errors that the case states of them.
    pub readings: bool,
    /// Standard deviation of each coordinate of an axis point.
    pub axis_sd: Length,
    /// Standard deviation of each coordinate of a reference point.
    pub reference_sd: Length,
    /// Standard deviation of a record's height at each of its three supports.
    pub record_sd: Length,
    /// Graduation of the instrument's scales: a setting is off by up to half of it, evenly.
    pub scale_step: Angle,
}

/// An uncertainty that is out of bounds.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[error("{what} is {given}; allowed are 0 to {most} {unit}")]
pub struct OutOfBounds {
    /// Which one.
    pub what: &'static str,
    /// What was given.
    pub given: f64,
    /// The most allowed.
    pub most: f64,
    /// `mm` or `degrees`.
    pub unit: &'static str,
}

/// Standard deviation of a landmark or record beyond which nothing is measured, in millimetres.
const MOST_READING_MM: f64 = 5.0;
/// Axis and reference points are not missed by more, in millimetres.
const MOST_POINT_MM: f64 = 10.0;
/// No scale is coarser, in degrees.
const MOST_STEP_DEG: f64 = 10.0;

impl Uncertainties {
    /// No error at all.
    pub const NONE: Self = Self {
        landmark_sd: Length::ZERO,
        readings: false,
        axis_sd: Length::ZERO,
        reference_sd: Length::ZERO,
        record_sd: Length::ZERO,
        scale_step: Angle::ZERO,
    };

    /// The case's own error of landmarks, and for the rest what is common on the bench (common
    /// practice, no source, all four): axis points to 2 mm in each coordinate, which keeps nineteen
    /// in twenty of them within 5 mm of the axis; the reference point to 1 mm; records uneven by
    /// 0.05 mm; scales graduated in single degrees.
    #[must_use]
    pub fn usual(case: &Case) -> Self {
        Self {
            landmark_sd: case.lower_landmarks.as_ref().map_or(Length::ZERO, |lower| lower.sd_mm.length()),
            readings: case.records.iter().any(|record| record.pose().is_none()),
            axis_sd: Length::from_mm(2.0),
            reference_sd: Length::from_mm(1.0),
            record_sd: Length::from_mm(0.05),
            scale_step: Angle::from_degrees(1.0),
        }
    }

    /// Checks every number.
    ///
    /// # Errors
    /// [`OutOfBounds`] names the first that is out of bounds or not a number.
    pub fn check(&self) -> Result<(), OutOfBounds> {
        let all = [
            ("landmark sd", self.landmark_sd.mm(), MOST_READING_MM, "mm"),
            ("axis sd", self.axis_sd.mm(), MOST_POINT_MM, "mm"),
            ("reference sd", self.reference_sd.mm(), MOST_POINT_MM, "mm"),
            ("record sd", self.record_sd.mm(), MOST_READING_MM, "mm"),
            ("scale step", self.scale_step.degrees(), MOST_STEP_DEG, "degrees"),
        ];
        match all.into_iter().find(|(_, given, most, _)| !(0.0..=*most).contains(given)) {
            Some((what, given, most, unit)) => Err(OutOfBounds { what, given, most, unit }),
            None => Ok(()),
        }
    }
}
