//! The trace of each condyle over the picture, and the edge of a wall that is left out so that its sphere is
//! seen.

use kiss3d::egui::{Painter, Pos2, Shape, Stroke};
use nalgebra::Vector3;
use sim_core::cusp::Arch;
use sim_core::frame::{LowerPoint, Side, UpperPoint};
use sim_core::instrument::Design;

use super::guide::superior_edge;
use super::parts::{When, reach_of};
use crate::geometry::landmarks::rest_centre;
use crate::geometry::poses::MemberPoses;
use crate::palette;
use crate::state::State;

/// Paints both traces; `place` leads from the drawn world to the screen.
pub(super) fn paint(
    painter: &Painter,
    state: &State,
    poses: &MemberPoses,
    place: &dyn Fn(&Vector3<f64>) -> Pos2,
) {
    let instrument = &state.shown.scene.instrument;
    let (housings, pose) = match instrument.design {
        Design::Arcon => (Arch::Upper, &poses.upper),
        Design::NonArcon => (Arch::Lower, &poses.lower),
    };
    let is_cut_open = !When::Uncovers(housings).is_now(None, state.look.elevation_deg);
    for side in Side::BOTH {
        let centre = rest_centre(instrument, side);
        let trace: Vec<Pos2> = (state.shown.solved.samples().iter())
            .map(|sample| {
                let jaw = &sample.placement.jaw;
                let in_housing = match instrument.design {
                    Design::Arcon => *jaw.to_upper(&LowerPoint::from_coords(centre)).coords(),
                    Design::NonArcon => *jaw.to_lower(&UpperPoint::from_coords(centre)).coords(),
                };
                place(&pose.place(&in_housing))
            })
            .collect();
        for (width, tint) in [(4.0, palette::SPHERE), (1.8, palette::CENTRE_MARK)] {
            painter.add(Shape::line(trace.clone(), Stroke::new(width, tint.egui())));
        }
        if is_cut_open && state.casts.seen.has(housings) {
            let edge = superior_edge(instrument, side, reach_of(&state.shown.solved));
            let edge: Vec<Pos2> = edge.iter().map(|corner| place(&pose.place(corner))).collect();
            painter.extend(Shape::dashed_line(&edge, Stroke::new(1.5, palette::UPPER_LINE.egui()), 6.0, 3.0));
        }
    }
}
