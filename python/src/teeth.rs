//! What is asked of a scene's teeth: plans and contacts.

use std::sync::Arc;

use pyo3::exceptions::PyUserWarning;
use pyo3::prelude::*;
use report::contacts::{Bench, ContactsReport, Judged, films, places};
use report::objects;
use report::planned::Planned;
use sim_core::cast::{Casts, Film, TooIntricate};
use sim_core::occlusion::{IntendedScheme, InterferenceSearch, Stretch};
use sim_core::plan::Plan;
use sim_core::scene::Scene;
use sim_core::units::Length;

use crate::dict;
use crate::error::refusal;
use crate::watch::{Takes, fault, watched};

/// Advances over which guidance can be told, in millimetres: from where it is begun to be told, to where no joint goes.
const ADVANCES_MM: std::ops::RangeInclusive<f64> = 1.0..=15.0;

/// A scene's plan worked out, or another one.
pub(crate) fn planned(
    py: Python<'_>,
    scene: &Arc<Scene>,
    wanted: Option<&Bound<'_, PyAny>>,
) -> PyResult<Planned> {
    let plan: Plan = match wanted {
        Some(wanted) => dict::read(wanted, "plan")?,
        None => scene.plan.clone().unwrap_or_default(),
    };
    let scene = Arc::clone(scene);
    watched(py, Takes::Long, move |_| Planned::of(&scene, &plan))?.map_err(refusal)
}

/// What is asked about contacts.
pub(crate) struct Asked {
    pub(crate) excursion: Option<String>,
    pub(crate) at: Option<f64>,
    pub(crate) films_um: Option<Vec<f64>>,
    pub(crate) intended: Option<String>,
    pub(crate) to_mm: Option<f64>,
}

/// What teeth touch, what guides, what is in the way.
pub(crate) fn contacts<'py>(
    py: Python<'py>,
    scene: &Arc<Scene>,
    casts: Option<&Arc<Casts>>,
    asked: Asked,
) -> PyResult<Bound<'py, PyAny>> {
    let casts = casts.cloned().ok_or_else(|| {
        refusal("the scene has no casts; contacts are those of casts, as in a scene with `casts` or `invented_casts`")
    })?;
    let films =
        films(asked.films_um.as_deref()).map_err(|error| refusal(format_args!("films_um: {error}")))?;
    let intended = asked.intended.as_deref().map(scheme).transpose()?;
    let to = asked.to_mm.unwrap_or(Stretch::default().to.mm());
    if !ADVANCES_MM.contains(&to) {
        let (least, most) = (ADVANCES_MM.start(), ADVANCES_MM.end());
        return Err(refusal(format_args!("to_mm is {to}; allowed are {least} to {most} mm")));
    }
    if asked.at.is_some() && asked.excursion.is_none() {
        return Err(refusal("at says where in an excursion; name it by excursion="));
    }
    let scene = Arc::clone(scene);
    let made = watched(py, Takes::Long, move |_| {
        let (places, excursions) =
            places(&scene, asked.excursion.as_deref(), asked.at).map_err(|error| error.to_string())?;
        let judged = Judged::by(intended, &scene);
        let (report, stops) =
            report(&scene, &casts, (&places, &excursions), films, (judged, Length::from_mm(to)))
                .map_err(|error| error.to_string())?;
        Ok::<_, String>((objects::contacts(&report), stops))
    })?;
    let (object, stops) = made.map_err(refusal)?;
    for stop in stops {
        let stop = std::ffi::CString::new(stop).map_err(|_| fault())?;
        PyErr::warn(py, &py.get_type::<PyUserWarning>(), &stop, 1)?;
    }
    dict::report(py, &object)
}

/// The report, and where an excursion could not be followed.
fn report(
    scene: &sim_core::scene::Scene,
    casts: &Arc<Casts>,
    (places, excursions): (&[report::contacts::Place], &[sim_core::excursion::Excursion]),
    films: Vec<Film>,
    (judged, to): (Judged, Length),
) -> Result<(ContactsReport, Vec<String>), TooIntricate> {
    let mut bench = Bench::new(scene, casts, excursions);
    let poses: Vec<_> =
        places.iter().filter_map(|place| bench.pose(*place, &films).transpose()).collect::<Result<_, _>>()?;
    let stretch = Stretch { to, intended: judged.scheme.intended(), ..Stretch::default() };
    let search =
        InterferenceSearch { intended: judged.scheme.intended(), to, ..InterferenceSearch::default() };
    let guidance = bench.guidance(&stretch);
    let in_the_way = bench.in_the_way(&search);
    let missing = bench.missing(judged, &stretch);
    let stops = bench.stops().iter().map(ToString::to_string).collect();
    let title = scene.title.clone();
    let against = None;
    let report = ContactsReport {
        title,
        films,
        poses,
        stretch,
        guidance,
        judged,
        search,
        in_the_way,
        missing,
        against,
    };
    Ok((report, stops))
}

/// What the teeth are meant to do, by its name with or without hyphens.
fn scheme(name: &str) -> PyResult<IntendedScheme> {
    let plain = |name: &str| name.replace([' ', '_'], "-");
    IntendedScheme::ALL.into_iter().find(|scheme| plain(scheme.name()) == plain(name)).ok_or_else(|| {
        let known = IntendedScheme::ALL.map(|scheme| plain(scheme.name())).join(", ");
        refusal(format_args!("intended is \"{name}\"; allowed are {known}"))
    })
}
