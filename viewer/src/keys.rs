//! The keys, one table: what the window obeys and what the help shows are both made from it.

use kiss3d::event::{Action as Press, Key, Modifiers, WindowEvent};
use sim_core::frame::Side;

use crate::action::{Action, STEP};
use crate::appearance::Fold;
use crate::bench::{BenchAct, Dial};
use crate::projection::Viewpoint;
use crate::teaching::Teach;

/// What a key is known by: the character it types, so that it follows the keyboard's layout, or
/// its name where it types none.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cap {
    /// A character.
    Types(char),
    /// A key that types nothing.
    Named(Key, &'static str),
    /// A character with the control key (on a Mac, the command key).
    Control(char),
    /// The same with Shift.
    ControlShift(char),
    /// A key that types nothing, with the control key.
    ControlNamed(Key, &'static str),
    /// The same with Shift alone.
    ShiftNamed(Key, &'static str),
}

/// The modifiers that are down: a character comes without them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Held {
    modifiers: Modifiers,
}

impl Default for Held {
    fn default() -> Self {
        Self { modifiers: Modifiers::empty() }
    }
}

/// What has the keyboard.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Typing {
    /// Nothing that is typed in.
    Nowhere,
    /// A field.
    Field,
    /// A card that waits for its answer.
    Card,
}

/// What the modifiers make of a key.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Chord {
    Plain,
    Shift,
    Control,
    ControlShift,
    /// With a key that no binding uses: the desktop's.
    Foreign,
}

impl Held {
    /// The control key down, with Shift or without.
    #[must_use]
    pub fn with_control(is_shifted: bool) -> Self {
        let mut modifiers = if cfg!(target_os = "macos") { Modifiers::Super } else { Modifiers::Control };
        modifiers.set(Modifiers::Shift, is_shifted);
        Self { modifiers }
    }

    /// Learns from an event what is down.
    pub fn learn(&mut self, event: &WindowEvent) {
        if let Some(modifiers) = event.modifiers() {
            self.modifiers = modifiers;
        }
        // The event of a modifier's own key tells of it as it was before.
        if let WindowEvent::Key(key, press, _) = event {
            let own = match key {
                Key::LControl | Key::RControl => Modifiers::Control,
                Key::LShift | Key::RShift => Modifiers::Shift,
                Key::LAlt => Modifiers::Alt,
                Key::LWin | Key::RWin => Modifiers::Super,
                _ => return,
            };
            self.modifiers.set(own, *press == Press::Press);
        }
    }

    /// Whether a letter typed now is no text.
    #[must_use]
    pub fn is_chord(self) -> bool {
        !matches!(self.chord(), Chord::Plain | Chord::Shift)
    }

    /// Whether Shift alone is down.
    #[must_use]
    pub fn is_shifted(self) -> bool {
        self.chord() == Chord::Shift
    }

