//! Sagittal, frontal and horizontal projections: paths in millimetres, angles as arcs, and the sheet of
//! paper that both are drawn on, true to scale. No graphics here.
//!
//! Every path is that of a point followed in the upper frame as the jaw moves
//! ([`Followed`](sim_core::excursion::Followed)); every angle is laid beside the path that it steers.

mod angle;
mod envelope;
mod path;
mod plane;
mod sheet;

pub use angle::{AngleArc, AngleOf, angles};
pub use envelope::{SolvedEnvelope, WITHHELD};
pub use path::{Path, PathOf, origin as path_origin, paths};
pub use plane::Plane;
pub use sheet::{Fit, Sheet};

use serde::Serialize;

/// What the middle of the window shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Arrangement {
    /// The picture.
    Picture,
    /// The picture beside the three projections.
    Both,
    /// The three projections.
    Projections,
}

impl Arrangement {
    /// Each of them, in the order of their buttons.
    pub const ALL: [Self; 3] = [Self::Picture, Self::Both, Self::Projections];

    /// The word on the button.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Picture => "picture",
            Self::Both => "both",
            Self::Projections => "projections",
        }
    }

    /// Whether the projections are seen.
    #[must_use]
    pub const fn has_projections(self) -> bool {
        !matches!(self, Self::Picture)
    }
}

/// Where the paths start on the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Spread {
    /// All at one place: the zeroed centric position of each point. Small paths are seen large.
    FromRest,
    /// Each where its point stands in the instrument.
    InPlace,
}

impl Spread {
    /// Each of them, in the order of their buttons.
    pub const ALL: [Self; 2] = [Self::FromRest, Self::InPlace];

    /// The words on the button.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::FromRest => "all paths from rest",
            Self::InPlace => "each in its place",
        }
    }
}

/// How a person wants to see the projections.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ProjectionView {
    /// What the middle of the window shows.
    pub arrangement: Arrangement,
    /// Where the paths start.
    pub spread: Spread,
    /// The border envelope is drawn.
    pub envelope: bool,
    /// The angles are drawn as arcs in the picture too.
    pub angles_in_picture: bool,
}

impl Default for ProjectionView {
    fn default() -> Self {
        Self {
            arrangement: Arrangement::Picture,
            spread: Spread::FromRest,
            envelope: true,
            angles_in_picture: false,
        }
    }
}
