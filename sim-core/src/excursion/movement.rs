//! What the jaw is asked to do, and how far.

use crate::facts::{Facts, OutOfRange};
use crate::frame::Side;
use crate::units::{Angle, Length, Unit};

/// A movement of the jaw. Sides are the patient's; a right lateral movement works on the right.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Movement {
    /// Both condyles advance together.
    Protrusive,
    /// One condyle stays and turns, the other orbits.
    Lateral {
        /// The side moved to.
        working: Side,
    },
    /// The orbiting condyle advances by t, the working one by ratio·t.
    Lateroprotrusive {
        /// The side moved to.
        working: Side,
        /// The working condyle's share of the advance.
        ratio: Ratio,
    },
    /// The jaw turns about the intercondylar axis, without a guide.
    Opening,
}

impl Movement {
    /// The name that output uses: `protrusive`, `right_lateral`, …
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Protrusive => "protrusive",
            Self::Lateral { working: Side::Right } => "right_lateral",
            Self::Lateral { working: Side::Left } => "left_lateral",
            Self::Lateroprotrusive { working: Side::Right, .. } => "right_lateroprotrusive",
            Self::Lateroprotrusive { working: Side::Left, .. } => "left_lateroprotrusive",
            Self::Opening => "opening",
        }
    }

    /// The side moved to, for a movement that has one.
    #[must_use]
    pub const fn working_side(self) -> Option<Side> {
        match self {
            Self::Lateral { working } | Self::Lateroprotrusive { working, .. } => Some(working),
            Self::Protrusive | Self::Opening => None,
        }
    }

    /// The side whose condyle orbits, for a movement that has one.
    #[must_use]
    pub const fn orbiting_side(self) -> Option<Side> {
        match self.working_side() {
            Some(side) => Some(side.opposite()),
            None => None,
        }
    }
}

/// The share of the orbiting condyle's advance that the working condyle makes, between 0 (lateral)
/// and 1 (protrusive), neither included.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Ratio(f64);

impl Ratio {
    /// A ratio.
    ///
    /// # Errors
    /// [`ExcursionError::Ratio`] unless 0 < ratio < 1.
    pub fn new(given: f64) -> Result<Self, ExcursionError> {
        if given > 0.0 && given < 1.0 { Ok(Self(given)) } else { Err(ExcursionError::Ratio { given }) }
    }

    /// The number.
    #[must_use]
    pub const fn get(self) -> f64 {
        self.0
    }
}

/// What drives a movement, and to where.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Drive {
    /// Advance of the orbiting condyle (of both, in protrusion).
    Advance(Length),
    /// Straight-line distance of the incisal point from its rest position.
    IncisalDisplacement(Length),
    /// Distance of the incisal point from its rest position along the occlusal plane, as a tracing
    /// shows it: where the point goes up or down too, less than the straight line.
    Tracing(Length),
    /// Rotation of the jaw about the axis, for opening.
    Opening(Angle),
}

/// A movement and how far it goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Excursion {
    pub(super) movement: Movement,
    pub(super) drive: Drive,
}

/// Why something is no excursion.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum ExcursionError {
    /// Too little, too much or no number.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// Not between lateral and protrusive.
    #[error("ratio is {given}; allowed are numbers between 0 (lateral) and 1 (protrusive), neither included")]
    Ratio {
        /// The ratio given.
        given: f64,
    },
    /// An opening driven by a condyle or the incisal point, or an excursion driven by an angle.
    #[error("{movement} cannot be driven by {drive}")]
    Mismatch {
        /// Name of the movement.
        movement: &'static str,
        /// What was to drive it.
        drive: &'static str,
    },
    /// No drive, or more than one, in a scene file.
    #[error("{movement} needs one of advance_mm, tracing_mm and incisal_displacement_mm, and has {given}")]
    OneDrive {
        /// Name of the movement.
        movement: &'static str,
        /// `none` or `more`.
        given: &'static str,
    },
}

const fn reach(key: &'static str, label: &'static str, unit: Unit, max: f64, doc: &'static str) -> Facts {
    Facts { key, label, symbol: None, unit, min: 0.001, max, step: 0.5, zeroed: None, doc }
}

impl Drive {
    /// Advance: name, unit and range. The farthest is beyond any joint's.
    pub const ADVANCE: Facts = reach(
        "advance_mm",
        "condylar advance",
        Unit::Millimetre,
        30.0,
        "How far the orbiting condyle advances.",
    );
    /// Displacement of the incisal point: name, unit and range.
    pub const INCISAL_DISPLACEMENT: Facts = reach(
        "incisal_displacement_mm",
        "incisal displacement",
        Unit::Millimetre,
        40.0,
        "How far the incisal point moves from rest, in a straight line.",
    );
    /// Distance along the occlusal plane: name, unit and range.
    pub const TRACING: Facts = reach(
        "tracing_mm",
        "distance on the tracing",
        Unit::Millimetre,
        40.0,
        "How far the incisal point moves from rest along the occlusal plane, as a tracing shows it.",
    );
    /// Hinge opening: name, unit and range.
    pub const OPENING: Facts =
        reach("angle_deg", "hinge opening", Unit::Degree, 60.0, "How far the jaw turns open about the axis.");

    /// Name, unit and range of what drives.
    #[must_use]
    pub const fn facts(&self) -> &'static Facts {
        match self {
            Self::Advance(_) => &Self::ADVANCE,
            Self::IncisalDisplacement(_) => &Self::INCISAL_DISPLACEMENT,
            Self::Tracing(_) => &Self::TRACING,
            Self::Opening(_) => &Self::OPENING,
        }
    }

    /// How far, in the unit of [`Self::facts`].
    #[must_use]
    pub const fn number(&self) -> f64 {
        match self {
            Self::Advance(length) | Self::IncisalDisplacement(length) | Self::Tracing(length) => length.mm(),
            Self::Opening(angle) => angle.degrees(),
        }
    }
}

impl Excursion {
    /// A movement driven so far.
    ///
    /// # Errors
    /// [`ExcursionError`] when the drive is out of range or does not go with the movement (an
    /// opening goes by its angle, every other movement by a length).
    pub fn new(movement: Movement, drive: Drive) -> Result<Self, ExcursionError> {
        let by_angle = matches!(drive, Drive::Opening(_));
        if by_angle != matches!(movement, Movement::Opening) {
            return Err(ExcursionError::Mismatch { movement: movement.name(), drive: drive.facts().label });
        }
        drive.facts().check(drive.number())?;
        Ok(Self { movement, drive })
    }

    /// What the jaw is asked to do.
    #[must_use]
    pub const fn movement(&self) -> Movement {
        self.movement
    }

    /// How far, and by what it is driven.
    #[must_use]
    pub const fn drive(&self) -> Drive {
        self.drive
    }
}
