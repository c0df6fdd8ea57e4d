//! A table for a pin whose tip is a ball: the surface that the ball rolls on while its centre keeps to
//! another.
//!
//! Let g be the height that the centre keeps to over each place of the plan, and r the ball's radius. The
//! ball about a centre over q takes all that is above g(q) − √(r² − |q − p|²) over a place p. What is left
//! when it has been everywhere is the lower envelope of all these balls,
//!
//! t(p) = min over |q − p| ≤ r of g(q) − √(r² − |q − p|²),
//!
//! in the words of image processing the erosion of g by the ball. The ball laid onto t from above comes to
//! stand with its centre at max over p of t(p) + √(r² − |q − p|²), the dilation of t, which is never above
//! g; it is g itself wherever a ball fits below g at that place. So valleys, in which one guiding tooth takes
//! over from another, are followed however sharp they are. At a ridge that is sharper than the ball its
//! centre runs lower, rounding it by the ball's own radius.
//!
//! Over a flat triangle with gradient ∇ the thing minimised is convex, so that the minimum has a closed
//! form: in the triangle g(p) − r√(1 + ∇²), at q = p − ∇·r/√(1 + ∇²); or on an edge, at the foot of p on it
//! less m·ρ/√(1 + m²) along it, where m is the edge's slope and ρ² = r² less the square of its distance
//! from p; or at a corner.

use nalgebra::{Vector2, Vector3};

use super::error::NoTable;
use crate::anterior::HeightField;

/// The lower envelope t of balls centred on a table's triangles, at each of its points. As high as the
/// lowest points of the balls: on a level table it is as far below as the radius.
pub(super) fn under(centres: &HeightField, radius: f64) -> Vec<f64> {
    envelope(centres, radius, 1.0)
}

/// Where the centre of a ball comes to stand that is laid onto a table from above, over each of its
/// points.
pub(super) fn over(table: &HeightField, radius: f64) -> Vec<f64> {
    // Upside down it is the same question.
    envelope(table, radius, -1.0).into_iter().map(|height| -height).collect()
}

/// The surface to print, whose heights are counted from the pin tip's place at rest.
pub(super) fn printed(centres: &HeightField) -> Result<HeightField, NoTable> {
    let radius = centres.tip().radius.mm();
    let heights: Vec<f64> = under(centres, radius).into_iter().map(|height| height + radius).collect();
    Ok(centres.with_heights(&heights)?)
}

fn envelope(field: &HeightField, radius: f64, up: f64) -> Vec<f64> {
    let (rows, columns) = field.size();
    let point = |index: usize| {
        let [x, y, z] = field.at(index);
        Vector3::new(x, y, up * z)
    };
    let reach = squares(radius / field.step_mm());
    let mut heights = Vec::with_capacity(rows * columns);
    for row in 0..rows {
        for column in 0..columns {
            let own = point(row * columns + column);
            let at = own.xy();
            let mut lowest = own.z - radius;
            for front in row.saturating_sub(reach).max(1)..=(row + reach + 1).min(rows - 1) {
                for left in column.saturating_sub(reach).max(1)..=(column + reach + 1).min(columns - 1) {
                    for mesh in field.square(front, left) {
                        let corners = mesh.map(point);
                        let least = corners.iter().map(|corner| corner.z).fold(f64::INFINITY, f64::min);
                        // No ball on it comes lower than this.
                        if least - radius < lowest {
                            lowest = over_triangle(&corners, &at, radius).map_or(lowest, |z| z.min(lowest));
                        }
                    }
                }
            }
            heights.push(lowest);
        }
    }
    heights
}

/// The least height over a place of balls centred on a triangle; none where no centre is near enough.
fn over_triangle(corners: &[Vector3<f64>; 3], at: &Vector2<f64>, radius: f64) -> Option<f64> {
    let normal = (corners[1] - corners[0]).cross(&(corners[2] - corners[0]));
    let gradient = -normal.xy() / normal.z;
    let steep = (1.0 + gradient.norm_squared()).sqrt();
    let centre = at - gradient * (radius / steep);
    let inside = |from: usize| {
        let (from, to) = (corners[from].xy(), corners[(from + 1) % 3].xy());
        (to - from).perp(&(centre - from)) * normal.z >= 0.0
    };
    if (0..3).all(inside) {
        return Some(corners[0].z + gradient.dot(&(at - corners[0].xy())) - radius * steep);
    }
    let edges = (0..3).filter_map(|from| over_edge(&corners[from], &corners[(from + 1) % 3], at, radius));
    edges.reduce(f64::min)
}

/// The same of balls centred on an edge, its corners included.
fn over_edge(from: &Vector3<f64>, to: &Vector3<f64>, at: &Vector2<f64>, radius: f64) -> Option<f64> {
    let along = to.xy() - from.xy();
    let length = along.norm();
    let foot = along.dot(&(at - from.xy())) / length;
    let aside = along.perp(&(at - from.xy())) / length;
    let half_chord = (radius * radius - aside * aside).max(0.0).sqrt();
    let slope = (to.z - from.z) / length;
    let best = (foot - slope * half_chord / (1.0 + slope * slope).sqrt()).clamp(0.0, length);
    let left = half_chord * half_chord - (best - foot) * (best - foot);
    (aside.abs() <= radius && left >= 0.0).then(|| from.z + slope * best - left.sqrt())
}

/// How many squares a radius reaches over.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // at most a hundred
fn squares(of_steps: f64) -> usize {
    of_steps.ceil() as usize
}
