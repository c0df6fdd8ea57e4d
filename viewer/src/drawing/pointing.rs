//! What a lesson points at, ringed and with an arrow in the picture.

use kiss3d::egui::{Color32, Painter, Pos2, Stroke, Vec2, pos2, vec2};
use nalgebra::Vector3;
use sim_core::lesson::Target;

use crate::geometry::landmarks::rest_point;
use crate::geometry::poses::MemberPoses;
use crate::palette;
use crate::projection::Projection;
use crate::state::State;

/// Radius of the ring, in points.
const RING: f32 = 15.0;
/// Length of the arrow, and of the barbs of its head.
const ARROW: f32 = 34.0;
const HEAD: f32 = 9.0;

/// Where each thing pointed at in the picture is, in points.
#[must_use]
pub fn places(state: &State, projection: &Projection, pixels_per_point: f32) -> Vec<Pos2> {
    let scene = &state.shown.scene;
    let poses = MemberPoses::of(&state.sample().placement.jaw, state.moving);
    let place = |point: &Vector3<f64>| -> Pos2 {
        let [x, y] = projection.pixel(point);
        #[allow(clippy::cast_possible_truncation, reason = "pixels")]
        let place = pos2(x as f32, y as f32);
        (place.to_vec2() / pixels_per_point).to_pos2()
    };
    let of = |target: &Target| match target {
        Target::Cusp(cusp) => {
            let cusp = scene.cusps.get(*cusp)?;
            Some(place(&poses.of_cusp(cusp).0.place(&cusp.at_mm())))
        }
        Target::Condyle(side) => Some(place(&poses.sphere(&scene.instrument, *side))),
        Target::IncisalPoint => Some(place(&poses.lower.place(&rest_point(&scene.instrument)))),
        Target::Setting(_) | Target::Plot => None,
    };
    state.teaching.lesson().map(|given| given.points().iter().filter_map(of).collect()).unwrap_or_default()
}

/// Rings what is pointed at.
pub fn point(painter: &Painter, state: &State, projection: &Projection, pixels_per_point: f32) {
    for at in places(state, projection, pixels_per_point) {
        for (width, colour) in [(6.0, Color32::WHITE), (3.0, palette::ACTIVE.egui())] {
            let stroke = Stroke::new(width, colour);
            painter.circle_stroke(at, RING, stroke);
            // From below and outside, where no words stand.
            let toward = vec2(-1.0, 1.0).normalized();
            let (tip, tail) = (at + toward * (RING + 2.0), at + toward * (RING + ARROW));
            painter.line_segment([tail, tip], stroke);
            for turn in [0.5_f32, -0.5] {
                let barb = Vec2::angled(toward.angle() + turn) * HEAD;
                painter.line_segment([tip, tip + barb], stroke);
            }
        }
    }
}
