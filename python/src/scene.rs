//! Scenes: read, changed, set in motion.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use files::address::{Address, Opens, PageAddress, reference};
use files::link::{Sent, Shown};
use pyo3::exceptions::PyTypeError;
use pyo3::prelude::*;
use pyo3::types::{PyMapping, PyString, PyTuple};
use sim_core::cast::Casts;
use sim_core::excursion::Drive;
use sim_core::setting::{Change, SettingName};
use sim_core::units::Length;
use words::quoted;

use crate::dict;
use crate::error::{of_casts, of_text, refusal};
use crate::excursion::Solved;
use crate::teeth::{Asked, contacts, planned};
use crate::watch::{Takes, watched};

/// An instrument with the cusps that are watched. Never changed, and may be used by any number of threads; equal to
/// another of the same settings and casts.
#[pyclass(frozen, module = "eminentia")]
pub(crate) struct Scene {
    pub(crate) scene: Arc<sim_core::scene::Scene>,
    pub(crate) casts: Option<Arc<Casts>>,
    notes: Vec<String>,
    /// From which files of casts are looked for.
    folder: PathBuf,
}

impl Scene {
    /// With the casts that the scene names.
    pub(crate) fn with_casts(mut scene: sim_core::scene::Scene, folder: &Path) -> PyResult<Self> {
        let mounted = files::of_scene(&mut scene, folder).map_err(|error| of_casts(&error))?;
        let (casts, notes) = mounted.map_or((None, Vec::new()), |pair| (Some(pair.casts), pair.notes));
        Ok(Self { scene: Arc::new(scene), casts, notes, folder: folder.to_owned() })
    }

    /// Names of the cusps.
    pub(crate) fn labels(&self) -> Vec<String> {
        self.scene.cusps.iter().map(sim_core::cusp::Cusp::label).collect()
    }

    /// Where casts that are files are looked for, whatever the working folder is.
    fn absolute_folder(&self) -> Option<PathBuf> {
        self.scene.casts.as_ref()?;
        let folder = if self.folder.as_os_str().is_empty() { Path::new(".") } else { &self.folder };
        Some(std::path::absolute(folder).unwrap_or_else(|_| folder.to_owned()))
    }
}

/// A setting's new value in words, as a change has it.
fn in_words(name: &str, value: &Bound<'_, PyAny>) -> PyResult<String> {
    if let Ok(word) = value.cast::<PyString>() {
        return word.extract();
    }
    match value.extract::<f64>() {
        // In the fewest digits that give the same number back.
        Ok(number) => Ok(format!("{number:?}")),
        Err(_) => {
            let what = value.repr()?;
            Err(PyTypeError::new_err(format!(
                "{name} is {what}; a setting takes one number, or the word of a choice (eminentia.sweep takes arrays)"
            )))
        }
    }
}

#[pymethods]
impl Scene {
    /// Reads a scene file (RON) and the casts that it names.
    ///
    /// Raises :class:`FileNotFoundError` for a file that is not there, and :class:`Error` with file, line, column and
    /// field, saying what was given and what is allowed.
    #[staticmethod]
    fn load(py: Python<'_>, path: PathBuf) -> PyResult<Self> {
        py.detach(|| {
            let source = files::Source::File(path);
            Self::with_casts(source.read().map_err(of_text)?, source.folder())
        })
    }

    /// As :meth:`load`, of a text; casts are looked for from ``folder``.
    #[staticmethod]
    #[pyo3(signature = (text, *, folder = PathBuf::new()))]
    fn from_text(py: Python<'_>, text: &str, folder: PathBuf) -> PyResult<Self> {
        py.detach(|| Self::with_casts(files::from_text(text, "scene").map_err(of_text)?, &folder))
    }

    /// As :meth:`load`, of a mapping with the fields of a scene file. Variants are words or mappings of one word, as in
    /// ``{"Table": {"sagittal_inclination_deg": 20, …}}``; arrays are taken for lists.
    ///
    /// Raises :class:`Error` with the field, and :class:`TypeError` for what is no mapping.
    #[staticmethod]
    #[pyo3(signature = (fields, *, folder = PathBuf::new()))]
    fn from_dict(py: Python<'_>, fields: &Bound<'_, PyAny>, folder: PathBuf) -> PyResult<Self> {
        let scene: sim_core::scene::Scene = dict::read(fields, "scene")?;
        scene.check().map_err(refusal)?;
        py.detach(|| Self::with_casts(scene, &folder))
    }

