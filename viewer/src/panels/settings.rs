//! The settings, made from the one list of them.

use kiss3d::egui::{CollapsingHeader, Id, RichText, ScrollArea, Stroke, StrokeKind, Ui};
use sim_core::frame::Side;
use sim_core::guide::CondylarGuide;
use sim_core::lesson::Target;
use sim_core::setting::{self, Choice, Setting};

use super::output::PanelOutput;
use super::{choice, number, slider, style};
use crate::action::Action;
use crate::palette;
use crate::state::State;

/// Width of a side's name before its slider, at the usual size of words.
const SIDE: f32 = 34.0;

pub(super) fn show(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    ui.horizontal(|ui| {
        ui.heading("Settings");
        let zero = ui.button("Zero (Z)");
        output.explain(&zero, "Sets every setting to the scene's baseline, or to the example of one.");
        output.note("zero", &zero);
        if zero.clicked() {
            output.actions.push(Action::Zero);
        }
        let back = ui.button("Back to file (U)");
        output.explain(&back, "Brings every setting back to what the file says.");
        output.note("back_to_file", &back);
        if back.clicked() {
            output.actions.push(Action::BackToFile);
        }
    });
    ui.horizontal(|ui| {
        let mut tied = state.tied;
        let tie = ui.checkbox(&mut tied, "Set right and left together (T)");
        output.explain(&tie, "From the next change on, both sides get the same value.");
        output.note("tie", &tie);
        if tie.changed() {
            output.actions.push(Action::Tie(tied));
        }
    });
    ui.separator();
    let room = ui.available_height() - super::hint::height(ui);
    ScrollArea::vertical().id_salt("settings").auto_shrink(false).max_height(room).show(ui, |ui| {
        ui.set_width(ui.available_width() - 10.0);
        list(ui, state, output);
        ui.add_space(6.0);
    });
}

fn list(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    ui.horizontal(|ui| {
        ui.label(RichText::new(Choice::Design.label()).small());
        choice::row(ui, state, Choice::Design, Side::Right, output);
    });
    title(ui, "Condylar guides");
    let is_of_path = |setting: &Setting| matches!(setting, Setting::Arc(_));
    let (of_path, others): (Vec<Setting>, Vec<Setting>) =
        setting::all().filter(Setting::is_per_side).partition(is_of_path);
    let (first, more): (Vec<Setting>, Vec<Setting>) = others.into_iter().partition(is_seen_first);
    for setting in first {
        sided(ui, state, setting, output);
    }
    for choice in Choice::ALL.into_iter().filter(|choice| choice.is_per_side()) {
        ui.label(RichText::new(choice.label()).small());
        for side in Side::BOTH {
            ui.horizontal(|ui| {
                side_name(ui, side);
                choice::row(ui, state, choice, side, output);
            });
        }
    }
    for setting in of_path {
        sided(ui, state, setting, output);
    }
    let is_used = |setting: &Setting| {
        let zeroed = setting.facts().zeroed;
        zeroed.is_some() && Side::BOTH.iter().any(|side| setting.get(&state.as_read, *side) != zeroed)
    };
    // Unfolded where the file uses any of it.
    let folded = CollapsingHeader::new(RichText::new("early translation, working-side walls").small())
        .id_salt(("more of the guides", &state.as_read.title))
        .default_open(more.iter().any(is_used))
        .show(ui, |ui| {
            for setting in more {
                sided(ui, state, setting, output);
            }
        });
    output.note("more_of_the_guides", &folded.header_response);
    title(ui, "Anterior guide");
    let is_anterior = |setting: &Setting| matches!(setting, Setting::Anterior(_));
    ui.horizontal(|ui| choice::row(ui, state, Choice::AnteriorGuide, Side::Right, output));
    for setting in setting::all().filter(is_anterior) {
        whole(ui, state, setting, output);
    }
    title(ui, "Instrument");
    let is_invented = |setting: &Setting| matches!(setting, Setting::InventedCasts(_));
    let is_elsewhere = |setting: &Setting| is_anterior(setting) || is_invented(setting);
    for setting in setting::all().filter(|setting| !setting.is_per_side() && !is_elsewhere(setting)) {
        whole(ui, state, setting, output);
    }
    let others = Choice::ALL
        .into_iter()
        .filter(|choice| !choice.is_per_side() && !matches!(choice, Choice::AnteriorGuide | Choice::Design));
    for choice in others {
        ui.horizontal(|ui| {
            ui.label(RichText::new(choice.label()).small());
            choice::row(ui, state, choice, Side::Right, output);
        });
    }
    if state.scene.invented_casts.is_some() {
        title(ui, "Invented casts");
        for setting in setting::all().filter(is_invented) {
            whole(ui, state, setting, output);
        }
    }
}

/// The settings of a guide that every lesson turns.
fn is_seen_first(setting: &Setting) -> bool {
    [
        Setting::Guide(&CondylarGuide::HORIZONTAL_INCLINATION),
        Setting::Guide(&CondylarGuide::LATERAL_ANGLE),
        Setting::Guide(&CondylarGuide::IMMEDIATE_TRANSLATION),
    ]
    .iter()
    .any(|first| first.key() == setting.key())
}

