//! What the colours of walls and casts mean, and how long a millimetre is.

use kiss3d::egui::{Align2, Mesh, Painter, Pos2, Rect, Stroke, pos2, vec2};

use super::type_size::{face, scale as type_scale};
use crate::casts::{CAP_MM, Show};
use crate::palette::{self, Tint};
use crate::projection::Projection;
use crate::projections::Arrangement;
use crate::state::State;

/// Height of the legend, in points.
const HEIGHT: f32 = 42.0;
/// Width and height of the scale's bar.
const BAR: (f32, f32) = (150.0, 12.0);
/// Side of a patch of one colour.
const PATCH: f32 = 12.0;
/// Height of a line.
const LINE: f32 = 18.0;
/// Size of the words.
const WORDS: f32 = 12.5;
/// Space round about and between things.
const SPACE: f32 = 7.0;
/// Numbers on the scale, in parts of its length.
const NUMBERS: [f64; 5] = [0.0, 0.25, 0.5, 0.75, 1.0];
/// Lengths that a scale of length may have, in millimetres.
const ROUND_MM: [f64; 5] = [50.0, 20.0, 10.0, 5.0, 2.0];
/// Longest that it may be on the screen, in points.
const LONGEST: f64 = 70.0;

/// A colour and its meaning.
struct Patch {
    tint: Tint,
    words: String,
}

/// Height that the legend takes from the picture.
#[must_use]
pub fn legend_height(state: &State) -> f32 {
    if state.projections.arrangement == Arrangement::Projections { 0.0 } else { HEIGHT }
}

/// Paints the legend: the scale of colours, single colours, and a length.
pub(super) fn paint(painter: &Painter, state: &State, projection: &Projection, within: Rect, scale: f32) {
    if !within.is_positive() {
        return;
    }
    painter.rect_filled(within, 0.0, palette::PANEL.egui());
    painter.hline(
        within.left()..=within.right(),
        within.top(),
        Stroke::new(1.0, palette::PENCIL.egui().gamma_multiply(0.35)),
    );
    let size = type_scale(painter.ctx());
    let (space, patch_side) = (SPACE * size, PATCH * size);
    let shows_walls = state.shown.mounted.is_none() || state.casts.show == Show::Relief;
    // Walls have two lines, for their patches go on to the next where the picture is narrow.
    let middle = if shows_walls { within.top() + 12.0 * size } else { within.center().y };
    let mut x = within.left() + 1.5 * space;
    length_bar(painter, pos2(x, middle), projection.pixels_per_mm / f64::from(scale), &mut x);
    let (title, has_bar, patches) = contents(state);
    if !title.is_empty() {
        x = write(painter, pos2(x, middle), Align2::LEFT_CENTER, &title) + space;
    }
    if has_bar {
        // Under the first number there is no room for the words before it.
        x += space;
        colour_bar(painter, pos2(x, within.top() + 6.0 * size));
        x += BAR.0 * size + 2.0 * space;
    }
    let (start, mut middle) = (within.left() + 1.5 * space, middle);
    for Patch { tint, words } in patches {
        let wide = patch_side + 4.0 + width_of(painter, &words);
        if x + wide > within.right() - 4.0 && x > start {
            (x, middle) = (start, middle + LINE * size);
        }
        let patch = Rect::from_min_size(pos2(x, middle - patch_side / 2.0), vec2(patch_side, patch_side));
        painter.rect_filled(patch, 0.0, tint.egui());
        painter.rect_stroke(
            patch,
            0.0,
            Stroke::new(1.0, palette::INK.egui()),
            kiss3d::egui::StrokeKind::Inside,
        );
        x = write(painter, pos2(patch.right() + 4.0, middle), Align2::LEFT_CENTER, &words) + 1.5 * space;
    }
}

