//! The shapes that mark cusps.

use kiss3d::egui::{Color32, Pos2, Shape as Form, Stroke, vec2};

use crate::palette::Shape;

/// The outline of a cusp's mark about a place.
pub fn glyph(shape: Shape, centre: Pos2, radius: f32, fill: Color32, stroke: Stroke) -> Form {
    let corners = |turns: &[f32], reach: f32| {
        let corners = turns
            .iter()
            .map(|turn| {
                let (sin, cos) = (turn * std::f32::consts::TAU).sin_cos();
                centre + vec2(sin, -cos) * radius * reach
            })
            .collect();
        Form::convex_polygon(corners, fill, stroke)
    };
    match shape {
        Shape::Circle => Form::Vec(vec![
            Form::circle_filled(centre, radius, fill),
            Form::circle_stroke(centre, radius, stroke),
        ]),
        Shape::Square => corners(&[0.125, 0.375, 0.625, 0.875], 1.3),
        Shape::Triangle => corners(&[0.0, 1.0 / 3.0, 2.0 / 3.0], 1.35),
        Shape::Diamond => corners(&[0.0, 0.25, 0.5, 0.75], 1.35),
        Shape::Wedge => corners(&[0.5, 0.5 + 1.0 / 3.0, 0.5 + 2.0 / 3.0], 1.35),
        Shape::Hexagon => corners(&[0.0, 1.0 / 6.0, 2.0 / 6.0, 0.5, 4.0 / 6.0, 5.0 / 6.0], 1.15),
    }
}
