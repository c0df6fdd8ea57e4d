//! How a person wants to see the casts.

use serde::Serialize;
use sim_core::cusp::Arch;
use sim_core::units::Length;

use super::cut_plane::CutPlane;
use super::mounted::Mounted;

/// Beyond this the clearance map shows no distance: the eye cannot tell what is farther off from clear
/// (our choice).
pub const CAP_MM: f64 = 2.0;

/// The film laid between the teeth at first: thick enough to show a contact, thin enough to tell it from
/// nearness (common practice, no source).
const FIRST_FILM: Length = Length::from_mm(0.04);

/// What the casts show.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Show {
    /// Their form, lit from the side.
    Relief,
    /// How far the opposing cast is along the occlusal plane's normal.
    Clearance,
    /// What articulating film would print.
    Film,
}

/// Which members are in the picture; the other one is lifted off.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Seen {
    /// Both.
    Both,
    /// The upper one.
    Upper,
    /// The lower one.
    Lower,
}

/// How a person wants to see the casts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CastView {
    /// What they show.
    pub show: Show,
    /// Which members are in the picture.
    pub seen: Seen,
    /// Thickness of the film that prints.
    pub film: Length,
    /// The plane that cuts them.
    pub plane: CutPlane,
    /// Where each plane stands, in the order of [`CutPlane::ALL`], in millimetres.
    pub cut_at_mm: [f64; 3],
    /// The picture shows the teeth alone, not the whole instrument.
    pub close: bool,
}

impl Show {
    /// Each of them, in the order of their buttons.
    pub const ALL: [Self; 3] = [Self::Relief, Self::Clearance, Self::Film];

    /// The word on the button.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Relief => "relief",
            Self::Clearance => "clearance",
            Self::Film => "film",
        }
    }
}

impl Seen {
    /// Each of them, in the order of their buttons.
    pub const ALL: [Self; 3] = [Self::Both, Self::Upper, Self::Lower];

    /// The word on the button.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Both => "both",
            Self::Upper => "upper",
            Self::Lower => "lower",
        }
    }

    /// Whether a member is in the picture.
    #[must_use]
    pub fn has(self, arch: Arch) -> bool {
        match self {
            Self::Both => true,
            Self::Upper => arch == Arch::Upper,
            Self::Lower => arch == Arch::Lower,
        }
    }
}

impl CastView {
    /// How casts are looked at first: whole, with planes through what is looked at most.
    #[must_use]
    pub fn first(mounted: Option<&Mounted>) -> Self {
        /// Parts of the way from right to left, from back to front and along the arch: through the left
        /// molars (common practice, no source).
        const FIRST: [f64; 3] = [0.85, 0.5, 0.85];
        let at = |plane: CutPlane| {
            let [from, to] = mounted.map_or([0.0; 2], |mounted| mounted.cut_range_mm(plane));
            // To a tenth, so that it reads well.
            ((from + (to - from) * FIRST[plane.number()]) * 10.0).round() / 10.0
        };
        Self {
            show: Show::Relief,
            seen: Seen::Both,
            film: FIRST_FILM,
            plane: CutPlane::Sagittal,
            cut_at_mm: CutPlane::ALL.map(at),
            close: false,
        }
    }

    /// Where the plane chosen stands, in millimetres.
    #[must_use]
    pub const fn cut_at_mm(&self) -> f64 {
        self.cut_at_mm[self.plane.number()]
    }
}
