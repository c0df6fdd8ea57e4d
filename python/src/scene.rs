//! Scenes: read, changed, set in motion.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use pyo3::prelude::*;
use sim_core::cast::Casts;
use sim_core::setting::{Change, SettingName};

use crate::error::refusal;
use crate::excursion::{Excursion, Solved};

/// A scene with its casts, never changed.
#[pyclass(frozen, module = "eminentia")]
pub(crate) struct Scene {
    scene: sim_core::scene::Scene,
    casts: Option<Arc<Casts>>,
    notes: Vec<String>,
    /// From which files of casts are looked for.
    folder: PathBuf,
}

impl Scene {
    /// With the casts that the scene names.
    fn with_casts(mut scene: sim_core::scene::Scene, folder: &Path) -> PyResult<Self> {
        let mounted = files::of_scene(&mut scene, folder).map_err(refusal)?;
        let (casts, notes) = mounted.map_or((None, Vec::new()), |pair| (Some(pair.casts), pair.notes));
        Ok(Self { scene, casts, notes, folder: folder.to_owned() })
    }
}

/// A setting's new value: a number, or the word of a choice.
#[derive(FromPyObject)]
pub(crate) enum Value {
    Number(f64),
    Word(String),
}

#[pymethods]
impl Scene {
    #[staticmethod]
    fn load(py: Python<'_>, path: PathBuf) -> PyResult<Self> {
        py.detach(|| {
            let source = files::Source::File(path);
            Self::with_casts(source.read().map_err(refusal)?, source.folder())
        })
    }

    #[staticmethod]
    #[pyo3(signature = (text, *, folder = PathBuf::new()))]
    fn from_text(py: Python<'_>, text: &str, folder: PathBuf) -> PyResult<Self> {
        py.detach(|| Self::with_casts(files::from_text(text, "scene").map_err(refusal)?, &folder))
    }

    #[staticmethod]
    fn thirty_degree() -> Self {
        let scene = sim_core::scene::Scene::thirty_degree();
        Self { scene, casts: None, notes: Vec::new(), folder: PathBuf::new() }
    }

    #[getter]
    fn title(&self) -> &str {
        &self.scene.title
    }

    /// Names of the cusps, in the order of the arrays' columns.
    #[getter]
    fn cusps(&self) -> Vec<String> {
        self.scene.cusps.iter().map(sim_core::cusp::Cusp::label).collect()
    }

    /// What reading the casts had to mend or assume.
    #[getter]
    fn notes(&self) -> Vec<String> {
        self.notes.clone()
    }

    fn to_text(&self) -> String {
        self.scene.to_ron()
    }

    fn setting(&self, name: &str) -> PyResult<Option<f64>> {
        let name: SettingName = name.parse().map_err(refusal)?;
        Ok(name.find_in(&self.scene).map_err(refusal)?.get(&self.scene))
    }

    /// The same scene with some settings changed.
    fn changed(&self, py: Python<'_>, changes: BTreeMap<String, Value>) -> PyResult<Self> {
        let mut scene = self.scene.clone();
        for (name, value) in changes {
            let value = match value {
                // In the fewest digits that give the same number back.
                Value::Number(number) => format!("{number:?}"),
                Value::Word(word) => word,
            };
            let change: Change = format!("{name}={value}").parse().map_err(refusal)?;
            if let Some(why) = change.idle_because(&scene) {
                return Err(refusal(words::verdict::idle::change(&change, why)));
            }
            change.make(&mut scene).map_err(refusal)?;
        }
        scene.check().map_err(refusal)?;
        py.detach(|| Self::with_casts(scene, &self.folder))
    }

    /// Solves every excursion of the scene.
    fn excursions(&self, py: Python<'_>) -> PyResult<Vec<Excursion>> {
        let solved = py.detach(|| {
            let mut mechanism = self.scene.mechanism();
            if let Some(casts) = &self.casts {
                mechanism = mechanism.with_casts(Arc::clone(casts));
            }
            let excursions = self.scene.excursions.iter();
            excursions.map(|excursion| Solved::of(&self.scene, &mechanism, excursion)).collect::<Vec<_>>()
        });
        solved.into_iter().map(|solved| solved.into_arrays(py)).collect()
    }

    fn __repr__(&self) -> String {
        format!("<Scene \"{}\", {} cusps>", self.scene.title, self.scene.cusps.len())
    }
}
