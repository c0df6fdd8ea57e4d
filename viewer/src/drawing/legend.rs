//! What the colours of the casts mean, and how long a millimetre is.

use kiss3d::egui::{Align2, FontId, Mesh, Painter, Pos2, Rect, Stroke, pos2, vec2};

use crate::casts::{CAP_MM, Show};
use crate::palette::{self, Tint};
use crate::projection::Projection;
use crate::state::State;

/// Width and height of the scale's bar, in points.
const BAR: (f32, f32) = (190.0, 13.0);
/// Side of a patch of one colour.
const PATCH: f32 = 13.0;
/// Size of the words.
const WORDS: f32 = 12.5;
/// Space round about and between lines.
const SPACE: f32 = 7.0;
/// Height of a line of words.
const LINE: f32 = 17.0;
/// Numbers on the scale, in parts of its length.
const NUMBERS: [f64; 5] = [0.0, 0.25, 0.5, 0.75, 1.0];
/// Lengths that a scale of length may have, in millimetres.
const ROUND_MM: [f64; 5] = [50.0, 20.0, 10.0, 5.0, 2.0];
/// Longest that it may be on the screen, in points.
const LONGEST: f64 = 130.0;

/// A colour and its meaning.
struct Patch {
    tint: Tint,
    words: String,
}

/// Paints the legend into the lower left corner of the picture.
pub(super) fn paint(painter: &Painter, state: &State, projection: &Projection, within: Rect, scale: f32) {
    if state.shown.mounted.is_none() {
        return;
    }
    let (title, has_bar, patches) = contents(state);
    #[allow(clippy::cast_precision_loss, reason = "a handful of patches")]
    let patch_lines = patches.len() as f32 * LINE;
    let bar = if has_bar { BAR.1 + LINE } else { 0.0 };
    let title_line = if title.is_empty() { 0.0 } else { LINE };
    let height = SPACE + title_line + bar + patch_lines + LINE + SPACE;
    let width = BAR.0 + 4.0 * SPACE;
    let corner = pos2(within.left() + SPACE, within.bottom() - SPACE - height);
    let card = Rect::from_min_size(corner, vec2(width, height));
    painter.rect_filled(card, 4.0, palette::PANEL.egui().gamma_multiply(0.92));
    painter.rect_stroke(
        card,
        4.0,
        Stroke::new(1.0, palette::PENCIL.egui().gamma_multiply(0.5)),
        kiss3d::egui::StrokeKind::Inside,
    );
    let mut y = card.top() + SPACE;
    let left = card.left() + 2.0 * SPACE;
    if !title.is_empty() {
        write(painter, pos2(left, y), Align2::LEFT_TOP, &title);
        y += LINE;
    }
    if has_bar {
        colour_bar(painter, pos2(left, y));
        y += BAR.1 + LINE;
    }
    for Patch { tint, words } in patches {
        let patch = Rect::from_min_size(pos2(left, y + 1.0), vec2(PATCH, PATCH));
        painter.rect_filled(patch, 0.0, tint.egui());
        painter.rect_stroke(
            patch,
            0.0,
            Stroke::new(1.0, palette::INK.egui()),
            kiss3d::egui::StrokeKind::Inside,
        );
        write(painter, pos2(left + PATCH + SPACE, y), Align2::LEFT_TOP, &words);
        y += LINE;
    }
    length_bar(painter, pos2(left, y + LINE / 2.0), projection.pixels_per_mm / f64::from(scale));
}

/// Title, whether there is a scale of colours, and single colours.
fn contents(state: &State) -> (String, bool, Vec<Patch>) {
    let patch = |tint, words: &str| Patch { tint, words: words.to_owned() };
    match state.casts.show {
        Show::Relief => (String::new(), false, Vec::new()),
        Show::Clearance => (
            "vertical gap, mm".to_owned(),
            true,
            vec![
                patch(palette::PIERCED, "passes through"),
                Patch { tint: palette::NOTHING_OPPOSITE, words: format!("nothing within {CAP_MM} mm") },
            ],
        ),
        Show::Film => {
            let film = state.casts.film.thickness().in_mm() * 1000.0;
            (
                format!("film of {film:.0} µm"),
                false,
                vec![patch(palette::PRINTED, "printed"), patch(palette::PIERCED, "passes through")],
            )
        }
    }
}

/// The scale from contact to the farthest gap told.
fn colour_bar(painter: &Painter, at: Pos2) {
    const STRIPS: u16 = 96;
    let mut mesh = Mesh::default();
    let part = |strip: u16| f64::from(strip) / f64::from(STRIPS);
    for strip in 0..STRIPS {
        #[allow(clippy::cast_possible_truncation, reason = "pixels")]
        let [from, to] = [strip, strip + 1].map(|strip| at.x + BAR.0 * part(strip) as f32);
        let rect = Rect::from_min_max(pos2(from, at.y), pos2(to, at.y + BAR.1));
        mesh.add_colored_rect(rect, palette::clearance(part(strip)).egui());
    }
    painter.add(mesh);
    let bar = Rect::from_min_size(at, vec2(BAR.0, BAR.1));
    let ink = Stroke::new(1.0, palette::INK.egui());
    painter.rect_stroke(bar, 0.0, ink, kiss3d::egui::StrokeKind::Outside);
    for number in NUMBERS {
        #[allow(clippy::cast_possible_truncation, reason = "pixels")]
        let x = at.x + BAR.0 * number as f32;
        painter.vline(x, bar.bottom()..=bar.bottom() + 3.0, ink);
        write(painter, pos2(x, bar.bottom() + 3.0), Align2::CENTER_TOP, &(number * CAP_MM).to_string());
    }
}

/// A length of so many millimetres as the picture shows it.
fn length_bar(painter: &Painter, at: Pos2, points_per_mm: f64) {
    let Some(mm) = ROUND_MM.into_iter().find(|mm| mm * points_per_mm <= LONGEST) else { return };
    #[allow(clippy::cast_possible_truncation, reason = "pixels")]
    let end = pos2(at.x + (mm * points_per_mm) as f32, at.y);
    let stroke = Stroke::new(1.5, palette::INK.egui());
    painter.line_segment([at, end], stroke);
    for place in [at, end] {
        painter.line_segment([place - vec2(0.0, 4.0), place + vec2(0.0, 4.0)], stroke);
    }
    write(painter, end + vec2(SPACE, 0.0), Align2::LEFT_CENTER, &format!("{mm} mm"));
}

fn write(painter: &Painter, at: Pos2, align: Align2, words: &str) {
    painter.text(at, align, words, FontId::proportional(WORDS), palette::INK.egui());
}
