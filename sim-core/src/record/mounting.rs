//! Mounting: where the scanned casts stand in the instrument.
//!
//! ```
//! use sim_core::frame::UpperPoint;
//! use sim_core::practice::{Level, deal};
//!
//! // An invented patient's casts, put where their face-bow found them.
//! let case = deal(1, Level::First, &[])?.case;
//! let mounting = case.program()?.mounting;
//! // A point of the upper member, found in the scan and carried back.
//! let incisal = UpperPoint::mm(90.0, 0.0, -40.0);
//! let in_the_scan = mounting.to_scan(&incisal);
//! assert!(mounting.to_upper(&in_the_scan).distance_mm(&incisal) < 1e-9);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

use nalgebra::{Matrix3, Vector3};

use super::registration::ScanMotion;
use crate::frame::{JawPose, LowerPoint, ScanPoint, UpperPoint};
use crate::units::{Angle, Length};

/// Distance between axis points that a human has, in millimetres: the base of Bonwill's triangle
/// spans 85.2 to 112.6 mm in 120 adults by cone-beam tomography (PubMed 26734666, abstract); axis
/// points marked on the skin lie up to some 15 mm farther out on each side (common practice, no
/// source), and a narrow jaw is given 10 mm.
pub(crate) const AXIS_LENGTH_MM: (f64, f64) = (75.0, 145.0);
/// Arms of Bonwill's triangle in millimetres, same study: 103.3 (90.2–117.9).
pub(crate) const ARM_MM: (f64, f64) = (90.2, 117.9);
/// Balkwill angle in degrees, same study: 20.4 (9.0–27.6).
pub(crate) const BALKWILL_DEG: (f64, f64) = (9.0, 27.6);
/// A range of 120 normal values spans some 5.1 standard deviations (expected range of a normal
/// sample, from memory).
pub(crate) const DEVIATIONS_IN_RANGE: f64 = 5.1;
/// A point nearer to a line than this does not fix the plane through both, in millimetres.
const LEAST_OFFSET_MM: f64 = 5.0;

/// Standard deviation of a Bonwill arm between people, in millimetres, from its published range.
#[must_use]
pub fn arm_deviation() -> Length {
    Length::from_mm((ARM_MM.1 - ARM_MM.0) / DEVIATIONS_IN_RANGE)
}

/// Standard deviation of the Balkwill angle between people, from its published range.
#[must_use]
pub fn balkwill_deviation() -> Angle {
    Angle::from_degrees((BALKWILL_DEG.1 - BALKWILL_DEG.0) / DEVIATIONS_IN_RANGE)
}

/// How a cast was related to the axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum MountingRecord {
    /// The casts stand in the instrument, and every place is given in its frame.
    Done,
    /// By a face-bow: both ends of the axis and the anterior reference point.
    FaceBow {
        /// Right end of the transverse horizontal axis.
        right_axis: ScanPoint,
        /// Left end of the transverse horizontal axis.
        left_axis: ScanPoint,
        /// Third point of the horizontal reference plane.
        anterior_reference: ScanPoint,
    },
    /// By averages: Bonwill's triangle stood on the incisal point, tipped from the occlusal plane by
    /// the Balkwill angle. The occlusal plane is the horizontal reference plane.
    Average {
        /// Balkwill angle.
        balkwill: Angle,
        /// Arm of Bonwill's triangle.
        arm: Length,
        /// Lower incisal point.
        incisal: ScanPoint,
        /// A point of the occlusal plane at the right molars.
        right_molar: ScanPoint,
        /// A point of the occlusal plane at the left molars.
        left_molar: ScanPoint,
    },
}

/// The scan's place in the instrument: maps scan points to upper-frame points in centric.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mounting {
    rotation: Matrix3<f64>,
    origin: Vector3<f64>,
    axis_length: Length,
}

