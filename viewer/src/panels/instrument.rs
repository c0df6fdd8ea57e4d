//! Where the condyles are and what guides in front.

use kiss3d::egui::{Grid, RichText, Ui};
use sim_core::account::Number;
use sim_core::cusp::Tooth;
use sim_core::excursion::Guidance;
use sim_core::frame::Side;
use sim_core::units::Length;
use words::number::two_decimals;

use super::explained::explained;
use super::output::PanelOutput;
use super::text::heads;
use crate::state::State;

pub(super) fn instrument(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    let placement = &state.sample().placement;
    Grid::new("condyles").num_columns(4).spacing([12.0, 3.0]).show(ui, |ui| {
        heads(ui, &["condyle, mm", "advance", "medial", "drop"]);
        for side in Side::BOTH {
            let condyle = placement.condyle(side);
            ui.label(side.name());
            for (length, number) in [
                (condyle.advance, Number::Advance(side)),
                (condyle.medial, Number::Medial(side)),
                (condyle.drop, Number::Drop(side)),
            ] {
                explained(ui, two_decimals(length.mm()), number, output);
            }
            ui.end_row();
        }
    });
    let guided = match placement.guidance {
        Guidance::None => "no anterior guidance".to_owned(),
        Guidance::CustomTable => "guided by the custom table".to_owned(),
        Guidance::Teeth(contact) => {
            let tooth =
                |tooth: Option<Tooth>| tooth.map_or_else(|| "?".to_owned(), |tooth| tooth.to_string());
            let lift = placement.pin_lift.map_or(0.0, Length::mm);
            let (lower, upper) = (tooth(contact.lower_tooth), tooth(contact.upper_tooth));
            format!(
                "guided by the teeth ({lower} on {upper}), pin lifted {} mm off its table",
                two_decimals(lift)
            )
        }
        Guidance::Table(plane) | Guidance::Incisors(plane) => {
            format!("guided by the {} ({})", placement.guidance.name(), words::name::plane(plane))
        }
    };
    let start = &state.shown.solved.sample(0).placement.incisal_point;
    let displaced = two_decimals(start.distance_mm(&placement.incisal_point));
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 2.0;
        ui.label(RichText::new("jaw turned").small());
        let turned = RichText::new(words::number::turned(placement.opening())).small();
        explained(ui, turned, Number::Opening, output);
        ui.end_row();
        ui.label(RichText::new("incisal point displaced").small());
        let displaced = RichText::new(format!("{displaced} mm")).small();
        explained(ui, displaced, Number::IncisalDisplacement, output);
    });
    ui.label(RichText::new(guided).small());
}
