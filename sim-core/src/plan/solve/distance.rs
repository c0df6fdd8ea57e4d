//! The point nearest the origin that obeys linear inequalities.
//!
//! By non-negative least squares (Lawson CL, Hanson RJ, Solving Least Squares Problems, 1974, chapter 23,
//! from memory): with E the rows (Gᵀ; hᵀ) and f = (0, …, 0, 1), the u ≥ 0 that makes ‖E u − f‖ least
//! leaves r = E u − f, and y = −r₁…ₙ / rₙ₊₁ unless r is zero, when no point obeys.

use nalgebra::{DMatrix, DVector};

/// A residual less than this is zero: the inequalities contradict each other. The last row of E stands
/// against 1.
const CONTRADICTION: f64 = 1e-11;
/// A gradient less than this part of its scale does not ask for another inequality.
const NO_PULL: f64 = 1e-13;

/// The y of least ‖y‖ with G y ≥ h; none where no y obeys.
pub(super) fn least_distance(g: &DMatrix<f64>, h: &DVector<f64>) -> Option<DVector<f64>> {
    let (rows, unknowns) = g.shape();
    let mut e = DMatrix::zeros(unknowns + 1, rows);
    // Rows of one length, so that one tolerance fits all.
    for row in 0..rows {
        let size = (g.row(row).norm_squared() + h[row] * h[row]).sqrt().max(f64::MIN_POSITIVE);
        for unknown in 0..unknowns {
            e[(unknown, row)] = g[(row, unknown)] / size;
        }
        e[(unknowns, row)] = h[row] / size;
    }
    let mut f = DVector::zeros(unknowns + 1);
    f[unknowns] = 1.0;
    let u = non_negative(&e, &f);
    let r = e * u - f;
    if r.norm() < CONTRADICTION {
        return None;
    }
    Some(-r.rows(0, unknowns) / r[unknowns])
}

/// The u ≥ 0 for which ‖E u − f‖ is least.
fn non_negative(e: &DMatrix<f64>, f: &DVector<f64>) -> DVector<f64> {
    let count = e.ncols();
    let mut u = DVector::zeros(count);
    let mut used: Vec<usize> = Vec::new();
    for _ in 0..3 * count {
        let pull = e.tr_mul(&(f - e * &u));
        let candidate = (0..count)
            .filter(|index| !used.contains(index))
            .max_by(|one, other| pull[*one].total_cmp(&pull[*other]));
        let Some(strongest) = candidate.filter(|index| pull[*index] > NO_PULL) else { break };
        used.push(strongest);
        loop {
            let Some(part) = least_squares(e, f, &used) else {
                used.pop();
                return u;
            };
            if part.iter().all(|value| *value > 0.0) {
                u.fill(0.0);
                for (index, value) in used.iter().zip(part.iter()) {
                    u[*index] = *value;
                }
                break;
            }
            // As far toward the new answer as nothing falls below zero; what comes to zero is let go.
            let step = used
                .iter()
                .zip(part.iter())
                .filter(|(_, value)| **value <= 0.0)
                .map(|(index, value)| u[*index] / (u[*index] - value))
                .fold(1.0, f64::min);
            for (index, value) in used.iter().zip(part.iter()) {
                u[*index] += step * (value - u[*index]);
            }
            let before = used.len();
            used.retain(|index| u[*index] > f64::EPSILON);
            if used.is_empty() || used.len() == before {
                return u;
            }
        }
    }
    u
}

fn least_squares(e: &DMatrix<f64>, f: &DVector<f64>, used: &[usize]) -> Option<DVector<f64>> {
    e.select_columns(used).svd(true, true).solve(f, f64::EPSILON).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn nearest(g: &[f64], h: &[f64]) -> Option<Vec<f64>> {
        let g = DMatrix::from_row_slice(h.len(), g.len() / h.len(), g);
        least_distance(&g, &DVector::from_column_slice(h)).map(|y| y.iter().copied().collect())
    }

    #[test]
    fn the_nearest_corner_edge_or_the_origin_itself_is_found() {
        let near = |is: Option<Vec<f64>>, should_be: [f64; 2]| {
            let is = is.expect("a point");
            assert!(is.iter().zip(should_be).all(|(is, should_be)| (is - should_be).abs() < 1e-11), "{is:?}");
        };
        near(nearest(&[1.0, 0.0, 0.0, 1.0], &[1.0, 2.0]), [1.0, 2.0]);
        near(nearest(&[1.0, 1.0, 1.0, -1.0], &[2.0, -5.0]), [1.0, 1.0]);
        near(nearest(&[1.0, 0.0, 0.0, 1.0], &[-1.0, -2.0]), [0.0, 0.0]);
        // Many that say the same, and one twice.
        near(nearest(&[1.0, 0.0, 2.0, 0.0, 1.0, 0.0], &[3.0, 6.0, 3.0]), [3.0, 0.0]);
    }

    #[test]
    fn contradictions_have_no_point() {
        assert_eq!(nearest(&[1.0, 0.0, -1.0, 0.0], &[1.0, 1.0]), None);
    }
}
