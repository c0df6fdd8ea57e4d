//! Lines: the path each cusp takes past the opposing member, and the paths of spheres and of the
//! guided point.

use kiss3d::renderer::Polyline3d;
use kiss3d::window::Window;
use nalgebra::Vector3;
use sim_core::excursion::Placement;
use sim_core::frame::Side;
use sim_core::instrument::Design;

use super::anterior::{pin_tip, rest_point};
use super::guide::rest_centre;
use super::marks::{Pose, Stand, lower, tip_seen_by_opponent, upper};
use super::mesh::to_f32;
use crate::palette::{self, Tint};
use crate::state::State;

/// Widths of lines in pixels: cusps, and the rest.
const WIDTHS: (f32, f32) = (4.0, 2.0);
/// Brings lines a little to the front of the surfaces they lie on.
const FORWARD: f32 = 0.004;

/// Draws the paths for the coming frame.
pub fn draw_paths(window: &mut Window, state: &State) {
    let scene = &state.shown.scene;
    let instrument = &scene.instrument;
    let stand = Stand::of(&state.stop().placement.jaw, state.moving);
    let mut line = |pose: &Pose, width: f32, tint: Tint, place: &dyn Fn(&Placement) -> Vector3<f64>| {
        let vertices = state
            .shown
            .course
            .stops()
            .iter()
            .map(|stop| to_f32(&pose.place(&place(&stop.placement))))
            .collect();
        window.draw_polyline(
            &Polyline3d::new(vertices).with_color(tint.linear()).with_width(width).with_depth_bias(FORWARD),
        );
    };
    for (number, mark) in state.marked() {
        let cusp = &scene.cusps[number];
        if !state.casts.seen.has(cusp.tooth().arch()) {
            continue;
        }
        let (_, opponent) = stand.of_cusp(cusp);
        line(opponent, WIDTHS.0, palette::cusp(mark).0, &|placed| tip_seen_by_opponent(cusp, placed));
    }
    for side in Side::BOTH {
        let centre = rest_centre(instrument, side);
        match instrument.design {
            Design::Arcon => {
                line(&stand.upper, WIDTHS.1, palette::INK, &|placed| {
                    *placed.jaw.to_upper(&lower(&centre)).coords()
                });
            }
            Design::NonArcon => {
                line(&stand.lower, WIDTHS.1, palette::INK, &|placed| {
                    *placed.jaw.to_lower(&upper(&centre)).coords()
                });
            }
        }
    }
    if instrument.anterior_guide.has_pin() {
        let tip = upper(&pin_tip(instrument));
        line(&stand.lower, WIDTHS.1, palette::INK, &|placed| *placed.jaw.to_lower(&tip).coords());
    } else {
        let edge = lower(&rest_point(instrument));
        line(&stand.upper, WIDTHS.1, palette::INK, &|placed| *placed.jaw.to_upper(&edge).coords());
    }
}
