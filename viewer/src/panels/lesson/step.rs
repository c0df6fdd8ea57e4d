//! A step of a lesson.

use kiss3d::egui::{RichText, ScrollArea, Stroke, StrokeKind, Ui};
use sim_core::lesson::Target;
use words::lesson::said;

use super::{press::press, question};
use crate::palette;
use crate::panels::output::PanelOutput;
use crate::panels::plot;
use crate::panels::text::title;
use crate::state::State;
use crate::teaching::{Given, Teach};

/// Height of the plot beneath, as a part of the page.
const PLOT_SHARE: f32 = 0.34;

pub(super) fn show(ui: &mut Ui, state: &State, given: &Given, output: &mut PanelOutput) {
    let Some(step) = given.step() else { return };
    title(ui, &given.lesson().title);
    let last = given.steps.len();
    let (asked, right) = given.score();
    ui.label(
        RichText::new(format!("Step {} of {last}. Right at once: {right} of {asked}.", given.at + 1)).small(),
    );
    ui.horizontal_wrapped(|ui| {
        if given.at > 0 {
            press(ui, "lesson_back", "Back", Teach::Back, output);
        }
        let is_open = step.question.is_some() && given.done().is_some_and(|done| !done.is_over);
        let next = match (is_open, given.at + 1 == last) {
            (true, _) => "Skip",
            (false, true) => "Finish",
            (false, false) => "Next",
        };
        press(ui, "lesson_next", next, Teach::Next, output);
        press(ui, "lesson_again", "This step again", Teach::Again, output);
        press(ui, "lesson_leave", "Leave", Teach::Leave, output);
    });
    ui.separator();
    let shows_plot = step.excursion.is_some() && !state.motion_is_hidden();
    let plot_height = if shows_plot { ui.available_height() * PLOT_SHARE } else { 0.0 };
    let height = (ui.available_height() - plot_height - 8.0).max(60.0);
    // Each step starts at its top.
    ScrollArea::vertical().id_salt(("step", given.at)).auto_shrink(false).max_height(height).show(ui, |ui| {
        ui.set_width(ui.available_width() - 10.0);
        ui.label(said(&step.text));
        question::show(ui, given, output);
        ui.add_space(6.0);
    });
    if shows_plot {
        let framed = given.points().contains(&Target::Plot);
        let top = ui.cursor().min;
        plot::show(ui, state, plot_height, output);
        if framed {
            let rect = kiss3d::egui::Rect::from_min_max(top, ui.min_rect().max);
            ui.painter().rect_stroke(rect, 3.0, Stroke::new(3.0, palette::ACTIVE.egui()), StrokeKind::Inside);
        }
    }
}
