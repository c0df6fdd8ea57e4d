//! A number and the field in which it is typed.
//!
//! The keyboard may rest on it, or pass over it, and nothing is sent: it becomes a field to type in when a
//! person types a digit, presses Enter or clicks, and it sends exactly what was typed, once.

use kiss3d::egui::text::{CCursor, CCursorRange};
use kiss3d::egui::text_edit::TextEditState;
use kiss3d::egui::{
    Align2, Event, Id, Key, Response, Sense, Stroke, StrokeKind, TextEdit, TextStyle, Ui, WidgetInfo, vec2,
};

use super::style;
use crate::palette;

/// Width of the field, at the usual size of words.
pub(super) const WIDTH: f32 = 58.0;

/// What came of the field in a frame.
pub(super) struct Number {
    /// Where it is, and whether the keyboard is on it.
    pub response: Response,
    /// What was typed, once it is finished: the number, or the text that is none.
    pub typed: Option<Result<f64, String>>,
}

/// What is being typed, between frames.
#[derive(Clone, Debug, Default)]
struct Editing {
    text: String,
    /// As the number stood: unchanged, it sends nothing.
    was: String,
}

/// The field that is typed in has a name of its own.
fn field_of(id: Id) -> Id {
    id.with("typed")
}

/// Opens the field for the next frame, with the keyboard in it, so that no letter typed meanwhile is lost.
fn open(ui: &Ui, id: Id, text: String, was: String) {
    let end = CCursor::new(text.chars().count());
    // A field opened as it stands is replaced by what is typed; one begun by a digit goes on.
    let start = if text == was { CCursor::new(0) } else { end };
    let mut state = TextEditState::default();
    state.cursor.set_char_range(Some(CCursorRange::two(start, end)));
    state.store(ui.ctx(), field_of(id));
    ui.memory_mut(|memory| memory.request_focus(field_of(id)));
    ui.data_mut(|data| data.insert_temp(id, Editing { text, was }));
    ui.ctx().request_repaint();
}

/// Shows a number, called `label`, with its unit left out; `id` tells it from every other.
pub(super) fn show(ui: &mut Ui, id: Id, label: &str, now: f64) -> Number {
    let size = vec2(WIDTH * style::scale(ui.ctx()), ui.spacing().interact_size.y);
    match ui.data(|data| data.get_temp::<Editing>(id)) {
        Some(editing) => edit(ui, id, label, editing, size),
        None => rest(ui, id, label, now, size),
    }
}

/// The number, not being typed.
fn rest(ui: &mut Ui, id: Id, label: &str, now: f64, size: kiss3d::egui::Vec2) -> Number {
    let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
    let response = ui.interact(rect, id, Sense::click());
    let shown = words::number::as_set(now);
    response.widget_info(|| WidgetInfo::labeled(kiss3d::egui::WidgetType::DragValue, true, label));
    let edge = if response.hovered() { palette::ACTIVE.egui() } else { palette::PENCIL.egui() };
    ui.painter().rect(rect, 3.0, palette::FIELD.egui(), Stroke::new(1.0, edge), StrokeKind::Inside);
    let at = rect.right_center() - vec2(5.0, 0.0);
    let font = TextStyle::Body.resolve(ui.style());
    ui.painter().text(at, Align2::RIGHT_CENTER, &shown, font, palette::INK.egui());
    // What was typed in the very frame of the click counts: a slow machine may put both into one.
    let typed = (response.has_focus() || response.clicked()).then(|| begun_with(ui)).flatten();
    if response.clicked() || typed.is_some() {
        open(ui, id, typed.unwrap_or_else(|| shown.clone()), shown);
    }
    Number { response, typed: None }
}

/// What a number may begin with.
fn begun_with(ui: &Ui) -> Option<String> {
    let text: String = ui.input(|input| {
        let typed = |event: &Event| match event {
            Event::Text(text) => Some(text.clone()),
            _ => None,
        };
        input.events.iter().filter_map(typed).collect()
    });
    let first = text.chars().next()?;
    (first.is_ascii_digit() || "-−.,".contains(first)).then_some(text)
}

