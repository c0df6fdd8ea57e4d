//! From where one looks, and which member moves.

use kiss3d::egui::{Button, RichText, Ui};

use sim_core::cast::Film;

use super::output::PanelOutput;
use crate::action::Action;
use crate::casts::{Seen, Show};
use crate::geometry::poses::Moving;
use crate::kept::Beside;
use crate::projection::Viewpoint;
use crate::projections::{Arrangement, Spread, WITHHELD};
use crate::state::State;

/// The words on the buttons, a line for each group, from which the height of the strip follows.
#[must_use]
pub(super) fn strip_words(state: &State) -> Vec<Vec<String>> {
    let words = |first: &str, rest: Vec<&str>| {
        std::iter::once(first).chain(rest).map(str::to_owned).collect::<Vec<_>>()
    };
    let mut groups = vec![
        words("view", Viewpoint::ALL.into_iter().map(Viewpoint::label).collect()),
        words("moving", MOVING.into_iter().map(|(_, word)| word).chain(seen()).collect()),
    ];
    let mut middle = words("show", Arrangement::ALL.into_iter().map(Arrangement::label).collect());
    middle.push("angles".to_owned());
    middle.extend([SECOND, KEEP].map(str::to_owned));
    match &state.kept {
        Some(_) => {
            middle.extend(Beside::ALL.into_iter().map(|beside| beside.label().to_owned()));
            middle.extend([SWAP, FORGET].map(str::to_owned));
        }
        None => middle.push(FACEBOW.to_owned()),
    }
    groups.push(middle);
    if state.projections.arrangement.has_projections() {
        let mut paths = words("paths", Spread::ALL.into_iter().map(Spread::label).collect());
        paths.push("border envelope".to_owned());
        groups.push(paths);
    }
    if state.shown.mounted.is_some() {
        let mut casts = words("casts", Show::ALL.into_iter().map(Show::label).collect());
        if state.casts.show == Show::Film {
            casts.extend(Film::THICKNESSES.iter().map(|film| format!("{:.0}", film.mm() * 1000.0)));
        }
        casts.push("teeth alone".to_owned());
        groups.push(casts);
    }
    groups
}

/// Words on the buttons of the second set-up.
const SECOND: &str = "B";
const KEEP: &str = "keep (K)";
const SWAP: &str = "swap (J)";
const FORGET: &str = "forget";
const FACEBOW: &str = "facebow 5 mm off";

/// Before the buttons of the members in the picture.
const SEEN: &str = "seen";

fn seen() -> impl Iterator<Item = &'static str> {
    std::iter::once(SEEN).chain(Seen::ALL.into_iter().map(Seen::label))
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
        ui.add_space(4.0);
        members(ui, state, output);
    });
    ui.horizontal_wrapped(|ui| {
        middle(ui, state, output);
        ui.add_space(4.0);
        second(ui, state, output);
    });
    if state.projections.arrangement.has_projections() {
        ui.horizontal_wrapped(|ui| projections(ui, state, output));
    }
    if state.shown.mounted.is_some() {
        ui.horizontal_wrapped(|ui| casts(ui, state, output));
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

/// What the middle of the window shows.
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
}

/// Which members are in the picture.
fn members(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    ui.label(RichText::new(SEEN).small());
    for seen in Seen::ALL {
        let word = seen.label();
        press(ui, output, (format!("seen={word}"), word), state.casts.seen == seen, Action::See(seen));
    }
}

/// The second set-up.
fn second(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    ui.label(RichText::new(SECOND).small()).on_hover_text("A second set-up beside the one that is set");
    press(ui, output, ("keep".to_owned(), KEEP), false, Action::Keep);
    if state.kept.is_none() {
        press(ui, output, ("facebow".to_owned(), FACEBOW), false, Action::KeepWithFacebowError);
        return;
    }
    for beside in Beside::ALL {
        let word = beside.label();
        press(ui, output, (format!("beside={word}"), word), state.beside == beside, Action::Beside(beside));
    }
    press(ui, output, ("swap".to_owned(), SWAP), false, Action::SwapKept);
    press(ui, output, ("forget".to_owned(), FORGET), false, Action::Forget);
}

/// How the projections are drawn.
fn projections(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    let view = &state.projections;
    ui.label(RichText::new("paths").small());
    for spread in Spread::ALL {
        let word = spread.label();
        press(ui, output, (format!("spread={word}"), word), view.spread == spread, Action::Spread(spread));
    }
    let button = ui.add(Button::new(RichText::new("border envelope").small()).selected(view.envelope));
    output.note("envelope", &button);
    if button.clicked() {
        output.actions.push(Action::Envelope(!view.envelope));
    }
    button.on_hover_text(WITHHELD);
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
