//! The keys, one table: what the window obeys and what the help shows are both made from it.

use kiss3d::event::{Action as Press, Key, WindowEvent};

use crate::action::{Action, STEP};
use crate::projection::Viewpoint;

/// What a key is known by: the character it types, so that it follows the keyboard's layout, or
/// its name where it types none.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cap {
    /// A character.
    Types(char),
    /// A key that types nothing.
    Named(Key, &'static str),
}

/// A line of the table.
#[derive(Clone, Copy)]
pub struct Binding {
    /// Keys that do the same.
    pub caps: &'static [Cap],
    /// What they do.
    pub words: &'static str,
    act: fn() -> Action,
}

use Cap::{Named, Types};

/// Degrees that a key turns the picture.
const TURN_DEG: f64 = 5.0;
/// Part of the world that a key takes away from the picture.
const ZOOM: f64 = 0.85;

macro_rules! bindings {
    ($($caps:expr, $words:literal => $act:expr;)*) => {
        &[$(Binding { caps: &$caps, words: $words, act: || $act }),*]
    };
}

/// Every key of the viewer's own. Tab, Enter, Space and the arrows belong to the panels.
pub const BINDINGS: &[Binding] = bindings! {
    [Types('p')], "play or pause" => Action::PlayOrPause;
    [Types('.')], "step forward" => Action::Step(STEP);
    [Types(',')], "step back" => Action::Step(-STEP);
    [Named(Key::Home, "Home")], "go to the start of the excursion" => Action::ScrubTo(0);
    [Named(Key::End, "End")], "go to its end" => Action::ScrubTo(usize::MAX);
    [Types('n')], "next excursion" => Action::ExcursionAfter(1);
    [Types('b')], "previous excursion" => Action::ExcursionAfter(-1);
    [Types('o')], "look from the front and above (oblique)" => Action::View(Viewpoint::Oblique);
    [Types('r')], "look from the right" => Action::View(Viewpoint::Right);
    [Types('l')], "look from the left" => Action::View(Viewpoint::Left);
    [Types('f')], "look from the front" => Action::View(Viewpoint::Front);
    [Types('a')], "look from above" => Action::View(Viewpoint::Above);
    [Types('d')], "look from below" => Action::View(Viewpoint::Below);
    [Types('x')], "look along the axis through the spheres" => Action::View(Viewpoint::Axis);
    [Types('[')], "turn the picture to the left" => Action::Turn(TURN_DEG, 0.0);
    [Types(']')], "turn the picture to the right" => Action::Turn(-TURN_DEG, 0.0);
    [Named(Key::PageUp, "Page up")], "raise the viewpoint" => Action::Turn(0.0, TURN_DEG);
    [Named(Key::PageDown, "Page down")], "lower the viewpoint" => Action::Turn(0.0, -TURN_DEG);
    [Types('+'), Types('=')], "zoom in" => Action::Zoom(ZOOM);
    [Types('-')], "zoom out" => Action::Zoom(1.0 / ZOOM);
    [Types('m')], "let the other member move on the screen" => Action::SwapMoving;
    [Types('c')], "show the teeth alone, or the whole instrument" => Action::SwapClose;
    [Types('w')], "show the picture, the projections, or both" => Action::ArrangeNext;
    [Types('v')], "casts: show relief, clearance or film" => Action::ShowNext;
    [Types('s')], "show both members, the upper or the lower" => Action::SeeNext;
    [Types('g')], "next page on the right: cusps, casts, plan" => Action::SwapPage;
    [Types('t')], "set both sides together, or each by itself" => Action::SwapTied;
    [Types('u')], "restore the file's values" => Action::BackToFile;
    [Types('z')], "set the baseline" => Action::Zero;
    [Named(Key::F5, "F5")], "reload the file" => Action::Reload;
    [Types('h'), Types('?'), Named(Key::F1, "F1")], "show this help" => Action::Help;
    [Named(Key::Escape, "Esc")], "close the help, dismiss a note" => Action::Dismiss;
    [Named(Key::F10, "F10")], "close the viewer" => Action::Quit;
};

/// Keys of the panels, for the help.
pub const PANEL_KEYS: &[(&str, &str)] = &[
    ("Tab, Shift+Tab", "go to the next control, the previous one"),
    ("Left, Right", "move the focused slider by a step"),
    ("Space or Enter", "press the focused button"),
    ("digits, then Enter", "type a number into the focused field"),
];

impl Cap {
    /// What is printed on it.
    #[must_use]
    pub fn print(self) -> String {
        match self {
            Types(character) => character.to_uppercase().collect(),
            Named(_, name) => name.to_owned(),
        }
    }

    fn is_pressed_by(self, event: &WindowEvent) -> bool {
        match (self, event) {
            (Types(character), WindowEvent::Char(typed)) => typed.to_lowercase().eq([character]),
            (Named(named, _), WindowEvent::Key(key, Press::Press, _)) => named == *key,
            _ => false,
        }
    }
}

impl Binding {
    /// The keys as the help prints them.
    #[must_use]
    pub fn print(&self) -> String {
        self.caps.iter().map(|cap| cap.print()).collect::<Vec<_>>().join(" or ")
    }
}

/// Keys that a field being typed in has no use for.
const WHILE_TYPING: [Key; 3] = [Key::F1, Key::F5, Key::F10];

/// The action that an event of the keyboard stands for, if any. While a number is typed, its field has the
/// characters and the keys that move within it.
#[must_use]
pub fn action(event: &WindowEvent, is_typing: bool) -> Option<Action> {
    if is_typing && !matches!(event, WindowEvent::Key(key, ..) if WHILE_TYPING.contains(key)) {
        return None;
    }
    BINDINGS
        .iter()
        .find(|binding| binding.caps.iter().any(|cap| cap.is_pressed_by(event)))
        .map(|binding| (binding.act)())
}

#[cfg(test)]
mod tests {
    use super::*;
    use kiss3d::event::Modifiers;

    #[test]
    fn no_key_stands_for_two_things() {
        let caps: Vec<Cap> = BINDINGS.iter().flat_map(|binding| binding.caps).copied().collect();
        for (place, cap) in caps.iter().enumerate() {
            assert!(!caps[..place].contains(cap), "{cap:?}");
        }
    }

    #[test]
    fn letters_are_obeyed_in_either_case_and_named_keys_when_pressed() {
        assert!(matches!(action(&WindowEvent::Char('P'), false), Some(Action::PlayOrPause)));
        let key = |press| WindowEvent::Key(Key::F1, press, Modifiers::empty());
        assert!(matches!(action(&key(Press::Press), true), Some(Action::Help)));
        assert!(action(&key(Press::Release), false).is_none());
        assert!(action(&WindowEvent::Char('q'), false).is_none());
        assert!(action(&WindowEvent::Char('p'), true).is_none());
    }

    #[test]
    fn every_view_has_a_key() {
        for viewpoint in Viewpoint::ALL {
            let has_key =
                BINDINGS.iter().any(|b| matches!((b.act)(), Action::View(view) if view == viewpoint));
            assert!(has_key, "{viewpoint:?}");
        }
    }
}