fn edit(ui: &mut Ui, id: Id, label: &str, mut editing: Editing, size: kiss3d::egui::Vec2) -> Number {
    let edited = TextEdit::singleline(&mut editing.text)
        .id(field_of(id))
        .desired_width(size.x - 8.0)
        .margin(vec2(4.0, 1.0))
        .horizontal_align(kiss3d::egui::Align::RIGHT);
    let response = edited.show(ui).response.response.clone();
    response.widget_info(|| WidgetInfo::labeled(kiss3d::egui::WidgetType::TextEdit, true, label));
    if !response.lost_focus() {
        if response.has_focus() {
            ui.data_mut(|data| data.insert_temp(id, editing));
        } else {
            // The keyboard was taken elsewhere without a key of this field.
            ui.data_mut(|data| data.remove::<Editing>(id));
        }
        return Number { response, typed: None };
    }
    ui.data_mut(|data| data.remove::<Editing>(id));
    let key = |key| ui.input(|input| input.key_pressed(key));
    if key(Key::Enter) || key(Key::Escape) {
        ui.memory_mut(|memory| memory.request_focus(id));
    }
    let typed = (!key(Key::Escape) && editing.text != editing.was).then(|| read(&editing.text));
    Number { response, typed }
}

/// The number that a person has typed, with a decimal comma or point, a hyphen or a minus, with or without
/// its unit.
fn read(text: &str) -> Result<f64, String> {
    let bare = text.trim().trim_end_matches(['°', 'm']).trim().replace('−', "-").replace(',', ".");
    match bare.parse::<f64>() {
        Ok(number) if number.is_finite() => Ok(number),
        _ => Err(text.trim().to_owned()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use kiss3d::egui::{Context, Modifiers, RawInput, Rect, pos2};

    #[test]
    fn what_was_typed_is_read_or_refused_never_dropped() {
        for (text, number) in
            [("30,5", 30.5), ("22.5", 22.5), (" −7.25° ", -7.25), ("-3 mm", -3.0), ("1e1", 10.0)]
        {
            assert_eq!(read(text), Ok(number), "{text}");
        }
        for text in ["", "steep", "3,0,1", "inf", "nan", "30°15"] {
            assert_eq!(read(text), Err(text.to_owned()));
        }
    }

    /// A window with two numbers in it.
    struct Sheet {
        ctx: Context,
        numbers: [f64; 2],
        sent: Vec<(usize, Result<f64, String>)>,
        places: [Rect; 2],
    }

    impl Sheet {
        fn new() -> Self {
            Self {
                ctx: Context::default(),
                numbers: [32.67, 13.7],
                sent: Vec::new(),
                places: [Rect::NOTHING; 2],
            }
        }

        fn frame(&mut self, events: Vec<Event>) {
            let input = RawInput {
                screen_rect: Some(Rect::from_min_size(pos2(0.0, 0.0), vec2(300.0, 100.0))),
                events,
                ..RawInput::default()
            };
            let (numbers, sent, places) = (self.numbers, &mut self.sent, &mut self.places);
            let mut output = self.ctx.run_ui(input, |ui| {
                for (place, number) in numbers.into_iter().enumerate() {
                    let shown = show(ui, Id::new(place), "a number", number);
                    places[place] = shown.response.rect;
                    sent.extend(shown.typed.map(|typed| (place, typed)));
                }
            });
            // Nobody draws the faces.
            output.textures_delta.clear();
        }

        fn press(&mut self, key: Key) {
            let press = |pressed| Event::Key {
                key,
                physical_key: None,
                pressed,
                repeat: false,
                modifiers: Modifiers::NONE,
            };
            self.frame(vec![press(true)]);
            self.frame(vec![press(false)]);
        }

        fn types(&mut self, text: &str) {
            for character in text.chars() {
                self.frame(vec![Event::Text(character.to_string())]);
            }
            self.frame(vec![]);
        }
    }

    #[test]
    fn the_keyboard_passes_over_and_nothing_is_sent() {
        let mut sheet = Sheet::new();
        for _ in 0..6 {
            sheet.press(Key::Tab);
        }
        // Opened and left as it was.
        sheet.press(Key::Enter);
        sheet.frame(vec![]);
        sheet.press(Key::Tab);
        assert_eq!(sheet.sent, []);
    }

    #[test]
    fn what_is_typed_is_sent_once_and_whole() {
        let mut sheet = Sheet::new();
        sheet.press(Key::Tab);
        sheet.types("22,25");
        assert_eq!(sheet.sent, []);
        sheet.press(Key::Enter);
        assert_eq!(sheet.sent, [(0, Ok(22.25))]);
        // The keyboard has stayed there; a word is refused, and Escape takes back what was begun.
        sheet.types("3x");
        sheet.press(Key::Tab);
        assert_eq!(sheet.sent[1..], [(0, Err("3x".to_owned()))]);
        sheet.types("4");
        sheet.press(Key::Escape);
        assert_eq!(sheet.sent.len(), 2);
    }

    #[test]
    fn a_number_opened_as_it_stands_is_replaced_by_what_is_typed() {
        let mut sheet = Sheet::new();
        sheet.press(Key::Tab);
        sheet.press(Key::Enter);
        sheet.types("22,25");
        sheet.press(Key::Enter);
        assert_eq!(sheet.sent, [(0, Ok(22.25))]);
        // By the mouse as well, wherever it points.
        let at = sheet.places[1].center();
        let button = |pressed| Event::PointerButton {
            pos: at,
            button: kiss3d::egui::PointerButton::Primary,
            pressed,
            modifiers: Modifiers::NONE,
        };
        sheet.frame(vec![Event::PointerMoved(at)]);
        sheet.frame(vec![button(true)]);
        sheet.frame(vec![button(false)]);
        sheet.types("41.5");
        sheet.press(Key::Tab);
        assert_eq!(sheet.sent[1..], [(1, Ok(41.5))]);
    }

    #[test]
    fn what_is_typed_in_the_frame_of_the_click_stands_before_what_comes_after() {
        for before in [vec![], vec![Key::Tab], vec![Key::Tab, Key::Tab]] {
            let mut sheet = Sheet::new();
            sheet.frame(vec![]);
            for key in before {
                sheet.press(key);
            }
            let pos = sheet.places[1].center();
            let button = |pressed| Event::PointerButton {
                pos,
                button: kiss3d::egui::PointerButton::Primary,
                pressed,
                modifiers: Modifiers::NONE,
            };
            let text = |text: &str| Event::Text(text.to_owned());
            let events = [
                Event::PointerMoved(pos),
                button(true),
                button(false),
                text("2"),
                text("2"),
                text(","),
                text("2"),
                text("5"),
            ];
            // However the frames fall between them.
            for first in 1..events.len() {
                for second in first..events.len() {
                    sheet.sent.clear();
                    sheet.frame(events[..first].to_vec());
                    sheet.frame(events[first..second].to_vec());
                    sheet.frame(events[second..].to_vec());
                    sheet.frame(vec![]);
                    sheet.press(Key::Enter);
                    assert_eq!(sheet.sent, [(1, Ok(22.25))], "{first} {second}");
                    sheet.press(Key::Tab);
                }
            }
        }
    }

    #[test]
    fn letters_are_left_to_the_window_while_nothing_is_typed() {
        let mut sheet = Sheet::new();
        sheet.press(Key::Tab);
        sheet.types("p");
        assert!(!sheet.ctx.text_edit_focused());
        sheet.types("1");
        assert!(sheet.ctx.text_edit_focused());
    }
}
