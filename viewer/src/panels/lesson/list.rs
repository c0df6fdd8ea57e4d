//! The lessons and scenes that come with the program, and the viva.

use kiss3d::egui::{Button, RichText, ScrollArea, Ui, vec2};
use sim_core::viva::VivaLevel;

use crate::action::Action;
use crate::panels::output::PanelOutput;
use crate::panels::text::title;
use crate::state::State;
use crate::teaching::{Offer, Teach};

pub(super) fn show(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    let shelf = &state.teaching.shelf;
    ScrollArea::vertical().id_salt("lessons").auto_shrink(false).show(ui, |ui| {
        ui.set_width(ui.available_width() - 10.0);
        title(ui, "Lessons");
        ui.label(
            RichText::new(
                "Your own set-up is kept, and comes back when you leave. A lesson file can be dropped here.",
            )
            .small(),
        );
        for offer in &shelf.lessons {
            line(ui, &format!("lesson={}", offer.name), offer, Teach::Lesson(offer.name.clone()), output);
        }
        title(ui, "Viva");
        ui.label(RichText::new("Questions drawn at random, one after the other. Nothing is stored.").small());
        ui.horizontal_wrapped(|ui| {
            for (level, words) in [
                (VivaLevel::First, "first: one guide"),
                (VivaLevel::Second, "second: cusps, split"),
                (VivaLevel::Third, "third: designs, axes"),
            ] {
                super::press::press(ui, &format!("viva={}", level.name()), words, Teach::Viva(level), output);
            }
        });
        title(ui, "Scenes");
        for offer in &shelf.scenes {
            line(ui, &format!("scene={}", offer.name), offer, Teach::Scene(offer.name.clone()), output);
        }
        ui.add_space(8.0);
    });
}

fn line(ui: &mut Ui, name: &str, offer: &Offer, teach: Teach, output: &mut PanelOutput) {
    let size = vec2(ui.available_width(), 0.0);
    let button = ui.add(Button::new(offer.title.as_str()).wrap().min_size(size));
    output.note(name, &button);
    if !offer.about.is_empty() {
        output.explain(&button, &offer.about);
    }
    if button.clicked() {
        output.actions.push(Action::Teach(teach));
    }
}