fn title(ui: &mut Ui, words: &str) {
    ui.add_space(6.0);
    ui.label(RichText::new(words).strong().color(palette::ACTIVE.egui()));
}

fn label(ui: &mut Ui, setting: &Setting, output: &mut PanelOutput) {
    let facts = setting.facts();
    let unit = facts.unit.sign().trim_start();
    let label = ui.label(RichText::new(format!("{}, {unit}", facts.label)).small());
    let terms = super::terms::meanings(facts.label);
    output.explain(&label, terms.as_deref().unwrap_or(facts.doc));
}

fn side_name(ui: &mut Ui, side: Side) {
    let width = SIDE * style::scale(ui.ctx());
    let size = kiss3d::egui::vec2(width, ui.spacing().interact_size.y);
    ui.allocate_ui_with_layout(
        size,
        kiss3d::egui::Layout::left_to_right(kiss3d::egui::Align::Center),
        |ui| {
            ui.set_min_width(width);
            ui.label(RichText::new(side.name()).small());
        },
    );
}

/// A row for each side, the patient's right first.
fn sided(ui: &mut Ui, state: &State, setting: Setting, output: &mut PanelOutput) {
    if Side::BOTH.iter().all(|side| setting.get(&state.scene, *side).is_none()) {
        return;
    }
    label(ui, &setting, output);
    for side in Side::BOTH {
        ui.horizontal(|ui| {
            side_name(ui, side);
            row(ui, state, setting, side, output);
        });
    }
}

fn whole(ui: &mut Ui, state: &State, setting: Setting, output: &mut PanelOutput) {
    if setting.get(&state.scene, Side::Right).is_some() {
        label(ui, &setting, output);
        ui.horizontal(|ui| row(ui, state, setting, Side::Right, output));
    }
}

/// A slider and its number.
fn row(ui: &mut Ui, state: &State, setting: Setting, side: Side, output: &mut PanelOutput) {
    let Some(now) = setting.get(&state.scene, side) else {
        ui.label(RichText::new("–").small());
        return;
    };
    let facts = setting.facts();
    let (name, spoken) = if setting.is_per_side() {
        (format!("{}.{side}", setting.key()), format!("{}, {side}", facts.label))
    } else {
        (setting.key(), facts.label.to_owned())
    };
    let beside = number::WIDTH * style::scale(ui.ctx()) + 3.0 * ui.spacing().item_spacing.x;
    let width = ui.available_width() - beside;
    let (response, moved) = slider::show(ui, &spoken, now, (facts.min, facts.max), facts.step, width);
    output.explain(&response, facts.doc);
    output.note(name.clone(), &response);
    if let Some(to) = moved {
        output.actions.push(Action::Set(setting, side, to));
    }
    if response.drag_stopped() || response.lost_focus() {
        output.actions.push(Action::LetGo);
    }
    let typed = number::show(ui, Id::new(("number", &name)), &spoken, now);
    output.explain(&typed.response, facts.doc);
    output.note(format!("number:{name}"), &typed.response);
    match typed.typed {
        Some(Ok(number)) => {
            output.actions.extend([Action::LetGo, Action::Set(setting, side, number), Action::LetGo]);
        }
        Some(Err(text)) => output.actions.push(Action::NotANumber(spoken, text)),
        None => {}
    }
    if points_at(state, setting, side) {
        let rect = ui.min_rect().expand2(kiss3d::egui::vec2(3.0, 0.0));
        ui.painter().rect_stroke(rect, 3.0, Stroke::new(2.5, palette::ACTIVE.egui()), StrokeKind::Outside);
    }
    changed_mark(ui, state, setting, side, now, &mut |response, was| {
        output.explain(response, &format!("Changed: the file says {was}."));
    });
}

/// Whether a lesson points at a setting of a side.
fn points_at(state: &State, setting: Setting, side: Side) -> bool {
    let is_it = |target: &Target| match target {
        Target::Setting(name) => name.is(setting) && name.side().is_none_or(|own| own == side),
        _ => false,
    };
    state.teaching.lesson().is_some_and(|given| given.points().iter().any(is_it))
}

/// A dot beside what is no longer as in the file.
fn changed_mark(
    ui: &mut Ui,
    state: &State,
    setting: Setting,
    side: Side,
    now: f64,
    explain: &mut dyn FnMut(&kiss3d::egui::Response, String),
) {
    let was = setting.get(&state.as_read, side);
    if was.is_some_and(|was| was.total_cmp(&now).is_eq()) {
        return;
    }
    let mark = ui.label(RichText::new("•").strong().color(palette::FOCUS.egui()));
    let was = was.map_or_else(
        || "nothing of it".to_owned(),
        |was| format!("{}{}", words::number::as_set(was), setting.facts().unit.sign()),
    );
    explain(&mark, was);
}
