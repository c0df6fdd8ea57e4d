//! Where in its excursions a study measures, and the columns that this gives.

use super::column::{BennettPart, Column, ColumnKind, ColumnPlace, Content, Direction, Reach};
use super::error::StudyError;
use super::record::{Measure, Recording, once};
use crate::excursion::{Drive, Excursion, Mechanism, Movement, NoPose, Placement, Station};
use crate::frame::Side;
use crate::scene::Scene;
use crate::units::{Length, Unit};

/// One pose that is measured in every row.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Checkpoint {
    pub(super) movement: Movement,
    pub(super) drive: Drive,
    /// Start of its columns' names: `protrusive.3mm.`
    prefix: String,
}

/// One excursion in which the first interference is looked for.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct SearchedExcursion {
    pub(super) movement: Movement,
    pub(super) end: Drive,
    prefix: String,
}

/// The checkpoints of a record in a scene, and the excursions to be searched.
pub(super) fn checkpoints_and_searches(
    record: &Recording,
    scene: &Scene,
) -> Result<(Vec<Checkpoint>, Vec<SearchedExcursion>), StudyError> {
    let excursions = record.excursions.as_ref().unwrap_or(&scene.excursions);
    let mut checkpoints = Vec::new();
    let mut searches = Vec::new();
    for excursion in excursions {
        let movement = excursion.movement();
        let ends: Vec<Drive> = match excursion.drive() {
            Drive::Opening(_) => vec![excursion.drive()],
            _ if record.advances_mm.is_empty() => vec![excursion.drive()],
            _ => record.advances_mm.iter().map(|mm| Drive::Advance(Length::from_mm(*mm))).collect(),
        };
        if movement != Movement::Opening {
            let (name, end) = (excursion_name(movement), search_end(excursion.drive(), &record.advances_mm));
            searches.push(SearchedExcursion { movement, end, prefix: format!("{name}.") });
        }
        for drive in ends {
            checkpoints.push(Checkpoint {
                movement,
                drive,
                prefix: format!("{}.{}.", excursion_name(movement), how_far(drive)),
            });
        }
    }
    once("excursions", &checkpoints, |pose| pose.prefix.trim_end_matches('.').to_owned())?;
    if record.measures.contains(&Measure::FirstInterference) {
        // By name: two ends of one movement would give columns of one name.
        let names: Vec<&str> = searches.iter().map(|search| search.prefix.trim_end_matches('.')).collect();
        once("excursions", &names, |name| (*name).to_owned())?;
    }
    Ok((checkpoints, searches))
}

/// The excursion's own end; a farther advance at which something is recorded, where there is one.
fn search_end(own: Drive, advances_mm: &[f64]) -> Drive {
    match own {
        Drive::Advance(end) => {
            Drive::Advance(Length::from_mm(advances_mm.iter().copied().fold(end.mm(), f64::max)))
        }
        _ => own,
    }
}

/// An excursion's name at the start of its columns' names: the movement's, with the ratio that tells one
/// lateroprotrusion from another.
#[must_use]
pub fn excursion_name(movement: Movement) -> String {
    match movement {
        Movement::Lateroprotrusive { ratio, .. } => format!("{}_{}", movement.name(), ratio.get()),
        _ => movement.name().to_owned(),
    }
}

fn how_far(drive: Drive) -> String {
    match drive {
        Drive::Advance(length) => format!("{}mm", length.mm()),
        Drive::IncisalDisplacement(length) => format!("incisal_{}mm", length.mm()),
        Drive::Tracing(length) => format!("tracing_{}mm", length.mm()),
        Drive::Opening(angle) => format!("{}deg", angle.degrees()),
    }
}

impl Checkpoint {
    #[inline]
    pub(super) fn solve(&self, mechanism: &Mechanism) -> Result<Placement, NoPose> {
        match self.drive {
            Drive::Advance(length) => mechanism.at(self.movement, Station::advanced(length)),
            Drive::IncisalDisplacement(length) => mechanism.at_incisal_displacement(self.movement, length),
            Drive::Tracing(length) => mechanism.at_tracing_distance(self.movement, length),
            Drive::Opening(angle) => Ok(mechanism.opened_to(angle)),
        }
    }

