//! The mouse on the picture: drag turns, drag with the right button moves, the wheel zooms, a click
//! picks.

use kiss3d::event::{Action as Press, MouseButton, WindowEvent};

use crate::action::Action;
use crate::projection::Projection;

/// Degrees that the picture turns for a pixel.
const DEGREES_PER_PIXEL: f64 = 0.4;
/// How much a notch of the wheel (10 units) zooms.
const ZOOM_PER_UNIT: f64 = 0.99;

/// A hand that clicks moves the mouse by no more than this, in pixels.
const STILL: f64 = 3.0;

/// What the mouse is doing.
#[derive(Clone, Copy, Debug, Default)]
pub struct Mouse {
    at: Option<(f64, f64)>,
    drags: Option<MouseButton>,
    /// Where the button was pressed, until it is dragged away from there.
    pressed: Option<(f64, f64)>,
}

impl Mouse {
    /// The action that an event of the mouse stands for. `on_picture` says whether a place belongs to the
    /// picture and no panel lies over it.
    pub fn action(
        &mut self,
        event: &WindowEvent,
        projection: &Projection,
        on_picture: impl Fn(f64, f64) -> bool,
    ) -> Option<Action> {
        let is_on = |at: Option<(f64, f64)>| at.is_some_and(|(x, y)| on_picture(x, y));
        match *event {
            WindowEvent::MouseButton(button, Press::Press, _) if is_on(self.at) => {
                self.drags = Some(button);
                self.pressed = self.at.filter(|_| button == MouseButton::Button1);
                None
            }
            WindowEvent::MouseButton(_, Press::Release, _) => {
                self.drags = None;
                let (x, y) = self.pressed.take()?;
                let (from, toward) = projection.ray([x, y]);
                Some(Action::Pick(from, toward))
            }
            WindowEvent::CursorPos(x, y, _) => {
                let (old_x, old_y) = self.at.replace((x, y))?;
                let (right, down) = (x - old_x, y - old_y);
                let button = self.drags?;
                if let Some((from_x, from_y)) = self.pressed {
                    if (x - from_x).hypot(y - from_y) <= STILL {
                        return None;
                    }
                    self.pressed = None;
                }
                match button {
                    MouseButton::Button1 => {
                        Some(Action::Turn(-right * DEGREES_PER_PIXEL, down * DEGREES_PER_PIXEL))
                    }
                    _ => Some(Action::Shift(-projection.shift_mm(right, down))),
                }
            }
            WindowEvent::Scroll(_, by, _) if is_on(self.at) => {
                let (x, y) = self.at?;
                let to_pointer = projection.shift_mm(x - projection.centre[0], y - projection.centre[1]);
                Some(Action::ZoomAt(ZOOM_PER_UNIT.powf(by), to_pointer))
            }
            _ => None,
        }
    }
}
