//! Lines: the path each cusp takes past the opposing member, and the paths of spheres and of the
//! guided point.

use nalgebra::Vector3;
use sim_core::excursion::Placement;
use sim_core::frame::{LowerPoint, Side, UpperPoint};
use sim_core::instrument::Design;

use super::mesh::to_f32;
use crate::geometry::landmarks::{pin_tip, rest_centre, rest_point, tip_seen_by_opponent};
use crate::geometry::poses::{MemberPose, MemberPoses};
use crate::material::Lines;
use crate::palette::{self, Tint};
use crate::state::State;

/// Widths of lines in pixels: cusps, and the rest.
const WIDTHS: (f32, f32) = (4.0, 2.0);

/// Draws the paths for the coming frame.
pub fn draw_paths(lines: &mut Lines, state: &State) {
    if state.motion_is_hidden() {
        return;
    }
    let scene = &state.shown.scene;
    let instrument = &scene.instrument;
    let poses = MemberPoses::of(&state.sample().placement.jaw, state.moving);
    let mut line = |pose: &MemberPose, width: f32, tint: Tint, place: &dyn Fn(&Placement) -> Vector3<f64>| {
        let points: Vec<_> = state
            .shown
            .solved
            .samples()
            .iter()
            .map(|sample| to_f32(&pose.place(&place(&sample.placement))))
            .collect();
        lines.add(&points, width, tint);
    };
    for (number, mark) in state.marked() {
        let cusp = &scene.cusps[number];
        if !state.casts.seen.has(cusp.tooth().arch()) {
            continue;
        }
        let (_, opponent) = poses.of_cusp(cusp);
        line(opponent, WIDTHS.0, palette::cusp(mark).0, &|placed| tip_seen_by_opponent(cusp, placed));
    }
    for side in Side::BOTH {
        let centre = rest_centre(instrument, side);
        match instrument.design {
            Design::Arcon => {
                line(&poses.upper, WIDTHS.1, palette::INK, &|placed| {
                    *placed.jaw.to_upper(&LowerPoint::from_coords(centre)).coords()
                });
            }
            Design::NonArcon => {
                line(&poses.lower, WIDTHS.1, palette::INK, &|placed| {
                    *placed.jaw.to_lower(&UpperPoint::from_coords(centre)).coords()
                });
            }
        }
    }
    if instrument.anterior_guide.has_pin() {
        let tip = UpperPoint::from_coords(pin_tip(instrument));
        line(&poses.lower, WIDTHS.1, palette::INK, &|placed| *placed.jaw.to_lower(&tip).coords());
    } else {
        let edge = LowerPoint::from_coords(rest_point(instrument));
        line(&poses.upper, WIDTHS.1, palette::INK, &|placed| *placed.jaw.to_upper(&edge).coords());
    }
}
