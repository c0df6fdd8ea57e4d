//! What the bench ends with: the sheet, and the set-up on the instrument.

use kiss3d::egui::Ui;
use report::sheet::Kind;

use super::super::output::PanelOutput;
use super::super::text::title;
use super::controls::{push, small};
use crate::action::Action;
use crate::bench::OnBench;
use crate::place::Place;

pub(super) fn show(ui: &mut Ui, bench: &OnBench, place: Place, output: &mut PanelOutput) {
    title(ui, "Sheet and set-up");
    if bench.is_asked() {
        small(ui, "They come when your answer is handed in.");
        return;
    }
    let no_pdf = place.why_no_pdf();
    ui.horizontal_wrapped(|ui| {
        ui.add_enabled_ui(no_pdf.is_none(), |ui| {
            push(ui, output, "sheet=pdf", "Sheet as PDF", Action::WriteSheet(Kind::Pdf));
        });
        push(ui, output, "sheet=html", "Sheet as HTML", Action::WriteSheet(Kind::Html));
    });
    if let Some(why) = no_pdf {
        small(ui, why);
    }
    if bench.programmed_scene().is_none() {
        small(
            ui,
            "The centric record is not confirmed: no setting stands on it, and there is no set-up to show.",
        );
        return;
    }
    ui.horizontal_wrapped(|ui| {
        let set = push(
            ui,
            output,
            "set_up=as_set",
            "Instrument as set here",
            Action::ShowSetUp { as_programmed: false },
        );
        output.explain(&set, "Shows the instrument with the guides as the dials stand.");
        let programmed = push(
            ui,
            output,
            "set_up=programmed",
            "Instrument as programmed",
            Action::ShowSetUp { as_programmed: true },
        );
        output.explain(&programmed, "Shows the instrument with the angles that all records together give.");
        let beside = push(
            ui,
            output,
            "set_up=facebow_off",
            "… and beside it by a facebow 5 mm off",
            Action::KeepCaseWithFacebowError,
        );
        output.explain(
            &beside,
            "Shows the instrument as programmed, and as B the same records mounted with the axis 5 mm too far back.",
        );
    });
}
