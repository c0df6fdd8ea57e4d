//! What a person does at the window, as actions.

use std::cell::OnceCell;

use kiss3d::egui::{Order, pos2};
use kiss3d::event::{Action as Press, Key, WindowEvent};

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
    let mut events = events.into_iter();
    let mut has_moved_keyboard = false;
    while let Some(event) = events.next() {
        happened = true;
        if has_moved_keyboard && is_typed(&event) {
            // Whose it is, only the panels can tell: a click before it may have opened a field.
            easel.hold_back(std::iter::once(event).chain(events));
            break;
        }
        has_moved_keyboard |= may_move_keyboard(&event);
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

/// Whether the keyboard may belong to another control behind it.
fn may_move_keyboard(event: &WindowEvent) -> bool {
    matches!(
        event,
        WindowEvent::MouseButton(..)
            | WindowEvent::Touch(..)
            | WindowEvent::Key(Key::Tab | Key::Return | Key::Escape, Press::Press, _)
    )
}

/// Whether it means another thing in a field than elsewhere. A tabulator that is held repeats faster than a software driver
/// draws, and means the same everywhere.
fn is_typed(event: &WindowEvent) -> bool {
    match event {
        WindowEvent::Char(letter) => !letter.is_control(),
        WindowEvent::Key(key, Press::Press, _) => *key != Key::Tab,
        _ => false,
    }
}
