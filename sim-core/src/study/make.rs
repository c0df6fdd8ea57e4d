//! What making a study ready takes: values looked up, settings found, ranges checked, columns named.

use super::checkpoint::{Checkpoint, SearchedExcursion, has_lateral};
use super::column::{Column, ColumnRole};
use super::constraint::{Constraint, Formula};
use super::error::StudyError;
use super::file::{Factor, Study};
use super::plan::{PlannedFactor, SamplingDesign};
use super::record::Measure;
use super::{Distribution, Published, Values};
use crate::scene::Scene;
use crate::setting::{KnownCusps, SettingName, SettingPlace};

/// Rows that are looked at for the first with a value out of range.
const LOOKED_AT: u64 = 10_000;

/// A setting that follows from a value before it in the row.
#[derive(Clone, Debug)]
pub(super) struct Derived {
    pub(super) from: usize,
    pub(super) formula: Formula,
    pub(super) place: SettingPlace,
    pub(super) name: SettingName,
}

/// Puts numbers where a factor names a column or a published range.
pub(super) fn resolve(
    factor: &mut Factor,
    column_of: &mut impl FnMut(&str, &str) -> Result<Vec<f64>, String>,
) -> Result<(), StudyError> {
    match &factor.values {
        Values::Column { file, column } => {
            let failed = |why: String| StudyError::Column {
                name: factor.setting.written().to_owned(),
                file: file.clone(),
                column: column.clone(),
                why,
            };
            let list = Values::List(column_of(file, column).map_err(failed)?);
            list.check().map_err(|error| failed(error.to_string()))?;
            factor.values = list;
        }
        Values::Published(name) => {
            if let Some(published) = Published::named(name) {
                factor.values = published.values();
            }
        }
        _ => {}
    }
    Ok(())
}

pub(super) fn planned(
    factor: &Factor,
    place: &SettingPlace,
    scene: &Scene,
) -> Result<PlannedFactor, StudyError> {
    let name = factor.setting.written().to_owned();
    let distribution =
        Distribution::of(&factor.values).ok_or_else(|| StudyError::NoValues { name: name.clone() })?;
    Ok(PlannedFactor { name, distribution, base: place.get(scene) })
}

/// The settings that follow, in the order of the constraints.
pub(super) fn derived(
    study: &Study,
    factors: &[&SettingName],
    scene: &Scene,
) -> Result<Vec<Derived>, StudyError> {
    let mut all: Vec<Derived> = Vec::new();
    for constraint in &study.constraints {
        let (name, of, formula) = match constraint {
            Constraint::Derived { setting, by } => (setting.clone(), by.of().clone(), by.formula()),
            Constraint::LeftEqualsRight(_) => match constraint.sides()? {
                Some((right, left)) => (left, right, Formula::SAME),
                None => continue,
            },
            Constraint::Correlated { .. } => continue,
        };
        let known: Vec<&SettingName> =
            factors.iter().copied().chain(all.iter().map(|own| &own.name)).collect();
        super::constraint::known(&of, &known)?;
        let from = known.iter().position(|own| **own == of).unwrap_or_default();
        let place = name.find_in(scene)?;
        all.push(Derived { from, formula, place, name });
    }
    Ok(all)
}

pub(super) fn set_once(
    names: &[&SettingName],
    places: &[SettingPlace],
    derived: &[Derived],
) -> Result<(), StudyError> {
    let all: Vec<(&SettingName, &SettingPlace)> = (names.iter().copied().zip(places))
        .chain(derived.iter().map(|derived| (&derived.name, &derived.place)))
        .collect();
    for (number, (second, place)) in all.iter().enumerate() {
        if let Some((first, _)) = all[..number].iter().find(|(_, other)| other.meets(place)) {
            let (first, second) = (first.written().to_owned(), second.written().to_owned());
            return Err(StudyError::SetTwice { first, second });
        }
    }
    Ok(())
}

/// That no factor can take a value out of its setting's range, but for the tails of a normal
/// distribution whose mean is in range: such rows are kept with their reason.
pub(super) fn check_ranges(study: &Study, design: &SamplingDesign) -> Result<(), StudyError> {
    let mut values = vec![0.0; study.factors.len()];
    for (place, (factor, planned)) in study.factors.iter().zip(design.factors()).enumerate() {
        let facts = factor.setting.facts();
        let (least, most) = match planned.distribution.ends() {
            (least, most) if least.is_finite() && most.is_finite() => (least, most),
            _ => (planned.distribution.quantile(0.5), planned.distribution.quantile(0.5)),
        };
        let Some(why) = [least, most].into_iter().find_map(|end| facts.check(end).err()) else { continue };
        let name = factor.setting.written().to_owned();
        for row in 0..design.rows().min(LOOKED_AT) {
            design.row(row, &mut values);
            if let Err(why) = facts.check(values[place]) {
                return Err(StudyError::OutOfRange { name, why: Box::new(why), row: Some(row) });
            }
        }
        return Err(StudyError::OutOfRange { name, why: Box::new(why), row: None });
    }
    Ok(())
}

/// The cusps recorded, by their places in the scene.
pub(super) fn watched(study: &Study, scene: &Scene) -> Result<Vec<usize>, StudyError> {
    let Some(labels) = &study.record.cusps else { return Ok((0..scene.cusps.len()).collect()) };
    let place = |label: &String| {
        scene.cusps.iter().position(|cusp| cusp.label() == *label).ok_or_else(|| StudyError::NoCuspRecorded {
            label: label.clone(),
            known: KnownCusps::of(&scene.cusps),
        })
    };
    labels.iter().map(place).collect()
}

pub(super) fn check_measures(study: &Study, scene: &Scene, watched: &[usize]) -> Result<(), StudyError> {
    let excursions = study.record.excursions.as_ref().unwrap_or(&scene.excursions);
    for measure in &study.record.measures {
        let why = match measure {
            measure if measure.is_at_cusps() && watched.is_empty() => "there is no cusp to read it at",
            Measure::BennettMovement if !has_lateral(excursions) => "there is no lateral excursion",
            _ => continue,
        };
        return Err(StudyError::Idle { measure: measure.name(), why });
    }
    Ok(())
}

pub(super) fn columns(
    study: &Study,
    derived: &[Derived],
    (checkpoints, searches): (&[Checkpoint], &[SearchedExcursion]),
    measures: &[Measure],
    cusps: &[String],
    has_arc: bool,
) -> Vec<Column> {
    let mut columns: Vec<Column> = (study.factors.iter())
        .map(|factor| Column::setting(&factor.setting, ColumnRole::Factor))
        .chain(derived.iter().map(|own| Column::setting(&own.name, ColumnRole::Derived)))
        .collect();
    for checkpoint in checkpoints {
        columns.extend(measures.iter().flat_map(|measure| checkpoint.columns(*measure, cusps)));
    }
    if measures.contains(&Measure::FirstInterference) {
        columns.extend(searches.iter().flat_map(SearchedExcursion::columns));
    }
    if has_arc {
        columns.push(Column::note());
    }
    columns.push(Column::reason());
    columns
}
