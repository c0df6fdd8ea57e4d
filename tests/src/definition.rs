//! The definitions of the mechanism, written plainly from its definition page: what a solved pose
//! is held to. Slow, and without anything that the solver uses.

use nalgebra::{Matrix3, Matrix4, Vector3};
use sim_core::anterior::AnteriorGuide;
use sim_core::cusp::{Arch, Cusp, CuspTip};
use sim_core::frame::{JawPose, OcclusalPlane, Side};
use sim_core::guide::{CondylarGuide, GuidePath};
use sim_core::instrument::{Design, Instrument};

/// The jaw pose as a homogeneous matrix.
pub fn matrix(pose: &JawPose) -> Matrix4<f64> {
    let mut out = pose.rotation().to_homogeneous();
    out.fixed_view_mut::<3, 1>(0, 3).copy_from(pose.translation());
    out
}

fn moved(matrix: &Matrix4<f64>, point: &Vector3<f64>) -> Vector3<f64> {
    (matrix * point.push(1.0)).xyz()
}

fn inverse(matrix: &Matrix4<f64>) -> Matrix4<f64> {
    matrix.try_inverse().expect("a pose can be inverted")
}

/// (advance, medial shift, drop) of a condyle in millimetres, read off the pose by definition.
pub fn condyle(instrument: &Instrument, pose: &JawPose, side: Side) -> [f64; 3] {
    condyle_moved(instrument.design, instrument.intercondylar_distance.mm(), &matrix(pose), side)
}

/// The same of a motion of the jaw given as a matrix.
pub fn condyle_moved(design: Design, distance_mm: f64, m: &Matrix4<f64>, side: Side) -> [f64; 3] {
    let outward = if side == Side::Left { 1.0 } else { -1.0 };
    let c = Vector3::new(0.0, outward * distance_mm / 2.0, 0.0);
    let d = match design {
        Design::Arcon => moved(m, &c) - c,
        Design::NonArcon => c - moved(&inverse(m), &c),
    };
    [d.x, -outward * d.y, -d.z]
}

/// f(a) of a guide in millimetres, by definition; `None` for a recorded profile.
pub fn superior_wall(guide: &CondylarGuide, advance: f64) -> Option<f64> {
    let h = guide.horizontal_inclination.radians();
    match &guide.path {
        GuidePath::Straight => Some(advance * h.tan()),
        GuidePath::Arc(arc) => {
            let r = arc.radius.mm();
            let k = h.sin() - advance / r;
            Some(r * ((1.0 - k * k).sqrt() - h.cos()))
        }
        GuidePath::Profile(_) => None,
    }
}

/// Signed distances of the guided point to plate, right wing and left wing in millimetres,
/// positive where it is clear.
pub fn guide_gaps(instrument: &Instrument, pose: &JawPose) -> [f64; 3] {
    let m = matrix(pose);
    let rest = instrument.incisal_point.coords();
    let (on_table, trough) = match &instrument.anterior_guide {
        AnteriorGuide::Table(trough) | AnteriorGuide::Casts(trough) => (true, trough),
        AnteriorGuide::Incisors(trough) => (false, trough),
        AnteriorGuide::CustomTable(_) => panic!("a custom table has no planes"),
    };
    let point = if on_table {
        let tip = rest - Vector3::new(0.0, 0.0, instrument.pin_extension.mm());
        moved(&inverse(&m), &tip)
    } else {
        moved(&m, &rest)
    };
    let alpha = trough.sagittal_inclination.radians();
    let n0 = Vector3::new(alpha.sin(), 0.0, alpha.cos());
    let y = Vector3::y();
    let h = trough.flat_half_width.mm();
    let (right, left) = (trough.right_wing.radians(), trough.left_wing.radians());
    let up = if on_table { 1.0 } else { -1.0 };
    let right_normal = n0 * right.cos() + y * (up * right.sin());
    let left_normal = n0 * left.cos() - y * (up * left.sin());
    [
        up * n0.dot(&(point - rest)),
        up * right_normal.dot(&(point - (rest - y * h))),
        up * left_normal.dot(&(point - (rest + y * h))),
    ]
}

/// (separation, clearance) of a cusp in millimetres.
pub fn cusp(plane: OcclusalPlane, cusp: &Cusp, pose: &JawPose) -> [f64; 2] {
    let m = matrix(pose);
    let d = match cusp.tip() {
        CuspTip::Lower(tip) => moved(&m, tip.coords()) - tip.coords(),
        CuspTip::Upper(tip) => -(moved(&inverse(&m), tip.coords()) - tip.coords()),
    };
    debug_assert_eq!(matches!(cusp.tip(), CuspTip::Upper(_)), cusp.tooth().arch() == Arch::Upper);
    let iota = plane.inclination.radians();
    let separation = -d.dot(&Vector3::new(iota.sin(), 0.0, iota.cos()));
    let u = d.dot(&Vector3::new(iota.cos(), 0.0, -iota.sin()));
    let o = if cusp.tooth().side() == Side::Left { d.y } else { -d.y };
    let inclines = cusp.opposing();
    let rise = [
        u * inclines.protrusive.radians().tan(),
        -u * inclines.retrusive.radians().tan(),
        o * inclines.working.radians().tan(),
        -o * inclines.nonworking.radians().tan(),
    ]
    .into_iter()
    .fold(0.0, f64::max);
    [separation, separation - rise]
}

/// How far a matrix is from a rotation: the greatest entry of RᵀR − 1, and of det R − 1.
pub fn departure_from_rotation(rotation: &Matrix3<f64>) -> f64 {
    let product = (rotation.transpose() * rotation - Matrix3::identity()).amax();
    product.max((rotation.determinant() - 1.0).abs())
}
