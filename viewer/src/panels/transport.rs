//! Which excursion, and where along it.

use kiss3d::egui::{Button, RichText, Slider, Ui, WidgetInfo};
use sim_core::excursion::{Drive, Excursion};
use words::number::two_decimals;

use super::output::PanelOutput;
use crate::action::{Action, STEP};
use crate::palette;
use crate::solved::driven_to;
use crate::state::State;

/// The words on the excursions' buttons.
#[must_use]
pub(super) fn excursion_words(state: &State) -> Vec<String> {
    let names = (0..state.excursions.len()).map(|number| words(&state.excursions, number));
    std::iter::once("excursion".to_owned()).chain(names).collect()
}

pub(super) fn show(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    ui.horizontal(|ui| {
        let mut press = |ui: &mut Ui, name: &str, words: &str, action: Action| {
            let button = ui.button(words);
            output.note(name, &button);
            if button.clicked() {
                output.actions.push(action);
            }
        };
        press(ui, "play", if state.playing { "Pause (P)" } else { "Play (P)" }, Action::PlayOrPause);
        press(ui, "step_back", "< ,", Action::Step(-STEP));
        press(ui, "step_forward", ". >", Action::Step(STEP));
        let solved = &state.shown.solved;
        let (_, unit) = solved.driver();
        let gap = if unit == "°" { "" } else { " " };
        ui.strong(format!("{}{gap}{unit}", two_decimals(state.sample().driven)));
        ui.label(RichText::new(format!("of {}{gap}{unit}", two_decimals(solved.last().driven))).small());
    });
    ui.scope(|ui| {
        let mut at = state.at;
        ui.spacing_mut().slider_width = ui.available_width();
        ui.visuals_mut().widgets.inactive.bg_fill = palette::RAIL.egui();
        let last = state.shown.solved.samples().len() - 1;
        let scrub = ui.add(Slider::new(&mut at, 0..=last).show_value(false));
        let driven = state.sample().driven;
        scrub.widget_info(|| WidgetInfo::slider(true, driven, "place on the excursion"));
        output.note("scrub", &scrub);
        if scrub.changed() && at != state.at {
            output.actions.push(Action::ScrubTo(at));
        }
    });
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new("excursion").small());
        for (number, excursion) in state.excursions.iter().enumerate() {
            let pressed = number == state.excursion;
            let button = ui
                .add(Button::new(RichText::new(words(&state.excursions, number)).small()).selected(pressed))
                .on_hover_text(reach(excursion.drive()));
            output.note(format!("excursion={number}"), &button);
            if button.clicked() {
                output.actions.push(Action::Excursion(number));
            }
        }
    });
}

/// An excursion's name as it is spoken; with its reach where several share the name.
fn words(excursions: &[Excursion], number: usize) -> String {
    let excursion = &excursions[number];
    let name = excursion.movement().name();
    let is_alone = excursions.iter().filter(|other| other.movement().name() == name).count() == 1;
    let words = words::name::movement(excursion.movement());
    if is_alone { words.to_owned() } else { format!("{words} ({})", reach(excursion.drive())) }
}

/// How far a drive goes.
fn reach(drive: Drive) -> String {
    let number = driven_to(drive);
    match drive {
        Drive::Advance(_) => format!("advance {number} mm"),
        Drive::IncisalDisplacement(_) => format!("incisal {number} mm"),
        Drive::Tracing(_) => format!("tracing {number} mm"),
        Drive::Opening(_) => format!("{number}°"),
    }
}
