//! What the table is like where the pin has not been.

use super::net::{Edge, Grid, Net};
use crate::anterior::PinTip;
use nalgebra::{Vector2, Vector3};

/// How many steps the table goes on as the nearest triangle of the net does: the squares on the rim
/// reach one diagonal beyond it.
const STEPS_ON: f64 = 2.0;
/// Rim places this much farther away than the nearest, in millimetres, are as near: rounding. Two edges
/// share each corner of the rim.
const AS_NEAR_MM: f64 = 1e-9;

/// All heights: those covered, and the others from the nearest place of the rim. Of planes that meet
/// there the lowest counts.
///
/// A ball on the last of a slope touches it up to its radius farther on, where the slope must go on for
/// the ball: a level place there would have the surface to print cut away below it.
pub(super) fn filled(net: &Net, grid: &Grid, covered: &[Vec<Option<f64>>], tip: PinTip) -> Vec<Vec<f64>> {
    let rim: Vec<Edge> = net.rim().collect();
    let reach = STEPS_ON * grid.step() + tip.radius.mm();
    let row = |(row, heights): (usize, &Vec<Option<f64>>)| {
        let height = |(column, height): (usize, &Option<f64>)| {
            height.unwrap_or_else(|| beyond(&rim, &grid.at(row, column), reach))
        };
        heights.iter().enumerate().map(height).collect()
    };
    covered.iter().enumerate().map(row).collect()
}

fn beyond(rim: &[Edge], at: &Vector2<f64>, reach: f64) -> f64 {
    let nearest = rim.iter().map(|edge| (edge.foot(at).xy() - at).norm()).fold(f64::INFINITY, f64::min);
    let height = |edge: &Edge| {
        let foot = edge.foot(at);
        let away = at - foot.xy();
        let distance = away.norm();
        (distance <= nearest + AS_NEAR_MM)
            .then(|| foot.z + edge.slope.dot(&away) * (reach / distance).min(1.0))
    };
    // A sweep without any area leaves the table level.
    rim.iter().filter_map(height).reduce(f64::min).unwrap_or(0.0)
}

impl Edge {
    /// The place on the edge that is nearest to a point, seen from above.
    fn foot(&self, at: &Vector2<f64>) -> Vector3<f64> {
        let along = self.to - self.from;
        let part = along.xy().dot(&(at - self.from.xy())) / along.xy().norm_squared();
        self.from + along * part.clamp(0.0, 1.0)
    }
}
