//! A close-up of each chosen cusp: its tip and the opposing inclines, in the plane that matters.
//!
//! Drawn in the frame of the opposing tooth, true to scale, forward or outward to the right. The
//! gap under (over) the tip is the clearance whenever the incline met lies in the plane shown.

use kiss3d::egui::{Align2, Painter, Pos2, Rect, Sense, Shape, Stroke, Ui, Vec2, vec2};
use nalgebra::Vector3;
use sim_core::cusp::{Arch, Cusp, CuspReading, OpposingIncline};
use sim_core::excursion::Placement;
use words::number::two_decimals;

use super::style;
use crate::drawing::glyph;
use crate::drawing::type_size::face;
use crate::geometry::landmarks::tip_seen_by_opponent;
use crate::palette;
use crate::state::State;

/// Height of a close-up and the most columns of them.
const HEIGHT: f32 = 88.0;
const COLUMNS: usize = 2;
/// Least half width shown, in millimetres.
const LEAST_MM: f64 = 0.6;

/// The plane of a close-up: what is to the right, and the tangents of the inclines to the right and
/// to the left.
struct Plane {
    words: &'static str,
    across: Vector3<f64>,
    right: f64,
    left: f64,
}

pub(super) fn show(ui: &mut Ui, state: &State) {
    let marked: Vec<(usize, usize)> = state.marked().collect();
    let width = (ui.available_width() - 6.0) / 2.0;
    for row in marked.chunks(COLUMNS) {
        ui.horizontal(|ui| {
            for &(number, mark) in row {
                let (rect, _) =
                    ui.allocate_exact_size(vec2(width, HEIGHT * style::scale(ui.ctx())), Sense::hover());
                let painter = ui.painter().with_clip_rect(rect.intersect(ui.clip_rect()));
                one(&painter, rect, state, number, mark);
            }
        });
    }
}

/// Displacement of a cusp against its opponent, as the measures take it.
fn displacement(cusp: &Cusp, placement: &Placement) -> Vector3<f64> {
    let moved = tip_seen_by_opponent(cusp, placement) - cusp.at_mm();
    match cusp.tooth().arch() {
        Arch::Lower => moved,
        Arch::Upper => -moved,
    }
}

/// The sagittal plane or the transverse one: where the incline met lies; between meetings, where
/// the cusp goes farther.
fn plane(state: &State, cusp: &Cusp, incline: OpposingIncline) -> Plane {
    let scene = &state.shown.scene;
    let opposing = cusp.opposing();
    let anterior = scene.occlusal_plane.anterior();
    let outward = Vector3::y() * cusp.tooth().side().outward_y();
    let end = displacement(cusp, &state.shown.solved.last().placement);
    let is_sagittal = match incline {
        OpposingIncline::Protrusive | OpposingIncline::Retrusive => true,
        OpposingIncline::Working | OpposingIncline::NonWorking => false,
        OpposingIncline::Flat => end.dot(&anterior).abs() >= end.dot(&outward).abs(),
    };
    if is_sagittal {
        Plane {
            words: "right: forward",
            across: anterior,
            right: opposing.protrusive.tan(),
            left: opposing.retrusive.tan(),
        }
    } else {
        Plane {
            words: "right: outward",
            across: outward,
            right: opposing.working.tan(),
            left: opposing.nonworking.tan(),
        }
    }
}

