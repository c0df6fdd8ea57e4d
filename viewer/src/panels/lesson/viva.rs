//! A question of a viva.

use kiss3d::egui::{RichText, ScrollArea, Ui};
use words::viva::{answer, ask, set_up, slip};

use super::press::press;
use super::question::{Verdict, answer_button, tell};
use crate::panels::output::PanelOutput;
use crate::panels::text::title;
use crate::state::State;
use crate::teaching::{Examined, Teach, Told};

pub(super) fn show(ui: &mut Ui, state: &State, examined: &Examined, output: &mut PanelOutput) {
    let question = &examined.question;
    title(ui, &format!("Viva, {} level", examined.viva.level.name()));
    let score = examined.score;
    ui.label(
        RichText::new(format!(
            "Question {}. Right so far: {} of {}. Drawn from seed {}.",
            examined.number + 1,
            score.right,
            score.asked,
            examined.viva.seed
        ))
        .small(),
    );
    ui.horizontal_wrapped(|ui| {
        if examined.chosen.is_some() {
            press(ui, "lesson_next", "Next question", Teach::Next, output);
        }
        press(ui, "lesson_leave", "Leave", Teach::Leave, output);
    });
    ui.separator();
    ScrollArea::vertical().id_salt(("viva", examined.number)).auto_shrink(false).show(ui, |ui| {
        ui.set_width(ui.available_width() - 10.0);
        ui.label(RichText::new(ask(question)).strong());
        for line in set_up(question) {
            ui.label(RichText::new(format!("• {line}")).small());
        }
        ui.add_space(4.0);
        for (place, given) in question.answers.iter().enumerate() {
            let verdict = match examined.chosen {
                None => Verdict::Open,
                Some(_) if place == question.right => Verdict::Right,
                Some(chosen) if chosen == place => Verdict::Wrong,
                Some(_) => Verdict::Open,
            };
            answer_button(ui, place, &answer(given), verdict, examined.chosen.is_some(), output);
        }
        if let Some(chosen) = examined.chosen {
            let made = question.answers.get(chosen).and_then(|given| given.slip);
            let told = match made {
                None => Told { is_right: Some(true), words: "So it is.".to_owned() },
                Some(made) => Told { is_right: Some(false), words: slip(made).to_owned() },
            };
            tell(ui, &told);
            if question.excursion.is_some() && !state.motion_is_hidden() {
                ui.label(RichText::new("The picture shows it now.").small());
            }
        }
    });
}