    fn chord(self) -> Chord {
        let has = |modifier| self.modifiers.contains(modifier);
        let (command, other) = if cfg!(target_os = "macos") {
            (has(Modifiers::Super), has(Modifiers::Control))
        } else {
            (has(Modifiers::Control), has(Modifiers::Super))
        };
        let (alt, shift) = (has(Modifiers::Alt), has(Modifiers::Shift));
        match (command, alt, other, shift) {
            // Control and Alt together are the key for the third sign on a cap, on some systems.
            (true, true, false, _) | (false, false, false, false) => Chord::Plain,
            (false, false, false, true) => Chord::Shift,
            (true, false, false, false) => Chord::Control,
            (true, false, false, true) => Chord::ControlShift,
            _ => Chord::Foreign,
        }
    }
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

use Cap::{Control, ControlNamed, ControlShift, Named, ShiftNamed, Types};

/// Degrees that a key turns the picture.
const TURN_DEG: f64 = 5.0;
/// Part of the world that a key takes away from the picture.
const ZOOM: f64 = 0.85;

/// Degrees that a key turns a guide at the bench.
const TURN_GUIDE_DEG: f64 = 0.5;

const fn turn(side: Side, by_deg: f64) -> Action {
    Action::Bench(BenchAct::TurnBy(Dial::Inclination(side), by_deg))
}

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
    [Types('k')], "keep what is shown as a second set-up, B" => Action::Keep;
    [Types('j')], "let A and B change places" => Action::SwapKept;
    [Types('v')], "casts: show relief, clearance or film" => Action::ShowNext;
    [Types('s')], "show both members, the upper or the lower" => Action::SeeNext;
    [Types('g')], "next page on the right: cusps, casts, plan, why, lessons, tracing" => Action::SwapPage;
    [Types('i')], "why this number: of the first cusp marked, or back" => Action::ExplainMarked;
    [Types('q')], "glossary: what the words mean" => Action::Glossary;
    [Types('y')], "go to the bench, or back to the instrument" => Action::SwapRoom;
    [Named(Key::F2, "F2")], "bench: turn the right guide half a degree steeper" => turn(Side::Right, TURN_GUIDE_DEG);
    [ShiftNamed(Key::F2, "F2")], "bench: turn the right guide half a degree shallower" => turn(Side::Right, -TURN_GUIDE_DEG);
    [Named(Key::F3, "F3")], "bench: turn the left guide half a degree steeper" => turn(Side::Left, TURN_GUIDE_DEG);
    [ShiftNamed(Key::F3, "F3")], "bench: turn the left guide half a degree shallower" => turn(Side::Left, -TURN_GUIDE_DEG);
    [Named(Key::F4, "F4")], "bench: lay the next record between the casts" => Action::Bench(BenchAct::LayNext);
    [Types('e')], "lessons, viva, and the scenes that come with the program" => Action::Teach(Teach::Page);
    [Types('t')], "set both sides together, or each by itself" => Action::SwapTied;
    [Types('u')], "restore the file's values" => Action::BackToFile;
    [Types('z')], "set the baseline" => Action::Zero;
    [Control('z')], "undo the last change" => Action::Undo;
    [Control('y'), ControlShift('z')], "redo it" => Action::Redo;
    [Control('o')], "open a scene" => Action::AskWhatToOpen;
    [Control('e')], "write a picture, the plot, the table or an animation into a file" => Action::AskWhatToWrite;
    [Control('s')], "save the scene" => Action::AskWhereToSave;
    [ControlNamed(Key::PageDown, "Page down")], "next scene of the folder" => Action::SceneAfter(1);
    [ControlNamed(Key::PageUp, "Page up")], "scene before it" => Action::SceneAfter(-1);
    [Named(Key::F5, "F5")], "reload the file" => Action::Reload;
    [Named(Key::F6, "F6")], "go to the next panel" => Action::NextPanel(true);
    [ShiftNamed(Key::F6, "F6")], "go to the panel before" => Action::NextPanel(false);
    [Named(Key::F7, "F7")], "fold or show the settings" => Action::Fold(Fold::Settings);
    [Named(Key::F8, "F8")], "fold or show the panel on the right" => Action::Fold(Fold::Readings);
    [Named(Key::F9, "F9")], "the picture alone, or with its panels" => Action::Fold(Fold::Both);
    [Control('+'), Control('=')], "larger words" => Action::Enlarge(true);
    [Control('-')], "smaller words" => Action::Enlarge(false);
    [Control('f')], "fit the plot's axes to its curves" => Action::FitAxes;
    [Control('0')], "words at their usual size" => Action::UsualSize;
    [ControlNamed(Key::F9, "F9")], "high contrast, or the usual look" => Action::SwapContrast;
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
            Control(character) => format!("Ctrl+{}", Types(character).print()),
            ControlShift(character) => format!("Ctrl+Shift+{}", Types(character).print()),
            ControlNamed(_, name) => format!("Ctrl+{name}"),
            ShiftNamed(_, name) => format!("Shift+{name}"),
        }
    }

    fn is_pressed_by(self, event: &WindowEvent, chord: Chord) -> bool {
        let types = |character: char, typed: &char| typed.to_lowercase().eq([character]);
        match (self, event, chord) {
            // Shift is part of how a character is typed.
            (Types(character), WindowEvent::Char(typed), Chord::Plain | Chord::Shift)
            | (Control(character), WindowEvent::Char(typed), Chord::Control)
            | (ControlShift(character), WindowEvent::Char(typed), Chord::ControlShift) => {
                types(character, typed)
            }
            // Some signs need Shift on one keyboard and not on another.
            (Control(character), WindowEvent::Char(typed), Chord::ControlShift) => {
                !character.is_alphabetic() && types(character, typed)
            }
            (Named(named, _), WindowEvent::Key(key, Press::Press, _), Chord::Plain)
            | (ShiftNamed(named, _), WindowEvent::Key(key, Press::Press, _), Chord::Shift)
            | (ControlNamed(named, _), WindowEvent::Key(key, Press::Press, _), Chord::Control) => {
                named == *key
            }
            _ => false,
        }
    }

    /// Whether what has the keyboard leaves this one to the viewer.
    fn is_free(self, typing: Typing) -> bool {
        match typing {
            Typing::Nowhere => true,
            Typing::Field => self.is_free_while_typing(),
            Typing::Card => matches!(self, Named(Key::Escape | Key::F10, _)),
        }
    }

    fn is_free_while_typing(self) -> bool {
        /// Undo, cut, copy, paste and the like belong to the field.
        const OF_FIELDS: [char; 6] = ['z', 'y', 'x', 'c', 'v', 'a'];
        match self {
            Types(_) => false,
            Named(key, _) | ControlNamed(key, _) | ShiftNamed(key, _) => WHILE_TYPING.contains(&key),
            Control(character) | ControlShift(character) => !OF_FIELDS.contains(&character),
        }
    }
}