/// Why a cast cannot be mounted.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum MountingError {
    /// Axis points too near or too far.
    #[error("the axis points are {given_mm:.1} mm apart; allowed are {} to {} mm, what people have", AXIS_LENGTH_MM.0, AXIS_LENGTH_MM.1)]
    AxisLength {
        /// Distance given, in millimetres.
        given_mm: f64,
    },
    /// The third point is on the axis.
    #[error(
        "{third} lies {offset_mm:.1} mm from the line through {line}; at least {LEAST_OFFSET_MM} mm are needed to fix a plane"
    )]
    InLine {
        /// The point.
        third: &'static str,
        /// The two points of the line.
        line: &'static str,
        /// Its distance from that line, in millimetres.
        offset_mm: f64,
    },
    /// The casts would hang upside down or stand behind the axis.
    #[error(
        "the lower landmarks stand {where_to}: right and left axis points (or molars) are swapped, or the reference point is behind the axis"
    )]
    Swapped {
        /// Where they stand.
        where_to: &'static str,
    },
    /// A triangle that cannot be built.
    #[error("an arm of {arm_mm:.1} mm does not reach from the incisal point to condyles {base_mm:.1} mm apart; allowed are {} to {} mm", ARM_MM.0, ARM_MM.1)]
    Arm {
        /// Arm given, in millimetres.
        arm_mm: f64,
        /// Intercondylar distance, in millimetres.
        base_mm: f64,
    },
    /// A Balkwill angle that nobody has.
    #[error("balkwill_deg is {given_deg}; allowed are {} to {} degrees, the published range", BALKWILL_DEG.0, BALKWILL_DEG.1)]
    Balkwill {
        /// Angle given, in degrees.
        given_deg: f64,
    },
    /// A coordinate that is not finite.
    #[error("a mounting point is not finite")]
    NotFinite,
}

impl Mounting {
    /// Mounts a scanned cast. `base` is the intercondylar distance; for a face-bow it may be left to
    /// the axis points. `lower` are points of the lower cast, which must come to stand in front of
    /// the axis and below the horizontal reference plane.
    ///
    /// # Errors
    /// [`MountingError`] for points in line, swapped sides, or measures that no human has.
    pub(crate) fn new(
        record: &MountingRecord,
        base: Option<Length>,
        lower: &[ScanPoint],
    ) -> Result<Self, MountingError> {
        let mounted = match record {
            MountingRecord::Done => Self {
                rotation: Matrix3::identity(),
                origin: Vector3::zeros(),
                axis_length: base.unwrap_or(Length::from_mm(USUAL_BASE_MM)),
            },
            MountingRecord::FaceBow { right_axis, left_axis, anterior_reference } => {
                Self::by_face_bow(right_axis.coords(), left_axis.coords(), anterior_reference.coords())?
            }
            MountingRecord::Average { balkwill, arm, incisal, right_molar, left_molar } => {
                let base = base.unwrap_or(Length::from_mm(USUAL_BASE_MM));
                let molars = [right_molar.coords(), left_molar.coords()];
                Self::by_averages(*balkwill, *arm, base, incisal.coords(), molars)?
            }
        };
        let middle = lower.iter().map(|point| *mounted.to_upper(point).coords()).sum::<Vector3<f64>>()
            / lower.len().max(1) as f64;
        if !lower.is_empty() && middle.z >= 0.0 {
            return Err(MountingError::Swapped { where_to: "above the horizontal reference plane" });
        }
        if !lower.is_empty() && middle.x <= 0.0 {
            return Err(MountingError::Swapped { where_to: "behind the axis" });
        }
        Ok(mounted)
    }

    fn by_face_bow(
        right: &Vector3<f64>,
        left: &Vector3<f64>,
        reference: &Vector3<f64>,
    ) -> Result<Self, MountingError> {
        let given_mm = (left - right).norm();
        if !given_mm.is_finite() || !reference.iter().all(|coordinate| coordinate.is_finite()) {
            return Err(MountingError::NotFinite);
        }
        if given_mm < AXIS_LENGTH_MM.0 || given_mm > AXIS_LENGTH_MM.1 {
            return Err(MountingError::AxisLength { given_mm });
        }
        let y = (left - right) / given_mm;
        let origin = (left + right) / 2.0;
        let forward = reference - origin;
        let across = forward - y * forward.dot(&y);
        let offset_mm = across.norm();
        if offset_mm < LEAST_OFFSET_MM {
            let line = "the axis points";
            return Err(MountingError::InLine { third: "the anterior reference point", line, offset_mm });
        }
        Ok(Self::from_axes(across / offset_mm, y, origin, Length::from_mm(given_mm)))
    }