    /// The teaching scene that is compiled in (invented).
    #[staticmethod]
    fn thirty_degree() -> Self {
        let scene = Arc::new(sim_core::scene::Scene::thirty_degree());
        Self { scene, casts: None, notes: Vec::new(), folder: PathBuf::new() }
    }

    /// The scene that the link of an address carries, as :meth:`link` or the viewer makes it. A second set-up beside
    /// it, and what was shown, are left out.
    ///
    /// Raises :class:`Error` for an address that carries none, and for a link that was cut off or changed.
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

    /// What the scene is called.
    #[getter]
    fn title(&self) -> &str {
        &self.scene.title
    }

    /// Tooth (ISO 3950) and name of each cusp, as in ``36.mesiobuccal``, in the order of the arrays' columns.
    #[getter]
    fn cusps(&self) -> Vec<String> {
        self.labels()
    }

    /// What reading the casts had to mend or assume.
    #[getter]
    fn notes(&self) -> Vec<String> {
        self.notes.clone()
    }

    /// The scene as the text of a file (RON).
    fn to_text(&self) -> String {
        self.scene.to_ron()
    }

    /// The scene as a dictionary that :meth:`from_dict` reads back.
    fn to_dict<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        dict::written(py, &*self.scene)
    }

    /// The address at which the viewer's page opens this scene; without ``page``, what goes behind the page's own.
    /// ``at`` is how far along the excursion, in the unit of what drives it (mm, or degrees of an opening);
    /// ``beside`` is laid beside it as B; ``only_picture`` shows the picture with few controls.
    ///
    /// Raises :class:`Error` for a page that is no ``https://`` or ``http://``, an excursion that the scene has not,
    /// and a scene whose casts are files: those do not travel.
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
            beside: beside.map(|other| (*other.scene).clone()),
            ..Sent::from((*self.scene).clone())
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

    /// A setting's number in its own unit; none where the scene has no such thing, or where both sides or several cusps
    /// are named and differ.
    ///
    /// Raises :class:`Error` for a name that is none, with those near it.
    fn setting(&self, name: &str) -> PyResult<Option<f64>> {
        let name: SettingName = name.parse().map_err(refusal)?;
        Ok(name.find_in(&self.scene).map_err(refusal)?.get(&self.scene))
    }

    /// The same scene with some settings changed: numbers in the settings' own units, or the word of a choice, as in
    /// ``{"left_guide.horizontal_inclination_deg": 40.0, "design": "NonArcon"}``.
    ///
    /// Raises :class:`Error` for a name that is none, a number out of range, a change without effect, or settings that
    /// do not go together, and :class:`TypeError` for what is neither a number nor a word.
    fn changed(&self, py: Python<'_>, changes: &Bound<'_, PyMapping>) -> PyResult<Self> {
        let mut scene = (*self.scene).clone();
        // By name, so that what is changed does not depend on the order in which it is given.
        let mut written = Vec::new();
        for item in changes.items()?.iter() {
            let (name, value): (String, Bound<'_, PyAny>) = item.extract()?;
            let value = in_words(&name, &value)?;
            written.push((name, value));
        }
        written.sort();
        for (name, value) in written {
            let change: Change = format!("{name}={value}").parse().map_err(refusal)?;
            if let Some(why) = change.idle_because(&scene) {
                return Err(refusal(words::verdict::idle::change(&change, why)));
            }
            change.make(&mut scene).map_err(refusal)?;
        }
        scene.check().map_err(refusal)?;
        py.detach(|| Self::with_casts(scene, &self.folder))
    }

    /// Solves every excursion of the scene, from rest on: at as many poses as the scene has samples, or at these
    /// condylar advances in millimetres, in rising order, from 0.001 to 30 or 0, which is behind an immediate
    /// translation where there is one. An opening has no advance and keeps the scene's poses.
    ///
    /// Raises :class:`Error` for advances out of order or range. Settings that admit no pose do not raise: the arrays
    /// end before it, and ``stopped`` says why.
    #[pyo3(signature = (*, advances_mm = None))]
    fn excursions<'py>(
        &self,
        py: Python<'py>,
        advances_mm: Option<Vec<f64>>,
    ) -> PyResult<Vec<Bound<'py, PyAny>>> {
        let advances = advances_mm.map(checked).transpose()?;
        let (scene, casts) = (Arc::clone(&self.scene), self.casts.clone());
        let takes = if casts.is_some() { Takes::Long } else { Takes::NoTime };
        let solved = watched(py, takes, move |stop| {
            let mut mechanism = scene.mechanism();
            if let Some(casts) = casts {
                mechanism = mechanism.with_casts(casts);
            }
            let excursions = scene.excursions.iter();
            let solved = excursions
                .map(|excursion| Solved::of(&scene, &mechanism, excursion, advances.as_deref(), stop));
            solved.collect::<Vec<_>>()
        })?;
        solved.into_iter().map(|solved| solved.into_arrays(py)).collect()
    }

    /// Which inclines, factors or guidance give the occlusion that is wanted: the object that ``eminentia plan --format
    /// json`` writes. ``wanted`` is the field ``plan`` of a scene file as a mapping; without it the scene's own is taken.
    /// Angles in degrees, lengths in mm.
    ///
    /// Raises :class:`Error` for a plan that cannot be worked out. A goal that cannot be reached does not raise: its
    /// ``reached`` is false, and what is told is the nearest.
    #[pyo3(signature = (wanted = None))]
    fn plan<'py>(&self, py: Python<'py>, wanted: Option<&Bound<'_, PyAny>>) -> PyResult<Bound<'py, PyAny>> {
        dict::report(py, &report::objects::plan(&planned(py, &self.scene, wanted)?))
    }

    /// The scene as :meth:`plan` plans it; where the goal cannot be reached, the nearest.
    ///
    /// Raises :class:`Error` for a plan that cannot be worked out.
    #[pyo3(signature = (wanted = None))]
    fn planned(&self, py: Python<'_>, wanted: Option<&Bound<'_, PyAny>>) -> PyResult<Self> {
        let planned = planned(py, &self.scene, wanted)?;
        py.detach(|| Self::with_casts(planned.planned_scene(), &self.folder))
    }

    /// What teeth touch, what guides and what is in the way, of a scene with casts: the object that ``eminentia contacts
    /// --format json`` writes. ``excursion`` and ``at`` (mm of condylar advance, degrees of an opening) say where marks are
    /// read, without them centric and the end of each excursion; ``films_um`` are thicknesses of articulating film in
    /// micrometres; ``intended`` is ``canine-guided``, ``group-function`` or ``balanced``; ``to_mm`` is the advance, 1 to
    /// 15, up to which guidance and interferences are looked for.
    ///
    /// Raises :class:`Error` for a scene without casts and for what is out of range. Warns of an excursion that cannot be
    /// followed to its end.
    #[pyo3(signature = (*, excursion = None, at = None, films_um = None, intended = None, to_mm = None))]
    fn contacts<'py>(
        &self,
        py: Python<'py>,
        excursion: Option<String>,
        at: Option<f64>,
        films_um: Option<Vec<f64>>,
        intended: Option<String>,
        to_mm: Option<f64>,
    ) -> PyResult<Bound<'py, PyAny>> {
        contacts(py, &self.scene, self.casts.as_ref(), Asked { excursion, at, films_um, intended, to_mm })
    }

    fn __eq__(&self, other: &Self) -> bool {
        let same_casts = match (&self.casts, &other.casts) {
            (None, None) => true,
            // Those that are invented follow from the settings.
            (Some(one), Some(two)) => {
                Arc::ptr_eq(one, two) || self.absolute_folder() == other.absolute_folder()
            }
            _ => false,
        };
        same_casts && self.scene.to_ron() == other.scene.to_ron()
    }

    fn __hash__(&self, py: Python<'_>) -> PyResult<isize> {
        PyString::new(py, &self.scene.to_ron()).hash()
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
        let again = py.import("eminentia._again")?.getattr("scene")?;
        (again, (self.scene.to_ron(), self.absolute_folder())).into_pyobject(py)
    }

    fn __repr__(&self) -> String {
        format!("<Scene \"{}\", {} cusps>", quoted::value(&self.scene.title), self.scene.cusps.len())
    }
}

/// Advances that an excursion can be solved at, one after the other.
fn checked(advances_mm: Vec<f64>) -> PyResult<Vec<Length>> {
    if !advances_mm.is_sorted_by(|one, next| one < next) {
        return Err(refusal("advances_mm is to rise from one advance to the next"));
    }
    // At 0 the jaw is at rest.
    for advance in advances_mm.iter().filter(|advance| **advance != 0.0) {
        Drive::ADVANCE.check(*advance).map_err(refusal)?;
    }
    Ok(advances_mm.into_iter().map(Length::from_mm).collect())
}
