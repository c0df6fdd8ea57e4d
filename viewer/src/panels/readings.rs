//! The plot and the numbers beside it.

use kiss3d::egui::{
    Align, Button, Grid, Label, Layout, RichText, ScrollArea, Sense, Stroke, Ui, WidgetInfo, WidgetType, vec2,
};
use sim_core::account::Number;
use sim_core::cusp::{Cusp, CuspReading, OpposingIncline};
use words::number;
use words::number::two_decimals;
use words::verdict::opened;

use super::explained::explained;
use super::instrument::instrument;
use super::output::PanelOutput;
use super::style;
use super::text::heads;
use super::{account, closeup, contacts, lesson, plan, plate, plot};
use crate::action::Action;
use crate::drawing::glyph;
use crate::page::Page;
use crate::palette;
use crate::state::State;

/// Width of a cusp's name.
const NAME: f32 = 112.0;
/// Share of the panel's height that the plot takes.
const PLOT_SHARE: f32 = 0.30;

pub(super) fn show(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    pages(ui, state, output);
    match (state.page, &state.shown.mounted) {
        (Page::Lesson, _) => return lesson::show(ui, state, output),
        _ if state.motion_is_hidden() => {
            ui.label("A question about this motion is open on the page of lessons. Answer it first; then the numbers are shown.");
            return;
        }
        (Page::Casts, Some(mounted)) => return contacts::show(ui, state, mounted, output),
        (Page::Plan, _) => return plan::show(ui, state, output),
        (Page::Account, _) => return account::show(ui, state, output),
        (Page::Tracing, _) => return plate::show(ui, state, output),
        (Page::Cusps, _) | (Page::Casts, None) => {}
    }
    legend(ui, output);
    let height = ui.available_height() * PLOT_SHARE;
    plot::show(ui, state, height, output);
    ScrollArea::both().id_salt("readings").auto_shrink(false).show(ui, |ui| {
        cusps(ui, state, output);
        ui.separator();
        instrument(ui, state, output);
        closeup::show(ui, state);
    });
}

/// What the panel is about.
fn pages(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    ui.horizontal_wrapped(|ui| {
        for page in state.pages().iter().copied() {
            let button = ui.add(Button::new(page.label()).selected(state.page == page));
            output.note(format!("page={}", page.name()), &button);
            if button.clicked() {
                output.actions.push(Action::Page(page));
            }
        }
    });
}

/// Which line is which.
fn legend(ui: &mut Ui, output: &mut PanelOutput) {
    ui.horizontal(|ui| {
        for (words, dashed) in [("separation", false), ("clearance", true)] {
            let (rect, _) = ui.allocate_exact_size(vec2(30.0, 12.0), Sense::hover());
            let stroke = Stroke::new(2.0, palette::INK.egui());
            let pieces =
                if dashed { vec![(0.0, 6.0), (12.0, 18.0), (24.0, 30.0)] } else { vec![(0.0, 30.0)] };
            for (from, to) in pieces {
                let y = rect.center().y;
                ui.painter().hline(rect.left() + from..=rect.left() + to, y, stroke);
            }
            ui.label(RichText::new(words).small());
            ui.add_space(8.0);
        }
        let fit = ui.small_button("Fit axes");
        output.explain(&fit, "The axes are held while a setting changes, so that a steeper guidance looks steeper. This fits them to the curves (Ctrl+F).");
        output.note("fit_axes", &fit);
        if fit.clicked() {
            output.actions.push(Action::FitAxes);
        }
    });
}

