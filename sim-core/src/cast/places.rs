//! Where teeth stand, for surfaces that do not say it themselves.

use nalgebra::{Vector2, Vector3};

use super::Surface;
use crate::cusp::{Arch, Cusp, CuspTip, Tooth};

/// How far from its nearest cusp tip a place may lie and still be of that tooth, in millimetres, seen
/// along the vertical. The far corner of a lower first molar's crown, some 11 by 10.5 mm, is no farther
/// than this from the middle of it; with all cusps named, no place of a crown is half as far. Common
/// practice, no source.
pub(crate) const TOOTH_REACH_MM: f64 = 8.0;

/// Where teeth stand: each place of a cast belongs to the tooth of the nearest cusp tip of its arch,
/// seen along the vertical, no farther than a crown reaches (8 mm); elsewhere there is no tooth.
#[derive(Clone, Debug, Default)]
pub struct ToothPlaces {
    tips: Vec<(Tooth, Vector2<f64>)>,
}

impl ToothPlaces {
    /// From named cusps, each in the frame of the member that carries it.
    #[must_use]
    pub fn of(cusps: &[Cusp]) -> Self {
        let tip = |cusp: &Cusp| match cusp.tip() {
            CuspTip::Upper(point) => point.coords().xy(),
            CuspTip::Lower(point) => point.coords().xy(),
        };
        Self { tips: cusps.iter().map(|cusp| (cusp.tooth(), tip(cusp))).collect() }
    }

    /// No tooth anywhere.
    #[must_use]
    pub fn none() -> Self {
        Self::default()
    }

    /// The tooth at a place of an arch, in that member's frame. Of two tips equally near, the one
    /// named first.
    #[must_use]
    pub(crate) fn tooth_at(&self, arch: Arch, place: &Vector3<f64>) -> Option<Tooth> {
        let mut nearest = (TOOTH_REACH_MM * TOOTH_REACH_MM, None);
        for (tooth, tip) in self.tips.iter().filter(|(tooth, _)| tooth.arch() == arch) {
            let square = (place.xy() - tip).norm_squared();
            if square < nearest.0 {
                nearest = (square, Some(*tooth));
            }
        }
        nearest.1
    }

    /// The tooth of each triangle: the surface's own labels, or by place.
    pub(super) fn of_triangles(&self, arch: Arch, surface: &Surface) -> Vec<Option<Tooth>> {
        if let Some(labels) = surface.teeth() {
            return labels.to_vec();
        }
        if self.tips.is_empty() {
            return vec![None; surface.triangles().len()];
        }
        let middle = |triangle| surface.corners(triangle).iter().sum::<Vector3<f64>>() / 3.0;
        (0..surface.triangles().len()).map(|triangle| self.tooth_at(arch, &middle(triangle))).collect()
    }
}
