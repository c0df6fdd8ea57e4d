//! Scenes: read, changed, set in motion.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use files::address::{Address, Opens, PageAddress, reference};
use files::link::{Sent, Shown};
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

    /// The scene that the link of an address carries.
    #[staticmethod]
    fn from_link(py: Python<'_>, address: &str) -> PyResult<Self> {
        let Address { opens, notes, .. } = Address::read(address);
        match opens {
            Some(Opens::SetUp(sent)) => py.detach(|| Self::with_casts(sent.scene, Path::new(""))),
            _ => Err(notes.first().map_or_else(
                || refusal("the address carries no set-up; one that does has #set-up= in it"),
                refusal,
            )),
        }
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

    /// The address at which a page opens the scene, or what goes behind the page's own.
    #[pyo3(signature = (page = None, *, excursion = None, at = None, beside = None, only_picture = false))]
    fn link(
        &self,
        page: Option<&str>,
        excursion: Option<String>,
        at: Option<f64>,
        beside: Option<&Self>,
        only_picture: bool,
    ) -> PyResult<String> {
        let first = || self.scene.excursions.first().map(|first| first.movement().name().to_owned());
        let excursion = excursion.or_else(|| at.and_then(|_| first()));
        let sent = Sent {
            shown: excursion.map(|excursion| Shown { excursion, driven: at }),
            beside: beside.map(|other| other.scene.clone()),
            ..Sent::from(self.scene.clone())
        };
        let made = match page {
            Some(page) => {
                let page: PageAddress = page.parse().map_err(refusal)?;
                page.carrying(&sent, only_picture)
            }
            None => reference(&sent, only_picture),
        };
        made.map_err(refusal)
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
