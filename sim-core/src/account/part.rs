//! The parts of an account.

use nalgebra::Vector3;

use crate::cusp::OpposingIncline;
use crate::excursion::Guidance;
use crate::frame::{PerSide, Side};
use crate::units::{Angle, Length};

/// One part of a number.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// What it is, with the values that go into it.
    pub kind: PartKind,
    /// What it adds to the number, in the number's unit.
    pub amount: f64,
    /// How the place that the number is read at goes in this step; none of a part that is no step.
    pub moved: Option<Moved>,
}

impl Part {
    pub(super) const fn new(kind: PartKind, amount: f64) -> Self {
        Self { kind, amount, moved: None }
    }
}

/// How a place goes, seen from the other member.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moved {
    /// Forward.
    pub forward: Length,
    /// To the patient's left.
    pub left: Length,
    /// Upward.
    pub up: Length,
}

impl Moved {
    pub(super) const fn of(way: &Vector3<f64>) -> Self {
        let [[forward, left, up]] = way.data.0;
        Self { forward: Length::from_mm(forward), left: Length::from_mm(left), up: Length::from_mm(up) }
    }
}

/// What a part is, with the values that go into it.
#[derive(Clone, Debug, PartialEq)]
pub enum PartKind {
    /// The pin let down: the jaw turns open about the axis at rest.
    Pin {
        /// How far.
        extension: Length,
        /// The turn, open above zero.
        turn: Angle,
    },
    /// A condyle drops.
    CondyleDrop {
        /// Whose.
        side: Side,
        /// How far.
        drop: Length,
    },
    /// Both condyles advance, each by its own way: the jaw goes forward and turns about the vertical.
    Advances(PerSide<Length>),
    /// Both condyles shift toward the midline.
    Shifts(PerSide<Length>),
    /// The turn about the axis through the spheres that brings the guided point back to its level at rest:
    /// what a level guide in front would ask for.
    LevelTurn {
        /// Open above zero.
        turn: Angle,
    },
    /// The turn that the guide in front asks for beyond a level one.
    GuideTurn {
        /// Open above zero.
        turn: Angle,
        /// What guides.
        guidance: Guidance,
    },
    /// The whole turn that the guide in front asks for, where the guided point cannot come back to its level.
    FrontTurn {
        /// Open above zero.
        turn: Angle,
        /// What guides.
        guidance: Guidance,
    },
    /// The turn of a hinge opening.
    HingeTurn {
        /// Open above zero.
        turn: Angle,
    },
    /// The rise of the opposing incline under the cusp, which the clearance takes away.
    Rise {
        /// Which incline governs.
        incline: OpposingIncline,
        /// Its inclination to the occlusal plane.
        angle: Angle,
        /// How far the cusp has gone along it within the occlusal plane.
        along: Length,
    },
    /// The superior wall, f(a).
    Path {
        /// `Straight`, `Arc` or `Profile`.
        path: &'static str,
        /// Inclination H at the seat; none of a recorded profile.
        inclination: Option<Angle>,
        /// Radius of an arc.
        radius: Option<Length>,
        /// The advance at which the wall is read.
        advance: Length,
    },
    /// The tilt of the superior wall under a medial shift: m·tan τ.
    WallTilt {
        /// The tilt τ.
        tilt: Angle,
        /// The medial shift m.
        medial: Length,
    },
    /// The working condyle goes up as it shifts outward: −s·tan κ of its drop.
    Surtrusion {
        /// The angle κ.
        angle: Angle,
        /// The outward shift s.
        outward: Length,
    },
    /// The working condyle goes back as it shifts outward: −s·tan ρ of its advance.
    Retrusion {
        /// The angle ρ.
        angle: Angle,
        /// The outward shift s.
        outward: Length,
    },
    /// The advance that drives the movement.
    Driven,
    /// The working condyle's share of the advance.
    Share {
        /// The share, between 0 and 1.
        ratio: f64,
        /// The orbiting condyle's advance.
        advance: Length,
    },
    /// Immediate translation.
    Immediate {
        /// The whole of it, i.
        translation: Length,
        /// How much of it has been made, 0 to 1.
        made: f64,
        /// How much of a lateral movement this one is, 1 − k.
        share: f64,
    },
    /// Early translation, e·min(a/aₑ, 1).
    Early {
        /// The whole of it, e.
        amount: Length,
        /// The advance over which it is spent, aₑ.
        over: Length,
        /// The advance a.
        advance: Length,
        /// How much of a lateral movement this one is, 1 − k.
        share: f64,
    },
    /// Progressive side shift along the Bennett angle, a·tan L.
    Progressive {
        /// The angle L.
        angle: Angle,
        /// The advance a.
        advance: Length,
        /// How much of a lateral movement this one is, 1 − k.
        share: f64,
    },
    /// The other condyle's medial shift, which the axis carries across.
    Carried {
        /// The other condyle's medial shift.
        medial: Length,
    },
    /// The axis swings forward and down at one end and so reaches less far from side to side, while the
    /// spheres keep their distance.
    Swing {
        /// The distance w of the spheres.
        distance: Length,
        /// How far one is ahead of the other.
        ahead: Length,
        /// How far one is below the other.
        below: Length,
        /// How many condyles share in it: both in protrusion, else the working one alone.
        shared_by: u8,
    },
    /// The condyle is at its seat.
    Seated,
}

impl PartKind {
    /// The word that output for other programs uses: `right_condyle_drops`, `level_turn`, …
    #[must_use]
    pub const fn name(&self) -> &'static str {
        match self {
            Self::Pin { .. } => "pin",
            Self::CondyleDrop { side: Side::Right, .. } => "right_condyle_drops",
            Self::CondyleDrop { side: Side::Left, .. } => "left_condyle_drops",
            Self::Advances(_) => "condyles_advance",
            Self::Shifts(_) => "condyles_shift",
            Self::LevelTurn { .. } => "level_turn",
            Self::GuideTurn { .. } => "guide_turn",
            Self::FrontTurn { .. } => "front_turn",
            Self::HingeTurn { .. } => "hinge_turn",
            Self::Rise { .. } => "rise",
            Self::Path { .. } => "superior_wall",
            Self::WallTilt { .. } => "wall_tilt",
            Self::Surtrusion { .. } => "laterosurtrusion",
            Self::Retrusion { .. } => "lateroretrusion",
            Self::Driven => "driven",
            Self::Share { .. } => "share",
            Self::Immediate { .. } => "immediate_translation",
            Self::Early { .. } => "early_translation",
            Self::Progressive { .. } => "progressive_side_shift",
            Self::Carried { .. } => "carried_across",
            Self::Swing { .. } => "axis_swings",
            Self::Seated => "seated",
        }
    }
}
