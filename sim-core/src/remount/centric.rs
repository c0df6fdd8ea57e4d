//! A centric record taken with the finished dentures: what no hinge turn explains.

use nalgebra::{Matrix3, Matrix5, Matrix6, Rotation3, SMatrix, Vector3, Vector5};

use super::errors::{CentricErrors, chance};
use super::file::coords;
use super::parted::Parted;
use super::{CentricRecord, Remount, RemountError, gaps};
use crate::frame::{ScanPoint, Side};
use crate::record::registration::{ScanMotion, register};
use crate::scene::Scene;
use crate::units::{Angle, Length};

/// A record that would come by chance less often than this speaks against the mounting.
const UNLIKELY: f64 = 0.05;

/// Whether the centric relation of the mounting is that of the record.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CentricVerdict {
    /// It is: neither condyle is off by more than the tolerance.
    Stands,
    /// It is not.
    Wrong,
    /// The record is not sure enough to tell.
    Undecided,
}

/// The error of the centric relation, apart from any turn about the axis.
#[derive(Clone, Debug, PartialEq)]
pub struct Centric {
    /// The hinge turn by which the record is more open than the mounting: the record's own thickness and the error of
    /// processing, which is no error of the centric relation.
    pub turn: Angle,
    /// Where the middle of the axis goes from the mounting to the record: forward, left, up, in millimetres.
    pub shift_mm: Vector3<f64>,
    /// Turn of the axis seen from in front: above zero its left end is higher.
    pub roll: Angle,
    /// Turn of the axis seen from above: above zero the front of the jaw goes left.
    pub yaw: Angle,
    /// Where the right and the left condyle go: forward, left, up, in millimetres.
    pub condyles_mm: [Vector3<f64>; 2],
    /// The farther of the two.
    pub farthest: Length,
    /// How far a condyle may be off.
    pub tolerance: Length,
    /// Standard errors, where the record says how noisy it is.
    pub errors: Option<CentricErrors>,
    /// What is seen of the error: gaps tell a shift up or down and a roll alone.
    pub by_gaps: bool,
    /// The verdict.
    pub verdict: CentricVerdict,
}

impl Remount {
    /// What the centric record says; `None` where there is none.
    ///
    /// # Errors
    /// [`RemountError`] for landmarks, a matrix or gaps that give no motion.
    pub fn centric(&self, scene: &Scene) -> Result<Option<Centric>, RemountError> {
        let half_mm = scene.instrument.intercondylar_distance.mm() / 2.0;
        let tolerance = self.tolerance_in_mm();
        let Some(record) = &self.centric else { return Ok(None) };
        let by_motion = |motion: &ScanMotion| {
            let at = |x, y, z| *motion.apply(&ScanPoint::mm(x, y, z)).coords();
            let shift = at(0.0, 0.0, 0.0);
            let columns = [at(1.0, 0.0, 0.0), at(0.0, 1.0, 0.0), at(0.0, 0.0, 1.0)].map(|end| end - shift);
            Parted::of(&Rotation3::from_matrix_unchecked(Matrix3::from_columns(&columns)), shift)
        };
        let (parted, errors, by_gaps) = match record {
            CentricRecord::Transform(a, b, c, d) => {
                (by_motion(&ScanMotion::from_rows([*a, *b, *c, *d])?), None, false)
            }
            CentricRecord::Landmarks { on_the_mounting_mm, in_the_record_mm, sd_mm } => {
                let points = |list: &[crate::record::ScanPlace]| -> Vec<ScanPoint> {
                    list.iter().map(|place| place.point()).collect()
                };
                let after = points(in_the_record_mm);
                let parted = by_motion(&register(&points(on_the_mounting_mm), &after)?.motion);
                let errors = by_landmarks(&parted, &after, sd_mm.length().mm(), half_mm);
                (parted, errors, false)
            }
            CentricRecord::Gaps { at, sd_mm } => {
                let places: Vec<(Vector3<f64>, f64)> =
                    at.iter().map(|gap| (coords(&gap.at_mm), gap.gap_mm.length().mm())).collect();
                let fitted = gaps::fit(&places, &scene.occlusal_plane.normal())?;
                let errors = gaps::errors(&fitted, sd_mm.length().mm(), half_mm);
                (fitted.parted, errors, true)
            }
        };
        let condyles_mm = parted.condyles(half_mm);
        let farthest = condyles_mm.iter().map(|condyle| condyle.norm()).fold(0.0, f64::max);
        let verdict = verdict(farthest, tolerance, errors.as_ref());
        Ok(Some(Centric {
            turn: Angle::from_radians(parted.turn),
            shift_mm: parted.shift,
            roll: Angle::from_radians(parted.roll),
            yaw: Angle::from_radians(parted.yaw),
            condyles_mm,
            farthest: Length::from_mm(farthest),
            tolerance: Length::from_mm(tolerance),
            errors,
            by_gaps,
            verdict,
        }))
    }
}

