//! What the panel on the right is about.

use serde::Serialize;

/// What the whole window is for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Room {
    /// An instrument that is set up, and its excursions.
    #[default]
    Instrument,
    /// A case on the bench: its records, and the split that closes on them.
    Bench,
}

/// What the panel on the right is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Page {
    /// Separation and clearance of the cusps.
    Cusps,
    /// Section and contacts of the casts.
    Casts,
    /// The occlusion planned backward.
    Plan,
    /// Why a number is what it is.
    Account,
    /// Lessons, vivas, and the scenes that come with the program.
    Lesson,
    /// The tracing on the plate.
    Tracing,
}

impl Page {
    /// The name of its button, in the report and for tests.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Cusps => "cusps",
            Self::Casts => "casts",
            Self::Plan => "plan",
            Self::Account => "account",
            Self::Lesson => "lesson",
            Self::Tracing => "tracing",
        }
    }

    /// The words on its button.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Cusps => "Separation, clearance",
            Self::Casts => "Section, contacts",
            Self::Plan => "Plan",
            Self::Account => "Why",
            Self::Lesson => "Lessons",
            Self::Tracing => "Tracing",
        }
    }
}
