//! Keys pressed with others, which the graphics crate does not tell the panels.
//!
//! It hands on the letter of a key that was pressed with the control key as if it had been typed, so that a
//! field would write it, and says nothing of Shift. Both are seen in the window's own events, which reach the
//! panels one frame later.

use kiss3d::egui::{Context, Event, Id};

/// What was pressed with others in a frame.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Chords {
    /// Letters that are no text.
    pub letters: Vec<char>,
    /// An arrow with Shift: a fine step.
    pub fine: bool,
}

/// Those of this frame, and those that the panels meet in the next.
#[derive(Clone, Debug, Default)]
struct Known {
    now: Chords,
    next: Chords,
}

fn id() -> Id {
    Id::new("keys pressed with others")
}

/// Takes what was seen in the window's events since the last frame.
pub fn learn(ctx: &Context, seen: Chords) {
    ctx.data_mut(|data| {
        let known: &mut Known = data.get_temp_mut_or_default(id());
        known.now = std::mem::replace(&mut known.next, seen);
    });
}

/// Whether the arrow that the panels meet in this frame was pressed with Shift.
pub(super) fn is_fine(ctx: &Context) -> bool {
    ctx.data(|data| data.get_temp::<Known>(id())).is_some_and(|known| known.now.fine)
}

/// Takes letters that are no text out of what the panels meet in this frame.
pub(super) fn drop_their_letters(ctx: &Context) {
    let mut letters = ctx.data(|data| data.get_temp::<Known>(id())).unwrap_or_default().now.letters;
    if letters.is_empty() {
        return;
    }
    ctx.input_mut(|input| {
        input.events.retain(|event| {
            let Event::Text(text) = event else { return true };
            let place = letters.iter().position(|letter| text.chars().eq([*letter]));
            place.map(|place| letters.swap_remove(place)).is_none()
        });
    });
}
