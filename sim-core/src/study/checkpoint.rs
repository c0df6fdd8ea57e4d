//! Where in its excursions a study measures, and the columns that this gives.

use super::column::{Column, ColumnKind};
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
    /// The same in words: `protrusive, 3 mm`.
    words: String,
}

/// One excursion in which the first interference is looked for.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct SearchedExcursion {
    pub(super) movement: Movement,
    pub(super) end: Drive,
    prefix: String,
    words: String,
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
            let farthest = |one: &&Drive, other: &&Drive| one.number().total_cmp(&other.number());
            let end = *ends.iter().max_by(farthest).unwrap_or(&ends[0]);
            let name = name_of(movement);
            searches.push(SearchedExcursion {
                movement,
                end,
                prefix: format!("{name}."),
                words: spaced(&name),
            });
        }
        for drive in ends {
            checkpoints.push(Checkpoint {
                movement,
                drive,
                prefix: format!("{}.{}.", name_of(movement), how_far(drive)),
                words: format!("{}, {}", spaced(&name_of(movement)), how_far_in_words(drive)),
            });
        }
    }
    once("excursions", &checkpoints, |pose| pose.prefix.trim_end_matches('.').to_owned())?;
    if record.measures.contains(&Measure::FirstInterference) {
        once("excursions", &searches, |search| search.prefix.trim_end_matches('.').to_owned())?;
    }
    Ok((checkpoints, searches))
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
        Drive::Advance(length) => format!("{}mm", length.mm()),
        Drive::IncisalDisplacement(length) => format!("incisal_{}mm", length.mm()),
        Drive::Opening(angle) => format!("{}deg", angle.degrees()),
    }
}

fn how_far_in_words(drive: Drive) -> String {
    match drive {
        Drive::Advance(length) => format!("{} mm", length.mm()),
        Drive::IncisalDisplacement(length) => format!("incisal point {} mm", length.mm()),
        Drive::Opening(angle) => format!("{}°", angle.degrees()),
    }
}

/// A name's parts with spaces between, as people write them: `right lateral`, `36 mesiobuccal`.
fn spaced(name: &str) -> String {
    match name.split_once('.') {
        // Of a cusp's label only the tooth is parted; its name is somebody's own. A ratio has a point
        // too, and no number before it.
        Some((tooth, cusp)) if tooth.bytes().all(|letter| letter.is_ascii_digit()) => {
            format!("{tooth} {cusp}")
        }
        _ => name.replace('_', " "),
    }
}

impl Checkpoint {
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
        let column = |name: &str, what: String, unit, kind| {
            Column::measured(format!("{}{name}", self.prefix), (what, &self.words), unit, kind)
        };
        let length = |name: &str, what: String| {
            column(&format!("{name}_mm"), what, Some(Unit::Millimetre), ColumnKind::Number)
        };
        let at_cusps = |name: &str| -> Vec<Column> {
            let of = |cusp: &String| length(&format!("{cusp}.{name}"), format!("{name} at {}", spaced(cusp)));
            cusps.iter().map(of).collect()
        };
        match measure {
            Measure::Separation => at_cusps("separation"),
            Measure::Clearance => at_cusps("clearance"),
            Measure::Interference => {
                let of = |cusp: &String| {
                    let what = format!("interference at {}", spaced(cusp));
                    column(&format!("{cusp}.interferes"), what, None, ColumnKind::Flag)
                };
                cusps.iter().map(of).collect()
            }
            Measure::BennettMovement if self.movement.working_side().is_some() => {
                let of = |way| length(&format!("bennett_{way}"), format!("Bennett movement {way}"));
                ["outward", "backward", "upward"].into_iter().map(of).collect()
            }
            Measure::CondylarAdvance => Side::BOTH
                .into_iter()
                .map(|side| {
                    length(&format!("{side}_condyle_advance"), format!("advance of the {side} condyle"))
                })
                .collect(),
            Measure::Opening => {
                let what = "rotation of the jaw".to_owned();
                vec![column("opening_deg", what, Some(Unit::Degree), ColumnKind::Number)]
            }
            Measure::Guidance => [("guided_by", "guidance"), ("guide_plane", "plane of the guide touched")]
                .map(|(name, what)| column(name, what.to_owned(), None, ColumnKind::Text))
                .to_vec(),
            Measure::IncisalPoint => [("x", "ahead"), ("y", "to the left"), ("z", "up")]
                .map(|(axis, way)| {
                    length(&format!("incisal_point_{axis}"), format!("lower incisal point, {way}"))
                })
                .to_vec(),
            Measure::Pose => {
                let entry = |at: usize| {
                    let what = format!("rotation matrix, row {}, column {}", at / 3 + 1, at % 3 + 1);
                    column(&format!("r{}{}", at / 3, at % 3), what, None, ColumnKind::Number)
                };
                let along =
                    |(axis, way)| length(&format!("t{axis}"), format!("translation of the jaw, {way}"));
                let ways = [("x", "ahead"), ("y", "to the left"), ("z", "up")];
                (0..9).map(entry).chain(ways.into_iter().map(along)).collect()
            }
            Measure::BennettMovement | Measure::FirstInterference => Vec::new(),
        }
    }
}

impl SearchedExcursion {
    /// Which cusp first, and where.
    pub(super) fn columns(&self) -> [Column; 2] {
        let own = &self.prefix;
        let column = |name: &str, what: &str, unit, kind| {
            let name = format!("{own}first_interference.{name}");
            Column::measured(name, (what.to_owned(), &self.words), unit, kind)
        };
        [
            column("cusp", "cusp that interferes first", None, ColumnKind::Text),
            column(
                "advance_mm",
                "advance at the first interference",
                Some(Unit::Millimetre),
                ColumnKind::Number,
            ),
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
    fn names_are_put_into_words_without_breaking_numbers_or_cusps() {
        for (name, words) in [
            ("right_lateral", "right lateral"),
            ("left_lateroprotrusive_0.5", "left lateroprotrusive 0.5"),
            ("36.mesiobuccal", "36 mesiobuccal"),
            ("36.tip no. 2_b", "36 tip no. 2_b"),
        ] {
            assert_eq!(spaced(name), words);
        }
    }

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
        assert_eq!(clearance.words(), "clearance at 36 mesiobuccal, protrusive, 2.5 mm");
        assert_eq!(clearance.unit, Some(Unit::Millimetre));
        let [cusp, advance] = searches[1].columns();
        assert_eq!(cusp.words(), "cusp that interferes first, right lateral");
        assert_eq!((cusp.kind, advance.kind), (ColumnKind::Text, ColumnKind::Number));
    }
}
