//! Where a measure that is known at the crossings of lines is zero.

use crate::figures::svg::At;

/// Pieces of the line on which values at the crossings of `xs` and `ys`, row by row of `ys`, are zero: straight from
/// side to side of each square, linear along its sides. A square with a corner that is not a number has none.
pub(super) fn zero(xs: &[f64], ys: &[f64], values: &[f64]) -> Vec<(At, At)> {
    let value = |column: usize, row: usize| values.get(row * xs.len() + column).copied().unwrap_or(f64::NAN);
    let mut pieces = Vec::new();
    for (row, y) in ys.windows(2).enumerate() {
        for (column, x) in xs.windows(2).enumerate() {
            // Around the square.
            let corners = [
                ((x[0], y[0]), value(column, row)),
                ((x[1], y[0]), value(column + 1, row)),
                ((x[1], y[1]), value(column + 1, row + 1)),
                ((x[0], y[1]), value(column, row + 1)),
            ];
            pieces.extend(across(&corners));
        }
    }
    pieces
}

fn across(corners: &[(At, f64); 4]) -> Vec<(At, At)> {
    if corners.iter().any(|(_, value)| value.is_nan()) {
        return Vec::new();
    }
    let crossed: Vec<At> = (0..4)
        .filter_map(|side| {
            let ((from, one), (to, other)) = (corners[side], corners[(side + 1) % 4]);
            if (one < 0.0) == (other < 0.0) {
                return None;
            }
            let part = one / (one - other);
            Some((from.0 + (to.0 - from.0) * part, from.1 + (to.1 - from.1) * part))
        })
        .collect();
    match crossed[..] {
        [one, other] => vec![(one, other)],
        // A saddle: its middle tells which corners belong together.
        [a, b, c, d] => {
            let middle: f64 = corners.iter().map(|(_, value)| value).sum();
            if (middle < 0.0) == (corners[0].1 < 0.0) { vec![(a, b), (c, d)] } else { vec![(d, a), (b, c)] }
        }
        _ => Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const XS: [f64; 5] = [0.0, 1.0, 2.5, 3.0, 7.0];
    const YS: [f64; 4] = [-2.0, 0.0, 1.0, 4.0];

    fn on_grid(of: impl Fn(f64, f64) -> f64) -> Vec<f64> {
        YS.iter().flat_map(|y| XS.iter().map(|x| of(*x, *y)).collect::<Vec<_>>()).collect()
    }

    proptest! {
        /// Of a plane the line is exact: every end of a piece lies on it, and together they are as long as it is.
        #[test]
        fn the_zero_of_a_plane_is_its_straight_line(
            turn in 0.0..std::f64::consts::TAU, through in (0.5..6.5_f64, -1.5..3.5_f64),
        ) {
            let (a, b) = (turn.cos(), turn.sin());
            let plane = |x: f64, y: f64| a * (x - through.0) + b * (y - through.1);
            let pieces = zero(&XS, &YS, &on_grid(plane));
            prop_assert!(!pieces.is_empty());
            let mut length = 0.0;
            for (from, to) in &pieces {
                prop_assert!(plane(from.0, from.1).abs() < 1e-9 && plane(to.0, to.1).abs() < 1e-9);
                length += (from.0 - to.0).hypot(from.1 - to.1);
            }
            // How far one may go from the point along the line until the grid ends, on either side.
            let reach = |way: f64| {
                let end = |at: f64, step: f64, low: f64, high: f64| {
                    if step.abs() < 1e-12 { f64::INFINITY } else { ((if step > 0.0 { high } else { low }) - at) / step }
                };
                end(through.0, -b * way, XS[0], XS[4]).min(end(through.1, a * way, YS[0], YS[3]))
            };
            prop_assert!((length - reach(1.0) - reach(-1.0)).abs() < 1e-6, "{} of {}", length, reach(1.0) + reach(-1.0));
        }
    }

    #[test]
    fn nothing_is_drawn_where_nothing_changes_sign_or_nothing_is_known() {
        assert!(zero(&XS, &YS, &on_grid(|_, _| 1.0)).is_empty());
        assert!(zero(&XS, &YS, &on_grid(|_, _| -1.0)).is_empty());
        assert!(zero(&[0.0, 1.0], &[0.0, 1.0], &[1.0, -1.0, f64::NAN, 1.0]).is_empty());
        assert!(zero(&[0.0], &[0.0, 1.0], &[1.0, -1.0]).is_empty());
    }

    #[test]
    fn a_saddle_is_parted_by_its_middle() {
        for (values, near) in [([3.0, -1.0, -1.0, 3.0], (1.0, 0.0)), ([1.0, -3.0, -3.0, 1.0], (0.0, 0.0))] {
            let pieces = zero(&[0.0, 1.0], &[0.0, 1.0], &values);
            assert_eq!(pieces.len(), 2);
            // A piece cuts off a corner of the sign that the middle does not have.
            let cuts = |piece: &(At, At)| {
                let middle = ((piece.0.0 + piece.1.0) / 2.0, (piece.0.1 + piece.1.1) / 2.0);
                (middle.0 - near.0).hypot(middle.1 - near.1) < 0.3
            };
            assert_eq!(pieces.iter().filter(|piece| cuts(piece)).count(), 1, "{pieces:?}");
        }
    }
}
