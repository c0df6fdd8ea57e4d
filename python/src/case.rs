//! Cases: a patient's records, and what follows from them.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use pyo3::prelude::*;
use pyo3::types::{PyString, PyTuple};
use report::bench_walk::BenchWalk;
use report::case::WorkedCase;
use report::objects;
use sim_core::bench::Trial;
use sim_core::doubt::{DRAWS, USUAL_DRAWS, Uncertainties};
use sim_core::facts::Facts;
use sim_core::guide::CondylarGuide;
use sim_core::units::{Angle, Length};
use words::quoted;

use crate::dict;
use crate::error::{of_text, refusal};
use crate::number::Whole;
use crate::scene::Scene;
use crate::watch::{Takes, watched};

/// A patient's records at the chair: what the settings of an instrument are found from. Never changed; equal to another
/// that says the same.
#[pyclass(frozen, module = "eminentia")]
pub(crate) struct Case {
    worked: Arc<WorkedCase>,
}

impl Case {
    fn of(case: sim_core::record::Case, name: &str, text: String) -> PyResult<Self> {
        let worked = WorkedCase::of(case, name.to_owned(), text);
        let worked = worked.map_err(|error| refusal(format_args!("{name}: field {error}")))?;
        Ok(Self { worked: Arc::new(worked) })
    }

    fn from_ron(text: String, name: &str) -> PyResult<Self> {
        Self::of(files::from_text(&text, name).map_err(of_text)?, name, text)
    }

    fn confirmed(&self) -> PyResult<()> {
        let name = &self.worked.case.title;
        if self.worked.is_refuted() {
            return Err(refusal(format_args!(
                "{name}: the centric record is not confirmed; no settings are given, take the record again"
            )));
        }
        Ok(())
    }
}

#[pymethods]
impl Case {
    /// Reads a case file (RON) and works it through.
    ///
    /// Raises :class:`FileNotFoundError` for a file that is not there, and :class:`Error` for what cannot be read and for
    /// records that give no settings.
    #[staticmethod]
    fn load(py: Python<'_>, path: PathBuf) -> PyResult<Self> {
        py.detach(|| {
            let source = files::Source::File(path);
            let text = source.text::<sim_core::record::Case>().map_err(of_text)?;
            Self::from_ron(text, &source.name())
        })
    }

    /// As :meth:`load`, of a text.
    #[staticmethod]
    fn from_text(py: Python<'_>, text: String) -> PyResult<Self> {
        py.detach(|| Self::from_ron(text, "case"))
    }

    /// As :meth:`load`, of a mapping with the fields of a case file. Variants are words or mappings of one word, as in
    /// ``{"FaceBow": {"right_axis_mm": [0, -55, 0], …}}``; arrays are taken for lists.
    ///
    /// Raises :class:`Error` with the field, and :class:`TypeError` for what is no mapping.
    #[staticmethod]
    fn from_dict(fields: &Bound<'_, PyAny>) -> PyResult<Self> {
        let case: sim_core::record::Case = dict::read(fields, "case")?;
        Self::from_ron(case.to_ron(), "case")
    }

    /// What the case is called.
    #[getter]
    fn title(&self) -> &str {
        &self.worked.case.title
    }

    /// Whether a repeat of the centric record speaks against it, so that no settings are given.
    #[getter]
    fn is_refuted(&self) -> bool {
        self.worked.is_refuted()
    }

    /// What to doubt, in words.
    #[getter]
    fn warnings(&self) -> Vec<String> {
        self.worked.warnings.clone()
    }

    /// The case as the text of a file (RON).
    fn to_text(&self) -> String {
        self.worked.case.to_ron()
    }

