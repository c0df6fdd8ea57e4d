//! Settings and numbers without a picture: where nothing draws, and for whoever reads by ear.

use serde::Serialize;
use sim_core::frame::Side;
use sim_core::setting::{self, Setting};
use viewer::action::Action;

use crate::answering;
use crate::app::App;

/// What the page shows.
#[derive(Debug, Serialize)]
struct Numbers<'a> {
    title: &'a str,
    excursions: Vec<&'static str>,
    excursion: usize,
    at: f64,
    end: f64,
    unit: &'static str,
    sample: usize,
    samples: usize,
    settings: Vec<Row>,
    cusps: Vec<Cusp>,
    notes: Vec<String>,
    caution: &'static str,
}

/// A setting; `name` is what a change of it is asked by.
#[derive(Debug, Serialize)]
struct Row {
    name: String,
    label: String,
    unit: &'static str,
    value: f64,
    low: f64,
    high: f64,
}

#[derive(Debug, Serialize)]
struct Cusp {
    name: String,
    separation_mm: String,
    clearance_mm: String,
    interferes: bool,
}

/// What is shown now, as JSON.
#[must_use]
pub fn now(app: &App) -> String {
    let state = &app.state;
    let (solved, sample) = (&state.shown.solved, state.sample());
    let cusps = state.shown.scene.cusps.iter().zip(&sample.readings);
    let notes = [&state.file_note, &state.note].into_iter().flatten();
    let numbers = Numbers {
        title: &state.scene.title,
        excursions: state.excursions.iter().map(|one| words::name::movement(one.movement())).collect(),
        excursion: state.excursion,
        at: sample.driven,
        end: solved.last().driven,
        unit: solved.driver().1,
        sample: state.at,
        samples: solved.samples().len(),
        settings: rows().filter_map(|(setting, side)| row(app, &setting, side)).collect(),
        cusps: cusps
            .map(|(cusp, reading)| Cusp {
                name: words::name::cusp(cusp),
                separation_mm: words::number::two_decimals(reading.separation.mm()),
                clearance_mm: words::number::two_decimals(reading.clearance.mm()),
                interferes: reading.interferes(),
            })
            .collect(),
        notes: notes.map(|note| format!("{}: {} {}", note.title, note.what, note.meanwhile)).collect(),
        caution: words::CAUTION,
    };
    serde_json::to_string(&numbers).unwrap_or_default()
}

/// Does what is asked: `excursion` with its place in the list, `sample` with its number, or a setting by its name
/// with a number.
///
/// # Errors
/// What is wrong with it, in words.
pub fn act(app: &mut App, what: &str, value: &str) -> Result<(), String> {
    let whole = || value.trim().parse::<usize>().map_err(|_| format!("{what}: a whole number is wanted"));
    match what {
        "excursion" => {
            let number = whole()?.min(app.state.excursions.len().saturating_sub(1));
            answering::act(app, Action::Excursion(number));
        }
        "sample" => {
            let number = whole()?.min(app.state.shown.solved.samples().len().saturating_sub(1));
            answering::act(app, Action::ScrubTo(number));
        }
        "undo" => answering::act(app, Action::Undo),
        _ => {
            let (setting, side) = rows()
                .find(|(setting, side)| name(setting, *side) == what)
                .ok_or_else(|| "there is no such setting".to_owned())?;
            let number = value.trim().parse::<f64>().ok().filter(|number| number.is_finite());
            let number = number.ok_or_else(|| format!("{}: a number is wanted", setting.facts().label))?;
            let facts = setting.facts();
            if !(facts.min..=facts.max).contains(&number) {
                return Err(format!("{}: {} to {} is possible", facts.label, facts.min, facts.max));
            }
            answering::act(app, Action::Set(setting, side, number));
        }
    }
    Ok(())
}

/// Each setting for each side that it has.
fn rows() -> impl Iterator<Item = (Setting, Side)> {
    setting::all().flat_map(|setting| {
        let sides: &[Side] = if setting.is_per_side() { &Side::BOTH } else { &[Side::Right] };
        sides.iter().map(move |side| (setting, *side))
    })
}

fn name(setting: &Setting, side: Side) -> String {
    if setting.is_per_side() { format!("{}.{side}", setting.key()) } else { setting.key() }
}

fn row(app: &App, setting: &Setting, side: Side) -> Option<Row> {
    let (value, facts) = (setting.get(&app.state.scene, side)?, setting.facts());
    let label =
        if setting.is_per_side() { format!("{}, {side}", facts.label) } else { facts.label.to_owned() };
    Some(Row {
        name: name(setting, side),
        label,
        unit: facts.unit.sign().trim(),
        value,
        low: facts.min,
        high: facts.max,
    })
}
