//! From where the split is looked at, and in what size.

use kiss3d::egui::{RichText, Ui};

use super::super::output::PanelOutput;
use super::controls::choice;
use crate::action::Action;
use crate::bench::{BenchAct, Magnified};
use crate::projection::Viewpoint;
use crate::state::State;

/// The words of the buttons, a line for each group.
pub(crate) fn words() -> Vec<Vec<String>> {
    let views = Viewpoint::ALL.iter().map(|view| view.label().to_owned());
    let looks = Magnified::ALL.iter().map(|look| look.label());
    vec![
        std::iter::once("view".to_owned()).chain(views).collect(),
        std::iter::once("size".to_owned()).chain(looks).collect(),
    ]
}

pub(crate) fn show(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new("view").small());
        for viewpoint in Viewpoint::ALL {
            let (words, pressed) = (viewpoint.label(), state.look.viewpoint == Some(viewpoint));
            choice(ui, output, &format!("view={words}"), words, pressed, Action::View(viewpoint));
        }
    });
    let Some(bench) = &state.bench else { return };
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new("size").small());
        for look in Magnified::ALL {
            let pressed = bench.magnified == look;
            let action = Action::Bench(BenchAct::Look(look));
            choice(ui, output, &format!("size={}", look.name()), &look.label(), pressed, action);
        }
    });
}
