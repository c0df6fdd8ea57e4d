//! What keeps a plan from being made.

use crate::cusp::{NoSuchTooth, Tooth};
use crate::excursion::NoPose;
use crate::frame::Side;

/// Why there is no plan.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum PlanError {
    /// The instrument has no pose as it stands.
    #[error(transparent)]
    NoPose(#[from] NoPose),
    /// A guide that has no angles.
    #[error(
        "anterior_guide is CustomTable, which has no angles to plan by; allowed are Table, Incisors, or Casts, whose table is taken"
    )]
    FormedTable,
    /// A guide's path has no slope at its start.
    #[error("{side}_guide.path ends at {ends_at_mm} mm")]
    PathEnds {
        /// Side of the guide.
        side: Side,
        /// The last advance that it reaches, in millimetres.
        ends_at_mm: f64,
    },
    /// Crowns that do not fit on the arch.
    #[error(
        "arch_width_mm and arch_length_mm: the arch has room for {room_mm:.1} mm of teeth on each side, a crown's middle stands at {needed_mm:.1} mm; a wider or longer arch is needed"
    )]
    ArchTooShort {
        /// Where the middle of a crown should stand, along the arch.
        needed_mm: f64,
        /// How far the arch goes.
        room_mm: f64,
    },
    /// A compensating curve that would stand the last molars upright.
    #[error("{key} is {given_mm}; allowed are 0, which is flat, and radii of at least {least_mm} mm")]
    CurveTooTight {
        /// The setting.
        key: &'static str,
        /// The radius given, in millimetres.
        given_mm: f64,
        /// The least radius, in millimetres.
        least_mm: f64,
    },
    /// A number that no tooth has.
    #[error(transparent)]
    NoSuchTooth(#[from] NoSuchTooth),
    /// Bounds the wrong way round.
    #[error(
        "free: {factor} has a least_deg of {least_deg} above its most_deg of {most_deg}; give the lesser first"
    )]
    Bounds {
        /// The factor.
        factor: &'static str,
        /// The least allowed, in degrees.
        least_deg: f64,
        /// The most allowed, in degrees.
        most_deg: f64,
    },
    /// A factor free twice.
    #[error("free: {factor} is named twice, by itself or as one of two sides; name it once")]
    FactorTwice {
        /// The factor.
        factor: &'static str,
    },
    /// More than can be searched.
    #[error("free names {given} factors; allowed are up to {MOST_FREE}")]
    TooManyFree {
        /// How many are named.
        given: usize,
    },
    /// A factor that does not change what is asked.
    #[error("free: {factor} plays no part in {goal}; allowed are {allowed}")]
    NoPart {
        /// The factor.
        factor: &'static str,
        /// The goal.
        goal: &'static str,
        /// What may be free there.
        allowed: &'static str,
    },
    /// Recorded paths carry their own inclination.
    #[error(
        "free: condylar guidance cannot be changed where the {side} guide's path is a recorded profile; allowed is a straight path or an arc"
    )]
    Profiled {
        /// Side of the guide.
        side: Side,
    },
    /// No mould, or one that is not made.
    #[error("inclinations_deg of CuspMould: {what}; allowed are one or more angles from 0 to 60 degrees")]
    Moulds {
        /// What is wrong.
        what: String,
    },
    /// Nothing wanted.
    #[error(
        "clearances is empty; give at least one, for example (tooth: 36, excursion: Protrusive, clearance_mm: 1.0)"
    )]
    NothingWanted,
    /// A clearance at a cusp that is not there.
    #[error("clearances: tooth {tooth} has no cusp{} in this scene; {known}", .name.as_ref().map(|name| format!(" \"{name}\"")).unwrap_or_default())]
    NoSuchCusp {
        /// The tooth.
        tooth: Tooth,
        /// The cusp's name, if one was given.
        name: Option<String>,
        /// What cusps there are, in words.
        known: String,
    },
    /// A tooth at which there is no back cusp.
    #[error(
        "teeth: {tooth} is no premolar or first or second molar; allowed are positions 4 to 7 of each quadrant"
    )]
    NotABackTooth {
        /// The tooth.
        tooth: Tooth,
    },
}

/// No plan needs more unknowns; each one triples the work.
pub(super) const MOST_FREE: usize = 5;

impl PlanError {
    /// The field of the scene's plan that the complaint is about.
    #[must_use]
    pub const fn field(&self) -> &'static str {
        match self {
            Self::ArchTooShort { .. } => "arch",
            Self::FormedTable => "anterior_guide",
            Self::CurveTooTight { key, .. } => key,
            Self::Bounds { .. }
            | Self::FactorTwice { .. }
            | Self::TooManyFree { .. }
            | Self::NoPart { .. }
            | Self::Profiled { .. } => "free",
            Self::Moulds { .. } => "inclinations_deg",
            Self::NothingWanted | Self::NoSuchCusp { .. } => "clearances",
            Self::NotABackTooth { .. } => "teeth",
            Self::NoPose(_) | Self::PathEnds { .. } | Self::NoSuchTooth(_) => "plan",
        }
    }
}
