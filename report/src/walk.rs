//! A scene under way: its excursions solved sample by sample, never held in memory.

use std::cell::{Cell, RefCell};
use std::sync::Arc;

use sim_core::cast::{Casts, LastPairs};
use sim_core::cusp::{Cusp, CuspReading, Gauges};
use sim_core::excursion::{Drive, Excursion, Mechanism, NoPose, Placement};
use sim_core::frame::OcclusalPlane;
use sim_core::scene::Scene;
use sim_core::units::Length;

/// A scene whose excursions are being made.
pub struct SceneWalk<'s> {
    scene: &'s Scene,
    mechanism: Mechanism,
    gauges: Gauges,
    casts: Option<Arc<Casts>>,
    /// Told of every sample.
    tick: Box<dyn Fn() + 's>,
    stops: RefCell<Vec<NoPose>>,
}

/// One excursion of a run.
pub struct ExcursionWalk<'r> {
    run: &'r SceneWalk<'r>,
    excursion: &'r Excursion,
    number: usize,
    stopped: Cell<Option<NoPose>>,
    warm: RefCell<LastPairs>,
}

/// How near the casts come in a pose.
#[derive(Clone, Copy)]
pub struct Closeness {
    /// Along the occlusal plane's normal; none where nothing is opposite.
    pub vertical_gap: Option<Length>,
    /// In any direction.
    pub distance: Length,
}

impl<'s> SceneWalk<'s> {
    /// A scene with its casts, where it has any.
    pub fn new(scene: &'s Scene, casts: Option<Arc<Casts>>) -> Self {
        let mechanism = scene.mechanism();
        Self {
            scene,
            mechanism: match &casts {
                Some(casts) => mechanism.with_casts(Arc::clone(casts)),
                None => mechanism,
            },
            gauges: Gauges::new(scene.occlusal_plane, &scene.cusps),
            casts,
            tick: Box::new(|| ()),
            stops: RefCell::default(),
        }
    }

    /// Has every sample told, for whoever watches how far it has come.
    #[must_use]
    pub fn watched(mut self, tick: impl Fn() + 's) -> Self {
        self.tick = Box::new(tick);
        self
    }

    /// The scene that is gone through.
    pub fn scene(&self) -> &'s Scene {
        self.scene
    }

    /// Whether the scene has casts.
    pub fn has_casts(&self) -> bool {
        self.casts.is_some()
    }

    /// The excursions in the scene's order.
    pub fn excursions(&self) -> impl Iterator<Item = ExcursionWalk<'_>> {
        let solving = |(index, excursion)| ExcursionWalk {
            run: self,
            excursion,
            number: index + 1,
            stopped: Cell::new(None),
            warm: RefCell::default(),
        };
        self.scene.excursions.iter().enumerate().map(solving)
    }

    /// What stopped excursions short; known once all have been gone through.
    pub fn stops(self) -> Vec<NoPose> {
        self.stops.into_inner()
    }
}

impl ExcursionWalk<'_> {
    /// The excursion.
    pub fn excursion(&self) -> &Excursion {
        self.excursion
    }

    /// The plane along which a tracing is measured.
    pub fn occlusal_plane(&self) -> OcclusalPlane {
        self.run.scene.occlusal_plane
    }

    /// Its place among the scene's excursions, from 1.
    pub fn number(&self) -> usize {
        self.number
    }

    /// Solves the samples one after the other, up to where there is no pose. To be gone through
    /// once.
    pub fn samples(&self) -> impl Iterator<Item = Placement> {
        let samples = self.run.mechanism.samples(self.excursion, self.run.scene.samples);
        samples.map_while(|sample| match sample {
            Ok(placement) => {
                (self.run.tick)();
                Some(placement)
            }
            Err(no_pose) => {
                self.stopped.set(Some(no_pose));
                self.run.stops.borrow_mut().push(no_pose);
                None
            }
        })
    }

    /// Each cusp with its reading in a pose.
    pub fn cusps(&self, placement: &Placement) -> impl Iterator<Item = (&Cusp, CuspReading)> {
        self.run.scene.cusps.iter().zip(self.run.gauges.read(&placement.jaw))
    }

    /// How near the casts come in a pose; none without casts.
    pub fn closeness(&self, placement: &Placement) -> Option<Closeness> {
        let run = self.run;
        let casts = run.casts.as_ref()?;
        let plane = run.scene.occlusal_plane;
        let (vertical, distance) = casts.measure_overall(&placement.jaw, plane, &mut self.warm.borrow_mut());
        Some(Closeness { vertical_gap: vertical.map(|nearest| nearest.gap), distance: distance.gap })
    }

    /// What stopped it short; known once [`Self::samples`] has been gone through.
    pub fn stopped(&self) -> Option<NoPose> {
        self.stopped.get()
    }

    /// How far along the excursion a pose is, in the unit that people count it in: degrees for an
    /// opening, else millimetres of condylar advance.
    pub fn along(&self, placement: &Placement) -> f64 {
        match self.excursion.drive() {
            Drive::Opening(_) => placement.opening().degrees(),
            Drive::Advance(_) | Drive::IncisalDisplacement(_) | Drive::Tracing(_) => placement.advance().mm(),
        }
    }
}