    /// The columns of a measure at this pose, in the order in which a row is written.
    pub(super) fn columns(&self, measure: Measure, cusps: &[String]) -> Vec<Column> {
        let place = ColumnPlace { movement: self.movement, reach: Reach::At(self.drive) };
        let column = |name: &str, content, unit, kind| {
            Column::measured(format!("{}{name}", self.prefix), (content, place), unit, kind)
        };
        let length = |name: &str, content| {
            column(&format!("{name}_mm"), content, Some(Unit::Millimetre), ColumnKind::Number)
        };
        match measure {
            Measure::Separation => {
                let of = |cusp: &String| {
                    length(&format!("{cusp}.separation"), Content::Separation { cusp: cusp.clone() })
                };
                cusps.iter().map(of).collect()
            }
            Measure::Clearance => {
                let of = |cusp: &String| {
                    length(&format!("{cusp}.clearance"), Content::Clearance { cusp: cusp.clone() })
                };
                cusps.iter().map(of).collect()
            }
            Measure::Interference => {
                let of = |cusp: &String| {
                    let content = Content::Interference { cusp: cusp.clone() };
                    column(&format!("{cusp}.interferes"), content, None, ColumnKind::Flag)
                };
                cusps.iter().map(of).collect()
            }
            Measure::BennettMovement if self.movement.working_side().is_some() => {
                let of = |part: BennettPart| {
                    length(&format!("bennett_{}", part.name()), Content::BennettMovement(part))
                };
                BennettPart::ALL.map(of).to_vec()
            }
            Measure::CondylarAdvance => Side::BOTH
                .map(|side| length(&format!("{side}_condyle_advance"), Content::CondylarAdvance(side)))
                .to_vec(),
            Measure::Opening => {
                vec![column("opening_deg", Content::Opening, Some(Unit::Degree), ColumnKind::Number)]
            }
            Measure::Guidance => [("guided_by", Content::Guidance), ("guide_plane", Content::GuidePlane)]
                .map(|(name, content)| column(name, content, None, ColumnKind::Text))
                .to_vec(),
            Measure::IncisalPoint => Direction::ALL
                .map(|way| length(&format!("incisal_point_{}", way.axis()), Content::IncisalPoint(way)))
                .to_vec(),
            Measure::Pose => {
                let entry = |at: usize| {
                    let content = Content::Rotation { row: at / 3, column: at % 3 };
                    column(&format!("r{}{}", at / 3, at % 3), content, None, ColumnKind::Number)
                };
                let along = |way: Direction| length(&format!("t{}", way.axis()), Content::Translation(way));
                (0..9).map(entry).chain(Direction::ALL.map(along)).collect()
            }
            Measure::BennettMovement | Measure::FirstInterference => Vec::new(),
        }
    }
}

impl SearchedExcursion {
    /// Which cusp first, and where.
    pub(super) fn columns(&self) -> [Column; 2] {
        let place = ColumnPlace { movement: self.movement, reach: Reach::UpTo(self.end) };
        let column = |name: &str, content, unit, kind| {
            let name = format!("{}first_interference.{name}", self.prefix);
            Column::measured(name, (content, place), unit, kind)
        };
        [
            column("cusp", Content::FirstCusp, None, ColumnKind::Text),
            column("advance_mm", Content::FirstAdvance, Some(Unit::Millimetre), ColumnKind::Number),
        ]
    }
}

/// Whether any of them goes to a side.
pub(super) fn has_lateral(excursions: &[Excursion]) -> bool {
    excursions.iter().any(|excursion| excursion.movement().working_side().is_some())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_column_says_what_where_and_in_which_unit() {
        let scene = Scene::thirty_degree();
        let record = Recording {
            measures: vec![Measure::FirstInterference],
            advances_mm: vec![2.5],
            excursions: None,
            cusps: None,
        };
        let (checkpoints, searches) = checkpoints_and_searches(&record, &scene).expect("poses");
        let cusps = ["36.mesiobuccal".to_owned()];
        let [clearance] = &checkpoints[0].columns(Measure::Clearance, &cusps)[..] else {
            panic!("one column")
        };
        assert_eq!(clearance.name, "protrusive.2.5mm.36.mesiobuccal.clearance_mm");
        assert_eq!(clearance.content, Content::Clearance { cusp: "36.mesiobuccal".to_owned() });
        let reach = Reach::At(Drive::Advance(Length::from_mm(2.5)));
        assert_eq!(clearance.place, Some(ColumnPlace { movement: Movement::Protrusive, reach }));
        assert_eq!(clearance.unit, Some(Unit::Millimetre));
        let [cusp, advance] = searches[1].columns();
        assert_eq!((cusp.content.clone(), &advance.content), (Content::FirstCusp, &Content::FirstAdvance));
        let movement = Movement::Lateral { working: Side::Right };
        // Though nothing is recorded beyond 2.5 mm, the excursion goes to 6 mm.
        let reach = Reach::UpTo(Drive::Advance(Length::from_mm(6.0)));
        assert_eq!(cusp.place, Some(ColumnPlace { movement, reach }));
        assert_eq!((cusp.kind, advance.kind), (ColumnKind::Text, ColumnKind::Number));
    }

    #[test]
    fn a_first_interference_is_looked_for_to_the_farther_of_excursion_and_record() {
        let advance = |mm: f64| Drive::Advance(Length::from_mm(mm));
        assert_eq!(search_end(advance(6.0), &[1.0, 4.0]), advance(6.0));
        assert_eq!(search_end(advance(6.0), &[1.0, 8.0]), advance(8.0));
        let tracing = Drive::Tracing(Length::from_mm(6.0));
        assert_eq!(search_end(tracing, &[8.0]), tracing);
    }

    #[test]
    fn two_ends_of_one_movement_cannot_be_searched_in_one_study() {
        let scene = Scene::thirty_degree();
        let to = |mm: f64| Excursion::new(Movement::Protrusive, Drive::Advance(Length::from_mm(mm)));
        let record = Recording {
            measures: vec![Measure::FirstInterference],
            advances_mm: Vec::new(),
            excursions: Some([3.0, 6.0].into_iter().filter_map(|mm| to(mm).ok()).collect()),
            cusps: None,
        };
        let refused = checkpoints_and_searches(&record, &scene).expect_err("one name for two columns");
        assert!(refused.to_string().contains("protrusive is listed twice in excursions"), "{refused}");
    }
}
