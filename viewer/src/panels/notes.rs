//! What must be said: settings without a pose, a file that cannot be opened.

use kiss3d::egui::{Align2, Area, Context, Id, Order, Rect, RichText, Stroke, pos2};

use super::output::PanelOutput;
use super::text::card;
use crate::action::Action;
use crate::palette;
use crate::state::State;

pub(super) fn show(ctx: &Context, state: &State, picture: Rect, output: &mut PanelOutput) {
    let notes = [("file", &state.file_note), ("pose", &state.note)];
    let mut bottom = picture.bottom() - 8.0;
    for (name, note) in notes {
        let Some(note) = note else { continue };
        let width = picture.width() - 16.0;
        let shown = Area::new(Id::new(("note", name)))
            .order(Order::Foreground)
            .pivot(Align2::LEFT_BOTTOM)
            .fixed_pos(pos2(picture.left() + 8.0, bottom))
            .constrain(false)
            .fade_in(false)
            .show(ctx, |ui| {
                card().stroke(Stroke::new(2.5, palette::INTERFERENCE.egui())).show(ui, |ui| {
                    ui.set_width(width - 26.0);
                    ui.horizontal(|ui| {
                        ui.label(RichText::new(note.title).strong().color(palette::INTERFERENCE.egui()));
                        let dismiss = ui.small_button("Dismiss (Esc)");
                        output.note(format!("dismiss={name}"), &dismiss);
                        if dismiss.clicked() {
                            output.actions.push(Action::Dismiss);
                        }
                    });
                    ui.label(words::quoted::lines(&note.what).as_ref());
                    ui.label(RichText::new(note.meanwhile).small().color(palette::PENCIL.egui()));
                });
            });
        bottom -= shown.response.rect.height() + 6.0;
    }
}
