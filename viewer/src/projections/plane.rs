//! The three planes of projection.

use nalgebra::Vector3;
use serde::Serialize;

/// A plane that the world is projected on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Plane {
    /// Seen from the right: anterior to the right, up.
    Sagittal,
    /// Seen from the front: the patient's left to the right, up.
    Frontal,
    /// Seen from above: the patient's left to the left, anterior up.
    Horizontal,
}

impl Plane {
    /// Each of them, in the order of the views.
    pub const ALL: [Self; 3] = [Self::Sagittal, Self::Frontal, Self::Horizontal];

    /// What is to the right on the sheet, and what is up, of a place or a direction of the world.
    #[must_use]
    pub fn flat(self, world: &Vector3<f64>) -> [f64; 2] {
        match self {
            Self::Sagittal => [world.x, world.z],
            Self::Frontal => [world.y, world.z],
            Self::Horizontal => [-world.y, world.x],
        }
    }

    /// The title of the view.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            Self::Sagittal => "sagittal",
            Self::Frontal => "frontal",
            Self::Horizontal => "horizontal",
        }
    }

    /// The patient's directions: to the left, to the right, down and up on the sheet.
    #[must_use]
    pub const fn directions(self) -> [&'static str; 4] {
        match self {
            Self::Sagittal => ["back", "forward", "down", "up"],
            Self::Frontal => ["right", "left", "down", "up"],
            Self::Horizontal => ["left", "right", "back", "forward"],
        }
    }
}
