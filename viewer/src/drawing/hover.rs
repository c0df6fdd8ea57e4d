//! The name of what lies under the mouse, written beside it.

use std::sync::Arc;

use kiss3d::egui::{Align2, FontId, Id, Painter, Pos2, Stroke, vec2};

use super::parts::{Part, parts, reach_of};
use super::under::under;
use crate::casts::Proposal;
use crate::geometry::poses::MemberPoses;
use crate::palette;
use crate::projection::Projection;
use crate::state::{Shown, State};

/// Size of the words.
const WORDS: f32 = 13.0;
/// A mark nearer to the mouse than this, in points, is what is meant.
const NEAR: f32 = 8.0;

/// Writes the name; `marks` are the cusps as they are seen. `pointer` is in points.
pub(super) fn paint(
    painter: &Painter,
    state: &State,
    projection: &Projection,
    marks: &[(Pos2, String)],
    pointer: Pos2,
    pixels_per_point: f32,
) {
    let near = marks.iter().filter(|(at, _)| at.distance(pointer) < NEAR);
    let nearest = near.min_by(|a, b| a.0.distance(pointer).total_cmp(&b.0.distance(pointer)));
    let name = match nearest {
        Some((_, name)) => Some(name.clone()),
        None => part_under(painter, state, projection, pointer, pixels_per_point),
    };
    let Some(name) = name else { return };
    let galley = painter.layout_no_wrap(name, FontId::proportional(WORDS), palette::INK.egui());
    let mut rect =
        Align2::LEFT_TOP.anchor_size(pointer + vec2(14.0, 16.0), galley.size()).expand2(vec2(5.0, 2.0));
    let within = painter.clip_rect().shrink(4.0);
    rect = rect.translate(vec2(
        (within.right() - rect.right()).min(0.0),
        (within.bottom() - rect.bottom()).min(0.0),
    ));
    painter.rect_filled(rect, 3.0, palette::PANEL.egui());
    painter.rect_stroke(rect, 3.0, Stroke::new(1.0, palette::INK.egui()), kiss3d::egui::StrokeKind::Outside);
    painter.galley(rect.min + vec2(5.0, 2.0), galley, palette::INK.egui());
}

fn part_under(
    painter: &Painter,
    state: &State,
    projection: &Projection,
    pointer: Pos2,
    pixels_per_point: f32,
) -> Option<String> {
    let pixel = [pointer.x, pointer.y].map(|at| f64::from(at * pixels_per_point));
    let ray = projection.ray(pixel);
    let poses = MemberPoses::of(&state.sample().placement.jaw, state.moving);
    let seen = state.casts.seen;
    let parts = parts_of(painter, state);
    let elevation = state.look.elevation_deg;
    let working = state.shown.solved.excursion.movement().working_side();
    let shown = parts.iter().filter(|part| seen.has(part.member) && part.when.is_now(working, elevation));
    let part = under(shown, &poses, ray).map(|(name, far)| (name.to_owned(), far));
    let on_cast = state.shown.mounted.as_ref().and_then(|mounted| {
        let found = Proposal::under(mounted, &state.shown.scene, &poses, |arch| seen.has(arch), ray)?;
        let pose =
            if found.tooth.arch() == sim_core::cusp::Arch::Upper { &poses.upper } else { &poses.lower };
        let far = (pose.place(&found.at_mm) - ray.0).dot(&ray.1);
        Some((format!("{} cast, by tooth {}", words_of(found.tooth.arch()), found.tooth), far))
    });
    [part, on_cast].into_iter().flatten().min_by(|a, b| a.1.total_cmp(&b.1)).map(|(name, _)| name)
}

const fn words_of(arch: sim_core::cusp::Arch) -> &'static str {
    match arch {
        sim_core::cusp::Arch::Upper => "upper",
        sim_core::cusp::Arch::Lower => "lower",
    }
}

/// The parts as they are drawn, made once for each change.
fn parts_of(painter: &Painter, state: &State) -> Arc<Vec<Part>> {
    let id = Id::new("parts under the mouse");
    let revision = state.shown.revision;
    let known = painter.ctx().data(|data| data.get_temp::<(u64, Arc<Vec<Part>>)>(id));
    if let Some((_, parts)) = known.filter(|(made, _)| *made == revision) {
        return parts;
    }
    let Shown { scene, mounted, .. } = &state.shown;
    let made = Arc::new(parts(scene, mounted.as_deref(), reach_of(&state.shown.solved)));
    painter.ctx().data_mut(|data| data.insert_temp(id, (revision, made.clone())));
    made
}
