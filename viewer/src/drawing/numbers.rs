//! The numbers of the teeth on casts.

use kiss3d::egui::{Align2, Color32, Painter, Pos2, vec2};
use nalgebra::Vector3;
use sim_core::cusp::Arch;

use super::type_size::face;
use crate::geometry::poses::MemberPoses;
use crate::palette;
use crate::projection::Projection;
use crate::state::State;

/// Size of the numbers.
const WORDS: f32 = 12.0;
/// Where a millimetre has fewer points than this, teeth are too small for numbers.
const LEAST_POINTS_PER_MM: f64 = 2.0;
/// A tooth whose outer face is turned toward the eye by less than this cosine has no number, for its
/// neighbours stand before it.
const TOWARD_EYE: f64 = 0.25;
/// From so far above or below, as a sine, no tooth stands before another.
const FROM_ABOVE: f64 = 0.7;

/// Writes the number of every tooth of the casts that is turned toward the eye.
pub(super) fn paint(
    painter: &Painter,
    state: &State,
    poses: &MemberPoses,
    projection: &Projection,
    place: &dyn Fn(&Vector3<f64>) -> Pos2,
    pixels_per_point: f32,
) {
    let Some(mounted) = &state.shown.mounted else { return };
    if projection.pixels_per_mm / f64::from(pixels_per_point) < LEAST_POINTS_PER_MM {
        return;
    }
    let toward_eye = projection.basis.row(2).transpose();
    for (arch, pose) in [(Arch::Upper, &poses.upper), (Arch::Lower, &poses.lower)] {
        if !state.casts.seen.has(arch) {
            continue;
        }
        for middle in mounted.tooth_middles(arch) {
            let outward = pose.rotation * middle.outward;
            if toward_eye.z.abs() < FROM_ABOVE && outward.dot(&toward_eye) < TOWARD_EYE {
                continue;
            }
            let at = place(&pose.place(&middle.at));
            let number = middle.tooth.to_string();
            let font = face(painter, WORDS);
            for halo in [vec2(-1.0, 0.0), vec2(1.0, 0.0), vec2(0.0, -1.0), vec2(0.0, 1.0)] {
                painter.text(at + halo, Align2::CENTER_CENTER, &number, font.clone(), Color32::WHITE);
            }
            painter.text(at, Align2::CENTER_CENTER, &number, font, palette::INK.egui());
        }
    }
}
