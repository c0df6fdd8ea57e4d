//! A place picked on a cast, before it becomes a cusp.

use kiss3d::egui::{Area, ComboBox, Context, Id, Order, Rect, RichText, Stroke, TextEdit, Ui, pos2};
use sim_core::cusp::Tooth;
use words::number::two_decimals;

use super::output::PanelOutput;
use super::text::card;
use crate::action::Action;
use crate::casts::Proposal;
use crate::palette;

/// Width of the field for the name.
const NAME: f32 = 150.0;

pub(super) fn show(ctx: &Context, proposal: &Proposal, strip: Rect, output: &mut PanelOutput) {
    let mut changed = proposal.clone();
    Area::new(Id::new("proposal"))
        .order(Order::Foreground)
        .fixed_pos(pos2(strip.left() + 8.0, strip.bottom() + 8.0))
        .constrain(false)
        .fade_in(false)
        .show(ctx, |ui| {
            card()
                .stroke(Stroke::new(2.0, palette::ACTIVE.egui()))
                .show(ui, |ui| contents(ui, &mut changed, output));
        });
    if changed != *proposal {
        output.actions.push(Action::Propose(changed));
    }
}

fn contents(ui: &mut Ui, proposal: &mut Proposal, output: &mut PanelOutput) {
    ui.horizontal(|ui| {
        ui.label(RichText::new("New cusp").strong().color(palette::ACTIVE.egui()));
        let chosen = ComboBox::from_id_salt("tooth")
            .selected_text(proposal.tooth.to_string())
            .width(52.0)
            .show_ui(ui, |ui| {
                for tooth in teeth_beside(proposal.tooth) {
                    ui.selectable_value(&mut proposal.tooth, tooth, tooth.to_string());
                }
            });
        output.note("new_cusp_tooth", &chosen.response);
        let name = ui.add(TextEdit::singleline(&mut proposal.name).desired_width(NAME));
        output.note("new_cusp_name", &name);
    });
    let [x, y, z] = <[f64; 3]>::from(proposal.at_mm).map(two_decimals);
    ui.label(RichText::new(format!("at ({x}, {y}, {z}) mm in its member's frame")).small());
    ui.label(RichText::new(format!("opposing inclines {}", proposal.opposing_from)).small());
    ui.horizontal(|ui| {
        for (name, words, action) in
            [("add_cusp", "Add", Action::AddCusp), ("dismiss=cusp", "Discard (Esc)", Action::Dismiss)]
        {
            let button = ui.button(words);
            output.note(name, &button);
            if button.clicked() {
                output.actions.push(action);
            }
        }
    });
}

/// The teeth of the same arch, from the right to the left.
fn teeth_beside(tooth: Tooth) -> impl Iterator<Item = Tooth> {
    let quadrants = if tooth.number() < 30 { [1, 2] } else { [4, 3] };
    let right = (1..=8).rev().map(move |position| quadrants[0] * 10 + position);
    let left = (1..=8).map(move |position| quadrants[1] * 10 + position);
    right.chain(left).filter_map(|number| Tooth::new(number).ok())
}
