//! An instrument made ready for solving.

use std::sync::Arc;

use nalgebra::Vector3;

use super::closing::Closed;
use super::spheres::Shift;
use super::{CondyleReading, Guidance, Movement, NoPose, Obstacle, Placement};
use crate::anterior::{AnteriorGuide, Facets, Plane};
use crate::cast::{Casts, Warm};
use crate::frame::{LowerPoint, Side};
use crate::guide::Walls;
use crate::instrument::{Design, Instrument};
use crate::units::{Angle, Length};

/// An instrument made ready for solving: tangents and normals are taken once, a pose then costs
/// some two hundred multiplications and allocates nothing.
#[derive(Clone, Debug)]
pub struct Mechanism {
    /// +1 where the guides read the jaw's displacement as it is (arcon), −1 where they read the
    /// upper spheres'.
    pub(super) sign: f64,
    pub(super) distance: f64,
    pub(super) inverse_distance: f64,
    /// Right, then left.
    pub(super) walls: [Walls; 2],
    pub(super) front: Front,
    /// Whether the guided point is the tip of a pin, on the upper member.
    pub(super) has_pin: bool,
    /// Pin tip (with its extension) in the upper frame, or incisal edge in the lower.
    pub(super) guided_point: Vector3<f64>,
    incisal_point: LowerPoint,
}

/// What stops the closing in front; planes are plate, then wings.
#[derive(Clone, Debug)]
pub(super) enum Front {
    Table([Plane; 3]),
    Incisors([Plane; 3]),
    Teeth { planes: [Plane; 3], casts: Option<Arc<Casts>> },
    Custom(Arc<Facets>),
}

impl Front {
    fn of(guide: &AnteriorGuide, rest: Vector3<f64>) -> Self {
        match guide {
            AnteriorGuide::Table(trough) => Self::Table(trough.planes(rest, true)),
            AnteriorGuide::Incisors(trough) => Self::Incisors(trough.planes(rest, false)),
            AnteriorGuide::Casts(trough) => Self::Teeth { planes: trough.planes(rest, true), casts: None },
            AnteriorGuide::CustomTable(field) => Self::Custom(Arc::new(Facets::of(field, rest))),
        }
    }
}

/// How far along a movement the mechanism stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Station {
    pub(super) advance_mm: f64,
    /// How much of the immediate lateral translation has been made, 0 to 1.
    pub(super) shifted: f64,
}

impl Station {
    /// At rest, before any movement.
    pub const REST: Self = Self { advance_mm: 0.0, shifted: 0.0 };

    /// Where the orbiting condyle has advanced so far; a lateral movement has made its immediate
    /// translation by then.
    #[must_use]
    pub const fn advanced(advance: Length) -> Self {
        Self { advance_mm: advance.mm(), shifted: 1.0 }
    }

    /// Within the pure sideways move that a lateral movement starts with where there is immediate
    /// translation: a part, 0 to 1, of it.
    #[must_use]
    pub const fn sideways(part: f64) -> Self {
        Self { advance_mm: 0.0, shifted: part.clamp(0.0, 1.0) }
    }
}

impl Mechanism {
    /// Makes an instrument ready. Every instrument can be; whether it has a pose is found when
    /// one is asked. One that is guided by casts needs them, [`Self::with_casts`].
    #[must_use]
    pub fn new(instrument: &Instrument) -> Self {
        let rest = instrument.incisal_point.coords();
        let has_pin = instrument.anterior_guide.has_pin();
        let extension = if has_pin { instrument.pin_extension.mm() } else { 0.0 };
        Self {
            sign: match instrument.design {
                Design::Arcon => 1.0,
                Design::NonArcon => -1.0,
            },
            distance: instrument.intercondylar_distance.mm(),
            inverse_distance: 1.0 / instrument.intercondylar_distance.mm(),
            walls: Side::BOTH.map(|side| Walls::of(instrument.guide(side))),
            front: Front::of(&instrument.anterior_guide, rest),
            has_pin,
            guided_point: rest - Vector3::z() * extension,
            incisal_point: LowerPoint::from_coords(rest),
        }
    }

