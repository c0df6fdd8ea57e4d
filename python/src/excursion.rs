//! A solved excursion as arrays.

use numpy::ndarray::{Array2, Array3};
use numpy::{IntoPyArray, PyArray1, PyArray2, PyArray3};
use pyo3::prelude::*;
use sim_core::cusp::Gauges;
use sim_core::excursion::{CondyleReading, Mechanism};
use sim_core::scene::Scene;

use crate::error::refusal;

/// Poses of an excursion and what is read off them, one row a pose.
#[pyclass(frozen, module = "eminentia")]
pub(crate) struct Excursion {
    #[pyo3(get)]
    name: &'static str,
    #[pyo3(get)]
    cusps: Vec<String>,
    #[pyo3(get)]
    advance_mm: Py<PyArray1<f64>>,
    #[pyo3(get)]
    rotation: Py<PyArray3<f64>>,
    #[pyo3(get)]
    translation_mm: Py<PyArray2<f64>>,
    #[pyo3(get)]
    incisal_point_mm: Py<PyArray2<f64>>,
    #[pyo3(get)]
    opening_deg: Py<PyArray1<f64>>,
    #[pyo3(get)]
    right_condyle_mm: Py<PyArray2<f64>>,
    #[pyo3(get)]
    left_condyle_mm: Py<PyArray2<f64>>,
    #[pyo3(get)]
    guided_by: Vec<&'static str>,
    #[pyo3(get)]
    separation_mm: Py<PyArray2<f64>>,
    #[pyo3(get)]
    clearance_mm: Py<PyArray2<f64>>,
    #[pyo3(get)]
    stopped: Option<String>,
}

#[pymethods]
impl Excursion {
    fn __len__(&self) -> usize {
        self.guided_by.len()
    }

    fn __repr__(&self) -> String {
        format!("<Excursion {}, {} poses>", self.name, self.guided_by.len())
    }
}

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
    pub(crate) fn of(
        scene: &Scene,
        mechanism: &Mechanism,
        excursion: &sim_core::excursion::Excursion,
    ) -> Self {
        let gauges = Gauges::new(scene.occlusal_plane, &scene.cusps);
        let mut solved = Self {
            name: excursion.movement().name(),
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
        };
        for sample in mechanism.samples(excursion, scene.samples) {
            let placed = match sample {
                Ok(placed) => placed,
                Err(no_pose) => {
                    solved.stopped = Some(no_pose.to_string());
                    break;
                }
            };
            solved.advances.push(placed.advance().mm());
            // nalgebra's matrices run column by column.
            solved.rotations.extend(placed.jaw.rotation().transpose().iter());
            solved.translations.extend(placed.jaw.translation().iter());
            solved.incisal_points.extend(placed.incisal_point.coords().iter());
            solved.openings.push(placed.opening().degrees());
            for (condyle, reading) in solved.condyles.iter_mut().zip([&placed.right, &placed.left]) {
                let CondyleReading { advance, medial, drop } = reading;
                condyle.extend([advance, medial, drop].map(|length| length.mm()));
            }
            solved.guided_by.push(placed.guidance.name());
            for reading in gauges.read(&placed.jaw) {
                solved.separations.push(reading.separation.mm());
                solved.clearances.push(reading.clearance.mm());
            }
        }
        solved
    }

    /// NumPy's arrays, which take over the memory.
    pub(crate) fn into_arrays(self, py: Python<'_>) -> PyResult<Excursion> {
        let poses = self.advances.len();
        let rows = |numbers: Vec<f64>, columns: usize| -> PyResult<Py<PyArray2<f64>>> {
            let array = Array2::from_shape_vec((poses, columns), numbers).map_err(refusal)?;
            Ok(array.into_pyarray(py).unbind())
        };
        let cusps = self.cusps.len();
        let [right, left] = self.condyles;
        let rotations = Array3::from_shape_vec((poses, 3, 3), self.rotations).map_err(refusal)?;
        Ok(Excursion {
            name: self.name,
            cusps: self.cusps,
            advance_mm: self.advances.into_pyarray(py).unbind(),
            rotation: rotations.into_pyarray(py).unbind(),
            translation_mm: rows(self.translations, 3)?,
            incisal_point_mm: rows(self.incisal_points, 3)?,
            opening_deg: self.openings.into_pyarray(py).unbind(),
            right_condyle_mm: rows(right, 3)?,
            left_condyle_mm: rows(left, 3)?,
            guided_by: self.guided_by,
            separation_mm: rows(self.separations, cusps)?,
            clearance_mm: rows(self.clearances, cusps)?,
            stopped: self.stopped,
        })
    }
}
