//! The panel on the right.

use kiss3d::egui::{ScrollArea, Ui};

use super::super::output::PanelOutput;
use super::{answer, gaps, marks, order, way_out};
use crate::state::State;

/// The panel on the right.
pub(crate) fn show(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    ScrollArea::vertical().id_salt("bench").auto_shrink(false).show(ui, |ui| {
        ui.set_width(ui.available_width() - 10.0);
        let Some(bench) = &state.bench else {
            empty(ui);
            return;
        };
        gaps::show(ui, bench);
        order::show(ui, bench, output);
        if let Some(patient) = &bench.patient {
            match &patient.mark {
                Some(mark) => marks::show(ui, mark),
                None => answer::show(ui, bench, patient, output),
            }
        }
        way_out::show(ui, bench, state.place, output);
        ui.add_space(6.0);
    });
}

fn empty(ui: &mut Ui) {
    ui.heading("No case on the bench");
    ui.label(
        "Drop a case file here, or open one (Ctrl+O): its records come to lie on the bench, and the split is \
         closed on them by turning the guides. Or let a patient be dealt, on the left.",
    );
}
