//! What rises from a crown: cusps, edges, ridges, cingula, each a rounded cone.

/// A rounded cone over a point or over a stretch of a line, in millimetres.
///
/// Heights here are toward the other arch, in either arch. With a part along the arch beyond the
/// stretch and o outward of the line, the surface lies √((A·a)² + (O·o)² + ρ²) − ρ below the top,
/// where A and O are the slopes of that direction far from the top and ρ rounds it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rise {
    /// The stretch along the arch; both ends the same for a cusp.
    pub(super) stretch: [f64; 2],
    /// The line it stands on.
    pub(super) line: usize,
    /// Height of its top.
    pub(super) top: f64,
    /// Slope along the arch.
    pub(super) along: f64,
    /// Slopes inward and outward.
    pub(super) across: [f64; 2],
    /// The rounding ρ.
    pub(super) rounding: f64,
    /// How much more it falls inward beyond a distance: (distance, per square millimetre).
    pub(super) hollow: (f64, f64),
}

impl Rise {
    /// How far below its top its surface lies, so far along the arch and so far outward of its line.
    pub(super) fn drop(&self, along: f64, outward: f64) -> f64 {
        let beyond = (self.stretch[0] - along).max(along - self.stretch[1]).max(0.0);
        let a = self.along * beyond;
        let o = self.across[usize::from(outward > 0.0)] * outward;
        let past = (-outward - self.hollow.0).max(0.0);
        (a * a + o * o + self.rounding * self.rounding).sqrt() - self.rounding + self.hollow.1 * past * past
    }
}

/// Halfway from a tip to the fossa its distance is this many times the rounding's radius.
const ROUNDNESS: f64 = 0.5;

/// Slope far from the top, and ρ, of a round cusp whose incline halfway to a fossa `reach` away has
/// the tangent `incline`.
pub(super) fn round(incline: f64, reach: f64) -> (f64, f64) {
    let slope = incline * (1.0 + ROUNDNESS * ROUNDNESS).sqrt();
    (slope, slope * ROUNDNESS * reach / 2.0)
}