/// Off by more than the tolerance, and more than chance gives, is wrong; within it is right, where the record can tell so
/// little at all.
fn verdict(farthest_mm: f64, tolerance_mm: f64, errors: Option<&CentricErrors>) -> CentricVerdict {
    let is_off = farthest_mm > tolerance_mm;
    match errors {
        Some(errors) if is_off && errors.chance >= UNLIKELY => CentricVerdict::Undecided,
        Some(errors) if !is_off && errors.condyle.mm() > tolerance_mm => CentricVerdict::Undecided,
        _ if is_off => CentricVerdict::Wrong,
        _ => CentricVerdict::Stands,
    }
}

/// Standard errors from noise on every coordinate of both lists: a turn about the landmarks' middle and, independent
/// of it, a shift; carried to the axis.
fn by_landmarks(parted: &Parted, after: &[ScanPoint], sd_mm: f64, half_mm: f64) -> Option<CentricErrors> {
    if sd_mm <= 0.0 {
        return None;
    }
    let count = after.len() as f64;
    let middle = after.iter().map(|point| *point.coords()).sum::<Vector3<f64>>() / count;
    let inertia: Matrix3<f64> = after
        .iter()
        .map(|point| {
            let r = point.coords() - middle;
            Matrix3::identity() * r.norm_squared() - r * r.transpose()
        })
        .sum();
    // Both lists are measured, so that every difference carries the noise of two points.
    let variance = 2.0 * sd_mm * sd_mm;
    let turn = inertia.try_inverse()? * variance;
    let mut noise = Matrix6::zeros();
    noise.fixed_view_mut::<3, 3>(0, 0).copy_from(&turn);
    noise.fixed_view_mut::<3, 3>(3, 3).copy_from(&(Matrix3::identity() * (variance / count)));
    // Shift of a place p near the axis: shift of the middle + turn × (p − middle).
    let of_place = |place: &Vector3<f64>| {
        let mut rows = SMatrix::<f64, 3, 6>::zeros();
        rows.fixed_view_mut::<3, 3>(0, 0).copy_from(&-(place - middle).cross_matrix());
        rows.fixed_view_mut::<3, 3>(0, 3).copy_from(&Matrix3::identity());
        rows
    };
    let mut parts = SMatrix::<f64, 5, 6>::zeros();
    parts.fixed_view_mut::<3, 6>(0, 0).copy_from(&of_place(&parted.shift));
    parts[(3, 0)] = 1.0;
    parts[(4, 2)] = 1.0;
    let covariance: Matrix5<f64> = parts * noise * parts.transpose();
    let condyles = parted.condyles(half_mm);
    let condyle = Side::BOTH.iter().zip(condyles).map(|(side, moved)| {
        let rows = of_place(&(Vector3::y() * (half_mm * side.outward_y()) + moved));
        (rows * noise * rows.transpose()).symmetric_eigenvalues().max().max(0.0).sqrt()
    });
    let found = Vector5::new(parted.shift.x, parted.shift.y, parted.shift.z, parted.roll, parted.yaw);
    let chi_square = (found.transpose() * covariance.try_inverse()? * found)[(0, 0)];
    let sd = |index: usize| covariance[(index, index)].max(0.0).sqrt();
    Some(CentricErrors {
        turn: Angle::from_radians(turn[(1, 1)].max(0.0).sqrt()),
        shift_mm: Vector3::new(sd(0), sd(1), sd(2)),
        roll: Angle::from_radians(sd(3)),
        yaw: Angle::from_radians(sd(4)),
        condyle: Length::from_mm(condyle.fold(0.0, f64::max)),
        chi_square,
        freedom: 5,
        chance: chance(chi_square, 5),
    })
}
