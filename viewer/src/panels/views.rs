//! From where one looks, and which member moves.

use kiss3d::egui::{Button, RichText, Ui};

use sim_core::cast::Film;

use super::output::PanelOutput;
use crate::action::Action;
use crate::casts::{Seen, Show};
use crate::geometry::poses::Moving;
use crate::projection::Viewpoint;
use crate::projections::{Arrangement, Spread};
use crate::state::State;

/// Height of the strip, and of the row that casts add to it, and another that the projections do.
const HEIGHT: f32 = 80.0;
const ROW: f32 = 22.0;

/// Height of the strip.
#[must_use]
pub fn strip_height(state: &State) -> f32 {
    let rows = [state.shown.mounted.is_some(), state.projections.arrangement.has_projections()];
    rows.into_iter().filter(|row| *row).fold(HEIGHT, |height, _| height + ROW)
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
    ui.horizontal(|ui| middle(ui, state, output));
    if state.projections.arrangement.has_projections() {
        ui.horizontal(|ui| projections(ui, state, output));
    }
    if state.shown.mounted.is_some() {
        ui.horizontal(|ui| casts(ui, state, output));
    }
}

/// A small button that stays pressed while what it does is so.
fn press(
    ui: &mut Ui,
    output: &mut PanelOutput,
    (name, words): (String, &str),
    pressed: bool,
    action: Action,
) {
    let button = ui.add(Button::new(RichText::new(words).small()).selected(pressed));
    output.note(name, &button);
    if button.clicked() {
        output.actions.push(action);
    }
}

/// What the middle of the window shows, and which members.
fn middle(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    let view = &state.projections;
    ui.label(RichText::new("show").small());
    for arrangement in Arrangement::ALL {
        let word = arrangement.label();
        let pressed = view.arrangement == arrangement;
        press(ui, output, (format!("arrange={word}"), word), pressed, Action::Arrange(arrangement));
    }
    let angles = view.angles_in_picture;
    press(ui, output, ("angles".to_owned(), "angles"), angles, Action::AnglesInPicture(!angles));
    ui.add_space(4.0);
    ui.label(RichText::new("members").small());
    for seen in Seen::ALL {
        let word = seen.label();
        press(ui, output, (format!("seen={word}"), word), state.casts.seen == seen, Action::See(seen));
    }
}

/// How the projections are drawn.
fn projections(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    let view = &state.projections;
    ui.label(RichText::new("paths").small());
    for spread in Spread::ALL {
        let word = spread.label();
        press(ui, output, (format!("spread={word}"), word), view.spread == spread, Action::Spread(spread));
    }
    let name = ("envelope".to_owned(), "border envelope");
    press(ui, output, name, view.envelope, Action::Envelope(!view.envelope));
}

/// What the casts show.
fn casts(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    let view = &state.casts;
    ui.label(RichText::new("casts").small());
    for show in Show::ALL {
        let word = show.label();
        press(ui, output, (format!("show={word}"), word), view.show == show, Action::Show(show));
    }
    if view.show == Show::Film {
        for film in Film::THICKNESSES {
            let um = format!("{:.0}", film.mm() * 1000.0);
            let pressed = view.film == film;
            press(ui, output, (format!("film={um}"), &um), pressed, Action::Film(film));
        }
        ui.label(RichText::new("µm").small());
    }
    ui.add_space(4.0);
    press(ui, output, ("close".to_owned(), "teeth alone"), view.close, Action::Close(!view.close));
}
