//! A solved pose, and how a cusp has gone in it.

use nalgebra::Vector3;

use crate::cusp::{Cusp, CuspTip};
use crate::excursion::{Excursion, Mechanism, Placement};
use crate::frame::JawPose;
use crate::scene::Scene;

/// A solved pose of a scene, whose numbers can be taken apart.
#[derive(Clone, Copy, Debug)]
pub struct SolvedPose<'s> {
    /// The scene.
    pub scene: &'s Scene,
    /// Its instrument made ready, with the casts that guide, if any do.
    pub mechanism: &'s Mechanism,
    /// The excursion that the pose belongs to: what drives it stays as it is when a setting is turned.
    pub excursion: Excursion,
    /// The pose.
    pub placement: &'s Placement,
}

/// The way of a cusp as separation measures it: d = M B − B of a lower tip, −(U A − A) of an upper one.
pub(super) fn way_of(cusp: &Cusp, jaw: &JawPose) -> Vector3<f64> {
    match cusp.tip() {
        CuspTip::Lower(tip) => jaw.to_upper(&tip).coords() - tip.coords(),
        CuspTip::Upper(tip) => tip.coords() - jaw.to_lower(&tip).coords(),
    }
}
