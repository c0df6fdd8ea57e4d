//! The keyboard from panel to panel: a round of all controls would take a hundred steps.

use kiss3d::egui::{Context, Id, Rect};

use super::output::PanelOutput;
use crate::layout::Layout;
use crate::state::State;

/// Puts the keyboard on the first control of the next panel, or of the one before, where that has been asked
/// for since the last frame.
pub(super) fn obey(ctx: &Context, state: &State, layout: &Layout, output: &PanelOutput) {
    let Some(wanted) = state.wanted_panel else { return };
    let obeyed = Id::new("panels gone to");
    if ctx.data(|data| data.get_temp::<u64>(obeyed)) == Some(wanted.asked) {
        return;
    }
    ctx.data_mut(|data| data.insert_temp(obeyed, wanted.asked));
    let panels = [layout.header, layout.settings, layout.strip, layout.transport, layout.readings];
    let focused = ctx.memory(|memory| memory.focused()).and_then(|id| ctx.read_response(id));
    let here = focused.and_then(|response| {
        let middle = response.rect.center();
        panels.iter().position(|panel| panel.contains(middle))
    });
    let count = panels.len();
    for steps in 1..=count {
        let place = match (here, wanted.forward) {
            (Some(here), true) => (here + steps) % count,
            (Some(here), false) => (here + count - steps) % count,
            (None, true) => steps - 1,
            (None, false) => count - steps,
        };
        if let Some(first) = first_in(panels[place], output) {
            ctx.memory_mut(|memory| memory.request_focus(first));
            return;
        }
    }
}

/// The first control in a panel, in the order in which one reads.
fn first_in(panel: Rect, output: &PanelOutput) -> Option<Id> {
    let within = output.ids.iter().filter(|(_, rect)| panel.contains(rect.center()));
    within
        .min_by(|(_, a), (_, b)| (a.top() + a.left() * 1e-3).total_cmp(&(b.top() + b.left() * 1e-3)))
        .map(|(id, _)| *id)
}
