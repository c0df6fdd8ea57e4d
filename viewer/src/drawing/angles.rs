//! The angles of guides and planes as arcs over the picture.

use kiss3d::egui::{Color32, Painter, Pos2, Shape, Stroke};
use nalgebra::Vector3;
use sim_core::cusp::Arch;
use sim_core::scene::Scene;

use super::tag::Tag;
use crate::geometry::poses::MemberPoses;
use crate::palette;
use crate::projections::angles;

/// Radius of an arc and length of its legs, in points.
const RADIUS: f64 = 42.0;
const LEG: f64 = 58.0;

/// Paints every angle at its wall, and returns what is to be written beside it; `place` leads from the
/// drawn world to the screen.
pub(super) fn paint(
    painter: &Painter,
    scene: &Scene,
    poses: &MemberPoses,
    place: &dyn Fn(&Vector3<f64>) -> Pos2,
    points_per_mm: f64,
) -> Vec<Tag> {
    let mut tags = Vec::new();
    for arc in angles(scene) {
        let pose = if arc.carrier == Arch::Upper { &poses.upper } else { &poses.lower };
        let seen = |point: &Vector3<f64>| place(&pose.place(point));
        let (places, legs) = arc.lines(RADIUS / points_per_mm, LEG / points_per_mm);
        let vertex = seen(&arc.vertex);
        let bow: Vec<Pos2> = places.iter().map(seen).collect();
        for (width, colour) in [(4.0, Color32::WHITE), (1.8, palette::INK.egui())] {
            let stroke = Stroke::new(width, colour);
            for leg in &legs {
                painter.line_segment([vertex, seen(leg)], stroke);
            }
            painter.add(Shape::line(bow.clone(), stroke));
        }
        let at = bow.get(bow.len() / 2).copied().unwrap_or(vertex);
        tags.push(Tag { at, words: arc.name_and_value(), tint: palette::INK, interferes: false });
    }
    tags
}
