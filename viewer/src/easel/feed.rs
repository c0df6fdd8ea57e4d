//! What happens at the window, as the panels are told of it.

use kiss3d::egui::{
    Event, Key as PanelKey, Modifiers, MouseWheelUnit, PointerButton, Pos2, RawInput, Rect, TouchDeviceId,
    TouchId, TouchPhase, pos2, vec2,
};
use kiss3d::event::{Action as Press, Key, Modifiers as Held, MouseButton, TouchAction, WindowEvent};

/// What has happened since the panels were last laid out.
#[derive(Default)]
pub(super) struct Feed {
    events: Vec<Event>,
    /// The finger that stands for the mouse: the first one down, until it lifts.
    pointing: Option<u64>,
    mouse: Option<Pos2>,
}

impl Feed {
    /// Takes in an event of a window that has so many pixels to a point.
    #[allow(clippy::cast_possible_truncation, reason = "pixels")]
    pub(super) fn take(&mut self, event: &WindowEvent, scale: f64) {
        let place = |x: f64, y: f64| pos2((x / scale) as f32, (y / scale) as f32);
        match *event {
            WindowEvent::CursorPos(x, y, _) => {
                let at = place(x, y);
                self.mouse = Some(at);
                self.events.push(Event::PointerMoved(at));
            }
            WindowEvent::MouseButton(button, press, held) => {
                let (Some(button), Some(at)) = (mouse_button(button), self.mouse) else { return };
                self.button(button, at, press == Press::Press, modifiers(held));
            }
            WindowEvent::Scroll(x, y, held) => self.events.push(Event::MouseWheel {
                // The window's own units are near enough to points.
                unit: MouseWheelUnit::Point,
                delta: vec2(x as f32, y as f32),
                phase: TouchPhase::Move,
                modifiers: modifiers(held),
            }),
            WindowEvent::Touch(finger, x, y, action, _) => self.touch(finger, place(x, y), action),
            WindowEvent::Char(letter) if !letter.is_control() => {
                self.events.push(Event::Text(letter.to_string()));
            }
            WindowEvent::Key(key, press, held) => {
                let Some(key) = panel_key(key) else { return };
                self.events.push(Event::Key {
                    key,
                    physical_key: None,
                    pressed: press == Press::Press,
                    repeat: false,
                    modifiers: modifiers(held),
                });
            }
            _ => {}
        }
    }

    /// A finger: pinching is made out of all of them, and the first does what a mouse would.
    fn touch(&mut self, finger: u64, at: Pos2, action: TouchAction) {
        let phase = match action {
            TouchAction::Start => TouchPhase::Start,
            TouchAction::Move => TouchPhase::Move,
            TouchAction::End => TouchPhase::End,
            TouchAction::Cancel => TouchPhase::Cancel,
        };
        self.events.push(Event::Touch {
            device_id: TouchDeviceId(0),
            id: TouchId(finger),
            phase,
            pos: at,
            force: None,
        });
        if action == TouchAction::Start && self.pointing.is_none() {
            self.pointing = Some(finger);
            self.events.push(Event::PointerMoved(at));
            self.button(PointerButton::Primary, at, true, Modifiers::NONE);
            return;
        }
        if self.pointing != Some(finger) {
            return;
        }
        match action {
            TouchAction::Start => {}
            TouchAction::Move => self.events.push(Event::PointerMoved(at)),
            TouchAction::End | TouchAction::Cancel => {
                self.pointing = None;
                if action == TouchAction::End {
                    self.button(PointerButton::Primary, at, false, Modifiers::NONE);
                }
                self.events.push(Event::PointerGone);
            }
        }
    }

    fn button(&mut self, button: PointerButton, pos: Pos2, pressed: bool, modifiers: Modifiers) {
        self.events.push(Event::PointerButton { pos, button, pressed, modifiers });
    }

    /// Hands over what has happened, for panels on a screen of so many pixels.
    #[allow(clippy::cast_possible_truncation, reason = "pixels")]
    pub(super) fn given(&mut self, sides: [u32; 2], scale: f64, seconds: f64) -> RawInput {
        let [width, height] = sides.map(|side| (f64::from(side) / scale) as f32);
        RawInput {
            screen_rect: Some(Rect::from_min_size(Pos2::ZERO, vec2(width, height))),
            time: Some(seconds),
            events: std::mem::take(&mut self.events),
            ..RawInput::default()
        }
    }
}

const fn mouse_button(button: MouseButton) -> Option<PointerButton> {
    match button {
        MouseButton::Button1 => Some(PointerButton::Primary),
        MouseButton::Button2 => Some(PointerButton::Secondary),
        MouseButton::Button3 => Some(PointerButton::Middle),
        _ => None,
    }
}

