//! Where the condyles are and what guides in front.

use kiss3d::egui::{Grid, RichText, Ui};
use sim_core::cusp::Tooth;
use sim_core::excursion::Guidance;
use sim_core::frame::Side;
use sim_core::units::Length;
use words::number::two_decimals;

use super::text::heads;
use crate::state::State;

pub(super) fn instrument(ui: &mut Ui, state: &State) {
    let placement = &state.sample().placement;
    Grid::new("condyles").num_columns(4).spacing([12.0, 3.0]).show(ui, |ui| {
        heads(ui, &["condyle, mm", "advance", "medial", "drop"]);
        for side in Side::BOTH {
            let condyle = placement.condyle(side);
            ui.label(side.name());
            for length in [condyle.advance, condyle.medial, condyle.drop] {
                ui.label(two_decimals(length.mm()));
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
    ui.label(
        RichText::new(format!("jaw turned {}; {guided}", words::number::turned(placement.opening()))).small(),
    );
}
