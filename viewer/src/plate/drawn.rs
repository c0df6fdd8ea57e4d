//! What the stylus draws, kept up with the set-up that is shown.

use std::sync::Arc;

use sim_core::excursion::{Movement, Placement};
use sim_core::frame::Side;
use sim_core::scene::Scene;
use sim_core::tracing::{Leg, Overlay, PlatePoint, Tracer, TracingSetup, lay_over, set_up, stylus_at};
use sim_core::units::{Angle, Length};

use super::under::Under;

/// Distance of a record on the plate, and so of the arc (common practice, no source).
pub const ARC_MM: f64 = 6.0;
/// How far the legs are drawn, in millimetres.
const REACH_MM: f64 = 9.0;

/// The tracing on the plate.
#[derive(Clone, Debug, Default)]
pub struct Plate {
    /// Whether the usual tracer is shown in a scene that has none of its own.
    pub usual: bool,
    /// Whether the member that carries the stylus is lifted off in the picture, so that the plate is seen.
    pub alone: bool,
    /// The recorded tracing under the drawn one.
    pub under: Option<Arc<Under>>,
    /// What is drawn; none where nothing is to be.
    pub drawn: Option<Arc<DrawnPlate>>,
}

/// What the stylus draws with one set-up.
#[derive(Clone, Debug)]
pub struct DrawnPlate {
    /// The set-up that it was drawn with, by its number.
    pub revision: u64,
    /// Whether the tracer is the usual one, an example, since the scene has none.
    pub is_usual: bool,
    /// The tracing, or why there is none.
    pub setup: Result<TracingSetup, String>,
    /// How it lies on the recorded one.
    pub over: Option<Overlay>,
}

impl Plate {
    /// Draws anew what has changed: with a tracer of the scene's own always, with the usual one where it is wanted.
    pub fn keep_up(&mut self, scene: &Scene, revision: u64) {
        let is_usual = scene.tracer.is_none();
        if is_usual && !self.usual {
            self.drawn = None;
            return;
        }
        if self.drawn.as_ref().is_some_and(|drawn| drawn.revision == revision && drawn.is_usual == is_usual) {
            return;
        }
        let (distance, reach) = (Length::from_mm(ARC_MM), Length::from_mm(REACH_MM));
        let setup =
            set_up(&scene.instrument, scene.occlusal_plane, &scene.completed_tracer(), distance, reach)
                .map_err(|error| error.to_string());
        let over = match (&setup, &self.under) {
            (Ok(setup), Some(under)) => Some(lay_over(&setup.drawn, &under.findings)),
            _ => None,
        };
        self.drawn = Some(Arc::new(DrawnPlate { revision, is_usual, setup, over }));
    }

    /// The plate as it is drawn alone; none while the whole instrument is.
    #[must_use]
    pub fn shown_alone(&self) -> Option<&Tracer> {
        let setup = self.drawn.as_ref()?.setup.as_ref().ok()?;
        self.alone.then_some(&setup.tracer)
    }

    /// Lays a recorded tracing under, or takes it away.
    pub fn lay_under(&mut self, under: Option<Arc<Under>>) {
        self.under = under;
        self.drawn = None;
    }
}

impl DrawnPlate {
    /// Where the stylus stands on the plate in an excursion, the bearing guiding; none for an opening, in which it
    /// leaves the plate.
    #[must_use]
    pub fn stylus(&self, scene: &Scene, movement: Movement, placement: &Placement) -> Option<PlatePoint> {
        let setup = self.setup.as_ref().ok()?;
        if movement == Movement::Opening {
            return None;
        }
        let plane = scene.occlusal_plane;
        stylus_at(&scene.instrument, plane, &setup.tracer, movement, placement.station).ok()
    }

    /// The angle of the arch between the straight lines from the apex to the holes of the lateral legs.
    #[must_use]
    pub fn apex_angle(&self) -> Option<Angle> {
        let setup = self.setup.as_ref().ok()?;
        let bearing = |leg: Leg| {
            let hole = setup.leg(leg).hole;
            (hole.left.mm() * leg.side_of_plate()).atan2(-hole.forward.mm())
        };
        Some(Angle::from_radians(Leg::LATERAL.into_iter().map(bearing).sum()))
    }
}

/// The leg that is drawn in an excursion; none where it is none of the three.
#[must_use]
pub const fn leg_of(movement: Movement) -> Option<Leg> {
    match movement {
        Movement::Protrusive => Some(Leg::Protrusive),
        Movement::Lateral { working: Side::Right } => Some(Leg::RightLateral),
        Movement::Lateral { working: Side::Left } => Some(Leg::LeftLateral),
        Movement::Lateroprotrusive { .. } | Movement::Opening => None,
    }
}