fn modifiers(held: Held) -> Modifiers {
    let (ctrl, meta) = (held.contains(Held::Control), held.contains(Held::Super));
    let is_mac = cfg!(target_os = "macos");
    Modifiers {
        alt: held.contains(Held::Alt),
        ctrl,
        shift: held.contains(Held::Shift),
        mac_cmd: is_mac && meta,
        command: if is_mac { meta } else { ctrl },
    }
}

/// The key as the panels call it.
fn panel_key(key: Key) -> Option<PanelKey> {
    Some(match key {
        Key::Escape => PanelKey::Escape,
        Key::Tab => PanelKey::Tab,
        Key::Back => PanelKey::Backspace,
        Key::Return => PanelKey::Enter,
        Key::Space => PanelKey::Space,
        Key::Insert => PanelKey::Insert,
        Key::Delete => PanelKey::Delete,
        Key::Home => PanelKey::Home,
        Key::End => PanelKey::End,
        Key::PageUp => PanelKey::PageUp,
        Key::PageDown => PanelKey::PageDown,
        Key::Left => PanelKey::ArrowLeft,
        Key::Up => PanelKey::ArrowUp,
        Key::Right => PanelKey::ArrowRight,
        Key::Down => PanelKey::ArrowDown,
        // Letters have one name everywhere.
        key => {
            return Some(format!("{key:?}"))
                .filter(|name| name.len() == 1)
                .and_then(|name| PanelKey::from_name(&name));
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn heard(events: &[WindowEvent], scale: f64) -> Vec<Event> {
        let mut feed = Feed::default();
        for event in events {
            feed.take(event, scale);
        }
        let input = feed.given([1300, 800], scale, 2.0);
        assert!(feed.events.is_empty() && input.time == Some(2.0));
        let screen = input.screen_rect.unwrap();
        assert_eq!(screen.max, if scale == 2.0 { pos2(650.0, 400.0) } else { pos2(1300.0, 800.0) });
        input.events
    }

    #[test]
    fn a_push_of_the_mouse_is_told_where_it_is_in_points() {
        let shift = Held::Shift;
        let events = heard(
            &[
                // Nobody knows where this one is.
                WindowEvent::MouseButton(MouseButton::Button1, Press::Press, Held::empty()),
                WindowEvent::CursorPos(300.0, 40.0, Held::empty()),
                WindowEvent::MouseButton(MouseButton::Button1, Press::Press, shift),
                WindowEvent::MouseButton(MouseButton::Button1, Press::Release, Held::empty()),
                WindowEvent::MouseButton(MouseButton::Button7, Press::Press, Held::empty()),
            ],
            2.0,
        );
        let at = pos2(150.0, 20.0);
        let push = |pressed, modifiers| Event::PointerButton {
            pos: at,
            button: PointerButton::Primary,
            pressed,
            modifiers,
        };
        let expected =
            vec![Event::PointerMoved(at), push(true, Modifiers::SHIFT), push(false, Modifiers::NONE)];
        assert_eq!(events, expected);
    }

    #[test]
    fn letters_are_text_and_keys_are_keys() {
        let none = Held::empty();
        let events = heard(
            &[
                WindowEvent::Key(Key::Tab, Press::Press, none),
                WindowEvent::Char('\t'),
                WindowEvent::Char('ä'),
                WindowEvent::Key(Key::F5, Press::Press, none),
                WindowEvent::Key(Key::Q, Press::Press, Held::Control),
            ],
            1.0,
        );
        assert_eq!(events.len(), 3);
        assert!(matches!(events[0], Event::Key { key: PanelKey::Tab, pressed: true, .. }));
        assert_eq!(events[1], Event::Text("ä".to_owned()));
        assert!(matches!(events[2], Event::Key { key: PanelKey::Q, modifiers, .. } if modifiers.ctrl));
    }

    #[test]
    fn the_first_finger_is_the_mouse_and_no_other() {
        let touch = |finger, x, action| WindowEvent::Touch(finger, x, 5.0, action, Held::empty());
        let events = heard(
            &[
                touch(7, 1.0, TouchAction::Start),
                touch(8, 50.0, TouchAction::Start),
                touch(8, 51.0, TouchAction::Move),
                touch(7, 2.0, TouchAction::Move),
                touch(7, 2.0, TouchAction::End),
                touch(8, 51.0, TouchAction::End),
            ],
            1.0,
        );
        let touches = events.iter().filter(|event| matches!(event, Event::Touch { .. })).count();
        let pointer: Vec<_> =
            events.into_iter().filter(|event| !matches!(event, Event::Touch { .. })).collect();
        assert_eq!(touches, 6);
        let push = |x, pressed| Event::PointerButton {
            pos: pos2(x, 5.0),
            button: PointerButton::Primary,
            pressed,
            modifiers: Modifiers::NONE,
        };
        let moved = |x| Event::PointerMoved(pos2(x, 5.0));
        assert_eq!(
            pointer,
            vec![moved(1.0), push(1.0, true), moved(2.0), push(2.0, false), Event::PointerGone]
        );
    }
}
