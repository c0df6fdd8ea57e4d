//! The sliders, made from the one list of settings.

use kiss3d::egui::{RichText, ScrollArea, Slider, SliderClamping, Ui};
use sim_core::frame::Side;
use sim_core::setting::{self, Choice, Setting};
use sim_core::units::Unit;

use super::choice;
use super::output::PanelOutput;
use crate::action::Action;
use crate::palette;
use crate::state::State;

/// Width of a number beside its slider.
const NUMBER: f32 = 52.0;

pub(super) fn show(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    ui.horizontal(|ui| {
        ui.heading("Settings");
        let zero = ui
            .button("Zero (Z)")
            .on_hover_text("Set every setting to the scene's baseline, or to the example of one");
        output.note("zero", &zero);
        if zero.clicked() {
            output.actions.push(Action::Zero);
        }
        let back = ui.button("Back to file (U)").on_hover_text("Restore every setting from the file");
        output.note("back_to_file", &back);
        if back.clicked() {
            output.actions.push(Action::BackToFile);
        }
    });
    ui.horizontal(|ui| {
        let mut tied = state.tied;
        let tie = ui.checkbox(&mut tied, "Set right and left together (T)");
        output.note("tie", &tie);
        if tie.changed() {
            output.actions.push(Action::Tie(tied));
        }
    });
    ui.separator();
    ScrollArea::vertical().id_salt("settings").auto_shrink(false).show(ui, |ui| {
        ui.set_width(ui.available_width() - 10.0);
        title(ui, "Condylar guides");
        sided(ui, |ui, side| {
            ui.strong(format!("{side}"));
        });
        for setting in setting::all().filter(Setting::is_per_side) {
            if Side::BOTH.iter().any(|side| setting.get(&state.scene, *side).is_some()) {
                label(ui, &setting);
                sided(ui, |ui, side| slider(ui, state, setting, side, output));
            }
        }
        for choice in Choice::ALL.into_iter().filter(|choice| choice.is_per_side()) {
            ui.label(RichText::new(choice.label()).small());
            sided(ui, |ui, side| {
                ui.horizontal(|ui| choice::row(ui, state, choice, side, output));
            });
        }
        title(ui, "Anterior guide");
        let is_anterior = |setting: &Setting| matches!(setting, Setting::Anterior(_));
        ui.horizontal(|ui| choice::row(ui, state, Choice::AnteriorGuide, Side::Right, output));
        for setting in setting::all().filter(is_anterior) {
            whole(ui, state, setting, output);
        }
        title(ui, "Instrument");
        for choice in
            Choice::ALL.into_iter().filter(|choice| !choice.is_per_side() && *choice != Choice::AnteriorGuide)
        {
            ui.horizontal(|ui| {
                ui.label(RichText::new(choice.label()).small());
                choice::row(ui, state, choice, Side::Right, output);
            });
        }
        let is_invented = |setting: &Setting| matches!(setting, Setting::InventedCasts(_));
        let is_elsewhere = |setting: &Setting| is_anterior(setting) || is_invented(setting);
        for setting in setting::all().filter(|setting| !setting.is_per_side() && !is_elsewhere(setting)) {
            whole(ui, state, setting, output);
        }
        if state.scene.invented_casts.is_some() {
            title(ui, "Invented casts");
            for setting in setting::all().filter(is_invented) {
                whole(ui, state, setting, output);
            }
        }
        ui.add_space(6.0);
    });
}

fn title(ui: &mut Ui, words: &str) {
    ui.add_space(6.0);
    ui.label(RichText::new(words).strong().color(palette::ACTIVE.egui()));
}

fn label(ui: &mut Ui, setting: &Setting) {
    let facts = setting.facts();
    let unit = facts.unit.sign().trim_start();
    ui.label(RichText::new(format!("{}, {unit}", facts.label)).small()).on_hover_text(facts.doc);
}

/// A column for each side, the patient's right first.
fn sided(ui: &mut Ui, mut contents: impl FnMut(&mut Ui, Side)) {
    ui.columns(2, |columns| {
        for (column, side) in columns.iter_mut().zip(Side::BOTH) {
            contents(column, side);
        }
    });
}

fn whole(ui: &mut Ui, state: &State, setting: Setting, output: &mut PanelOutput) {
    if setting.get(&state.scene, Side::Right).is_some() {
        label(ui, &setting);
        slider(ui, state, setting, Side::Right, output);
    }
}

fn slider(ui: &mut Ui, state: &State, setting: Setting, side: Side, output: &mut PanelOutput) {
    let Some(now) = setting.get(&state.scene, side) else {
        ui.label(RichText::new("–").small());
        return;
    };
    let facts = setting.facts();
    let decimals = match facts.unit {
        Unit::Degree => 1,
        Unit::Millimetre => 2,
    };
    let mut number = now;
    ui.scope(|ui| {
        let width = ui.available_width();
        let spacing = ui.spacing_mut();
        spacing.interact_size.x = NUMBER;
        spacing.slider_width = (width - NUMBER - spacing.item_spacing.x - 4.0).max(30.0);
        let slider = ui
            .add(
                Slider::new(&mut number, facts.min..=facts.max)
                    .step_by(facts.step)
                    .clamping(SliderClamping::Never)
                    .fixed_decimals(decimals)
                    .smart_aim(false),
            )
            .on_hover_text(facts.doc);
        let sides = if setting.is_per_side() { format!(".{side}") } else { String::new() };
        output.note(format!("{}{sides}", setting.key()), &slider);
        if slider.changed() && number.total_cmp(&now).is_ne() {
            output.actions.push(Action::Set(setting, side, number));
        }
    });
}