/// Title, whether there is a scale of colours, and single colours.
fn contents(state: &State) -> (String, bool, Vec<Patch>) {
    let patch = |tint, words: &str| Patch { tint, words: words.to_owned() };
    if state.shown.mounted.is_none() {
        return ("walls".to_owned(), false, walls(state));
    }
    match state.casts.show {
        Show::Relief => ("walls".to_owned(), false, walls(state)),
        Show::Clearance => (
            "gap, mm".to_owned(),
            true,
            vec![
                patch(palette::PIERCED, "penetration"),
                Patch { tint: palette::NOTHING_OPPOSITE, words: format!("over {CAP_MM} mm, or none") },
            ],
        ),
        Show::Film => {
            let film = state.casts.film.mm() * 1000.0;
            let print = state.readout.as_ref().and_then(|readout| readout.print.as_ref());
            if print.is_some_and(|print| print.marks.is_err()) {
                let said = words::verdict::unmarked::SHORT;
                return (format!("film of {film:.0} µm: marks {said}, teeth may touch"), false, Vec::new());
            }
            (
                format!("film of {film:.0} µm"),
                false,
                vec![patch(palette::PRINTED, "printed"), patch(palette::PIERCED, "penetration")],
            )
        }
    }
}

/// The colours of the walls that are in the picture.
fn walls(state: &State) -> Vec<Patch> {
    let guide = &state.shown.scene.instrument.anterior_guide;
    let mut walls = vec![
        (palette::SUPERIOR_WALL, "superior"),
        (palette::MEDIAL_WALL, "medial"),
        (palette::PLATE, if guide.has_pin() { "incisal table" } else { "incisors" }),
    ];
    if guide.trough().is_some() {
        walls.push((palette::WING, "its wings"));
    }
    if state.shown.solved.excursion.movement().working_side().is_some() {
        walls.push((palette::WORKING_WALL, "working side"));
    }
    walls.into_iter().map(|(tint, words)| Patch { tint, words: words.to_owned() }).collect()
}

/// The scale from contact to the farthest gap shown.
fn colour_bar(painter: &Painter, at: Pos2) {
    const STRIPS: u16 = 96;
    let size = type_scale(painter.ctx());
    let (width, height) = (BAR.0 * size, BAR.1 * size);
    let mut mesh = Mesh::default();
    let part = |strip: u16| f64::from(strip) / f64::from(STRIPS);
    for strip in 0..STRIPS {
        #[allow(clippy::cast_possible_truncation, reason = "pixels")]
        let [from, to] = [strip, strip + 1].map(|strip| at.x + width * part(strip) as f32);
        let rect = Rect::from_min_max(pos2(from, at.y), pos2(to, at.y + height));
        mesh.add_colored_rect(rect, palette::clearance(part(strip)).egui());
    }
    painter.add(mesh);
    let bar = Rect::from_min_size(at, vec2(width, height));
    let ink = Stroke::new(1.0, palette::INK.egui());
    painter.rect_stroke(bar, 0.0, ink, kiss3d::egui::StrokeKind::Outside);
    for number in NUMBERS {
        #[allow(clippy::cast_possible_truncation, reason = "pixels")]
        let x = at.x + width * number as f32;
        painter.vline(x, bar.bottom()..=bar.bottom() + 3.0, ink);
        write(painter, pos2(x, bar.bottom() + 3.0), Align2::CENTER_TOP, &(number * CAP_MM).to_string());
    }
}

/// A length of so many millimetres as the picture shows it; moves `x` past it.
fn length_bar(painter: &Painter, at: Pos2, points_per_mm: f64, x: &mut f32) {
    let Some(mm) = ROUND_MM.into_iter().find(|mm| mm * points_per_mm <= LONGEST) else { return };
    #[allow(clippy::cast_possible_truncation, reason = "pixels")]
    let end = pos2(at.x + (mm * points_per_mm) as f32, at.y);
    let stroke = Stroke::new(1.5, palette::INK.egui());
    painter.line_segment([at, end], stroke);
    for place in [at, end] {
        painter.line_segment([place - vec2(0.0, 4.0), place + vec2(0.0, 4.0)], stroke);
    }
    *x = write(painter, end + vec2(4.0, 0.0), Align2::LEFT_CENTER, &format!("{mm} mm"))
        + 2.0 * SPACE * type_scale(painter.ctx());
}

fn width_of(painter: &Painter, words: &str) -> f32 {
    painter.layout_no_wrap(words.to_owned(), face(painter, WORDS), palette::INK.egui()).size().x
}

/// Writes, and returns where the words end.
fn write(painter: &Painter, at: Pos2, align: Align2, words: &str) -> f32 {
    painter.text(at, align, words, face(painter, WORDS), palette::INK.egui()).right()
}