    fn by_averages(
        balkwill: Angle,
        arm: Length,
        base: Length,
        incisal: &Vector3<f64>,
        [right, left]: [&Vector3<f64>; 2],
    ) -> Result<Self, MountingError> {
        let given_deg = balkwill.degrees();
        if !(given_deg >= BALKWILL_DEG.0 && given_deg <= BALKWILL_DEG.1) {
            return Err(MountingError::Balkwill { given_deg });
        }
        let (arm_mm, base_mm) = (arm.mm(), base.mm());
        if !(arm_mm >= ARM_MM.0 && arm_mm <= ARM_MM.1 && arm_mm > base_mm / 2.0) {
            return Err(MountingError::Arm { arm_mm, base_mm });
        }
        let across = left - right;
        let width = across.norm();
        if !width.is_finite() || !incisal.iter().all(|coordinate| coordinate.is_finite()) {
            return Err(MountingError::NotFinite);
        }
        let y = across / width;
        let forward = incisal - (left + right) / 2.0;
        let ahead = forward - y * forward.dot(&y);
        let offset_mm = ahead.norm();
        if !(width >= LEAST_OFFSET_MM && offset_mm >= LEAST_OFFSET_MM) {
            let line = "the molar points";
            return Err(MountingError::InLine { third: "the incisal point", line, offset_mm });
        }
        let x = ahead / offset_mm;
        let z = x.cross(&y);
        // Bonwill's triangle rises from the incisal point backward at the Balkwill angle.
        let height = (arm_mm * arm_mm - base_mm * base_mm / 4.0).sqrt();
        let (sin, cos) = balkwill.sin_cos();
        let origin = incisal - x * (height * cos) + z * (height * sin);
        Ok(Self::from_axes(x, y, origin, base))
    }

    fn from_axes(x: Vector3<f64>, y: Vector3<f64>, origin: Vector3<f64>, axis_length: Length) -> Self {
        let z = x.cross(&y);
        Self { rotation: Matrix3::from_columns(&[x, y, z]).transpose(), origin, axis_length }
    }

    /// Distance between the condyles as the mounting has it.
    #[must_use]
    pub const fn axis_length(&self) -> Length {
        self.axis_length
    }

    /// Where a scan point stands in the upper frame.
    #[must_use]
    pub fn to_upper(&self, point: &ScanPoint) -> UpperPoint {
        UpperPoint::from_coords(self.rotation * (point.coords() - self.origin))
    }

    /// Where an upper-frame point stands in the scan.
    #[must_use]
    pub fn to_scan(&self, point: &UpperPoint) -> ScanPoint {
        ScanPoint::from_coords(self.rotation.tr_mul(point.coords()) + self.origin)
    }

    /// Where a point of the lower cast, seen in centric, stands in the lower frame.
    #[must_use]
    pub fn to_lower(&self, point: &ScanPoint) -> LowerPoint {
        LowerPoint::from_coords(*self.to_upper(point).coords())
    }

    /// A covariance of scan directions in the upper frame.
    pub(super) fn turn_covariance(&self, covariance: &Matrix3<f64>) -> Matrix3<f64> {
        self.rotation * covariance * self.rotation.transpose()
    }

    /// The jaw pose that a motion of the lower cast is: M = T D T⁻¹.
    #[must_use]
    pub fn jaw_pose(&self, motion: &ScanMotion) -> JawPose {
        let rotation = self.rotation * motion.rotation * self.rotation.transpose();
        let moved_origin = motion.rotation * self.origin + motion.translation;
        JawPose::rigid(rotation, self.rotation * (moved_origin - self.origin))
    }
}

/// Base of Bonwill's triangle where none is given: the mean of 120 adults (PubMed 26734666, abstract).
const USUAL_BASE_MM: f64 = 99.6;
