//! The scenes, lessons and studies that come with the program.

/// A text that comes with the program.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BuiltIn {
    /// Its name: that of its file, without the ending.
    pub name: &'static str,
    /// What it says.
    pub text: &'static str,
}

macro_rules! built_in {
    ($folder:literal: $($name:literal),* $(,)?) => {
        &[$(BuiltIn { name: $name, text: include_str!(concat!("../../", $folder, "/", $name, ".ron")) }),*]
    };
}

/// The scenes of the folder `scenes`, from the plainest to those with casts.
pub const SCENES: &[BuiltIn] = built_in!("scenes":
    "thirty_degree",
    "shallow_guides",
    "steep_guides",
    "unequal_sides",
    "curved_paths",
    "opened_arcon",
    "opened_non_arcon",
    "flat_rims",
    "planned_disclusion",
    "balanced_denture",
    "dentate_casts",
    "denture_casts",
);

/// The lessons of the folder `lessons`, in the order in which a course would take them.
pub const LESSONS: &[BuiltIn] = built_in!("lessons":
    "zeroing",
    "inclination",
    "lateral_angle",
    "immediate_translation",
    "incisal_guidance",
    "christensen",
    "six_millimetres",
    "split_cast",
    "wrong_centric",
    "rule_and_record",
    "pin_and_design",
    "facebow",
    "five_factors",
);

/// The studies of the folder `scenes/studies`, as they stand there: each names its scene by its path.
pub const STUDIES: &[BuiltIn] = built_in!("scenes/studies": "inclination", "record_error", "one_at_a_time", "population", "patients", "screening", "shared_out");

/// A study by its name, with its scene in it, so that it can be run wherever it is saved.
#[must_use]
pub fn study_named(name: &str) -> Option<String> {
    let study = STUDIES.iter().find(|study| study.name == name)?;
    let (before, rest) = study.text.split_once("scene: \"../")?;
    let (scene, after) = rest.split_once(".ron\"")?;
    let scene = scene_named(scene)?.text;
    // What the scene teaches stands in comments before it.
    let scene = scene.get(scene.find("\n(")? + 1..)?.trim_end().replace('\n', "\n    ");
    Some(format!("{before}scene: {scene}{after}"))
}

/// A scene by its name.
#[must_use]
pub fn scene_named(name: &str) -> Option<BuiltIn> {
    SCENES.iter().find(|scene| scene.name == name).copied()
}

/// A lesson by its name.
#[must_use]
pub fn lesson_named(name: &str) -> Option<BuiltIn> {
    LESSONS.iter().find(|lesson| lesson.name == name).copied()
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::*;

    #[test]
    fn every_study_is_whole_and_the_same_as_its_file() {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../scenes/studies");
        for study in STUDIES {
            let whole = study_named(study.name).expect(study.name);
            let printed = crate::study_from_text(&whole, study.name, Path::new("")).expect(study.name);
            let file = folder.join(format!("{}.ron", study.name));
            let read = crate::load(&crate::Source::named(&file)).expect(study.name);
            assert_eq!(printed.sha256(), read.sha256(), "{}", study.name);
        }
        assert_eq!(study_named("none"), None);
        let there = std::fs::read_dir(folder).expect("the folder").count();
        assert_eq!(there, STUDIES.len(), "a study of the folder is not listed");
    }
}
