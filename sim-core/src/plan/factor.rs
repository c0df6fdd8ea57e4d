//! What a plan may change.

use super::arch::ArchForm;
use crate::anterior::Trough;
use crate::frame::{OcclusalPlane, Side};
use crate::instrument::Instrument;
use crate::units::Angle;

/// A factor of the occlusion, as an angle in degrees.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Factor {
    /// Horizontal condylar inclination: the mean of both sides, which change together.
    CondylarGuidance,
    /// Lateral condylar angle: the mean of both sides, which change together.
    LateralCondylarAngle,
    /// Inclination of the plate of the anterior guide.
    IncisalGuidance,
    /// Angle of its wings to the plate: the mean of both, which change together.
    LateralIncisalGuidance,
    /// Angle of the right wing to the plate.
    RightLateralIncisalGuidance,
    /// Angle of the left wing to the plate.
    LeftLateralIncisalGuidance,
    /// Inclination of the occlusal plane, turned about the incisal point.
    OcclusalPlane,
    /// The sagittal compensating curve, by the angle that it tips a tooth 30 mm behind its start.
    CompensatingCurve,
    /// Inclination of the cusps to the tooth's own occlusal surface.
    CuspInclination,
}

impl Factor {
    /// The five factors of balanced articulation.
    pub const FIVE: [Self; 5] = [
        Self::CondylarGuidance,
        Self::IncisalGuidance,
        Self::OcclusalPlane,
        Self::CompensatingCurve,
        Self::CuspInclination,
    ];

    /// What the trade calls it.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::CondylarGuidance => "condylar guidance",
            Self::LateralCondylarAngle => "lateral condylar angle",
            Self::IncisalGuidance => "incisal guidance",
            Self::LateralIncisalGuidance => "lateral incisal guidance",
            Self::RightLateralIncisalGuidance => "right lateral incisal guidance",
            Self::LeftLateralIncisalGuidance => "left lateral incisal guidance",
            Self::OcclusalPlane => "plane of occlusion",
            Self::CompensatingCurve => "compensating curve",
            Self::CuspInclination => "cusp inclination",
        }
    }

    /// Bounds within which it is asked what this factor alone would have to be, in degrees: what
    /// instruments and moulds can be set to; a curve from flat to a radius of 60 mm.
    pub(super) const fn usual_bounds(self) -> (f64, f64) {
        match self {
            Self::CondylarGuidance => (-30.0, 85.0),
            Self::LateralCondylarAngle => (-30.0, 60.0),
            Self::IncisalGuidance => (-30.0, 85.0),
            Self::LateralIncisalGuidance
            | Self::RightLateralIncisalGuidance
            | Self::LeftLateralIncisalGuidance => (0.0, 85.0),
            Self::OcclusalPlane => (-45.0, 45.0),
            Self::CompensatingCurve => (0.0, 30.0),
            Self::CuspInclination => (0.0, 60.0),
        }
    }
}

/// An instrument with teeth: all that a plan may change.
#[derive(Clone, Debug, PartialEq)]
pub struct Setup {
    /// The instrument.
    pub instrument: Instrument,
    /// The occlusal plane.
    pub plane: OcclusalPlane,
    /// The arch with its compensating curves.
    pub arch: ArchForm,
    /// Inclination of the cusps to the tooth's own occlusal surface.
    pub cusp_inclination: Angle,
}

impl Setup {
    /// A factor as it stands.
    #[must_use]
    pub fn get(&self, factor: Factor) -> Angle {
        let guides = [&self.instrument.right_guide, &self.instrument.left_guide];
        let trough = self.instrument.anterior_guide.trough().copied().unwrap_or(Trough::LEVEL);
        match factor {
            Factor::CondylarGuidance => mean(guides.map(|guide| guide.horizontal_inclination)),
            Factor::LateralCondylarAngle => mean(guides.map(|guide| guide.lateral_angle)),
            Factor::IncisalGuidance => trough.sagittal_inclination,
            Factor::LateralIncisalGuidance => mean([trough.right_wing, trough.left_wing]),
            Factor::RightLateralIncisalGuidance => trough.right_wing,
            Factor::LeftLateralIncisalGuidance => trough.left_wing,
            Factor::OcclusalPlane => self.plane.inclination,
            Factor::CompensatingCurve => ArchForm::tilt_of_radius(self.arch.sagittal_curve),
            Factor::CuspInclination => self.cusp_inclination,
        }
    }

    /// Sets a factor. Two sides that differ keep their difference.
    pub fn set(&mut self, factor: Factor, to: Angle) {
        let change = to - self.get(factor);
        match factor {
            Factor::CondylarGuidance => {
                for side in Side::BOTH {
                    let own = &mut self.instrument.guide_mut(side).horizontal_inclination;
                    *own = *own + change;
                }
            }
            Factor::LateralCondylarAngle => {
                for side in Side::BOTH {
                    let own = &mut self.instrument.guide_mut(side).lateral_angle;
                    *own = *own + change;
                }
            }
            Factor::IncisalGuidance => self.set_trough(|trough| trough.sagittal_inclination = to),
            Factor::LateralIncisalGuidance => self.set_trough(|trough| {
                trough.right_wing = trough.right_wing + change;
                trough.left_wing = trough.left_wing + change;
            }),
            Factor::RightLateralIncisalGuidance => self.set_trough(|trough| trough.right_wing = to),
            Factor::LeftLateralIncisalGuidance => self.set_trough(|trough| trough.left_wing = to),
            Factor::OcclusalPlane => self.plane.inclination = to,
            Factor::CompensatingCurve => self.arch.sagittal_curve = ArchForm::radius_of_tilt(to),
            Factor::CuspInclination => self.cusp_inclination = to,
        }
    }

    /// A table formed to the teeth has no angles, and no plan is made with one.
    fn set_trough(&mut self, set: impl FnOnce(&mut Trough)) {
        if let Some(trough) = self.instrument.anterior_guide.trough_mut() {
            set(trough);
        }
    }
}

fn mean(both: [Angle; 2]) -> Angle {
    // Of two alike it is the one, to the last bit.
    if both[0] == both[1] { both[0] } else { (both[0] + both[1]) * 0.5 }
}

/// A factor that a plan has changed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FactorChange {
    /// The factor.
    pub factor: Factor,
    /// As it stood.
    pub from: Angle,
    /// As it is planned.
    pub to: Angle,
}

/// What changes from one set-up to another.
pub(super) fn changes(from: &Setup, to: &Setup, factors: &[Factor]) -> Vec<FactorChange> {
    let change =
        |factor: &Factor| FactorChange { factor: *factor, from: from.get(*factor), to: to.get(*factor) };
    factors.iter().map(change).collect()
}

/// A set-up with factors set, in degrees.
pub(super) fn with(setup: &Setup, factors: &[Factor], at: &[f64]) -> Setup {
    let mut own = setup.clone();
    for (factor, degrees) in factors.iter().zip(at) {
        own.set(*factor, Angle::from_degrees(*degrees));
    }
    own
}
