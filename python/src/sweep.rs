//! Settings varied together by arrays of values: the rows of a study whose values come from elsewhere.

use std::sync::Arc;

use pyo3::prelude::*;
use pyo3::types::{PyDict, PyList};

use numpy::PyReadonlyArray1;
use sim_core::excursion::{Drive, Excursion, Movement};
use sim_core::frame::Side;
use sim_core::setting::SettingName;
use sim_core::study::{
    BaseScene, Factor, Measure, Prepared, Recording, SamplingPlan, Study, Values, excursion_name,
};
use sim_core::units::Length;

use crate::error::refusal;
use crate::made::kept;
use crate::number::Whole;
use crate::scene::Scene;
use crate::swept::{Given, Layout, Swept, fill};
use crate::watch::{Takes, check_room, fault, watched};

/// What a sweep can measure. `Interference` is `Clearance` below zero.
const MEASURES: [Measure; 9] = [
    Measure::Pose,
    Measure::Separation,
    Measure::Clearance,
    Measure::Opening,
    Measure::IncisalPoint,
    Measure::CondylarAdvance,
    Measure::BennettMovement,
    Measure::Guidance,
    Measure::FirstInterference,
];

/// What is to be swept, as Python gives it.
#[derive(FromPyObject)]
#[pyo3(from_item_all)]
pub(crate) struct Wanted {
    names: Vec<String>,
    shape: Vec<usize>,
    advances_mm: Option<Vec<f64>>,
    excursions: Option<Vec<String>>,
    cusps: Option<Vec<String>>,
    measures: Vec<String>,
    threads: Whole,
    keep_out_of_range: bool,
}

/// Computes a pose for each setting, excursion and advance; :func:`eminentia.sweep` broadcasts the settings.
#[pyfunction]
pub(crate) fn sweep<'py>(
    py: Python<'py>,
    scene: PyRef<'_, Scene>,
    values: Vec<PyReadonlyArray1<'_, f64>>,
    wanted: Wanted,
) -> PyResult<Bound<'py, PyDict>> {
    let rows = wanted.shape.iter().try_fold(1_usize, |rows, axis| rows.checked_mul(*axis));
    let rows = rows.ok_or_else(|| refusal("the settings are more than can be counted"))?;
    let names: Vec<SettingName> =
        wanted.names.iter().map(|name| name.parse()).collect::<Result<_, _>>().map_err(refusal)?;
    let given = values.iter().map(|array| Ok(Given::of(array.as_slice().map_err(refusal)?.to_vec())));
    let given: Vec<Given> = given.collect::<PyResult<_>>()?;
    if !wanted.keep_out_of_range {
        check_ranges(&names, &given, &wanted.shape)?;
    }
    let excursions = excursions(&scene.scene, wanted.excursions.as_deref())?;
    let advances = advances(&scene.scene, &excursions, wanted.advances_mm)?;
    let study =
        study(&scene.scene, (&names, &given), &excursions, (&advances, wanted.cusps), &wanted.measures)?;
    let mut prepared = Prepared::new(&study, &scene.scene, |_, _| Err(String::new())).map_err(refusal)?;
    if let Some(casts) = &scene.casts {
        prepared = prepared.with_casts(Arc::clone(casts));
    }
    let cusps = study.record.cusps.clone().unwrap_or_else(|| scene.labels());
    let layout = Layout::of(&prepared, (&excursions, &advances), &cusps);
    check_room(layout.numbers(rows), "sweep fewer settings, or fewer measures")?;
    let notes: Vec<String> = prepared.warnings().iter().map(words::verdict::study::warning).collect();

    let threads = wanted.threads.count("threads")?;
    let takes = Takes::rows(rows as u64, scene.casts.is_some());
    let has_casts = scene.casts.is_some();
    let swept =
        watched(py, takes, move |stop| fill(&prepared, layout, &given, (rows, has_casts), threads, stop))?;
    let swept = swept.map_err(refusal)?.ok_or_else(fault)?;

    let told = PyDict::new(py);
    told.set_item("excursions", excursions.iter().map(|one| excursion_name(*one)).collect::<Vec<_>>())?;
    told.set_item("advances_mm", kept(py, advances.clone(), &[advances.len()])?)?;
    told.set_item("cusps", cusps)?;
    told.set_item("notes", notes)?;
    told.set_item("units", names.iter().map(|name| name.facts().unit.words()).collect::<Vec<_>>())?;
    told.set_item("labels", names.iter().map(|name| name.facts().label).collect::<Vec<_>>())?;
    put(py, &told, swept, &wanted.shape)?;
    Ok(told)
}

/// Puts what was computed among what is told.
fn put(py: Python<'_>, told: &Bound<'_, PyDict>, swept: Swept, shape: &[usize]) -> PyResult<()> {
    let whole = |tail: &[usize]| [shape, tail].concat();
    let numbers = PyDict::new(py);
    for (output, array) in swept.layout.outputs.iter().zip(swept.numbers) {
        numbers.set_item(output.name, kept(py, array, &whole(&output.tail))?)?;
    }
    told.set_item("numbers", numbers)?;
    let codes = PyDict::new(py);
    for (output, array) in swept.layout.texts.iter().zip(swept.codes) {
        codes.set_item(output.name, kept(py, array, &whole(&output.tail))?)?;
    }
    told.set_item("codes", codes)?;
    told.set_item("words", swept.words)?;
    let (rows, reasons): (Vec<u64>, Vec<String>) = swept.reasons.into_iter().unzip();
    told.set_item("reason_rows", kept(py, rows.clone(), &[rows.len()])?)?;
    told.set_item("reasons", PyList::new(py, reasons)?)
}