    /// The case as a dictionary that :meth:`from_dict` reads back.
    fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        dict::written(py, &self.worked.case)
    }

    /// The settings with their standard errors, the split-cast check and what each record says: the object that
    /// ``eminentia program --format json`` writes. Angles in degrees, lengths in mm. ``settings`` and ``scene`` are not
    /// there where the centric record is not confirmed.
    fn program<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        dict::report(py, &objects::program(&self.worked))
    }

    /// The programmed instrument.
    ///
    /// Raises :class:`Error` where the centric record is not confirmed.
    fn scene(&self, py: Python<'_>) -> PyResult<Scene> {
        self.confirmed()?;
        let scene = self.worked.scene.clone().ok_or_else(|| refusal("the records give no settings"))?;
        py.detach(|| Scene::with_casts(scene, Path::new("")))
    }

    /// The bench in the order of hands, with the guides at trial angles in degrees: the object that
    /// ``eminentia bench --format json`` writes. An angle that is not given stands as the example of a baseline has it.
    ///
    /// Raises :class:`Error` for an angle out of its setting's range.
    #[pyo3(signature = (*, right_deg = None, left_deg = None, right_lateral_deg = None, left_lateral_deg = None))]
    fn bench<'py>(
        &self,
        py: Python<'py>,
        right_deg: Option<f64>,
        left_deg: Option<f64>,
        right_lateral_deg: Option<f64>,
        left_lateral_deg: Option<f64>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let mut trial = Trial::example();
        let inclination: &'static Facts = &CondylarGuide::HORIZONTAL_INCLINATION.facts;
        let lateral: &'static Facts = &CondylarGuide::LATERAL_ANGLE.facts;
        for (name, given, facts, angle) in [
            ("right_deg", right_deg, inclination, &mut trial.inclination.right),
            ("left_deg", left_deg, inclination, &mut trial.inclination.left),
            ("right_lateral_deg", right_lateral_deg, lateral, &mut trial.lateral.right),
            ("left_lateral_deg", left_lateral_deg, lateral, &mut trial.lateral.left),
        ] {
            if let Some(given) = given {
                let checked = facts.check(given).map_err(|why| refusal(format_args!("{name}: {why}")))?;
                *angle = Angle::from_degrees(checked);
            }
        }
        dict::report(py, &objects::bench(&BenchWalk::of(&self.worked, trial)))
    }

    /// The case redrawn from its uncertainties: how far to trust each setting, and what that does to the teeth. The
    /// object that ``eminentia doubt --format json`` writes. Standard deviations are of each coordinate, in mm;
    /// ``scale_step_deg`` is the graduation of the instrument's scales; those that are not given are the usual ones. The
    /// same seed gives the same draws.
    ///
    /// Raises :class:`Error` where the centric record is not confirmed, for numbers out of range (2 to 100,000 draws),
    /// and where half the draws fail.
    #[pyo3(
        signature = (
            *, draws = Whole::new(USUAL_DRAWS as u64), seed = Whole::new(1), landmark_sd_mm = None, axis_sd_mm = None,
            reference_sd_mm = None, record_sd_mm = None, scale_step_deg = None
        ),
        text_signature = "($self, *, draws=2000, seed=1, landmark_sd_mm=None, axis_sd_mm=None, reference_sd_mm=None, record_sd_mm=None, scale_step_deg=None)"
    )]
    #[allow(clippy::too_many_arguments)] // keywords in Python
    fn doubt<'py>(
        &self,
        py: Python<'py>,
        draws: Whole,
        seed: Whole,
        landmark_sd_mm: Option<f64>,
        axis_sd_mm: Option<f64>,
        reference_sd_mm: Option<f64>,
        record_sd_mm: Option<f64>,
        scale_step_deg: Option<f64>,
    ) -> PyResult<Bound<'py, PyAny>> {
        self.confirmed()?;
        let draws = draws.within("draws", (*DRAWS.start()).into()..=(*DRAWS.end()).into())?;
        let draws = u32::try_from(draws).map_err(refusal)?;
        let seed = seed.within("seed", 0..=u64::MAX)?;
        let usual = Uncertainties::usual(&self.worked.case);
        let length = |given: Option<f64>, usual| given.map_or(usual, Length::from_mm);
        let uncertainties = Uncertainties {
            landmark_sd: length(landmark_sd_mm, usual.landmark_sd),
            readings: usual.readings,
            axis_sd: length(axis_sd_mm, usual.axis_sd),
            reference_sd: length(reference_sd_mm, usual.reference_sd),
            record_sd: length(record_sd_mm, usual.record_sd),
            scale_step: scale_step_deg.map_or(usual.scale_step, Angle::from_degrees),
        };
        let worked = Arc::clone(&self.worked);
        let doubt = watched(py, Takes::Long, move |_| {
            sim_core::doubt::redraw(&worked.case, &uncertainties, draws, seed)
        })?;
        dict::report(py, &objects::doubt(self.title(), &doubt.map_err(refusal)?, seed))
    }

    fn __eq__(&self, other: &Self) -> bool {
        self.to_text() == other.to_text()
    }

    fn __hash__(&self, py: Python<'_>) -> PyResult<isize> {
        PyString::new(py, &self.to_text()).hash()
    }

    fn __copy__(slf: Bound<'_, Self>) -> Bound<'_, Self> {
        slf
    }

    fn __deepcopy__<'py>(slf: Bound<'py, Self>, memo: &Bound<'py, PyAny>) -> Bound<'py, Self> {
        // Nothing in it changes.
        let _ = memo;
        slf
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyTuple>> {
        let again = py.get_type::<Self>().getattr("from_text")?;
        (again, (self.to_text(),)).into_pyobject(py)
    }

    fn __repr__(&self) -> String {
        format!("<Case \"{}\", {} records>", quoted::value(self.title()), self.worked.case.records.len())
    }
}
