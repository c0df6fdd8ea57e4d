//! Rigid registration: the motion that carries landmarks from one place to another.
//!
//! ```
//! use sim_core::frame::ScanPoint;
//! use sim_core::record::registration::register;
//! use sim_core::units::Length;
//!
//! // Invented landmarks of a lower cast, before and after it has moved 6 mm forward and 4 mm down.
//! let before = [[80.0, 0.0, -40.0], [50.0, 25.0, -35.0], [50.0, -25.0, -35.0]];
//! let after = before.map(|[x, y, z]| ScanPoint::mm(x + 6.0, y, z - 4.0));
//! let registered = register(&before.map(|[x, y, z]| ScanPoint::mm(x, y, z)), &after)?;
//! assert!(registered.fit_rms < Length::from_mm(1e-12));
//! // Any other point of the cast goes with them.
//! let cusp = registered.motion.apply(&ScanPoint::mm(60.0, 20.0, -38.0));
//! assert!(cusp.distance_mm(&ScanPoint::mm(66.0, 20.0, -42.0)) < 1e-12);
//! # Ok::<(), sim_core::record::registration::RegistrationError>(())
//! ```

use nalgebra::{Matrix3, Matrix4, SymmetricEigen, Vector3};

use crate::frame::ScanPoint;
use crate::units::Length;

/// Fewest landmarks that fix a motion.
pub(crate) const FEWEST_LANDMARKS: usize = 3;
/// Landmarks nearer to one line than this cannot fix the turn about it, in millimetres.
const LEAST_BREADTH_MM: f64 = 1.0;
/// How far a given 4×4 matrix may be from a rotation and still be taken for a rounded one.
const ROUNDED_ROTATION: f64 = 1e-4;

/// A rigid motion of the lower cast in the coordinates of the scanned upper cast.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ScanMotion {
    pub(super) rotation: Matrix3<f64>,
    pub(super) translation: Vector3<f64>,
}

impl ScanMotion {
    /// No motion: the tentative centric position itself.
    pub const fn none() -> Self {
        Self {
            rotation: Matrix3::new(1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 1.0),
            translation: Vector3::new(0.0, 0.0, 0.0),
        }
    }

    /// The motion of a homogeneous 4×4 matrix (rows), its rotation made exact.
    ///
    /// # Errors
    /// [`RegistrationError::NotRigid`] when it is no rigid motion to 1e-4: stretched, mirrored, not
    /// finite, or with a last row other than 0, 0, 0, 1.
    pub fn from_rows(rows: [[f64; 4]; 4]) -> Result<Self, RegistrationError> {
        let matrix = Matrix4::from_fn(|row, column| rows[row][column]);
        let given: Matrix3<f64> = matrix.fixed_view::<3, 3>(0, 0).into();
        let last = [rows[3][0], rows[3][1], rows[3][2], rows[3][3] - 1.0];
        let bottom = last.into_iter().map(f64::abs).fold(0.0, f64::max);
        let stretched = (given.tr_mul(&given) - Matrix3::identity()).amax();
        let departure = bottom.max(stretched).max((given.determinant() - 1.0).abs());
        // What is not finite is far from everything.
        if !(matrix.iter().all(|entry| entry.is_finite()) && departure <= ROUNDED_ROTATION) {
            return Err(RegistrationError::NotRigid { departure });
        }
        let translation = matrix.fixed_view::<3, 1>(0, 3).into();
        Ok(Self {
            rotation: nearest_rotation(&given).ok_or(RegistrationError::NotRigid { departure })?,
            translation,
        })
    }

    /// Where a point of the lower cast goes.
    #[must_use]
    pub fn apply(&self, point: &ScanPoint) -> ScanPoint {
        ScanPoint::from_coords(self.rotation * point.coords() + self.translation)
    }
}

/// A motion found from matched landmarks, with what is left over and how sure it is.
#[derive(Clone, Debug, PartialEq)]
pub struct Registration {
    /// The motion.
    pub motion: ScanMotion,
    /// Distance of each landmark from where the motion puts it, in the order given.
    pub residuals: Vec<Length>,
    /// Root mean square of those distances.
    pub fit_rms: Length,
    /// Middle of the landmarks after the motion, about which turn and shift are independent.
    pub(super) centroid: Vector3<f64>,
    /// Covariance of the turn (radians) for noise of 1 mm on every coordinate of both lists.
    pub(super) unit_turn: Matrix3<f64>,
    /// Variance of each coordinate of the shift of the centroid for the same noise.
    pub(super) unit_shift: f64,
}

