//! From where one looks, and which member moves.

use kiss3d::egui::{Button, RichText, Ui};

use sim_core::cast::Film;

use super::output::PanelOutput;
use crate::action::Action;
use crate::casts::{Seen, Show};
use crate::geometry::poses::Moving;
use crate::projection::Viewpoint;
use crate::state::State;

/// Height of the strip, and of the row that casts add to it.
const HEIGHT: f32 = 58.0;
const ROW: f32 = 22.0;

/// Height of the strip.
#[must_use]
pub fn strip_height(state: &State) -> f32 {
    if state.shown.mounted.is_some() { HEIGHT + ROW } else { HEIGHT }
}

pub(super) fn show(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    ui.horizontal(|ui| {
        ui.label(RichText::new("view").small());
        for viewpoint in Viewpoint::ALL {
            let pressed = state.look.viewpoint == Some(viewpoint);
            let button = ui.add(Button::new(RichText::new(viewpoint.label()).small()).selected(pressed));
            output.note(format!("view={}", viewpoint.label()), &button);
            if button.clicked() {
                output.actions.push(Action::View(viewpoint));
            }
        }
    });
    ui.horizontal(|ui| {
        ui.label(RichText::new("moving").small());
        for (moving, words) in
            [(Moving::Lower, "lower member, as the jaw"), (Moving::Upper, "upper member, as on the bench")]
        {
            let button = ui.add(Button::new(RichText::new(words).small()).selected(state.moving == moving));
            output.note(format!("moving={}", words.split(' ').next().unwrap_or(words)), &button);
            if button.clicked() {
                output.actions.push(Action::Move(moving));
            }
        }
    });
    if state.shown.mounted.is_some() {
        ui.horizontal(|ui| casts(ui, state, output));
    }
}

/// What the casts show, and which of them.
fn casts(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    let view = &state.casts;
    let mut press = |ui: &mut Ui, name: String, words: String, pressed: bool, action: Action| {
        let button = ui.add(Button::new(RichText::new(words).small()).selected(pressed));
        output.note(name, &button);
        if button.clicked() {
            output.actions.push(action);
        }
    };
    ui.label(RichText::new("casts").small());
    for show in Show::ALL {
        let word = show.label();
        press(ui, format!("show={word}"), word.to_owned(), view.show == show, Action::Show(show));
    }
    if view.show == Show::Film {
        for film in Film::THICKNESSES {
            let um = format!("{:.0}", film.mm() * 1000.0);
            press(ui, format!("film={um}"), um, view.film == film, Action::Film(film));
        }
        ui.label(RichText::new("µm").small());
    }
    ui.add_space(4.0);
    for seen in Seen::ALL {
        let word = seen.label();
        press(ui, format!("seen={word}"), word.to_owned(), view.seen == seen, Action::See(seen));
    }
    ui.add_space(4.0);
    press(ui, "close".to_owned(), "teeth".to_owned(), view.close, Action::Close(!view.close));
}
