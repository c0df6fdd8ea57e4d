//! The question of a step, and what is said to an answer.

use kiss3d::egui::{Button, Key, RichText, TextEdit, Ui, vec2};
use sim_core::lesson::Question;
use sim_core::units::Unit;
use words::lesson::said;

use super::press::press;
use crate::action::Action;
use crate::palette;
use crate::panels::output::PanelOutput;
use crate::panels::style;
use crate::teaching::{Given, GivenStep, Teach, Told};

/// Width of the field for a number, at the usual size of words.
const FIELD: f32 = 80.0;

pub(super) fn show(ui: &mut Ui, given: &Given, output: &mut PanelOutput) {
    let (Some(question), Some(done)) = (given.question(), given.done()) else { return };
    ui.add_space(6.0);
    ui.label(RichText::new(said(question.ask())).strong());
    match question {
        Question::Choice(choice) => {
            for (place, answer) in choice.answers.iter().enumerate() {
                let verdict = match (done.is_over && place == choice.right, done.chosen.contains(&place)) {
                    (true, _) => Verdict::Right,
                    (false, true) => Verdict::Wrong,
                    (false, false) => Verdict::Open,
                };
                answer_button(ui, place, &said(&answer.says), verdict, done.is_over, output);
            }
        }
        Question::Number(number) => typed(ui, done, number.right.unit, output),
        Question::Set(_) => {
            ui.label(RichText::new("Turn the settings on the left, then have them looked at.").small());
            if !done.is_over {
                press(ui, "lesson_check", "Look at my set-up", Teach::Check, output);
            }
        }
    }
    if !done.is_over {
        press(ui, "lesson_show", "Show me", Teach::Show, output);
    }
    if let Some(told) = &done.told {
        tell(ui, told);
    }
    if let Some(after) = question.after().filter(|_| done.is_over) {
        ui.add_space(4.0);
        ui.label(said(after));
    }
}

/// How an answer stands.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Verdict {
    Open,
    Right,
    Wrong,
}

/// An answer to choose, with a word before it once it is known to be right or wrong.
pub(super) fn answer_button(
    ui: &mut Ui,
    place: usize,
    words: &str,
    verdict: Verdict,
    is_over: bool,
    output: &mut PanelOutput,
) {
    let (word, tint) = match verdict {
        Verdict::Open => ("", palette::INK),
        Verdict::Right => ("right: ", palette::ACTIVE),
        Verdict::Wrong => ("wrong: ", palette::INTERFERENCE),
    };
    if is_over || verdict != Verdict::Open {
        // No button any more: words that are as easily read as before.
        ui.horizontal_wrapped(|ui| {
            ui.spacing_mut().item_spacing.x = 0.0;
            ui.label("• ");
            ui.label(RichText::new(word).strong().color(tint.egui()));
            ui.label(words);
        });
        return;
    }
    let size = vec2(ui.available_width(), 0.0);
    let button = ui.add(Button::new(words).wrap().min_size(size));
    output.note(format!("answer={place}"), &button);
    if button.clicked() {
        output.actions.push(Action::Teach(Teach::Choose(place)));
    }
}

fn typed(ui: &mut Ui, done: &GivenStep, unit: Option<Unit>, output: &mut PanelOutput) {
    ui.horizontal(|ui| {
        let mut text = done.typed.clone();
        let field = TextEdit::singleline(&mut text).desired_width(FIELD * style::scale(ui.ctx()));
        let field = ui.add_enabled(!done.is_over, field);
        output.note("lesson_number", &field);
        if text != done.typed {
            output.actions.push(Action::Teach(Teach::Type(text)));
        }
        ui.label(unit.map_or("", |unit| unit.sign().trim_start()));
        let entered = field.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
        if done.is_over {
            return;
        }
        let button = ui.button("Answer");
        output.note("lesson_answer", &button);
        if button.clicked() || entered {
            output.actions.push(Action::Teach(Teach::Answer));
        }
    });
}

/// What is said to an answer, under a word that says whether it is right.
pub(super) fn tell(ui: &mut Ui, told: &Told) {
    ui.add_space(4.0);
    let head = match told.is_right {
        Some(true) => Some(("RIGHT", palette::ACTIVE)),
        Some(false) => Some(("NOT SO", palette::INTERFERENCE)),
        None => None,
    };
    if let Some((word, tint)) = head {
        ui.label(RichText::new(word).small().strong().color(tint.egui()));
    }
    ui.label(told.words.as_str());
}
