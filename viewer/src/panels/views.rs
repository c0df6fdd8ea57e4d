//! From where one looks, and which member moves.

use kiss3d::egui::{Button, RichText, Ui};

use sim_core::cast::Film;

use super::output::PanelOutput;
use crate::action::Action;
use crate::casts::{Seen, Show};
use crate::geometry::poses::Moving;
use crate::projection::Viewpoint;
use crate::state::State;

/// The words on the buttons, a line for each group, from which the height of the strip follows.
#[must_use]
pub(super) fn strip_words(state: &State) -> Vec<Vec<String>> {
    let words = |first: &str, rest: Vec<&str>| {
        std::iter::once(first).chain(rest).map(str::to_owned).collect::<Vec<_>>()
    };
    let mut groups = vec![
        words("view", Viewpoint::ALL.into_iter().map(Viewpoint::label).collect()),
        words("moving", MOVING.into_iter().map(|(_, word)| word).collect()),
    ];
    if state.shown.mounted.is_some() {
        let mut casts = words("casts", Show::ALL.into_iter().map(Show::label).collect());
        if state.casts.show == Show::Film {
            casts.extend(Film::THICKNESSES.iter().map(|film| format!("{:.0}", film.mm() * 1000.0)));
        }
        casts.extend(Seen::ALL.into_iter().map(|seen| seen.label().to_owned()));
        casts.push("teeth".to_owned());
        groups.push(casts);
    }
    groups
}

/// Which member moves, and the words on its button.
const MOVING: [(Moving, &str); 2] =
    [(Moving::Lower, "lower, as the jaw"), (Moving::Upper, "upper, as on the bench")];

pub(super) fn show(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    ui.horizontal_wrapped(|ui| {
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
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new("moving").small());
        for (moving, words) in MOVING {
            let button = ui.add(Button::new(RichText::new(words).small()).selected(state.moving == moving));
            output.note(format!("moving={}", words.split(' ').next().unwrap_or(words)), &button);
            if button.clicked() {
                output.actions.push(Action::Move(moving));
            }
        }
    });
    if state.shown.mounted.is_some() {
        ui.horizontal_wrapped(|ui| casts(ui, state, output));
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
