//! The end of a lesson.

use kiss3d::egui::{RichText, ScrollArea, Ui};

use super::press::press;
use crate::panels::output::PanelOutput;
use crate::panels::text::title;
use crate::teaching::{Given, Teach};

pub(super) fn show(ui: &mut Ui, given: &Given, output: &mut PanelOutput) {
    let lesson = given.lesson();
    title(ui, &lesson.title);
    let (asked, right) = given.score();
    ui.label(RichText::new(format!("The lesson is over. Right at once: {right} of {asked}.")).strong());
    ui.horizontal_wrapped(|ui| {
        press(ui, "lesson_back", "Back", Teach::Back, output);
        press(ui, "lesson_leave", "Leave: my own set-up", Teach::Leave, output);
    });
    ui.separator();
    ScrollArea::vertical().id_salt("over").auto_shrink(false).show(ui, |ui| {
        ui.set_width(ui.available_width() - 10.0);
        ui.label(lesson.about.as_str());
        title(ui, "Where it comes from");
        for source in &lesson.sources {
            ui.label(RichText::new(format!("• {}", words::lesson::source(source))).small());
        }
    });
}