/// Refuses a value out of its setting's range, with its place.
fn check_ranges(names: &[SettingName], given: &[Given], shape: &[usize]) -> PyResult<()> {
    for (name, given) in names.iter().zip(given) {
        let facts = name.facts();
        let mut wrong = given
            .values()
            .iter()
            .enumerate()
            .filter_map(|(row, value)| Some((row, facts.check(*value).err()?)));
        let Some((row, out)) = wrong.next() else { continue };
        let place = match given {
            Given::One(_) => String::new(),
            Given::Each(_) => {
                let others = wrong.count();
                let others = if others == 0 { String::new() } else { format!(", and {others} more") };
                format!(", at {}{others}", place(row, shape))
            }
        };
        let name = if name.written() == facts.key { String::new() } else { format!("{name}: ") };
        return Err(refusal(format_args!(
            "{name}{out}{place}; keep_out_of_range=True gives no numbers there, and the reason"
        )));
    }
    Ok(())
}

/// A row's place in an array of that shape, as Python writes it.
fn place(row: usize, shape: &[usize]) -> String {
    let mut rest = row;
    let mut indices: Vec<String> = shape
        .iter()
        .rev()
        .map(|axis| {
            let index = rest % axis.max(&1);
            rest /= axis.max(&1);
            index.to_string()
        })
        .collect();
    indices.reverse();
    format!("[{}]", indices.join(", "))
}

/// The excursions by their names; those of the scene that have an advance, where none is named.
fn excursions(scene: &sim_core::scene::Scene, named: Option<&[String]>) -> PyResult<Vec<Movement>> {
    let mut known: Vec<Movement> = Vec::new();
    for excursion in &scene.excursions {
        let movement = excursion.movement();
        if movement != Movement::Opening && !known.contains(&movement) {
            known.push(movement);
        }
    }
    let Some(named) = named else { return Ok(known) };
    let everywhere = [
        Movement::Protrusive,
        Movement::Lateral { working: Side::Right },
        Movement::Lateral { working: Side::Left },
    ];
    known.extend(everywhere.into_iter().filter(|movement| !known.contains(movement)).collect::<Vec<_>>());
    let find = |name: &String| {
        let mut alike = known.iter().filter(|one| one.name() == name);
        let found = known.iter().find(|one| excursion_name(**one) == *name);
        match (found, alike.next(), alike.next()) {
            (Some(found), _, _) | (None, Some(found), None) => Ok(*found),
            _ if name == Movement::Opening.name() => {
                Err(refusal("an opening has no condylar advance to be swept at; Scene.excursions() gives it"))
            }
            _ => {
                let names: Vec<String> = known.iter().map(|one| excursion_name(*one)).collect();
                Err(refusal(format_args!("excursion \"{name}\": this scene has {}", names.join(", "))))
            }
        }
    };
    named.iter().map(find).collect()
}

/// The advances; where none are given the excursions' end, if it is one.
fn advances(
    scene: &sim_core::scene::Scene,
    excursions: &[Movement],
    given: Option<Vec<f64>>,
) -> PyResult<Vec<f64>> {
    if let Some(given) = given {
        if given.is_empty() {
            return Err(refusal("advances_mm is empty; give one or more condylar advances in millimetres"));
        }
        return Ok(given);
    }
    let of_scene = scene.excursions.iter().filter(|one| excursions.contains(&one.movement()));
    let ends: Vec<Drive> = of_scene.map(Excursion::drive).collect();
    match ends[..] {
        [Drive::Advance(end), ..] if ends.iter().all(|other| *other == Drive::Advance(end)) => {
            Ok(vec![end.mm()])
        }
        _ => Err(refusal(
            "the scene's excursions do not end at one condylar advance; say at which to measure, as in \
             advances_mm=[3.0]",
        )),
    }
}

/// A study of one row that measures what is wanted, its values the first that are given.
fn study(
    scene: &sim_core::scene::Scene,
    (names, given): (&[SettingName], &[Given]),
    excursions: &[Movement],
    (advances, cusps): (&[f64], Option<Vec<String>>),
    measures: &[String],
) -> PyResult<Study> {
    if names.is_empty() {
        return Err(refusal("no setting is given to be varied; eminentia.settings() lists them"));
    }
    let factors = names.iter().zip(given).map(|(name, given)| {
        let facts = name.facts();
        let own = || name.find_in(scene).ok().and_then(|place| place.get(scene));
        let first = given.values().iter().copied().find(|value| facts.check(*value).is_ok());
        let first = first.or_else(own).unwrap_or(facts.min);
        Factor { setting: name.clone(), values: Values::List(vec![first]) }
    });
    let measure = |name: &String| {
        MEASURES.into_iter().find(|measure| measure.name() == name).ok_or_else(|| {
            let known = MEASURES.map(Measure::name).join(", ");
            refusal(format_args!("measure \"{name}\": a sweep measures {known}; a cusp interferes where its clearance is below 0"))
        })
    };
    let farthest = advances.iter().copied().fold(0.0, f64::max);
    // The scene's own goes on to its own end, up to which the first interference is looked for.
    let excursion =
        |movement: &Movement| match scene.excursions.iter().find(|own| own.movement() == *movement) {
            Some(own) => Ok(*own),
            None => Excursion::new(*movement, Drive::Advance(Length::from_mm(farthest))).map_err(refusal),
        };
    Ok(Study {
        title: scene.title.clone(),
        scene: BaseScene::Here(Box::new(scene.clone())),
        factors: factors.collect(),
        constraints: Vec::new(),
        plan: SamplingPlan::FullGrid,
        record: Recording {
            measures: measures.iter().map(measure).collect::<PyResult<_>>()?,
            advances_mm: advances.to_vec(),
            excursions: Some(excursions.iter().map(excursion).collect::<PyResult<_>>()?),
            cusps,
        },
    })
}
