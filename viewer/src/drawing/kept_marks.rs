//! Marks of the second set-up over the picture: its sphere centres, its cusps, and which is which.

use kiss3d::egui::{Align2, Color32, Painter, Pos2, Stroke, pos2, vec2};
use nalgebra::Vector3;
use sim_core::frame::Side;

use super::glyph::glyph;
use super::type_size::face;
use crate::geometry::poses::MemberPoses;
use crate::kept::{Beside, Kept};
use crate::layout::Layout;
use crate::palette::{self, Tint};
use crate::state::State;

/// Radius of a cusp's mark and half size of a cross, in points.
const MARK: f32 = 5.0;
/// Size of the words.
const WORDS: f32 = 13.0;
/// Most letters of a name over the picture.
const LETTERS: usize = 44;

/// Paints what belongs to B; `place` leads from the drawn world to the screen, for A.
pub(super) fn paint(
    painter: &Painter,
    state: &State,
    layout: &Layout,
    place: &dyn Fn(&Vector3<f64>) -> Pos2,
) {
    let Some(kept) = &state.kept else { return };
    names(painter, state, kept, layout);
    let Ok(now) = &kept.now else { return };
    let scene = &kept.set_up.scene;
    let poses = MemberPoses::of(&now.placement.jaw, state.moving);
    let place = |world: &Vector3<f64>| place(world) + vec2(layout.to_beside(), 0.0);
    for side in Side::BOTH {
        let centre = place(&poses.sphere(&scene.instrument, side));
        for (width, tint) in [(3.5, palette::SPHERE), (1.5, palette::CENTRE_MARK)] {
            let stroke = Stroke::new(width, tint.egui());
            painter.line_segment([centre - vec2(MARK, 0.0), centre + vec2(MARK, 0.0)], stroke);
            painter.line_segment([centre - vec2(0.0, MARK), centre + vec2(0.0, MARK)], stroke);
        }
    }
    for (number, mark) in state.marked() {
        let Some(own) = state.shown.scene.cusps.get(number) else { continue };
        let Some(cusp) = kept.number_of(own).and_then(|number| scene.cusps.get(number)) else { continue };
        if !state.casts.seen.has(cusp.tooth().arch()) {
            continue;
        }
        let (tint, shape) = palette::cusp(mark);
        let at = place(&poses.of_cusp(cusp).0.place(&cusp.at_mm()));
        // Hollow: B.
        painter.add(glyph(shape, at, MARK, Color32::WHITE, Stroke::new(2.0, tint.egui())));
    }
}

/// Which is A and which is B, in words.
fn names(painter: &Painter, state: &State, kept: &Kept, layout: &Layout) {
    let absent = kept.now.as_ref().err().map(|why| format!("B has no pose here: {why}"));
    let b = format!("B: {}", shortened(&kept.set_up.name));
    let at = layout.instrument.left_top() + vec2(8.0, 6.0);
    match state.beside {
        Beside::Ghost => {
            write(painter, at, "A: as set, solid", palette::INK);
            write(painter, at + vec2(0.0, 18.0), &format!("{b}, dotted, hollow marks"), palette::GHOST);
        }
        Beside::SideBySide => {
            write(painter, at, "A: as set", palette::INK);
            write(painter, layout.beside.left_top() + vec2(8.0, 6.0), &b, palette::GHOST);
            let edge = Stroke::new(1.0, palette::PENCIL.egui());
            painter.vline(layout.beside.left(), layout.beside.y_range(), edge);
        }
    }
    if let Some(absent) = absent {
        let width = (layout.instrument.width() + layout.beside.width().max(0.0) - 16.0).max(80.0);
        let font = face(painter, WORDS);
        let galley = painter.layout(absent, font, palette::INTERFERENCE.egui(), width);
        let corner = pos2(at.x, at.y + 38.0);
        let back = kiss3d::egui::Rect::from_min_size(corner, galley.size()).expand(3.0);
        painter.rect_filled(back, 3.0, palette::PAPER.egui());
        painter.galley(corner, galley, palette::INTERFERENCE.egui());
    }
}

fn shortened(name: &str) -> String {
    if name.chars().count() <= LETTERS {
        return name.to_owned();
    }
    let start: String = name.chars().take(LETTERS).collect();
    format!("{start}…")
}

fn write(painter: &Painter, at: Pos2, words: &str, tint: Tint) {
    let galley = painter.layout_no_wrap(words.to_owned(), face(painter, WORDS), tint.egui());
    let rect = Align2::LEFT_TOP.anchor_size(at, galley.size());
    painter.rect_filled(rect.expand2(vec2(3.0, 1.0)), 3.0, palette::PAPER.egui().gamma_multiply(0.9));
    painter.galley(rect.min, galley, tint.egui());
}
