//! What a person does at the window, as actions.

use std::cell::OnceCell;

use kiss3d::egui::{Order, pos2};
use kiss3d::event::{Action as Press, Key, WindowEvent};
use kiss3d::window::Window;

use crate::action::Action;
use crate::keys::{Held, Typing};
use crate::mouse::Mouse;
use crate::panels::chords::{self, Chords};
use crate::state::State;
use crate::{frame, keys};

/// A letter typed with the control key, of which a window in a browser does not tell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Typed {
    /// The letter.
    pub letter: char,
    /// Shift was down too.
    pub is_shifted: bool,
}

/// What keys, mouse and dropped files ask for; none when nothing happened at all.
#[must_use]
pub fn actions(
    window: &Window,
    state: &State,
    mouse: &mut Mouse,
    held: &mut Held,
    told: &[Typed],
) -> Option<Vec<Action>> {
    let mut actions = Vec::new();
    let mut happened = false;
    let mut chords = Chords::default();
    let scale = window.scale_factor();
    let size = [window.width(), window.height()].map(f64::from);
    // Only where there is something to lay out for: this is asked many times a second.
    let laid_out = OnceCell::new();
    let lay_out = || laid_out.get_or_init(|| frame::lay_out(state, size, scale));
    let typing = match (&state.asking, window.egui_context().text_edit_focused()) {
        (Some(_), _) => Typing::Card,
        (None, true) => Typing::Field,
        (None, false) => Typing::Nowhere,
    };
    for event in window.events().iter() {
        happened = true;
        let event = event.value;
        held.learn(&event);
        match event {
            WindowEvent::Char(letter) if held.is_chord() => chords.letters.push(letter),
            WindowEvent::Key(Key::Left | Key::Right, Press::Press, _) => chords.fine |= held.is_shifted(),
            _ => {}
        }
        if event.is_keyboard_event() {
            actions.extend(keys::action(&event, *held, typing));
        } else {
            #[allow(clippy::cast_possible_truncation, reason = "pixels")]
            let on_picture = |x: f64, y: f64| {
                // Asked for the place of the event, not for where the mouse was at the last frame.
                let place = pos2((x / scale) as f32, (y / scale) as f32);
                let above = window.egui_context().layer_id_at(place);
                let (layout, _) = lay_out();
                (layout.instrument.contains(place) || layout.beside.contains(place))
                    && above.is_none_or(|layer| layer.order == Order::Background)
            };
            let (_, projection) = lay_out();
            actions.extend(mouse.action(&event, projection, on_picture));
        }
    }
    for typed in told {
        happened = true;
        let event = WindowEvent::Char(typed.letter);
        actions.extend(keys::action(&event, Held::with_control(typed.is_shifted), typing));
    }
    for file in window.dropped_files() {
        happened = true;
        actions.push(Action::Open(file));
    }
    chords::learn(window.egui_context(), chords);
    happened.then_some(actions)
}
