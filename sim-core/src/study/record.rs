//! What a study records.

use serde::{Deserialize, Serialize};

use super::error::StudyError;
use crate::excursion::{BennettMovement, Drive, Excursion, Movement, Placement};

/// What is recorded of each row.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Recording {
    /// What is measured, at least one.
    pub measures: Vec<Measure>,
    /// Condylar advances at which it is measured, in every excursion but an opening. When absent,
    /// once at the end of each excursion.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub advances_mm: Vec<f64>,
    /// In which excursions; the scene's when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub excursions: Option<Vec<Excursion>>,
    /// At which cusps, as `"36.mesiobuccal"`; all of the scene's when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cusps: Option<Vec<String>>,
}

/// Something that is recorded.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Measure {
    /// Separation at each cusp, in mm.
    Separation,
    /// Clearance at each cusp, in mm.
    Clearance,
    /// Whether each cusp interferes.
    Interference,
    /// The cusp that interferes first in an excursion, and the condylar advance at which it begins,
    /// in mm; nothing where none does up to the excursion's end, or up to the farthest of
    /// `advances_mm` if that is beyond it. Looked for at the scene's samples and then narrowed to
    /// 1e-9 mm: an interference that comes and goes between two samples is not seen.
    FirstInterference,
    /// The Bennett movement of a lateral or lateroprotrusive excursion: outward, backward and
    /// upward, in mm.
    BennettMovement,
    /// Advance of both condyles, in mm.
    CondylarAdvance,
    /// Rotation of the jaw, in degrees.
    Opening,
    /// What stops the closing, and the plane of it that is touched.
    Guidance,
    /// The lower incisal point in the upper frame, in mm.
    IncisalPoint,
    /// The jaw pose: its rotation matrix row by row, and its translation in mm.
    Pose,
}

impl Measure {
    /// The word that a study file uses.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Separation => "Separation",
            Self::Clearance => "Clearance",
            Self::Interference => "Interference",
            Self::FirstInterference => "FirstInterference",
            Self::BennettMovement => "BennettMovement",
            Self::CondylarAdvance => "CondylarAdvance",
            Self::Opening => "Opening",
            Self::Guidance => "Guidance",
            Self::IncisalPoint => "IncisalPoint",
            Self::Pose => "Pose",
        }
    }

    /// Whether it is read at cusps.
    #[must_use]
    pub(crate) const fn is_at_cusps(self) -> bool {
        matches!(self, Self::Separation | Self::Clearance | Self::Interference | Self::FirstInterference)
    }
}

impl Measure {
    /// How many numbers it gives of a pose alone, without cusps.
    pub(super) fn numbers_of_pose(self, movement: Movement) -> usize {
        match self {
            Self::BennettMovement if movement.working_side().is_some() => 3,
            Self::CondylarAdvance => 2,
            Self::Opening => 1,
            Self::IncisalPoint => 3,
            Self::Pose => 12,
            _ => 0,
        }
    }

    /// Gives these numbers, in order.
    pub(super) fn of_pose(self, movement: Movement, placed: &Placement, mut give: impl FnMut(f64)) {
        match self {
            Self::BennettMovement => {
                if let Some(working) = movement.working_side() {
                    let moved = BennettMovement::of(placed, working);
                    [moved.outward, moved.backward, moved.upward].iter().for_each(|it| give(it.mm()));
                }
            }
            Self::CondylarAdvance => {
                give(placed.right.advance.mm());
                give(placed.left.advance.mm());
            }
            Self::Opening => give(placed.opening().degrees()),
            Self::IncisalPoint => placed.incisal_point.coords().iter().copied().for_each(give),
            Self::Pose => {
                // nalgebra's matrices run column by column.
                placed.jaw.rotation().transpose().iter().copied().for_each(&mut give);
                placed.jaw.translation().iter().copied().for_each(give);
            }
            _ => {}
        }
    }
}

impl Recording {
    /// Checks what can be told without the base scene.
    pub(super) fn check(&self) -> Result<(), StudyError> {
        if self.measures.is_empty() {
            return Err(StudyError::NoMeasure);
        }
        if self.excursions.as_ref().is_some_and(Vec::is_empty) {
            return Err(StudyError::NoExcursion);
        }
        once("measures", &self.measures, |measure| measure.name().to_owned())?;
        for advance in &self.advances_mm {
            Drive::ADVANCE.check(*advance).map_err(StudyError::Advance)?;
        }
        once("advances_mm", &self.advances_mm, |advance| format!("{advance} mm"))?;
        if let Some(cusps) = &self.cusps {
            once("cusps", cusps, |label| format!("\"{label}\""))?;
        }
        Ok(())
    }
}

/// That nothing is in a list twice.
pub(super) fn once<T: PartialEq>(
    list: &'static str,
    items: &[T],
    name: impl Fn(&T) -> String,
) -> Result<(), StudyError> {
    for (place, item) in items.iter().enumerate() {
        if items[..place].contains(item) {
            return Err(StudyError::ListedTwice { list, what: name(item) });
        }
    }
    Ok(())
}
