//! The glossary: every term, and what is looked for among them.

use kiss3d::egui::{Context, Id, Key, Label, RichText, ScrollArea, TextEdit};
use words::glossary::Section;

use super::output::PanelOutput;
use super::style;
use super::text::card_window;
use crate::action::Action;
use crate::explaining::Glossary;
use crate::palette;

/// Width of the card at the usual size of words.
const WIDTH: f32 = 560.0;

pub(super) fn show(ctx: &Context, glossary: &Glossary, output: &mut PanelOutput) {
    let room = ctx.content_rect().size();
    card_window("glossary").show(ctx, |ui| {
        ui.set_width((WIDTH * style::scale(ctx)).min(room.x - 60.0));
        ui.horizontal(|ui| {
            ui.heading("Glossary");
            let close = ui.button("Close (Esc)");
            output.note("close_glossary", &close);
            if close.clicked() {
                output.actions.push(Action::Dismiss);
            }
        });
        ui.horizontal(|ui| {
            ui.label("Look for");
            let mut wanted = glossary.wanted.clone();
            let field = ui.add(TextEdit::singleline(&mut wanted).id(Id::new("look_up")).desired_width(220.0));
            output.note("look_up", &field);
            if field.changed() {
                output.actions.push(Action::LookUp(wanted));
            }
            // In a field Escape only leaves the field; here it closes the card as well.
            if field.lost_focus() && ui.input(|input| input.key_pressed(Key::Escape)) {
                output.actions.push(Action::Dismiss);
            }
        });
        ui.separator();
        ScrollArea::vertical().max_height((room.y - 190.0).max(120.0)).auto_shrink([false, true]).show(
            ui,
            |ui| {
                let terms = glossary.terms();
                if terms.is_empty() {
                    ui.label("No term is called so, and none speaks of it.");
                }
                let is_whole = glossary.wanted.trim().is_empty();
                let mut section: Option<Section> = None;
                for term in terms {
                    if is_whole && section != Some(term.section) {
                        section = Some(term.section);
                        super::text::title(ui, term.section.title());
                    }
                    let unit = term.unit.map_or(String::new(), |unit| format!(" ({})", unit.sign().trim()));
                    ui.label(RichText::new(format!("{}{unit}", term.term)).strong());
                    if !term.also.is_empty() {
                        let also = format!("also: {}", term.also.join(", "));
                        ui.add(Label::new(RichText::new(also).small().color(palette::PENCIL.egui())).wrap());
                    }
                    ui.add(Label::new(term.meaning).wrap());
                    ui.add_space(5.0);
                }
            },
        );
    });
}