impl Binding {
    /// What its keys ask for.
    #[must_use]
    pub fn action(&self) -> Action {
        (self.act)()
    }

    /// The keys as the help prints them.
    #[must_use]
    pub fn print(&self) -> String {
        self.caps.iter().map(|cap| cap.print()).collect::<Vec<_>>().join(" or ")
    }
}

/// Keys that a field being typed in has no use for.
const WHILE_TYPING: [Key; 8] = [Key::F1, Key::F2, Key::F5, Key::F6, Key::F7, Key::F8, Key::F9, Key::F10];

/// The action that an event of the keyboard stands for, if any, with these modifiers down. While a number is
/// typed, its field has the characters and the keys that move within it.
#[must_use]
pub fn action(event: &WindowEvent, held: Held, typing: Typing) -> Option<Action> {
    let chord = held.chord();
    let is_pressed = |cap: &Cap| cap.is_pressed_by(event, chord) && cap.is_free(typing);
    BINDINGS.iter().find(|binding| binding.caps.iter().any(is_pressed)).map(|binding| (binding.act)())
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

    fn pressed(character: char, modifiers: Modifiers) -> Option<Action> {
        let mut held = Held::default();
        held.learn(&WindowEvent::Key(Key::Unknown, Press::Press, modifiers));
        action(&WindowEvent::Char(character), held, Typing::Nowhere)
    }

    #[test]
    fn letters_are_obeyed_in_either_case_and_named_keys_when_pressed() {
        let plain = Held::default();
        assert!(matches!(action(&WindowEvent::Char('P'), plain, Typing::Nowhere), Some(Action::PlayOrPause)));
        let key = |press| WindowEvent::Key(Key::F1, press, Modifiers::empty());
        assert!(matches!(action(&key(Press::Press), plain, Typing::Field), Some(Action::Help)));
        assert!(action(&key(Press::Release), plain, Typing::Nowhere).is_none());
        assert!(action(&WindowEvent::Char('§'), plain, Typing::Nowhere).is_none());
        assert!(action(&WindowEvent::Char('p'), plain, Typing::Field).is_none());
    }

    #[test]
    fn a_letter_with_a_modifier_is_another_key() {
        assert!(matches!(pressed('z', Modifiers::empty()), Some(Action::Zero)));
        assert!(matches!(pressed('Z', Modifiers::Shift), Some(Action::Zero)));
        assert!(matches!(pressed('z', Modifiers::Control), Some(Action::Undo)));
        assert!(matches!(pressed('Z', Modifiers::Control | Modifiers::Shift), Some(Action::Redo)));
        // What has no binding of its own does nothing, whatever the letter does by itself.
        for letter in BINDINGS.iter().flat_map(|binding| binding.caps).filter_map(|cap| match cap {
            Types(letter) => Some(*letter),
            _ => None,
        }) {
            assert!(pressed(letter, Modifiers::Alt).is_none(), "{letter}");
            assert!(pressed(letter, Modifiers::Super).is_none(), "{letter}");
            let has_own = BINDINGS.iter().flat_map(|binding| binding.caps).any(|cap| *cap == Control(letter));
            assert_eq!(pressed(letter, Modifiers::Control).is_some(), has_own, "{letter}");
        }
    }

    #[test]
    fn a_modifier_counts_from_the_moment_it_is_pressed_to_that_at_which_it_is_let_go() {
        let mut held = Held::default();
        held.learn(&WindowEvent::Key(Key::LControl, Press::Press, Modifiers::empty()));
        assert_eq!(held.chord(), Chord::Control);
        held.learn(&WindowEvent::Key(Key::LControl, Press::Release, Modifiers::Control));
        assert_eq!(held.chord(), Chord::Plain);
    }

    #[test]
    fn a_card_waits_for_its_answer_and_leaves_only_what_ends_it() {
        let plain = Held::default();
        assert!(action(&WindowEvent::Char('z'), plain, Typing::Card).is_none());
        let escape = WindowEvent::Key(Key::Escape, Press::Press, Modifiers::empty());
        assert!(matches!(action(&escape, plain, Typing::Card), Some(Action::Dismiss)));
    }

    #[test]
    fn a_field_keeps_its_own_undo_while_it_is_typed_in() {
        let mut held = Held::default();
        held.learn(&WindowEvent::Key(Key::Unknown, Press::Press, Modifiers::Control));
        assert!(action(&WindowEvent::Char('z'), held, Typing::Field).is_none());
        assert!(matches!(action(&WindowEvent::Char('+'), held, Typing::Field), Some(Action::Enlarge(true))));
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