/// Why no motion can be found.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum RegistrationError {
    /// Too few landmarks.
    #[error("{given} landmarks are given; at least {FEWEST_LANDMARKS}, not in one line, are needed")]
    TooFew {
        /// Number given.
        given: usize,
    },
    /// The lists do not match.
    #[error(
        "{given} landmarks are given, {expected} in centric; the same landmarks in the same order are needed"
    )]
    Unmatched {
        /// Number given in the record.
        given: usize,
        /// Number given in centric.
        expected: usize,
    },
    /// In one line.
    #[error(
        "the landmarks lie within {breadth_mm:.2} mm of one line; the turn about it cannot be told (at least {LEAST_BREADTH_MM} mm are needed)"
    )]
    InLine {
        /// Root mean square distance from the line, in millimetres.
        breadth_mm: f64,
    },
    /// A coordinate that is not finite.
    #[error("a landmark is not finite")]
    NotFinite,
    /// A matrix that is no rigid motion.
    #[error(
        "the 4×4 matrix is {departure:.1e} away from a rigid motion (rotation and shift; last row 0, 0, 0, 1)"
    )]
    NotRigid {
        /// Greatest departure found.
        departure: f64,
    },
}

/// Finds the rigid motion that carries `before` to `after` in the least-squares sense.
///
/// Singular value decomposition of the cross-covariance (Kabsch W, Acta Cryst A 1976;32:922–923 and
/// 1978;34:827–828, from memory), a reflection excluded. Both lists in millimetres, one frame.
///
/// # Errors
/// [`RegistrationError`] for lists that do not match, fewer than three landmarks, or landmarks in
/// one line.
pub fn register(before: &[ScanPoint], after: &[ScanPoint]) -> Result<Registration, RegistrationError> {
    if before.len() != after.len() {
        return Err(RegistrationError::Unmatched { given: after.len(), expected: before.len() });
    }
    if before.len() < FEWEST_LANDMARKS {
        return Err(RegistrationError::TooFew { given: before.len() });
    }
    for list in [before, after] {
        // A decomposition of what is not finite might never end.
        if !list.iter().all(|point| point.coords().iter().all(|coordinate| coordinate.is_finite())) {
            return Err(RegistrationError::NotFinite);
        }
        let breadth_mm = breadth_mm(list);
        if breadth_mm < LEAST_BREADTH_MM {
            return Err(RegistrationError::InLine { breadth_mm });
        }
    }
    let (from, to) = (centroid(before), centroid(after));
    let cross: Matrix3<f64> =
        before.iter().zip(after).map(|(p, q)| (q.coords() - to) * (p.coords() - from).transpose()).sum();
    let rotation =
        nearest_rotation(&cross).ok_or(RegistrationError::InLine { breadth_mm: breadth_mm(before) })?;
    let motion = ScanMotion { rotation, translation: to - rotation * from };
    let residuals: Vec<Length> =
        before.iter().zip(after).map(|(p, q)| Length::from_mm(motion.apply(p).distance_mm(q))).collect();
    let count = before.len() as f64;
    let mean_square = residuals.iter().map(|length| length.mm().powi(2)).sum::<f64>() / count;
    let inertia = inertia(after, &to);
    Ok(Registration {
        motion,
        residuals,
        fit_rms: Length::from_mm(mean_square.sqrt()),
        centroid: to,
        // Both lists are measured, so every residual carries the noise of two points.
        unit_turn: inertia.try_inverse().unwrap_or_else(Matrix3::zeros) * 2.0,
        unit_shift: 2.0 / count,
    })
}

fn centroid(points: &[ScanPoint]) -> Vector3<f64> {
    points.iter().map(|point| *point.coords()).sum::<Vector3<f64>>() / points.len() as f64
}

/// Σ(|r|²·1 − r rᵀ) about the centroid: what resists a turn.
fn inertia(points: &[ScanPoint], about: &Vector3<f64>) -> Matrix3<f64> {
    let one = |point: &ScanPoint| {
        let r = point.coords() - about;
        Matrix3::identity() * r.norm_squared() - r * r.transpose()
    };
    points.iter().map(one).sum()
}

/// Root mean square distance of the points from the line that fits them best.
fn breadth_mm(points: &[ScanPoint]) -> f64 {
    let middle = centroid(points);
    let least = SymmetricEigen::new(inertia(points, &middle)).eigenvalues.min();
    (least.max(0.0) / points.len() as f64).sqrt()
}

/// The rotation nearest a matrix; `None` where the decomposition fails.
fn nearest_rotation(matrix: &Matrix3<f64>) -> Option<Matrix3<f64>> {
    let svd = matrix.svd(true, true);
    let (u, v_t) = (svd.u?, svd.v_t?);
    let mut turn = Matrix3::identity();
    turn[(2, 2)] = (u * v_t).determinant().signum();
    Some(u * turn * v_t)
}
