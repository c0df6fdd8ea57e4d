//! The scenes and lessons that come with the program.

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
