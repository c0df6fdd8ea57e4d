//! The columns of a study.

use sim_core::study::{BennettPart, Column, ColumnPlace, Content, Direction, Reach};
use sim_core::units::Unit;

use super::{end, movement_with_ratio, setting, side, spoken};

/// What stands in a column: `clearance at 36 mesiobuccal`.
#[must_use]
pub fn content(column: &Column) -> String {
    match &column.content {
        Content::Setting(name) => setting(name),
        Content::Separation { cusp } => format!("separation at {}", spoken(cusp)),
        Content::Clearance { cusp } => format!("clearance at {}", spoken(cusp)),
        Content::Interference { cusp } => format!("interference at {}", spoken(cusp)),
        Content::BennettMovement(part) => format!("Bennett movement {}", bennett(*part)),
        Content::CondylarAdvance(of) => format!("advance of the {} condyle", side(*of)),
        Content::Opening => "rotation of the jaw".to_owned(),
        Content::Guidance => "guidance".to_owned(),
        Content::GuidePlane => "plane of the guide touched".to_owned(),
        Content::IncisalPoint(way) => format!("lower incisal point, {}", direction(*way)),
        Content::Rotation { row, column } => {
            format!("rotation matrix, row {}, column {}", row + 1, column + 1)
        }
        Content::Translation(way) => format!("translation of the jaw, {}", direction(*way)),
        Content::FirstCusp => "cusp that interferes first".to_owned(),
        Content::FirstAdvance => "advance at the first interference".to_owned(),
        Content::Note => "what is odd about a row".to_owned(),
        Content::Reason => "why something could not be measured".to_owned(),
    }
}

/// Where in an excursion a column is measured: `protrusive, 3 mm`, or `protrusive, up to 6 mm`.
#[must_use]
pub fn place(place: ColumnPlace) -> String {
    let movement = movement_with_ratio(place.movement);
    match place.reach {
        Reach::At(drive) => format!("{movement}, {}", end(drive)),
        Reach::UpTo(drive) => format!("{movement}, up to {}", end(drive)),
    }
}

/// What and where: `clearance at 36 mesiobuccal, protrusive, 3 mm`.
#[must_use]
pub fn full(column: &Column) -> String {
    match column.place {
        Some(of) => format!("{}, {}", content(column), place(of)),
        None => content(column),
    }
}

/// What and its unit, as the head of a table has it: `clearance at 36 mesiobuccal, mm`.
#[must_use]
pub fn head(column: &Column) -> String {
    let unit = match column.unit {
        Some(Unit::Degree) => ", °",
        Some(Unit::Millimetre) => ", mm",
        None => "",
    };
    format!("{}{unit}", content(column))
}

const fn direction(way: Direction) -> &'static str {
    match way {
        Direction::Ahead => "ahead",
        Direction::Left => "to the left",
        Direction::Up => "up",
    }
}

const fn bennett(part: BennettPart) -> &'static str {
    match part {
        BennettPart::Outward => "outward",
        BennettPart::Backward => "backward",
        BennettPart::Upward => "upward",
    }
}

#[cfg(test)]
mod tests {
    use sim_core::scene::Scene;
    use sim_core::study::{Prepared, Study};

    use super::*;

    /// A study that records every measure.
    fn columns() -> Vec<Column> {
        let study = Study::from_ron(
            r#"(
            title: "Steeper guides (invented)",
            scene: "thirty_degree.ron",
            factors: [(setting: "horizontal_inclination_deg", values: Range(from: 20.0, to: 40.0, steps: 2))],
            plan: FullGrid,
            record: (
                measures: [Separation, Clearance, Interference, BennettMovement, CondylarAdvance, Opening, Guidance,
                    IncisalPoint, Pose, FirstInterference],
                advances_mm: [2.5],
                excursions: Some([RightLateral(advance_mm: 5.0)]),
                cusps: Some(["36.mesiobuccal"]),
            ),
        )"#,
        )
        .expect("a study");
        let prepared = Prepared::new(&study, &Scene::thirty_degree(), |_, _| Err(String::new()));
        prepared.expect("prepared").columns().to_vec()
    }

    #[test]
    fn every_column_says_what_where_and_in_which_unit() {
        let said: Vec<String> = columns().iter().map(full).collect();
        let at = |what: &str| format!("{what}, right lateral, 2.5 mm");
        let mut wanted = vec!["horizontal condylar inclination, both sides".to_owned()];
        wanted.extend(
            [
                "separation at 36 mesiobuccal",
                "clearance at 36 mesiobuccal",
                "interference at 36 mesiobuccal",
                "Bennett movement outward",
                "Bennett movement backward",
                "Bennett movement upward",
                "advance of the right condyle",
                "advance of the left condyle",
                "rotation of the jaw",
                "guidance",
                "plane of the guide touched",
                "lower incisal point, ahead",
                "lower incisal point, to the left",
                "lower incisal point, up",
            ]
            .map(at),
        );
        for row in 1..=3 {
            wanted.extend((1..=3).map(|column| at(&format!("rotation matrix, row {row}, column {column}"))));
        }
        wanted
            .extend(["ahead", "to the left", "up"].map(|way| at(&format!("translation of the jaw, {way}"))));
        wanted.push("cusp that interferes first, right lateral, up to 5 mm".to_owned());
        wanted.push("advance at the first interference, right lateral, up to 5 mm".to_owned());
        wanted.push("why something could not be measured".to_owned());
        assert_eq!(said, wanted);
        assert_eq!(head(&columns()[2]), "clearance at 36 mesiobuccal, mm");
        assert_eq!(head(&columns()[0]), "horizontal condylar inclination, both sides, °");
        assert_eq!(head(&columns()[10]), "guidance");
    }
}
