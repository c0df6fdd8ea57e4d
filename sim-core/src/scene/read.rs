//! Reading a scene from its text, and writing it back.

use super::Scene;
use crate::text::{self, ReadError};

impl Scene {
    /// Reads a scene from its text (RON).
    ///
    /// # Errors
    /// [`ReadError`] with line, column, field, what was given and what is allowed: for text that is
    /// not RON or ends early, unknown, missing or doubled fields, numbers out of range, and scenes
    /// that [`Scene::check`] finds senseless.
    pub fn from_ron(text: &str) -> Result<Self, ReadError> {
        text::read(text, |scene: &Self| scene.check().map_err(|error| (error.field(), error.to_string())))
    }

    /// Writes the scene as text that [`Scene::from_ron`] reads back as the same scene.
    #[must_use]
    pub fn to_ron(&self) -> String {
        text::write(self)
    }

    /// As [`Scene::to_ron`], on one line: for where a scene is to be short.
    #[must_use]
    pub fn to_ron_on_one_line(&self) -> String {
        text::write_on_one_line(self)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::THIRTY_DEGREE;

    /// The teaching scene with one thing changed must be refused, in words that hold all of these.
    fn refused(what: &str, with: &str, parts: &[&str]) {
        assert!(THIRTY_DEGREE.contains(what), "the scene has no {what}");
        let error = Scene::from_ron(&THIRTY_DEGREE.replacen(what, with, 1)).expect_err(with);
        let said = error.to_string();
        for part in parts {
            assert!(said.contains(part), "{with:?} is refused by {said:?}, without {part:?}");
        }
        assert!(error.line > 1, "{said}");
    }

    #[test]
    fn numbers_out_of_range_are_refused_with_place_field_value_and_range() {
        let h = "right_guide: (horizontal_inclination_deg: 30.0";
        let line = THIRTY_DEGREE.lines().position(|line| line.contains(h)).expect("the right guide") + 1;
        let place = format!("line {line}, column ");
        for (given, shown) in
            [("90.0", "90"), ("NaN", "NaN"), ("inf", "inf"), ("-inf", "-inf"), ("1e300", "1000")]
        {
            let with = format!("right_guide: (horizontal_inclination_deg: {given}");
            let is = format!("instrument.right_guide.horizontal_inclination_deg is {shown}");
            refused(h, &with, &[&place, &is, "-30 to 85 degrees"]);
        }
        refused(
            "distance_mm: 110.0",
            "distance_mm: -110.0",
            &["intercondylar_distance_mm is -110", "60 to 180 mm"],
        );
        refused("(98.0, 0.0", "(9800.0, 0.0", &["instrument.incisal_point_mm", "x is 9800", "20 to 200 mm"]);
        refused("samples: 13", "samples: 0", &["samples is 0", "2 to 1000000000"]);
        refused("samples: 13", "samples: 2.5", &["samples: 2.5", "whole number"]);
        refused(
            "advance_mm: 6.0",
            "advance_mm: 600.0",
            &["excursions[0]", "advance_mm is 600", "0.001 to 30 mm"],
        );
        refused(
            "tooth: 36",
            "tooth: 19",
            &["cusps[1].tooth is 19", "11 to 18, 21 to 28, 31 to 38, 41 to 48"],
        );
        refused("at_mm: (66.0, 24.0", "at_mm: (66.0, -24.0", &["y = -24", "tooth 36", "left", "y > 0"]);
    }

    #[test]
    fn unknown_missing_and_doubled_fields_are_refused_by_name() {
        refused("design: Arcon", "desing: Arcon", &["desing", "design"]);
        refused("right_wing_deg: 20.0,", "", &["right_wing_deg"]);
        refused("samples: 13", "samples: 13, samples: 13", &["samples"]);
        refused(
            "lateral_angle_deg: 15.0",
            "lateral_angle_deg: 15.0, lateral_angle_deg: 15.0",
            &["lateral_angle_deg"],
        );
        refused("design: Arcon", "design: Archon", &["Archon", "NonArcon"]);
        refused(
            "horizontal_inclination_deg: 30.0",
            "horizontal_inclination_deg: \"steep\"",
            &["a number from -30 to 85"],
        );
        refused(
            "advance_mm: 6.0",
            "",
            &["excursions[0]", "protrusive", "tracing_mm and incisal_displacement_mm, and has none"],
        );
        refused("name: \"buccal\"", "name: \" \"", &["cusps[0]", "name is empty"]);
    }

    #[test]
    fn text_that_ends_early_goes_on_too_long_or_is_something_else_is_refused() {
        assert!(Scene::from_ron("").is_err());
        assert!(Scene::from_ron("{\"title\": 1}").is_err());
        for part in [THIRTY_DEGREE.len() / 3, THIRTY_DEGREE.len() / 2, THIRTY_DEGREE.len() - 5] {
            let error = Scene::from_ron(&THIRTY_DEGREE[..part]).expect_err("cut off");
            assert!(error.line > 1, "{error}");
        }
        refused("samples: 13,\n)", "samples: 13,\n) (", &["trailing"]);
    }

    #[test]
    fn scenes_that_make_no_sense_as_a_whole_are_refused_where_the_fault_stands() {
        refused(
            "anterior_guide: Table(",
            "pin_extension_mm: 2.0, anterior_guide: Incisors(",
            &["pin_extension_mm is 2", "no pin", "column 9"],
        );
        refused(
            "tooth: 37, name: \"mesiobuccal\"",
            "tooth: 36, name: \"mesiobuccal\"",
            &["tooth 36", "twice"],
        );
        let all = &THIRTY_DEGREE[THIRTY_DEGREE.find("excursions: [").expect("excursions")..];
        let list = &all[..=all.find(']').expect("a list")];
        refused(list, "excursions: []", &["excursions is empty", "at least one"]);
    }

    #[test]
    fn a_fault_is_placed_at_its_field_and_not_where_a_title_or_a_comment_has_the_word() {
        let all = &THIRTY_DEGREE[THIRTY_DEGREE.find("excursions: [").expect("excursions")..];
        let list = &all[..=all.find(']').expect("a list")];
        let emptied = THIRTY_DEGREE.replacen(list, "excursions: []", 1);
        let place = emptied.lines().position(|line| line.contains("excursions: []")).expect("a line") + 1;
        for title in ["title: \"No excursions: why // \\\" not?", "/* excursions: none */ title: \"//"] {
            let error = Scene::from_ron(&emptied.replacen("title: \"", title, 1)).expect_err(title);
            assert_eq!((error.line, error.column), (place, 5), "{error}");
        }
    }

    #[test]
    fn profiles_that_are_no_path_are_refused() {
        let guide = "lateral_angle_deg: 15.0";
        for (points, part) in [
            ("[(0, 0)]", "has 1 points"),
            ("[(0, 0), (2, 1), (1, 3)]", "point 3 has an advance of 1 mm"),
            ("[(0, 0.5), (2, 1)]", "must start at (0, 0)"),
            ("[(0, 0), (2, NaN)]", "point 2 is (2, NaN)"),
        ] {
            refused(guide, &format!("{guide}, path: Profile({points})"), &["right_guide.path", part]);
        }
        refused(
            guide,
            &format!("{guide}, path: Arc(radius_mm: 1.0)"),
            &["right_guide.path", "radius_mm is 1"],
        );
    }

    #[test]
    fn every_kind_of_excursion_and_path_is_written_back_as_it_was_read() {
        let text = THIRTY_DEGREE
            .replacen("lateral_angle_deg: 15.0", "lateral_angle_deg: 14.3, path: Arc(radius_mm: 20.1)", 1)
            .replacen("lateral_angle_deg: 15.0", "lateral_angle_deg: 15.0, path: Profile([(0.0, 0.0), (9.0, 4.1)])", 1)
            .replace(
                "excursions: [",
                "excursions: [Opening(angle_deg: 7.7), Protrusive(incisal_displacement_mm: 4.2), \
                 RightLateroprotrusive(tracing_mm: 5.0, ratio: 0.3), LeftLateroprotrusive(incisal_displacement_mm: 5.0, ratio: 0.7), ",
            );
        let scene = Scene::from_ron(&text).expect("a scene");
        assert_eq!(scene.excursions.len(), 7);
        assert_eq!(Scene::from_ron(&scene.to_ron()).expect("its own text"), scene);
    }
}
