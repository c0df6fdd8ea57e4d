//! What the settings do to the teeth: a table of cusps, and a figure.

use std::sync::Arc;

use sim_core::cast::Casts;
use sim_core::cusp::{Cusp, CuspReading};
use sim_core::scene::Scene;
use sim_core::units::Length;
use words::number::{is_below_zero, two_decimals};

use super::printable::{LONGEST_NAME, printable};
use crate::figures::{Column, Figure, disclusion_figure};
use crate::walk::SceneWalk;

/// Most cusps that fit on the page with everything else.
const MOST_CUSPS: usize = 8;

/// Under the disclusion.
pub(super) const NOTE: &str = "Millimetres as the instrument is set, at the end of each excursion. sep.: \
    separation along the normal of the occlusal plane, from the start of the excursion; clear.: separation less the rise of the opposing incline; \
    least: the least clearance on the way. Below zero (marked !) the cusp interferes.";

/// What the settings do to the teeth.
pub struct Disclusion {
    /// Name, and how far it goes.
    pub excursions: Vec<(String, String)>,
    /// A cusp, and three numbers for each excursion.
    pub rows: Vec<(String, Vec<[String; 3]>)>,
    /// What else is to be known, in sentences.
    pub notes: Vec<String>,
    /// The figure.
    pub figure: Figure,
}

/// Which cusps stand on the sheet: all, or those with the least clearance anywhere.
fn watched(scene: &Scene, least: &[f64]) -> Vec<usize> {
    let mut places: Vec<usize> = (0..scene.cusps.len()).collect();
    if places.len() > MOST_CUSPS {
        places.sort_by(|one, other| least[*one].total_cmp(&least[*other]));
        places.truncate(MOST_CUSPS);
        places.sort_unstable();
    }
    places
}

/// What the settings of a scene do to its cusps.
pub(super) fn of_scene(scene: &Scene, casts: Option<Arc<Casts>>) -> Disclusion {
    let run = SceneWalk::new(scene, casts);
    let mut excursions: Vec<(String, String)> = Vec::new();
    let mut gone: Vec<(Vec<f64>, Vec<Vec<CuspReading>>)> = Vec::new();
    let mut notes = Vec::new();
    for solving in run.excursions() {
        let mut along = Vec::new();
        let mut readings = Vec::new();
        for placement in solving.samples() {
            along.push(solving.along(&placement));
            readings.push(solving.cusps(&placement).map(|(_, reading)| reading).collect());
        }
        let name = words::name::movement(solving.excursion().movement()).to_owned();
        if let Some(no_pose) = solving.stopped() {
            notes.push(format!("Stopped short: {no_pose}."));
        }
        let reach =
            along.last().map_or("no pose".to_owned(), |end| format!("{} mm advance", two_decimals(*end)));
        excursions.push((name, reach));
        gone.push((along, readings));
    }
    let least_of = |readings: &[Vec<CuspReading>], cusp: usize| {
        readings.iter().map(|sample| sample[cusp].clearance.mm()).fold(f64::INFINITY, f64::min)
    };
    let least: Vec<f64> = (0..scene.cusps.len())
        .map(|cusp| gone.iter().map(|(_, readings)| least_of(readings, cusp)).fold(f64::INFINITY, f64::min))
        .collect();
    let places = watched(scene, &least);
    if places.len() < scene.cusps.len() {
        notes.push(format!("Of {} cusps, the {} of least clearance.", scene.cusps.len(), places.len()));
    }
    // An instrument opened at its pin has the opening in every separation.
    let from_start = |readings: &[Vec<CuspReading>], sample: &[CuspReading], place: usize| {
        let start = readings.first().map_or(Length::ZERO, |start| start[place].separation);
        (sample[place].separation - start).mm()
    };
    let marked = |mm: f64| {
        let mark = if is_below_zero(mm, 2) { "!" } else { "" };
        format!("{}{mark}", two_decimals(mm))
    };
    let row = |&place: &usize| {
        let cusp = &scene.cusps[place];
        let numbers = gone.iter().map(|(_, readings)| match readings.last() {
            Some(end) => [
                two_decimals(from_start(readings, end, place)),
                marked(end[place].clearance.mm()),
                marked(least_of(readings, place)),
            ],
            None => [(); 3].map(|()| "–".to_owned()),
        });
        (format!("{} {}", cusp.tooth(), printable(cusp.name(), LONGEST_NAME)), numbers.collect())
    };
    let columns: Vec<Column> = gone
        .iter()
        .zip(&excursions)
        .map(|((along, readings), (name, _))| {
            let lines = |read: &dyn Fn(&[CuspReading], usize) -> f64| {
                places
                    .iter()
                    .map(|place| readings.iter().map(|sample| read(sample, *place)).collect())
                    .collect()
            };
            Column {
                name: name.clone(),
                along: along.clone(),
                separation: lines(&|sample, place| from_start(readings, sample, place)),
                clearance: lines(&|sample, place| sample[place].clearance.mm()),
            }
        })
        .collect();
    let cusps: Vec<&Cusp> = places.iter().map(|place| &scene.cusps[*place]).collect();
    Disclusion {
        rows: places.iter().map(row).collect(),
        figure: disclusion_figure(&cusps, &columns),
        excursions,
        notes,
    }
}
