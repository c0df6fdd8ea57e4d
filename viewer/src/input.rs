//! What a person does at the window, as actions.

use std::cell::OnceCell;

use kiss3d::egui::{Order, pos2};
use kiss3d::event::WindowEvent;

use crate::action::Action;
use crate::easel::Easel;
use crate::keys::{Held, Typing};
use crate::mouse::Mouse;
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

/// What keys, mouse and dropped files ask for; none when nothing happened at all. The panels are told of it too.
#[must_use]
pub fn actions(
    easel: &mut Easel,
    state: &State,
    mouse: &mut Mouse,
    held: &mut Held,
    told: &[Typed],
) -> Option<Vec<Action>> {
    let mut actions = Vec::new();
    let mut happened = false;
    let events = easel.events();
    let scale = easel.scale();
    let size = easel.sides().map(f64::from);
    // Only where there is something to lay out for: this is asked many times a second.
    let laid_out = OnceCell::new();
    let lay_out = || laid_out.get_or_init(|| frame::lay_out(state, size, scale));
    let typing = match (&state.asking, easel.panels().text_edit_focused()) {
        (Some(_), _) => Typing::Card,
        (None, true) => Typing::Field,
        (None, false) => Typing::Nowhere,
    };
    for event in events {
        happened = true;
        held.learn(&event);
        // A letter that was pressed with the control key is no text.
        if !matches!(event, WindowEvent::Char(_)) || !held.is_chord() {
            easel.tell(&event);
        }
        if event.is_keyboard_event() {
            actions.extend(keys::action(&event, *held, typing));
        } else {
            #[allow(clippy::cast_possible_truncation, reason = "pixels")]
            let on_picture = |x: f64, y: f64| {
                // Asked for the place of the event, not for where the mouse was at the last frame.
                let place = pos2((x / scale) as f32, (y / scale) as f32);
                let above = easel.panels().layer_id_at(place);
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
    for file in easel.dropped_files() {
        happened = true;
        actions.push(Action::Open(file));
    }
    happened.then_some(actions)
}
