//! Separation and clearance at cusps, read off a jaw pose.

use nalgebra::{Matrix3, Vector3};

use super::{Arch, Cusp};
use crate::frame::{JawPose, OcclusalPlane};
use crate::units::Length;

/// The opposing incline that a cusp comes nearest to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OpposingIncline {
    /// None rises against the cusp: it is clear by its whole separation.
    Flat,
    /// The protrusive incline.
    Protrusive,
    /// The retrusive incline.
    Retrusive,
    /// The working incline.
    Working,
    /// The non-working incline.
    NonWorking,
}

impl OpposingIncline {
    /// `flat`, and else as in a scene file's field names: `protrusive`, `retrusive`, `working`, `nonworking`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Flat => "flat",
            Self::Protrusive => "protrusive",
            Self::Retrusive => "retrusive",
            Self::Working => "working",
            Self::NonWorking => "nonworking",
        }
    }
}

/// What is read at one cusp in one pose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CuspReading {
    /// How far the cusp has moved off along the occlusal plane's normal (for flat rims, the
    /// Christensen distance).
    pub separation: Length,
    /// Separation less the rise of the opposing incline; below zero is an interference.
    pub clearance: Length,
    /// The incline that the clearance is to.
    pub incline: OpposingIncline,
}

impl CuspReading {
    /// Whether the guidance asks the cusp to pass through the opposing incline.
    ///
    /// A clearance within ±1e-9 mm of zero is contact, not interference: it is what rounding leaves
    /// at rest.
    #[must_use]
    pub fn interferes(&self) -> bool {
        self.clearance.mm() < -CONTACT_MM
    }
}

/// Far above what rounding leaves of a hundred millimetres, far below anything that can be ground.
pub(crate) const CONTACT_MM: f64 = 1e-9;

/// The cusps of a scene made ready to be read in many poses, without allocation.
///
/// For a lower tip B, d = M B − B; for an upper tip A, d = −(U A − A). Separation = −d·n. With u the
/// forward and o the outward part of d, clearance = separation − max(0, u·tan protrusive,
/// −u·tan retrusive, o·tan working, −o·tan nonworking).
#[derive(Clone, Debug)]
pub struct Gauges {
    /// Rows: normal, anterior, left.
    directions: Matrix3<f64>,
    cusps: Vec<Gauge>,
    any_upper: bool,
}

#[derive(Clone, Debug)]
struct Gauge {
    at: Vector3<f64>,
    /// 0 lower, 1 upper: an index, which costs less than a choice.
    arch: usize,
    outward_is_left: bool,
    /// Tangents of the inclines met forward and to the left.
    ahead: [f64; 2],
    /// Tangents of the inclines met backward and to the right, with their sign turned.
    astern: [f64; 2],
}

/// A linear map that takes a tip to its displacement's normal, forward and left part.
struct Displacement {
    map: Matrix3<f64>,
    constant: Vector3<f64>,
}

impl Gauges {
    /// Gauges at these cusps, in this order.
    #[must_use]
    pub fn new<'c>(plane: OcclusalPlane, cusps: impl IntoIterator<Item = &'c Cusp>) -> Self {
        let mut gauges = Self { directions: directions(plane), cusps: Vec::new(), any_upper: false };
        gauges.renew_cusps(cusps);
        gauges
    }

    /// Puts other cusps, or the same with other inclines, in the place of those it has; allocates
    /// nothing where they are no more.
    pub(crate) fn renew_cusps<'c>(&mut self, cusps: impl IntoIterator<Item = &'c Cusp>) {
        self.cusps.clear();
        self.cusps.extend(cusps.into_iter().map(Gauge::of));
        self.any_upper = self.cusps.iter().any(|gauge| gauge.arch == 1);
    }

    /// Measures to another occlusal plane from now on.
    pub(crate) fn renew_plane(&mut self, plane: OcclusalPlane) {
        self.directions = directions(plane);
    }

    /// Reads every cusp in a jaw pose, in the order of [`Self::new`].
    #[inline]
    pub fn read(&self, jaw: &JawPose) -> impl ExactSizeIterator<Item = CuspReading> {
        let e = &self.directions;
        // e·(M B − B) = (e R − e) B + e T
        let lower = Displacement { map: e * jaw.rotation() - e, constant: e * jaw.translation() };
        // e·(A − U A) = (e − e Rᵀ) A + e Rᵀ T
        let upper = if self.any_upper {
            let back = e * jaw.rotation().transpose();
            Displacement { map: e - back, constant: back * jaw.translation() }
        } else {
            Displacement { map: Matrix3::zeros(), constant: Vector3::zeros() }
        };
        let by_arch = [lower, upper];
        self.cusps.iter().map(move |gauge| gauge.read(&by_arch[gauge.arch]))
    }
}

fn directions(plane: OcclusalPlane) -> Matrix3<f64> {
    Matrix3::from_rows(&[plane.normal().transpose(), plane.anterior().transpose(), Vector3::y().transpose()])
}

impl Gauge {
    fn of(cusp: &Cusp) -> Self {
        let outward_is_left = cusp.tooth().side().outward_y() > 0.0;
        let opposing = cusp.opposing();
        let (outward, inward) = (opposing.working.tan(), opposing.nonworking.tan());
        let (left, right) = if outward_is_left { (outward, inward) } else { (inward, outward) };
        Self {
            at: cusp.at,
            arch: usize::from(cusp.tooth().arch() == Arch::Upper),
            outward_is_left,
            ahead: [opposing.protrusive.tan(), left],
            astern: [-opposing.retrusive.tan(), -right],
        }
    }

    /// Written in pairs (forward, left), which a processor takes two at a time.
    #[inline]
    fn read(&self, displacement: &Displacement) -> CuspReading {
        let (map, constant) = (&displacement.map, &displacement.constant);
        let along = |row: usize| {
            constant[row]
                + (map[(row, 0)] * self.at.x + map[(row, 1)] * self.at.y + map[(row, 2)] * self.at.z)
        };
        let moved = [along(1), along(2)];
        let separation = -along(0);
        let greater = |a: f64, b: f64| if a > b { a } else { b };
        // No incline falls, so of each two the one that is met is the one that rises.
        let rises = [0, 1].map(|way| greater(moved[way] * self.ahead[way], moved[way] * self.astern[way]));
        let rise = greater(greater(rises[0], rises[1]), 0.0);
        let incline = if rise == 0.0 {
            OpposingIncline::Flat
        } else if rises[1] > rises[0] {
            let moves_outward = (moved[1] > 0.0) == self.outward_is_left;
            if moves_outward { OpposingIncline::Working } else { OpposingIncline::NonWorking }
        } else if moved[0] > 0.0 {
            OpposingIncline::Protrusive
        } else {
            OpposingIncline::Retrusive
        };
        CuspReading {
            separation: Length::from_mm(separation),
            clearance: Length::from_mm(separation - rise),
            incline,
        }
    }
}
