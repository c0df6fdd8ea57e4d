//! A solved excursion as arrays.

use std::sync::atomic::{AtomicBool, Ordering};

use pyo3::prelude::*;
use pyo3::types::PyDict;
use sim_core::cusp::Gauges;
use sim_core::excursion::{CondyleReading, Drive, Mechanism, NoPose, Placement, Station};
use sim_core::scene::Scene;
use sim_core::units::Length;

use crate::made::{kept, made};

/// An excursion before Python has it; the numbers of a pose stand side by side.
pub(crate) struct Solved {
    name: &'static str,
    cusps: Vec<String>,
    advances: Vec<f64>,
    rotations: Vec<f64>,
    translations: Vec<f64>,
    incisal_points: Vec<f64>,
    openings: Vec<f64>,
    condyles: [Vec<f64>; 2],
    guided_by: Vec<&'static str>,
    separations: Vec<f64>,
    clearances: Vec<f64>,
    stopped: Option<String>,
}

impl Solved {
    /// At the scene's samples, or at these advances where the excursion is driven by one. It ends before its time
    /// once `stop` is true.
    pub(crate) fn of(
        scene: &Scene,
        mechanism: &Mechanism,
        excursion: &sim_core::excursion::Excursion,
        advances: Option<&[Length]>,
        stop: &AtomicBool,
    ) -> Self {
        let movement = excursion.movement();
        let gauges = Gauges::new(scene.occlusal_plane, &scene.cusps);
        let mut solved = Self::before(scene, movement.name());
        match (advances, excursion.drive()) {
            (Some(advances), Drive::Advance(_) | Drive::Tracing(_) | Drive::IncisalDisplacement(_)) => {
                let poses =
                    advances.iter().map(|advance| mechanism.at(movement, Station::advanced(*advance)));
                solved.take(poses, &gauges, stop);
            }
            _ => solved.take(mechanism.samples(excursion, scene.samples), &gauges, stop),
        }
        solved
    }

    fn before(scene: &Scene, name: &'static str) -> Self {
        Self {
            name,
            cusps: scene.cusps.iter().map(sim_core::cusp::Cusp::label).collect(),
            advances: Vec::new(),
            rotations: Vec::new(),
            translations: Vec::new(),
            incisal_points: Vec::new(),
            openings: Vec::new(),
            condyles: [Vec::new(), Vec::new()],
            guided_by: Vec::new(),
            separations: Vec::new(),
            clearances: Vec::new(),
            stopped: None,
        }
    }

    fn take(
        &mut self,
        poses: impl Iterator<Item = Result<Placement, NoPose>>,
        gauges: &Gauges,
        stop: &AtomicBool,
    ) {
        for sample in poses {
            if stop.load(Ordering::Relaxed) {
                return;
            }
            match sample {
                Ok(placed) => self.push(&placed, gauges),
                Err(no_pose) => {
                    self.stopped = Some(no_pose.to_string());
                    return;
                }
            }
        }
    }

    fn push(&mut self, placed: &Placement, gauges: &Gauges) {
        self.advances.push(placed.advance().mm());
        // nalgebra's matrices run column by column.
        self.rotations.extend(placed.jaw.rotation().transpose().iter());
        self.translations.extend(placed.jaw.translation().iter());
        self.incisal_points.extend(placed.incisal_point.coords().iter());
        self.openings.push(placed.opening().degrees());
        for (condyle, reading) in self.condyles.iter_mut().zip([&placed.right, &placed.left]) {
            let CondyleReading { advance, medial, drop } = reading;
            condyle.extend([advance, medial, drop].map(|length| length.mm()));
        }
        self.guided_by.push(placed.guidance.name());
        for reading in gauges.read(&placed.jaw) {
            self.separations.push(reading.separation.mm());
            self.clearances.push(reading.clearance.mm());
        }
    }

    /// As Python has it: arrays that take over the memory, and are never changed.
    pub(crate) fn into_arrays(self, py: Python<'_>) -> PyResult<Bound<'_, PyAny>> {
        let (poses, cusps) = (self.advances.len(), self.cusps.len());
        let [right, left] = self.condyles;
        let fields = PyDict::new(py);
        let set =
            |name: &str, numbers: Vec<f64>, shape: &[usize]| fields.set_item(name, kept(py, numbers, shape)?);
        set("advance_mm", self.advances, &[poses])?;
        set("rotation", self.rotations, &[poses, 3, 3])?;
        set("translation_mm", self.translations, &[poses, 3])?;
        set("incisal_point_mm", self.incisal_points, &[poses, 3])?;
        set("opening_deg", self.openings, &[poses])?;
        set("right_condyle_mm", right, &[poses, 3])?;
        set("left_condyle_mm", left, &[poses, 3])?;
        set("separation_mm", self.separations, &[poses, cusps])?;
        set("clearance_mm", self.clearances, &[poses, cusps])?;
        fields.set_item("name", self.name)?;
        fields.set_item("cusps", self.cusps)?;
        fields.set_item("guided_by", self.guided_by)?;
        fields.set_item("stopped", self.stopped)?;
        made(py, "Excursion", &fields)
    }
}