fn cusps(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    let sample = state.sample();
    if state.shown.scene.cusps.is_empty() {
        ui.label("This scene lists no cusps.");
        return;
    }
    let width = NAME * style::scale(ui.ctx());
    Grid::new(("cusps", state.kept.is_some())).num_columns(5).spacing([6.0, 3.0]).striped(true).show(
        ui,
        |ui| {
            let heads_of: &[&str] = if state.kept.is_some() {
                &["", "cusp", "separation", "A − B", "clearance"]
            } else {
                &["", "cusp", "separation", "clearance", ""]
            };
            heads(ui, heads_of);
            for (number, (cusp, reading)) in state.shown.scene.cusps.iter().zip(&sample.readings).enumerate()
            {
                let mark = state.marks.get(number).copied().flatten();
                let mut marked = mark.is_some();
                ui.horizontal(|ui| {
                    let tick = ui.checkbox(&mut marked, "");
                    let label = format!("{} {}, in plot and picture", cusp.tooth(), cusp.name());
                    tick.widget_info(|| WidgetInfo::selected(WidgetType::Checkbox, true, marked, &label));
                    output.note(format!("cusp={number}"), &tick);
                    if tick.changed() {
                        output.actions.push(Action::Mark(number, marked));
                    }
                    let (rect, _) = ui.allocate_exact_size(vec2(14.0, 14.0), Sense::hover());
                    if let Some(mark) = mark {
                        let (tint, shape) = palette::cusp(mark);
                        let outline = Stroke::new(1.2, tint.egui());
                        ui.painter().add(glyph(shape, rect.center(), 5.0, tint.egui(), outline));
                    }
                });
                let name = format!("{} {}", cusp.tooth(), cusp.name());
                ui.allocate_ui_with_layout(vec2(width, 16.0), Layout::left_to_right(Align::Center), |ui| {
                    ui.set_min_width(width);
                    ui.add(Label::new(name).truncate());
                });
                explained(ui, two_decimals(reading.separation.mm()), Number::Separation(number), output);
                // With B beside it the verdict shares the clearance's column, so that nothing is cut off.
                if state.kept.is_some() {
                    difference(ui, state, cusp, reading);
                    clearance_and_verdict(ui, reading, number, output);
                } else {
                    explained(ui, two_decimals(reading.clearance.mm()), Number::Clearance(number), output);
                    verdict(ui, reading);
                }
                ui.end_row();
            }
        },
    );
    if let Some(said) = at_start(state) {
        ui.label(RichText::new(said).small());
    }
    added(ui, state, output);
}

/// How much more separation A has than B, and clearance beside it where that differs otherwise.
fn difference(ui: &mut Ui, state: &State, cusp: &Cusp, reading: &CuspReading) {
    let Some(kept) = &state.kept else { return };
    let Some(theirs) = kept.reading_of(cusp) else {
        ui.label("–").on_hover_text("B has no such cusp, or no pose here");
        return;
    };
    let more = number::change((reading.separation - theirs.separation).mm(), 2);
    let clearance = number::change((reading.clearance - theirs.clearance).mm(), 2);
    ui.label(more).on_hover_text(format!(
        "separation of A less that of B, mm; clearance {clearance} mm. B alone: separation {}, clearance {}",
        two_decimals(theirs.separation.mm()),
        two_decimals(theirs.clearance.mm()),
    ));
}

/// A clearance below zero is an interference, struck and written strongly.
fn clearance_and_verdict(ui: &mut Ui, reading: &CuspReading, cusp: usize, output: &mut PanelOutput) {
    let number = two_decimals(reading.clearance.mm());
    let words = if reading.interferes() {
        RichText::new(format!("× {number}")).strong().color(palette::INTERFERENCE.egui())
    } else {
        RichText::new(number)
    };
    explained(ui, words, Number::Clearance(cusp), output);
}

/// That separation and clearance begin with the opening of an instrument, where they do.
fn at_start(state: &State) -> Option<String> {
    let start = &state.shown.solved.sample(0).readings;
    let said = opened::at_start(start.iter().map(|reading| reading.separation))?;
    Some(format!("{said} Separation and clearance count that in."))
}

/// What the file has comes back with it; what has been picked can go again.
fn added(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    for (number, cusp) in state.shown.scene.cusps.iter().enumerate().filter(|(_, cusp)| state.is_added(cusp))
    {
        ui.horizontal(|ui| {
            let remove = ui.small_button("remove");
            output.note(format!("remove={number}"), &remove);
            if remove.clicked() {
                output.actions.push(Action::RemoveCusp(number));
            }
            ui.label(RichText::new(format!("{} {}, picked on the cast", cusp.tooth(), cusp.name())).small());
        });
    }
}

fn verdict(ui: &mut Ui, reading: &CuspReading) {
    if reading.interferes() {
        let incline = match reading.incline {
            OpposingIncline::Protrusive => "protrusive",
            OpposingIncline::Retrusive => "retrusive",
            OpposingIncline::Working => "working",
            OpposingIncline::NonWorking => "orbiting",
            OpposingIncline::Flat => "flat",
        };
        ui.label(RichText::new(format!("× {incline}")).small().strong().color(palette::INTERFERENCE.egui()))
            .on_hover_text("The cusp interferes with this incline of the opposing tooth");
    } else if reading.separation.mm() > 0.005 {
        ui.label(RichText::new("clear").small());
    } else {
        ui.label(RichText::new("contact").small());
    }
}