fn one(painter: &Painter, rect: Rect, state: &State, number: usize, mark: usize) {
    let scene = &state.shown.scene;
    let cusp = &scene.cusps[number];
    let sample = state.sample();
    let reading = &sample.readings[number];
    let plane = plane(state, cusp, reading.incline);
    let normal = scene.occlusal_plane.normal();
    let (tint, shape) = palette::cusp(mark);
    let trail: Vec<[f64; 2]> = (state.shown.solved.samples().iter())
        .map(|sample| {
            let moved = displacement(cusp, &sample.placement);
            [moved.dot(&plane.across), moved.dot(&normal)]
        })
        .collect();
    // A lower cusp has its opponent above, an upper one below.
    let up = if cusp.tooth().arch() == Arch::Lower { 1.0 } else { -1.0 };
    let place = scaled(&trail, rect.shrink2(vec2(12.0, 20.0)), up);
    painter.rect_stroke(
        rect,
        3.0,
        Stroke::new(1.0, palette::PENCIL.egui().gamma_multiply(0.4)),
        kiss3d::egui::StrokeKind::Inside,
    );
    words(painter, rect, cusp, &plane, reading);
    let painter = painter.with_clip_rect(rect.shrink2(vec2(2.0, 18.0)).intersect(painter.clip_rect()));
    // Both inclines fall away from the deepest place, where the tip rests.
    let reach = 2.0 * trail.iter().flatten().fold(LEAST_MM, |far, mm| far.max(mm.abs()));
    let inclines =
        [place([-reach, -reach * plane.left]), place([0.0, 0.0]), place([reach, -reach * plane.right])];
    painter.add(Shape::line(inclines.to_vec(), Stroke::new(3.0, palette::PENCIL.egui())));
    let points: Vec<Pos2> = trail.iter().copied().map(&place).collect();
    painter.add(Shape::line(points, Stroke::new(1.5, tint.egui())));
    let moved = displacement(cusp, &sample.placement);
    let (across, along) = (moved.dot(&plane.across), moved.dot(&normal));
    let surface = -(across * plane.right).max(-across * plane.left).max(0.0);
    let (tip, opponent) = (place([across, along]), place([across, surface]));
    let gap = if reading.interferes() { palette::INTERFERENCE } else { palette::INK };
    painter.line_segment([tip, opponent], Stroke::new(2.0, gap.egui()));
    painter.add(glyph(shape, tip, 5.0, tint.egui(), Stroke::new(1.0, kiss3d::egui::Color32::WHITE)));
    if reading.interferes() {
        let reach = Vec2::splat(7.0);
        let stroke = Stroke::new(2.0, palette::INTERFERENCE.egui());
        painter.line_segment([tip - reach, tip + reach], stroke);
        painter.line_segment([tip + vec2(-reach.x, reach.y), tip + vec2(reach.x, -reach.y)], stroke);
    }
}

/// Fits the trail and a little of the other incline into a rectangle, one scale for both directions.
fn scaled(trail: &[[f64; 2]], rect: Rect, up: f64) -> impl Fn([f64; 2]) -> Pos2 {
    let margin = LEAST_MM / 2.0;
    let (mut low, mut high) = ([-margin, -LEAST_MM], [margin, 0.0]);
    for point in trail {
        for axis in [0, 1] {
            low[axis] = low[axis].min(point[axis]);
            high[axis] = high[axis].max(point[axis]);
        }
    }
    let scale =
        (f64::from(rect.width()) / (high[0] - low[0])).min(f64::from(rect.height()) / (high[1] - low[1]));
    let middle = [(low[0] + high[0]) / 2.0, (low[1] + high[1]) / 2.0];
    #[allow(clippy::cast_possible_truncation, reason = "pixels")]
    move |[across, along]| {
        rect.center()
            + vec2(((across - middle[0]) * scale) as f32, (-(along - middle[1]) * up * scale) as f32)
    }
}

fn words(painter: &Painter, rect: Rect, cusp: &Cusp, plane: &Plane, reading: &CuspReading) {
    let font = face(painter, 12.0);
    let title = format!("{} {}", cusp.tooth(), cusp.name());
    painter.text(
        rect.left_top() + vec2(5.0, 2.0),
        Align2::LEFT_TOP,
        title,
        font.clone(),
        palette::INK.egui(),
    );
    let clearance = reading.clearance.mm();
    let (said, tint) = if reading.interferes() {
        (format!("interferes {}", two_decimals(-clearance)), palette::INTERFERENCE)
    } else {
        (format!("clear {}", two_decimals(clearance)), palette::INK)
    };
    let place = rect.left_bottom() + vec2(5.0, -2.0);
    painter.text(place, Align2::LEFT_BOTTOM, said, font.clone(), tint.egui());
    painter.text(
        rect.right_bottom() - vec2(5.0, 2.0),
        Align2::RIGHT_BOTTOM,
        plane.words,
        font,
        palette::PENCIL.egui(),
    );
}
