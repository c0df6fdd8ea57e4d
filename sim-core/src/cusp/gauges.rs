//! Separation and clearance at cusps, read off a jaw pose.

use super::displacement::{Displacement, Inclines};
use super::{Arch, Cusp};
use crate::frame::{JawPose, OcclusalPlane};
use crate::units::{Length, SinCos};

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
    pub(super) plane: SinCos,
    pub(super) cusps: Vec<Gauge>,
    any_upper: bool,
}

#[derive(Clone, Debug)]
pub(super) struct Gauge {
    pub(super) at: [f64; 3],
    /// 0 lower, 1 upper: an index, which costs less than a choice.
    pub(super) arch: usize,
    outward_is_left: bool,
    pub(super) inclines: Inclines,
}

impl Gauges {
    /// Gauges at these cusps, in this order.
    #[must_use]
    pub fn new<'c>(plane: OcclusalPlane, cusps: impl IntoIterator<Item = &'c Cusp>) -> Self {
        let mut gauges = Self { plane: SinCos::of(plane.inclination), cusps: Vec::new(), any_upper: false };
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
        self.plane.renew(plane.inclination);
    }

    /// Reads every cusp in a jaw pose, in the order of [`Self::new`].
    #[inline]
    pub fn read(&self, jaw: &JawPose) -> impl ExactSizeIterator<Item = CuspReading> {
        let (columns, translation) = (jaw.rotation().as_ref(), jaw.translation().as_ref());
        let (sin, cos) = (self.plane.sin(), self.plane.cos());
        let lower = Displacement::of_lower((sin, cos), columns, translation);
        // Of lower cusps alone nobody asks for it.
        let upper =
            if self.any_upper { Displacement::of_upper((sin, cos), columns, translation) } else { lower };
        let by_arch = [lower, upper];
        self.cusps.iter().map(move |gauge| gauge.read(&by_arch[gauge.arch]))
    }
}

/// The incline met along the way that rises more (forward and back, outward and inward), backward in that way and
/// forward.
const MET: [[OpposingIncline; 2]; 2] = [
    [OpposingIncline::Retrusive, OpposingIncline::Protrusive],
    [OpposingIncline::NonWorking, OpposingIncline::Working],
];

impl Gauge {
    fn of(cusp: &Cusp) -> Self {
        let outward_is_left = cusp.tooth().side().outward_y() > 0.0;
        let opposing = cusp.opposing();
        let (outward, inward) = (opposing.working.tan(), opposing.nonworking.tan());
        let (left, right) = if outward_is_left { (outward, inward) } else { (inward, outward) };
        Self {
            at: cusp.at.into(),
            arch: usize::from(cusp.tooth().arch() == Arch::Upper),
            outward_is_left,
            inclines: Inclines {
                ahead: [opposing.protrusive.tan(), left],
                astern: [-opposing.retrusive.tan(), -right],
            },
        }
    }

    #[inline]
    fn read(&self, displacement: &Displacement) -> CuspReading {
        let read = displacement.read(&self.at, &self.inclines);
        // Looked up rather than branched upon: which incline a cusp meets is hardly foreseen.
        let steeper = usize::from(read.rises[1] > read.rises[0]);
        let way = [read.moved[0] > 0.0, (read.moved[1] > 0.0) == self.outward_is_left][steeper];
        let incline = if read.rise == 0.0 { OpposingIncline::Flat } else { MET[steeper][usize::from(way)] };
        CuspReading {
            separation: Length::from_mm(read.separation),
            clearance: Length::from_mm(read.separation - read.rise),
            incline,
        }
    }
}
