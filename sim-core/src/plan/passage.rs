//! How the jaw passes by a tooth, measured to the occlusal plane.

use nalgebra::Vector3;
use serde::{Deserialize, Serialize};

use super::PlanError;
use crate::anterior::AnteriorGuide;
use crate::cusp::{Arch, Cusp, CuspTip, Tooth};
use crate::excursion::{Mechanism, Movement, NoPose, Station};
use crate::frame::{JawPose, OcclusalPlane, Side};
use crate::instrument::Instrument;
use crate::units::{Angle, Length};

/// What an excursion is to a tooth.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Role {
    /// The jaw goes forward.
    Protrusive,
    /// The jaw goes to the tooth's own side.
    Working,
    /// The jaw goes to the other side; the condyle of the tooth's side orbits.
    Orbiting,
}

impl Role {
    /// All three.
    pub const ALL: [Self; 3] = [Self::Protrusive, Self::Working, Self::Orbiting];

    /// `protrusive`, `working` or `orbiting`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Protrusive => "protrusive",
            Self::Working => "working",
            Self::Orbiting => "orbiting",
        }
    }

    /// The movement that is this to a tooth of a side.
    #[must_use]
    pub const fn movement(self, side: Side) -> Movement {
        match self {
            Self::Protrusive => Movement::Protrusive,
            Self::Working => Movement::Lateral { working: side },
            Self::Orbiting => Movement::Lateral { working: side.opposite() },
        }
    }
}

/// The way that the jaw makes past a place of a tooth since rest: a lower cusp's displacement, or the
/// upper one's turned about. Millimetres, or millimetres a millimetre of advance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Passage {
    /// Away from the occlusal plane: the separation.
    pub fall: f64,
    /// Forward along the occlusal plane.
    pub forward: f64,
    /// Away from the midline, on the tooth's side.
    pub outward: f64,
}

impl Passage {
    pub(super) fn of(moved: &Vector3<f64>, plane: OcclusalPlane, side: Side) -> Self {
        Self {
            fall: -moved.dot(&plane.normal()),
            forward: moved.dot(&plane.anterior()),
            outward: moved.y * side.outward_y(),
        }
    }

    /// How far along the occlusal plane.
    pub(super) fn along(&self) -> f64 {
        self.forward.hypot(self.outward)
    }
}

/// An instrument whose excursions start where the pin stops the closing: there the teeth meet.
///
/// With the pin flush that is the zeroed centric position. With another pin extension it is another
/// vertical dimension, at which the teeth are set anew, and ways are measured from there.
pub(super) struct FromRest {
    mechanism: Mechanism,
    rest: JawPose,
}

impl FromRest {
    /// Of an instrument. Guided by casts, it is planned by the table that its pin stands on:
    /// the teeth are what is to be planned.
    pub(super) fn new(instrument: &Instrument) -> Result<Self, PlanError> {
        let mechanism = match &instrument.anterior_guide {
            AnteriorGuide::Table(_) | AnteriorGuide::Incisors(_) => Mechanism::new(instrument),
            AnteriorGuide::Casts(trough) => {
                let anterior_guide = AnteriorGuide::Table(*trough);
                Mechanism::new(&Instrument { anterior_guide, ..instrument.clone() })
            }
            AnteriorGuide::CustomTable(_) => return Err(PlanError::FormedTable),
        };
        let rest = mechanism.rest()?.jaw;
        Ok(Self { mechanism, rest })
    }

    pub(super) const fn mechanism(&self) -> &Mechanism {
        &self.mechanism
    }

    /// How far the jaw is open at rest.
    pub(super) fn opening(&self) -> Result<Angle, NoPose> {
        Ok(self.mechanism.rest()?.opening())
    }

    /// The pose at an advance, since rest.
    pub(super) fn since_rest(&self, movement: Movement, advance: Length) -> Result<JawPose, NoPose> {
        Ok(self.mechanism.at(movement, Station::advanced(advance))?.jaw.since(&self.rest))
    }

    /// A cusp as it stands in the upper frame at rest, for gauges that read poses since rest.
    pub(super) fn at_rest(&self, cusp: &Cusp) -> Cusp {
        cusp.moved_to(self.place_of(cusp))
    }

    /// Where a cusp stands in the upper frame at rest.
    pub(super) fn place_of(&self, cusp: &Cusp) -> Vector3<f64> {
        match cusp.tip() {
            CuspTip::Upper(tip) => *tip.coords(),
            CuspTip::Lower(tip) => *self.rest.to_upper(&tip).coords(),
        }
    }
}

/// The displacement of the jaw past a place of the upper frame at rest, in a pose since rest: M p − p
/// on a lower tooth, −(U p − p) on an upper one.
pub(super) fn moved(since_rest: &JawPose, tooth: Tooth, place: &Vector3<f64>) -> Vector3<f64> {
    match tooth.arch() {
        Arch::Lower => since_rest.rotation() * place + since_rest.translation() - place,
        Arch::Upper => place - since_rest.rotation().tr_mul(&(place - since_rest.translation())),
    }
}
