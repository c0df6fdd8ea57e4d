//! An instrument made ready for solving.

use std::sync::Arc;

use nalgebra::Vector3;

use super::{Movement, NoPose, Obstacle};
use crate::anterior::{AnteriorGuide, Facets, Plane, Trough, TroughTurns};
use crate::cast::Casts;
use crate::frame::{LowerPoint, OcclusalPlane, PerSide, Side};
use crate::guide::Walls;
use crate::instrument::Instrument;
use crate::units::Length;

/// An instrument made ready for solving: tangents and normals are taken once, a pose then costs
/// some two hundred multiplications and allocates nothing.
#[derive(Clone, Debug)]
pub struct Mechanism {
    /// [`Design::sense`](crate::instrument::Design::sense).
    pub(super) sense: f64,
    pub(super) distance: f64,
    pub(super) inverse_distance: f64,
    pub(super) walls: PerSide<Walls>,
    pub(super) front: Front,
    trough: TroughTurns,
    /// Whether the guided point is the tip of a pin, on the upper member.
    pub(super) has_pin: bool,
    /// Pin tip (with its extension; of a ball its centre) in the upper frame, or incisal edge in the lower.
    pub(super) guided_point: Vector3<f64>,
    pub(super) incisal_point: LowerPoint,
    /// Along which a tracing measures; known where the mechanism is a scene's.
    pub(super) occlusal_plane: Option<OcclusalPlane>,
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
    /// `rest` is the place at rest of what glides on the guide.
    fn of(guide: &AnteriorGuide, rest: Vector3<f64>) -> Self {
        match guide {
            AnteriorGuide::Table(trough) => Self::Table(trough.planes(rest, true)),
            AnteriorGuide::Incisors(trough) => Self::Incisors(trough.planes(rest, false)),
            AnteriorGuide::Casts(trough) => Self::Teeth { planes: trough.planes(rest, true), casts: None },
            AnteriorGuide::CustomTable(field) => Self::Custom(Arc::new(Facets::of(field, rest))),
        }
    }
}

impl Mechanism {
    /// Makes an instrument ready. Every instrument can be; whether it has a pose is found when
    /// one is asked. One that is guided by casts needs them, [`Self::with_casts`].
    #[must_use]
    pub fn new(instrument: &Instrument) -> Self {
        let rest = instrument.incisal_point.coords();
        let has_pin = instrument.anterior_guide.has_pin();
        // Of a tip that is a ball the centre is guided.
        let above = match &instrument.anterior_guide {
            AnteriorGuide::CustomTable(field) => field.tip().radius.mm(),
            AnteriorGuide::Table(_) | AnteriorGuide::Incisors(_) | AnteriorGuide::Casts(_) => 0.0,
        };
        let guided = rest + Vector3::z() * above;
        let extension = if has_pin { instrument.pin_extension.mm() } else { 0.0 };
        Self {
            sense: instrument.design.sense(),
            distance: instrument.intercondylar_distance.mm(),
            inverse_distance: 1.0 / instrument.intercondylar_distance.mm(),
            walls: PerSide::of(|side| Walls::of(instrument.guide(side))),
            front: Front::of(&instrument.anterior_guide, guided),
            trough: TroughTurns::of(instrument.anterior_guide.trough().unwrap_or(&Trough::LEVEL)),
            has_pin,
            guided_point: guided - Vector3::z() * extension,
            incisal_point: LowerPoint::from_coords(rest),
            occlusal_plane: None,
        }
    }

    /// Makes another instrument ready in the place of this one: the same as [`Self::new`] of it, sooner where the
    /// two are much alike. Casts are taken off, and the occlusal plane stays.
    #[inline]
    pub(crate) fn renew(&mut self, instrument: &Instrument) {
        let trough = match (&instrument.anterior_guide, &mut self.front) {
            (AnteriorGuide::Table(trough), Front::Table(_))
            | (AnteriorGuide::Incisors(trough), Front::Incisors(_)) => trough,
            _ => {
                *self = Self { occlusal_plane: self.occlusal_plane, ..Self::new(instrument) };
                return;
            }
        };
        let rest = instrument.incisal_point.coords();
        let has_pin = instrument.anterior_guide.has_pin();
        let planes = self.trough.renewed(trough, rest, has_pin);
        self.front = if has_pin { Front::Table(planes) } else { Front::Incisors(planes) };
        let extension = if has_pin { instrument.pin_extension.mm() } else { 0.0 };
        self.sense = instrument.design.sense();
        self.distance = instrument.intercondylar_distance.mm();
        self.inverse_distance = 1.0 / instrument.intercondylar_distance.mm();
        self.walls.right.renew(instrument.guide(Side::Right));
        self.walls.left.renew_beside(instrument.guide(Side::Left), &self.walls.right);
        self.has_pin = has_pin;
        self.guided_point = rest - Vector3::z() * extension;
        self.incisal_point = LowerPoint::from_coords(rest);
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

    /// The same instrument with the occlusal plane that excursions driven by a tracing are measured
    /// along; it changes nothing for others.
    #[must_use]
    pub const fn with_occlusal_plane(mut self, plane: OcclusalPlane) -> Self {
        self.occlusal_plane = Some(plane);
        self
    }

    /// The same instrument with the guided edge of the lower member so much higher, the planes that it
    /// glides on as they were: a stylus on the lower member made longer.
    pub(crate) fn with_edge_raised(mut self, by: Length) -> Self {
        self.guided_point += Vector3::z() * by.mm();
        self
    }

    pub(super) fn no_pose(&self, movement: Movement, advance: Length, obstacle: Obstacle) -> NoPose {
        NoPose { movement: movement.name(), advance, obstacle }
    }

    pub(super) fn spheres_on_lower(&self) -> bool {
        self.sense > 0.0
    }
}
