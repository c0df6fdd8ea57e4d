//! Shapes by which curves differ that lie beside each other.

use std::f64::consts::TAU;

use super::colour::WHITE;
use super::svg::{At, Stroke, Svg};

const RADIUS: f64 = 3.2;

/// A regular shape: its corners, and the turn of the first from the right, in parts of a whole turn.
#[derive(Clone, Copy)]
pub(super) struct Mark {
    corners: u32,
    turn: f64,
}

impl Mark {
    /// Circle, square, triangle, diamond, triangle on its point, hexagon.
    pub(super) const ALL: [Self; 6] = [
        Self { corners: 16, turn: 0.0 },
        Self { corners: 4, turn: 0.125 },
        Self { corners: 3, turn: -0.25 },
        Self { corners: 4, turn: 0.0 },
        Self { corners: 3, turn: 0.25 },
        Self { corners: 6, turn: 0.0 },
    ];

    pub(super) fn draw(self, svg: &mut Svg, at: At, filled: bool, colour: &'static str) {
        let corner = |number: u32| {
            let turn = TAU * (self.turn + f64::from(number) / f64::from(self.corners));
            (at.0 + RADIUS * turn.cos(), at.1 + RADIUS * turn.sin())
        };
        svg.area((0..self.corners).map(corner), if filled { colour } else { WHITE });
        svg.path((0..=self.corners).map(corner), Stroke::new(colour, 1.0));
    }
}