    /// The same instrument with casts mounted. They stop the closing where the anterior guide is
    /// [`AnteriorGuide::Casts`], and change nothing where it is not.
    #[must_use]
    pub fn with_casts(mut self, mounted: Arc<Casts>) -> Self {
        if let Front::Teeth { casts, .. } = &mut self.front {
            *casts = Some(mounted);
        }
        self
    }

    /// Solves one pose of a movement.
    ///
    /// For [`Movement::Opening`] this is the jaw at rest on its axis; its angle is asked with
    /// [`Self::opened_to`].
    ///
    /// # Errors
    /// [`NoPose`] names the setting that admits none and the advance.
    #[inline]
    pub fn at(&self, movement: Movement, station: Station) -> Result<Placement, NoPose> {
        self.at_from(movement, station, &mut Warm::default())
    }

    /// As [`Self::at`], with the search for touching teeth started from where the last pose's ended:
    /// the same pose, sooner, when poses follow one another.
    ///
    /// # Errors
    /// As [`Self::at`].
    #[inline]
    pub fn at_from(
        &self,
        movement: Movement,
        station: Station,
        warm: &mut Warm,
    ) -> Result<Placement, NoPose> {
        let failed = |obstacle| self.no_pose(movement, station.advance_mm, obstacle);
        let spheres = self.spheres(movement, station).map_err(failed)?;
        let closed = if movement == Movement::Opening {
            Closed { jaw: self.opened(&spheres, 0.0), guidance: Guidance::None, pin_lift: None }
        } else {
            self.close(&spheres, warm).map_err(failed)?
        };
        Ok(self.placement(station.advance_mm, &spheres, closed))
    }

    /// The jaw closed on the guide with both condyles seated. With a pin extension this is where
    /// every excursion starts; without, it is the zeroed centric position.
    ///
    /// # Errors
    /// [`NoPose`] where the guide is not reached.
    pub fn rest(&self) -> Result<Placement, NoPose> {
        self.at(Movement::Protrusive, Station::REST)
    }

    /// The jaw turned open about the intercondylar axis from the zeroed centric position, spheres
    /// seated, no guide.
    #[must_use]
    pub fn opened_to(&self, angle: Angle) -> Placement {
        let seated = [Shift::default(); 2];
        let jaw = self.opened(&seated, angle.radians());
        self.placement(0.0, &seated, Closed { jaw, guidance: Guidance::None, pin_lift: None })
    }

    pub(super) fn has_immediate_translation(&self, movement: Movement) -> bool {
        movement.orbiting_side().is_some_and(|side| self.walls[side as usize].has_immediate_translation())
    }

    pub(super) fn no_pose(&self, movement: Movement, advance_mm: f64, obstacle: Obstacle) -> NoPose {
        NoPose { movement: movement.name(), advance: Length::from_mm(advance_mm), obstacle }
    }

    pub(super) fn spheres_on_lower(&self) -> bool {
        self.sign > 0.0
    }

    /// Whether the guided point is fixed to the member that carries the spheres.
    pub(super) fn point_on_carrier(&self) -> bool {
        self.has_pin != self.spheres_on_lower()
    }

    #[inline]
    fn placement(&self, advance: f64, spheres: &[Shift; 2], closed: Closed) -> Placement {
        let Closed { jaw, guidance, pin_lift } = closed;
        let reading = |shift: &Shift| CondyleReading {
            advance: Length::from_mm(shift.advance),
            medial: Length::from_mm(shift.medial),
            drop: Length::from_mm(shift.drop),
        };
        Placement {
            advance: Length::from_mm(advance),
            jaw,
            right: reading(&spheres[0]),
            left: reading(&spheres[1]),
            guidance,
            pin_lift,
            incisal_point: jaw.to_upper(&self.incisal_point),
        }
    }
}
