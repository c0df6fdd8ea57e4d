//! From where one looks, and which member moves.

use kiss3d::egui::{Button, RichText, Ui};

use super::Found;
use crate::action::Action;
use crate::projection::Viewpoint;
use crate::state::{Moving, State};

/// Height of the strip.
pub(super) const HEIGHT: f32 = 58.0;

pub(super) fn show(ui: &mut Ui, state: &State, found: &mut Found) {
    ui.horizontal(|ui| {
        ui.label(RichText::new("look").small());
        for viewpoint in Viewpoint::ALL {
            let pressed = state.look.viewpoint == Some(viewpoint);
            let button = ui.add(Button::new(RichText::new(viewpoint.label()).small()).selected(pressed));
            found.note(format!("view={}", viewpoint.label()), &button);
            if button.clicked() {
                found.actions.push(Action::View(viewpoint));
            }
        }
    });
    ui.horizontal(|ui| {
        ui.label(RichText::new("moving").small());
        for (moving, words) in
            [(Moving::Lower, "lower member, as the jaw"), (Moving::Upper, "upper member, as on the bench")]
        {
            let button = ui.add(Button::new(RichText::new(words).small()).selected(state.moving == moving));
            found.note(format!("moving={}", words.split(' ').next().unwrap_or(words)), &button);
            if button.clicked() {
                found.actions.push(Action::Move(moving));
            }
        }
    });
}
