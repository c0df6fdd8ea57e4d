//! Where in its excursions a study measures, and the columns that this gives.

use super::column::Column;
use super::error::StudyError;
use super::record::{Measure, Record, once};
use crate::excursion::{Drive, Excursion, Mechanism, Movement, NoPose, Placement, Station};
use crate::scene::Scene;
use crate::units::{Length, Unit};

/// One pose that is measured in every row.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Pose {
    pub(super) movement: Movement,
    pub(super) drive: Drive,
    /// Start of its columns' names: `protrusive.3mm.`
    prefix: String,
}

/// One excursion in which the first interference is looked for.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Course {
    pub(super) movement: Movement,
    pub(super) end: Drive,
    prefix: String,
}

/// The poses and courses of a record in a scene.
pub(super) fn poses_and_courses(
    record: &Record,
    scene: &Scene,
) -> Result<(Vec<Pose>, Vec<Course>), StudyError> {
    let excursions = record.excursions.as_ref().unwrap_or(&scene.excursions);
    let mut poses = Vec::new();
    let mut courses = Vec::new();
    for excursion in excursions {
        let movement = excursion.movement();
        let ends: Vec<Drive> = match excursion.drive() {
            Drive::Opening(_) => vec![excursion.drive()],
            _ if record.advances_mm.is_empty() => vec![excursion.drive()],
            _ => record.advances_mm.iter().map(|mm| Drive::Advance(Length::mm(*mm))).collect(),
        };
        if movement != Movement::Opening {
            let farthest = |one: &&Drive, other: &&Drive| one.number().total_cmp(&other.number());
            let end = *ends.iter().max_by(farthest).unwrap_or(&ends[0]);
            courses.push(Course { movement, end, prefix: format!("{}.", name_of(movement)) });
        }
        for drive in ends {
            poses.push(Pose {
                movement,
                drive,
                prefix: format!("{}.{}.", name_of(movement), how_far(drive)),
            });
        }
    }
    once("excursions", &poses, |pose| pose.prefix.trim_end_matches('.').to_owned())?;
    if record.measures.contains(&Measure::FirstInterference) {
        once("excursions", &courses, |course| course.prefix.trim_end_matches('.').to_owned())?;
    }
    Ok((poses, courses))
}

/// A movement's name, with the ratio that tells one lateroprotrusion from another.
fn name_of(movement: Movement) -> String {
    match movement {
        Movement::Lateroprotrusive { ratio, .. } => format!("{}_{}", movement.name(), ratio.get()),
        _ => movement.name().to_owned(),
    }
}

fn how_far(drive: Drive) -> String {
    match drive {
        Drive::Advance(length) => format!("{}mm", length.in_mm()),
        Drive::IncisalDisplacement(length) => format!("incisal_{}mm", length.in_mm()),
        Drive::Opening(angle) => format!("{}deg", angle.degrees()),
    }
}

impl Pose {
    #[inline]
    pub(super) fn solve(&self, mechanism: &Mechanism) -> Result<Placement, NoPose> {
        match self.drive {
            Drive::Advance(length) => mechanism.at(self.movement, Station::advanced(length)),
            Drive::IncisalDisplacement(length) => mechanism.at_incisal_displacement(self.movement, length),
            Drive::Opening(angle) => Ok(mechanism.opened_to(angle)),
        }
    }

    /// The columns of a measure at this pose, in the order in which a row is written.
    pub(super) fn columns(&self, measure: Measure, cusps: &[String]) -> Vec<Column> {
        let own = &self.prefix;
        let in_mm = |names: &[&str]| -> Vec<Column> {
            names.iter().map(|name| Column::measured(format!("{own}{name}_mm"), Unit::Millimetre)).collect()
        };
        let at_cusps = |name: &str| -> Vec<Column> {
            let column = |cusp: &String| Column::measured(format!("{own}{cusp}.{name}_mm"), Unit::Millimetre);
            cusps.iter().map(column).collect()
        };
        match measure {
            Measure::Separation => at_cusps("separation"),
            Measure::Clearance => at_cusps("clearance"),
            Measure::Interference => {
                cusps.iter().map(|cusp| Column::flag(format!("{own}{cusp}.interferes"))).collect()
            }
            Measure::BennettMovement if self.movement.working_side().is_some() => {
                in_mm(&["bennett_outward", "bennett_backward", "bennett_upward"])
            }
            Measure::CondylarAdvance => in_mm(&["right_condyle_advance", "left_condyle_advance"]),
            Measure::Opening => vec![Column::measured(format!("{own}opening_deg"), Unit::Degree)],
            Measure::Guidance => ["guided_by", "guide_plane"]
                .map(|name| Column::text(format!("{own}{name}"), super::ColumnRole::Measured))
                .to_vec(),
            Measure::IncisalPoint => in_mm(&["incisal_point_x", "incisal_point_y", "incisal_point_z"]),
            Measure::Pose => {
                let entry = |at: usize| {
                    Column::number(format!("{own}r{}{}", at / 3, at % 3), None, super::ColumnRole::Measured)
                };
                (0..9).map(entry).chain(in_mm(&["tx", "ty", "tz"])).collect()
            }
            Measure::BennettMovement | Measure::FirstInterference => Vec::new(),
        }
    }
}

impl Course {
    /// Which cusp first, and where.
    pub(super) fn columns(&self) -> [Column; 2] {
        let own = &self.prefix;
        [
            Column::text(format!("{own}first_interference.cusp"), super::ColumnRole::Measured),
            Column::measured(format!("{own}first_interference.advance_mm"), Unit::Millimetre),
        ]
    }
}

/// Whether any of them goes to a side.
pub(super) fn has_lateral(excursions: &[Excursion]) -> bool {
    excursions.iter().any(|excursion| excursion.movement().working_side().is_some())
}
