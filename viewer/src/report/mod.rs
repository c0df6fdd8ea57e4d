//! The state as lines of JSON, one at each change: for tests, and for reading the viewer without
//! seeing it.

use std::collections::BTreeMap;

mod account;
mod bench;
mod casts;
mod kept;
mod lesson;
mod plan;
mod plate;
mod projections;

use serde::Serialize;
use sim_core::frame::Side;
use sim_core::setting::{self, Choice};

use account::{AccountLine, GlossaryLine};
use bench::BenchLine;
use casts::CastsLine;
use kept::KeptLine;
use lesson::LessonLine;
use plan::PlanLine;
use plate::PlateLine;
use projections::ProjectionsLine;

use crate::appearance::Appearance;
use crate::asking::Asking;
use crate::geometry::poses::Moving;
use crate::page::Room;
use crate::panels::PanelOutput;
use crate::projection::Viewpoint;
use crate::state::State;

/// One line.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Line {
    title: String,
    file: Option<String>,
    excursion: &'static str,
    at: f64,
    unit: &'static str,
    end: f64,
    playing: bool,
    moving: Moving,
    view: Option<Viewpoint>,
    tied: bool,
    help: bool,
    /// Changes that can be undone, and redone.
    history: (usize, usize),
    changed: bool,
    /// What the window asks.
    asking: Option<&'static str>,
    appearance: Appearance,
    note: Option<String>,
    file_note: Option<String>,
    /// By the setting's name, `.right` or `.left` behind it where each side has its own.
    settings: BTreeMap<String, f64>,
    choices: BTreeMap<String, &'static str>,
    cusps: Vec<Cusp>,
    /// The casts, where there are any.
    casts: Option<CastsLine>,
    /// What the whole window is for.
    room: Room,
    /// The case on the bench, if there is one.
    bench: Option<BenchLine>,
    /// The projections, while they are shown.
    projections: Option<ProjectionsLine>,
    /// The second set-up, if there is one.
    kept: Option<KeptLine>,
    /// The number taken apart, while its page is shown.
    account: Option<AccountLine>,
    /// The glossary, while it is open.
    glossary: Option<GlossaryLine>,
    /// The lesson or viva being given.
    lesson: Option<LessonLine>,
    /// The tracing on the plate, where there is a tracer.
    plate: Option<PlateLine>,
    /// The plan, while its page is shown.
    plan: Option<PlanLine>,
    /// The control that the keyboard is on.
    focus: Option<String>,
    /// Changes whenever the keyboard goes on, also to a number field, which has no name of its own.
    focus_id: Option<String>,
    /// Where controls are, in pixels: left, top, width, height.
    places: BTreeMap<String, [f32; 4]>,
    /// Whether they were there in the frame before: a panel shown for the first time puts its controls
    /// in order over some frames.
    settled: bool,
}

/// What is read at one cusp, now and over the whole excursion.
#[derive(Clone, Debug, PartialEq, Serialize)]
struct Cusp {
    tooth: u8,
    name: String,
    marked: bool,
    separation_mm: f64,
    clearance_mm: f64,
    interferes: bool,
    least_clearance_mm: f64,
    last_separation_mm: f64,
}

impl Line {
    /// The line for a state and what came of its panels, of a window with so many pixels a point.
    #[must_use]
    pub fn of(state: &State, output: &PanelOutput, scale: f32) -> Self {
        let solved = &state.shown.solved;
        let sample = state.sample();
        let named = |key: String, side: Side, sided: bool| if sided { format!("{key}.{side}") } else { key };
        let mut settings = BTreeMap::new();
        let mut choices = BTreeMap::new();
        for side in Side::BOTH {
            for setting in setting::all() {
                if let Some(number) = setting.get(&state.scene, side) {
                    settings.insert(named(setting.key(), side, setting.is_per_side()), number);
                }
            }
            for choice in Choice::ALL {
                choices.insert(
                    named(choice.key().to_owned(), side, choice.is_per_side()),
                    choice.get(&state.scene, side),
                );
            }
        }
        let cusps = state.shown.scene.cusps.iter().zip(&sample.readings).enumerate();
        let over = |number: usize| solved.samples().iter().map(move |sample| sample.readings[number]);
        Self {
            title: state.scene.title.clone(),
            file: state.file.as_ref().map(|file| file.display().to_string()),
            excursion: solved.excursion.movement().name(),
            at: sample.driven,
            unit: solved.driver().1,
            end: solved.last().driven,
            playing: state.playing,
            moving: state.moving,
            view: state.look.viewpoint,
            tied: state.tied,
            help: state.help,
            history: state.history.depth(),
            changed: state.is_changed(),
            asking: state.asking.as_ref().map(Asking::name),
            appearance: state.appearance,
            note: state.note.as_ref().map(|note| note.what.clone()),
            file_note: state.file_note.as_ref().map(|note| note.what.clone()),
            settings,
            choices,
            cusps: cusps
                .map(|(number, (cusp, reading))| Cusp {
                    tooth: cusp.tooth().number(),
                    name: cusp.name().to_owned(),
                    marked: state.marks.get(number).copied().flatten().is_some(),
                    separation_mm: reading.separation.mm(),
                    clearance_mm: reading.clearance.mm(),
                    interferes: reading.interferes(),
                    least_clearance_mm: over(number).map(|r| r.clearance.mm()).fold(f64::INFINITY, f64::min),
                    last_separation_mm: solved.last().readings[number].separation.mm(),
                })
                .collect(),
            casts: casts::line(state),
            room: state.room,
            bench: bench::line(state),
            projections: projections::line(state),
            kept: kept::line(state),
            account: account::line(state),
            glossary: state.glossary.as_ref().map(account::glossary),
            lesson: lesson::line(state),
            plate: plate::line(state),
            plan: plan::line(state),
            focus: output.focus.clone(),
            focus_id: output.focus_id.map(|id| format!("{id:?}")),
            places: output
                .places
                .iter()
                .map(|(name, rect)| {
                    let place =
                        [rect.left(), rect.top(), rect.width(), rect.height()].map(|number| number * scale);
                    (name.clone(), place)
                })
                .collect(),
            settled: false,
        }
    }

    /// This line as the one that follows the line of the frame before.
    #[must_use]
    pub fn after(mut self, before: Option<&Self>) -> Self {
        self.settled = before.is_some_and(|before| before.places == self.places);
        self
    }
}
