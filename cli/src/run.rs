//! A scene under way: its excursions solved sample by sample, never held in memory.

use std::cell::{Cell, RefCell};

use sim_core::cusp::{Cusp, CuspReading, Gauges};
use sim_core::excursion::{Drive, Excursion, Mechanism, NoPose, Placement};
use sim_core::scene::Scene;

use crate::failure::{Failure, Stop};
use crate::progress::Progress;

/// A scene whose excursions are being made.
pub(crate) struct Run<'s> {
    scene: &'s Scene,
    mechanism: Mechanism,
    gauges: Gauges,
    progress: Progress,
    stops: RefCell<Vec<NoPose>>,
}

/// One excursion of a run.
pub(crate) struct Solving<'r> {
    run: &'r Run<'r>,
    excursion: &'r Excursion,
    number: usize,
    stopped: Cell<Option<NoPose>>,
}

impl<'s> Run<'s> {
    pub(crate) fn new(scene: &'s Scene, progress: Progress) -> Self {
        Self {
            scene,
            mechanism: Mechanism::new(&scene.instrument),
            gauges: Gauges::new(scene.occlusal_plane, &scene.cusps),
            progress,
            stops: RefCell::default(),
        }
    }

    pub(crate) fn scene(&self) -> &'s Scene {
        self.scene
    }

    /// The excursions in the scene's order.
    pub(crate) fn excursions(&self) -> impl Iterator<Item = Solving<'_>> {
        let solving = |(index, excursion)| Solving {
            run: self,
            excursion,
            number: index + 1,
            stopped: Cell::new(None),
        };
        self.scene.excursions.iter().enumerate().map(solving)
    }

    /// Fails if an excursion has stopped short; `name` is the scene's, for the message.
    pub(crate) fn finished(self, name: &str) -> Result<(), Failure> {
        let stop = |no_pose| Stop { scene: name.to_owned(), no_pose };
        let stops: Vec<Stop> = self.stops.into_inner().into_iter().map(stop).collect();
        if stops.is_empty() { Ok(()) } else { Err(Failure::Stopped(stops)) }
    }
}

impl Solving<'_> {
    pub(crate) fn excursion(&self) -> &Excursion {
        self.excursion
    }

    /// Its place among the scene's excursions, from 1.
    pub(crate) fn number(&self) -> usize {
        self.number
    }

    /// Solves the samples one after the other, up to where there is no pose. To be gone through
    /// once.
    pub(crate) fn samples(&self) -> impl Iterator<Item = Placement> {
        let samples = self.run.mechanism.samples(self.excursion, self.run.scene.samples);
        samples.map_while(|sample| match sample {
            Ok(placement) => {
                self.run.progress.tick();
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
    pub(crate) fn cusps(&self, placement: &Placement) -> impl Iterator<Item = (&Cusp, CuspReading)> {
        self.run.scene.cusps.iter().zip(self.run.gauges.read(&placement.jaw))
    }

    /// What stopped it short; known once [`Self::samples`] has been gone through.
    pub(crate) fn stopped(&self) -> Option<NoPose> {
        self.stopped.get()
    }

    /// How far along the excursion a pose is, in the unit that people count it in: degrees for an
    /// opening, else millimetres of condylar advance.
    pub(crate) fn along(&self, placement: &Placement) -> f64 {
        match self.excursion.drive() {
            Drive::Opening(_) => placement.opening().degrees(),
            Drive::Advance(_) | Drive::IncisalDisplacement(_) => placement.advance.in_mm(),
        }
    }
}
