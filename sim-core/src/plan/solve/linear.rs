//! Linear least squares of a few unknowns within bounds.

use nalgebra::{DMatrix, DVector};

/// Singular values below this part of the largest count as none. Derivatives by differences are good to
/// some 1e-9 of their size, so a direction weaker than this is not known to change anything.
const RANK: f64 = 1e-7;
/// How far past a bound rounding may put an unknown, in its own scale.
const ON_BOUND: f64 = 1e-11;
/// Residuals that differ by less than this part are as good as each other; then the nearer answer wins.
const AS_GOOD: f64 = 1e-12;

/// Where an unknown holds.
#[derive(Clone, Copy)]
enum Hold {
    Free,
    Least,
    Most,
}

/// The y within `least..=most` for which ‖A y − b‖ is smallest, and of all such y the one with the
/// smallest ‖y‖.
///
/// Every way of holding unknowns at their bounds is tried, 3ⁿ of them: with the handful of unknowns that
/// a plan has this is quick, and it cannot stop at a wrong one. For each, the rest is the least-squares
/// answer of least length, by singular values.
pub(super) fn within_bounds(
    a: &DMatrix<f64>,
    b: &DVector<f64>,
    least: &DVector<f64>,
    most: &DVector<f64>,
) -> DVector<f64> {
    let count = a.ncols();
    let mut best: Option<(f64, f64, DVector<f64>)> = None;
    let mut holds = vec![Hold::Free; count];
    loop {
        if let Some(y) = held(a, b, least, most, &holds) {
            let (off, length) = ((a * &y - b).norm(), y.norm());
            let scale = b.norm().max(f64::MIN_POSITIVE);
            let better = best.as_ref().is_none_or(|(best_off, best_length, _)| {
                let gain = best_off - off;
                gain > AS_GOOD * scale || (gain >= -AS_GOOD * scale && length < *best_length)
            });
            if better {
                best = Some((off, length, y));
            }
        }
        if !next(&mut holds) {
            break;
        }
    }
    // With every unknown held at its least bound there is always one.
    best.map_or_else(|| least.clone(), |(_, _, y)| y)
}

/// Steps to the next way of holding; false after the last.
fn next(holds: &mut [Hold]) -> bool {
    for hold in holds {
        *hold = match hold {
            Hold::Free => Hold::Least,
            Hold::Least => Hold::Most,
            Hold::Most => Hold::Free,
        };
        if !matches!(hold, Hold::Free) {
            return true;
        }
    }
    false
}

/// The answer with these unknowns held; none where a free one leaves its bounds.
fn held(
    a: &DMatrix<f64>,
    b: &DVector<f64>,
    least: &DVector<f64>,
    most: &DVector<f64>,
    holds: &[Hold],
) -> Option<DVector<f64>> {
    let mut y = DVector::zeros(holds.len());
    let mut free = Vec::new();
    for (index, hold) in holds.iter().enumerate() {
        match hold {
            Hold::Free => free.push(index),
            Hold::Least => y[index] = least[index],
            Hold::Most => y[index] = most[index],
        }
    }
    if !free.is_empty() {
        let rest = b - a * &y;
        let columns = a.select_columns(&free);
        let svd = columns.svd(true, true);
        let floor = RANK * svd.singular_values.max();
        let part = svd.solve(&rest, floor.max(f64::MIN_POSITIVE)).ok()?;
        for (index, value) in free.into_iter().zip(part.iter()) {
            let (low, high) = (least[index], most[index]);
            let room = ON_BOUND * (1.0 + value.abs());
            if *value < low - room || *value > high + room {
                return None;
            }
            y[index] = value.clamp(low, high);
        }
    }
    Some(y)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn solve(a: &[f64], b: &[f64], bounds: (f64, f64)) -> Vec<f64> {
        let (rows, columns) = (b.len(), a.len() / b.len());
        let a = DMatrix::from_row_slice(rows, columns, a);
        let b = DVector::from_column_slice(b);
        let bound = |value| DVector::from_element(columns, value);
        within_bounds(&a, &b, &bound(bounds.0), &bound(bounds.1)).iter().copied().collect()
    }

    fn near(is: &[f64], should_be: &[f64]) {
        for (is, should_be) in is.iter().zip(should_be) {
            assert!((is - should_be).abs() < 1e-10, "{is} should be {should_be}");
        }
    }

    #[test]
    fn two_equations_of_two_unknowns_are_solved() {
        near(&solve(&[2.0, 0.0, 0.0, 4.0], &[2.0, 2.0], (-9.0, 9.0)), &[1.0, 0.5]);
    }

    #[test]
    fn of_many_answers_the_least_is_given() {
        near(&solve(&[1.0, 1.0], &[2.0], (-9.0, 9.0)), &[1.0, 1.0]);
        // One of them bounded: the other makes up for it.
        let a = DMatrix::from_row_slice(1, 2, &[1.0, 1.0]);
        let most = DVector::from_vec(vec![0.5, 9.0]);
        let y = within_bounds(&a, &DVector::from_vec(vec![2.0]), &DVector::zeros(2), &most);
        near(y.as_slice(), &[0.5, 1.5]);
    }

    #[test]
    fn what_is_out_of_reach_is_come_near_to() {
        // The nearest point of the square 0..1 to the line x + 2y = 10 in the sense of its residual.
        near(&solve(&[1.0, 2.0], &[10.0], (0.0, 1.0)), &[1.0, 1.0]);
        // A bound on one unknown moves the best place of the other: (x−3)² + (x+y)² over y ≥ 0.
        let a = DMatrix::from_row_slice(2, 2, &[1.0, 0.0, 1.0, 1.0]);
        let b = DVector::from_vec(vec![3.0, 0.0]);
        let least = DVector::from_vec(vec![-9.0, 0.0]);
        let y = within_bounds(&a, &b, &least, &DVector::from_element(2, 9.0));
        near(y.as_slice(), &[1.5, 0.0]);
    }
}
