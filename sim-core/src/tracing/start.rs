//! A first line through scattered points.

use nalgebra::Vector2;

/// Points between which lines are tried: 45 of them make some thousand lines.
const TRIED: usize = 45;
/// Points to which each line is measured.
const MEASURED: usize = 300;

/// The line through two of the points from which the median distance of all is least, as a point
/// and a unit direction (least median of squares, Rousseeuw PJ, J Am Stat Assoc 1984;79:871–880,
/// from memory): nearly half of the points may be anywhere.
///
/// Nothing where fewer than two points differ.
pub(super) fn line(points: &[Vector2<f64>]) -> Option<(Vector2<f64>, Vector2<f64>)> {
    let every = |most: usize| points.iter().step_by(points.len().div_ceil(most).max(1));
    let tried: Vec<&Vector2<f64>> = every(TRIED).collect();
    let measured: Vec<&Vector2<f64>> = every(MEASURED).collect();
    let mut distances = vec![0.0; measured.len()];
    let mut best: Option<(f64, Vector2<f64>, Vector2<f64>)> = None;
    for (index, first) in tried.iter().enumerate() {
        for second in &tried[index + 1..] {
            let Some(along) = (*second - *first).try_normalize(0.0) else { continue };
            for (distance, point) in distances.iter_mut().zip(&measured) {
                *distance = along.perp(&(*point - *first)).abs();
            }
            let middle = distances.len() / 2;
            let (_, &mut median, _) = distances.select_nth_unstable_by(middle, f64::total_cmp);
            if best.is_none_or(|(least, ..)| median < least) {
                best = Some((median, **first, along));
            }
        }
    }
    best.map(|(_, through, along)| (through, along))
}

/// Where two lines meet; nothing where they are parallel.
pub(super) fn meeting(
    (first, first_along): (Vector2<f64>, Vector2<f64>),
    (second, second_along): (Vector2<f64>, Vector2<f64>),
) -> Option<Vector2<f64>> {
    let turn = first_along.perp(&second_along);
    let along = (second - first).perp(&second_along) / turn;
    along.is_finite().then(|| first + first_along * along)
}
