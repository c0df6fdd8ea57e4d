//! One frame of picture and panels, the same for a window and for a snapshot.

use kiss3d::egui::Id;

use crate::action::Action;
use crate::camera::Camera;
use crate::drawing::Drawing;
use crate::easel::Easel;
use crate::kept::Beside;
use crate::layout::Layout;
use crate::page::Room;
use crate::panels::{self, PanelOutput};
use crate::projection::Projection;
use crate::projections::Arrangement;
use crate::state::State;

/// Sets what stays the same from frame to frame.
pub fn prepare(easel: &Easel) {
    panels::style::prepare(easel.panels());
}

/// Lays out the panels at so many seconds from any beginning; once more where the keyboard came to another control, which
/// takes keys as its own only from the next layout on: a letter typed at once would else be a key of the viewer, and an
/// arrow would lead away from a slider.
pub fn show_panels(easel: &mut Easel, state: &State, seconds: f64) -> PanelOutput {
    let (layout, projection) = lay_out(state, easel.sides().map(f64::from), easel.scale());
    panels::style::set(easel.panels(), state.appearance);
    let show = |easel: &mut Easel| {
        let mut output = PanelOutput::default();
        easel.show_panels(seconds, |ctx| output = panels::show(ctx, state, &layout, &projection));
        output
    };
    let known = keyboard_at(easel);
    let mut output = show(easel);
    if keyboard_at(easel) != known {
        let mut actions = std::mem::take(&mut output.actions);
        output = show(easel);
        actions.append(&mut output.actions);
        output.actions = actions;
    }
    output
}

/// The control that has the keyboard.
fn keyboard_at(easel: &Easel) -> Option<Id> {
    easel.panels().memory(|memory| memory.focused())
}

/// Whoever keeps the state from frame to frame, and does what is asked of it.
pub trait Hands {
    /// As it is now.
    fn state(&self) -> &State;
    /// Does it.
    fn act(&mut self, action: Action);
    /// Lets the time go by that has passed since the last frame.
    fn pass(&mut self);
}

/// All of a frame up to its drawing, at so many seconds from any beginning: does what was asked for since the last one
/// and what the panels then ask for, until they show what was done. What they ask for of that is left in the output.
///
/// What is done at a control that the mouse holds, or lets go of only now, comes before whatever else was asked for: a
/// key pressed behind it, say, which the control would else undo.
pub fn turn(easel: &mut Easel, seconds: f64, asked: Vec<Action>, hands: &mut impl Hands) -> PanelOutput {
    if !asked.is_empty() && easel.panels().egui_is_using_pointer() {
        let held = show_panels(easel, hands.state(), seconds).actions;
        held.into_iter().for_each(|action| hands.act(action));
    }
    asked.into_iter().for_each(|action| hands.act(action));
    hands.pass();
    let mut output = show_panels(easel, hands.state(), seconds);
    if !output.actions.is_empty() {
        std::mem::take(&mut output.actions).into_iter().for_each(|action| hands.act(action));
        // What was done is seen in this picture, not in the next.
        output = show_panels(easel, hands.state(), seconds);
    }
    output
}

/// Draws the picture, and the panels as they were laid out last. Whether the screen took it.
pub fn draw(easel: &mut Easel, drawing: &mut Drawing, state: &State) -> bool {
    let size = easel.sides().map(f64::from);
    let scale = easel.scale();
    let (layout, projection) = lay_out(state, size, scale);
    drawing.update(state, projection.shift_mm(f64::from(layout.to_beside()) * scale, 0.0));
    drawing.draw_lines(state);
    #[allow(clippy::cast_possible_truncation, reason = "pixels")]
    let [width, height] = size.map(|side| side as f32);
    let mut camera = Camera::new(&projection, width, height);
    let paper = panels::style::paper(state.appearance);
    easel.draw(&mut drawing.root, &drawing.lines, &mut camera, paper)
}

/// The layout in points and the projection in pixels, for a picture of this size in pixels.
#[must_use]
#[allow(clippy::cast_possible_truncation, reason = "pixels")]
pub fn lay_out(state: &State, size: [f64; 2], pixels_per_point: f64) -> (Layout, Projection) {
    let [width, height] = size.map(|side| (side / pixels_per_point) as f32);
    let layout = Layout::of(width, height, &panels::rows(state), state.appearance).arranged(
        if state.room == Room::Bench { Arrangement::Picture } else { state.projections.arrangement },
    );
    let is_beside =
        state.room == Room::Instrument && state.kept.is_some() && state.beside == Beside::SideBySide;
    let layout = if is_beside { layout.with_beside() } else { layout };
    let projection = state.look.projection(layout.window(pixels_per_point as f32), Some(state.axis()));
    (layout, projection)
}
