//! A centric record by the gaps at teeth: what a hinge turn leaves of them.

use nalgebra::{DMatrix, DVector, Matrix2, Matrix3, Rotation3, Vector2, Vector3};

use super::RemountError;
use super::errors::{CentricErrors, chance};
use super::parted::Parted;
use super::processing::about_axis;
use crate::units::{Angle, Length};

/// Rounds of the least squares; it ends of itself after a few.
const ROUNDS: usize = 50;
/// Where another round changes nothing: radians and millimetres.
const SETTLED: f64 = 1e-14;
/// Teeth whose gaps tell a turn, a roll and a height apart worse than this lie in one line.
const LEAST_APART: f64 = 1e-3;

/// The pose that fits the gaps best, and how the gaps depend on it.
pub(super) struct Fitted {
    pub(super) parted: Parted,
    design: DMatrix<f64>,
}

/// Fits turn, roll and height to gaps at places by least squares (Gauss and Newton). Gaps are blind to what slides
/// along the occlusal plane.
pub(super) fn fit(gaps: &[(Vector3<f64>, f64)], normal: &Vector3<f64>) -> Result<Fitted, RemountError> {
    let refused = || RemountError::TooFewGaps { given: gaps.len() };
    if gaps.len() < 3 {
        return Err(refused());
    }
    let mut found = Vector3::zeros();
    let mut design = design(gaps, normal, &found);
    for _ in 0..ROUNDS {
        let svd = design.clone().svd(true, true);
        if svd.singular_values.min() < LEAST_APART * svd.singular_values.max() {
            return Err(refused());
        }
        let left =
            DVector::from_iterator(gaps.len(), gaps.iter().map(|(at, gap)| gap - gap_at(at, normal, &found)));
        let step = svd.solve(&left, 0.0).map_err(|_| refused())?;
        let step = Vector3::new(step[0] / SCALE_MM, step[1] / SCALE_MM, step[2]);
        found += step;
        design = self::design(gaps, normal, &found);
        if step.amax() < SETTLED {
            break;
        }
    }
    let [turn, roll, height] = found.into();
    Ok(Fitted { parted: Parted { turn, shift: Vector3::z() * height, roll, yaw: 0.0 }, design })
}

/// Turns are solved for as millimetres at this distance, which is about that of the teeth.
const SCALE_MM: f64 = 50.0;

fn gap_at(at: &Vector3<f64>, normal: &Vector3<f64>, pose: &Vector3<f64>) -> f64 {
    let tilt = Rotation3::from_axis_angle(&Vector3::x_axis(), pose[1]);
    let moved = tilt * (about_axis(pose[0]) * at) + Vector3::z() * pose[2] - at;
    -moved.dot(normal)
}

/// Derivatives of the gaps by turn, roll (both in millimetres at [`SCALE_MM`]) and height.
fn design(gaps: &[(Vector3<f64>, f64)], normal: &Vector3<f64>, pose: &Vector3<f64>) -> DMatrix<f64> {
    let tilt = Rotation3::from_axis_angle(&Vector3::x_axis(), pose[1]);
    DMatrix::from_fn(gaps.len(), 3, |row, column| {
        let turned = about_axis(pose[0]) * gaps[row].0;
        let moved = match column {
            0 => tilt * Vector3::y().cross(&turned) / SCALE_MM,
            1 => Vector3::x().cross(&(tilt * turned)) / SCALE_MM,
            _ => Vector3::z(),
        };
        -moved.dot(normal)
    })
}

/// Standard errors from the noise of the gaps.
pub(super) fn errors(fitted: &Fitted, sd_mm: f64, half_mm: f64) -> Option<CentricErrors> {
    if sd_mm <= 0.0 {
        return None;
    }
    let square = fitted.design.tr_mul(&fitted.design);
    let scale = Matrix3::from_diagonal(&Vector3::new(1.0 / SCALE_MM, 1.0 / SCALE_MM, 1.0));
    let inverse: Matrix3<f64> = square.fixed_view::<3, 3>(0, 0).into_owned().try_inverse()?;
    let covariance = scale * inverse * scale * (sd_mm * sd_mm);
    let sd = |index: usize| covariance[(index, index)].max(0.0).sqrt();
    let parts: Matrix2<f64> = covariance.fixed_view::<2, 2>(1, 1).into_owned();
    let found = Vector2::new(fitted.parted.roll, fitted.parted.shift.z);
    let chi_square = (found.transpose() * parts.try_inverse()? * found)[(0, 0)];
    // A condyle goes up by height ± half the distance times the roll.
    let condyle = [half_mm, -half_mm].map(|arm| {
        (Vector2::new(arm, 1.0).transpose() * parts * Vector2::new(arm, 1.0))[(0, 0)].max(0.0).sqrt()
    });
    Some(CentricErrors {
        turn: Angle::from_radians(sd(0)),
        shift_mm: Vector3::new(0.0, 0.0, sd(2)),
        roll: Angle::from_radians(sd(1)),
        yaw: Angle::ZERO,
        condyle: Length::from_mm(condyle[0].max(condyle[1])),
        chi_square,
        freedom: 2,
        chance: chance(chi_square, 2),
    })
}
