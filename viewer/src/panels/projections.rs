//! The three projections: rulers, paths, where each point is now, the envelope, and the angles.

use kiss3d::egui::{
    Align2, Area, Color32, Context, FontId, Id, Order, Painter, Pos2, Rect, Sense, Shape, Stroke, pos2, vec2,
};
use nalgebra::Vector3;
use sim_core::excursion::{Border, Followed};
use sim_core::frame::Side;
use words::number;

use super::output::PanelOutput;
use crate::drawing::glyph;
use crate::layout::Layout;
use crate::palette::{self, Tint};
use crate::projections::{
    AngleArc, Arrangement, Fit, Path, PathOf, Plane, Sheet, Spread, WITHHELD, angles, path_origin, paths,
};
use crate::state::State;

/// Size of the words.
const WORDS: f32 = 12.0;
/// Room for the title and for the rulers' numbers, in points.
const TITLE: f32 = 18.0;
const RULER: f32 = 26.0;
/// Radius of the first arc, and how far the next is outside it, in points.
const RADIUS: f64 = 30.0;
const NEXT: f64 = 13.0;
/// How far the legs of an arc reach past it.
const LEG: f64 = 10.0;
/// Space between what is drawn and the edge of its view.
const MARGIN: f32 = 26.0;
/// Height of a line of writing.
const LINE: f32 = 15.0;

/// A line with its look and what is written at its end.
struct Drawn {
    of: PathOf,
    places: Vec<Vector3<f64>>,
    now: Option<Vector3<f64>>,
    look: Look,
    words: String,
    /// Its mark is hollow: B.
    hollow: bool,
}

/// How a line looks: never told apart by colour alone.
#[derive(Clone, Copy)]
struct Look {
    tint: Tint,
    width: f32,
    /// Length of dashes and of gaps; none is drawn through.
    dash: Option<(f32, f32)>,
    mark: Option<palette::Shape>,
}

pub(super) fn show(ctx: &Context, state: &State, layout: &Layout, output: &mut PanelOutput) {
    if state.motion_is_hidden() || !state.projections.arrangement.has_projections() {
        return;
    }
    let arcs: Vec<AngleArc> = angles(&state.shown.scene).iter().map(AngleArc::beside_path).collect();
    let drawn = drawn(state);
    for (sheet, view) in fitted(&drawn, layout).into_iter().zip(layout.projections) {
        let plane = sheet.plane;
        Area::new(Id::new(plane.title()))
            .order(Order::Middle)
            .fixed_pos(view.min)
            .constrain(false)
            .fade_in(false)
            .show(ctx, |ui| {
                let (_, response) = ui.allocate_exact_size(view.size(), Sense::hover());
                output.note(format!("projection={}", plane.title()), &response);
                let painter = ui.painter().with_clip_rect(view);
                one(&painter, view, &sheet, &drawn, &arcs, state);
            });
    }
    remarks(ctx, state, layout);
}

/// The sheets of the three views as they are drawn.
#[must_use]
pub fn sheets(state: &State, layout: &Layout) -> [Sheet; 3] {
    fitted(&drawn(state), layout)
}

/// Sheets that hold every line, at one scale.
fn fitted(drawn: &[Drawn], layout: &Layout) -> [Sheet; 3] {
    let inner = layout.projections.map(|view| {
        Rect::from_min_max(
            view.min + vec2(RULER + MARGIN, TITLE + 10.0),
            view.max - vec2(MARGIN * 2.0, RULER + 10.0),
        )
    });
    let sizes = inner.map(|view| [f64::from(view.width()), f64::from(view.height())]);
    let fit = Fit::of(drawn.iter().flat_map(|line| &line.places), sizes);
    let [a, b, c] = Plane::ALL;
    let [in_a, in_b, in_c] = inner.map(|view| [f64::from(view.center().x), f64::from(view.center().y)]);
    [(a, in_a), (b, in_b), (c, in_c)].map(|(plane, middle)| Sheet { plane, fit, middle })
}

/// What is said of the envelope, in the quarter that the picture leaves free or under the last view.
fn remarks(ctx: &Context, state: &State, layout: &Layout) {
    let Some(envelope) = state.envelope.as_ref().filter(|_| state.projections.envelope) else { return };
    let painter = ctx.layer_painter(kiss3d::egui::LayerId::new(Order::Middle, Id::new("remarks")));
    let [.., last] = layout.projections;
    let mut said: Vec<String> = envelope.ends().collect();
    // Where the views are small it is said at the button instead.
    if state.projections.arrangement == Arrangement::Projections {
        said.push(WITHHELD.to_owned());
    }
    let font = FontId::proportional(WORDS - 1.0);
    let mut bottom = last.bottom() - RULER - 2.0;
    for line in said.into_iter().rev() {
        let galley = painter.layout(line, font.clone(), palette::PENCIL.egui(), last.width() - RULER - 16.0);
        let at = pos2(last.left() + RULER + 8.0, bottom - galley.size().y);
        bottom = at.y - 3.0;
        painter.rect_filled(
            Rect::from_min_size(at, galley.size()).expand(2.0),
            2.0,
            palette::PANEL.egui().gamma_multiply(0.9),
        );
        painter.galley(at, galley, palette::PENCIL.egui());
    }
}

/// Every line of the sheets: borders first, so that paths lie over them.
fn drawn(state: &State) -> Vec<Drawn> {
    let (scene, solved) = (&state.shown.scene, &state.shown.solved);
    let spread = state.projections.spread;
    let mut drawn = Vec::new();
    if let Some(envelope) = state.envelope.as_ref().filter(|_| state.projections.envelope) {
        let followed = Followed::incisal_point(&scene.instrument);
        let origin = path_origin(followed, spread);
        for (border, places) in envelope.borders(followed) {
            let places = places.into_iter().map(|place| place - origin).collect();
            let of = PathOf::Border(border);
            drawn.push(Drawn { of, places, now: None, look: look(of), words: words(of), hollow: false });
        }
    }
    if let Some((kept, solved)) = state.kept.as_ref().and_then(|kept| Some((kept, kept.solved.as_ref()?))) {
        let now = kept.now.as_ref().ok().map(|sample| sample.placement);
        // The same cusps as of A, with their marks.
        let marked = state
            .marked()
            .filter_map(|(number, mark)| Some((kept.number_of(state.shown.scene.cusps.get(number)?)?, mark)));
        for Path { of, places, now } in paths(&kept.set_up.scene, solved, now.as_ref(), marked, spread) {
            let Look { tint, mark, .. } = look(of);
            let look = Look { tint, width: 1.5, dash: Some((1.5, 3.5)), mark };
            drawn.push(Drawn { of, places, now, look, words: String::new(), hollow: true });
        }
    }
    let now = state.sample().placement;
    for Path { of, places, now } in paths(scene, solved, Some(&now), state.marked(), spread) {
        drawn.push(Drawn { of, places, now, look: look(of), words: words(of), hollow: false });
    }
    drawn
}

fn look(of: PathOf) -> Look {
    let line = |tint, width, dash, mark| Look { tint, width, dash, mark };
    match of {
        PathOf::Border(Border::Hinge) => line(palette::PENCIL, 1.2, Some((7.0, 3.0)), None),
        PathOf::Border(_) => line(palette::PENCIL, 1.2, Some((2.0, 3.0)), None),
        PathOf::Condyle(Side::Right) => line(palette::INK, 2.2, None, Some(palette::Shape::Square)),
        PathOf::Condyle(Side::Left) => {
            line(palette::INK, 2.2, Some((9.0, 4.0)), Some(palette::Shape::Diamond))
        }
        PathOf::IncisalPoint => line(palette::ACTIVE, 2.8, None, Some(palette::Shape::Wedge)),
        PathOf::Cusp { mark, .. } => {
            let (tint, shape) = palette::cusp(mark);
            line(tint, 2.0, None, Some(shape))
        }
    }
}

fn words(of: PathOf) -> String {
    match of {
        PathOf::Border(Border::Hinge) => "hinge arc".to_owned(),
        PathOf::Border(Border::Protrusive) => "protrusion".to_owned(),
        PathOf::Border(Border::Lateral(side)) => format!("{side} lateral"),
        PathOf::Condyle(side) => format!("{side} condyle"),
        PathOf::IncisalPoint => "incisal point".to_owned(),
        PathOf::Cusp { .. } => String::new(),
    }
}

#[allow(clippy::cast_possible_truncation, reason = "points")]
fn point([x, y]: [f64; 2]) -> Pos2 {
    pos2(x as f32, y as f32)
}

fn one(painter: &Painter, view: Rect, sheet: &Sheet, drawn: &[Drawn], arcs: &[AngleArc], state: &State) {
    painter.rect_filled(view, 0.0, palette::PANEL.egui());
    painter.rect_stroke(
        view,
        0.0,
        Stroke::new(1.0, palette::PENCIL.egui().gamma_multiply(0.35)),
        kiss3d::egui::StrokeKind::Inside,
    );
    rulers(painter, view, sheet, state.projections.spread);
    if let Some(kept) = &state.kept {
        let said = if kept.now.is_ok() { "B: dotted, hollow marks" } else { "B has no pose here" };
        let font = FontId::proportional(WORDS - 1.0);
        let at = view.left_top() + vec2(RULER + 4.0, TITLE + 14.0);
        painter.text(at, Align2::LEFT_TOP, said, font, palette::GHOST.egui());
    }
    let inside = painter
        .with_clip_rect(Rect::from_min_max(view.min + vec2(RULER, TITLE), view.max - vec2(1.0, RULER)));
    let mut labels = Vec::new();
    arcs_of(&inside, sheet, arcs, state.projections.spread, &mut labels);
    for line in drawn {
        let places: Vec<Pos2> = line.places.iter().map(|place| point(sheet.place(place))).collect();
        let stroke = Stroke::new(line.look.width, line.look.tint.egui());
        match line.look.dash {
            Some((dash, gap)) => {
                inside.extend(Shape::dashed_line(&places, stroke, dash, gap));
            }
            None => {
                inside.add(Shape::line(places.clone(), stroke));
            }
        }
        // B has no words at its lines: its title says how it is drawn. Cusps are named in the table.
        let Some(end) = places.last().filter(|_| !line.words.is_empty()) else { continue };
        match line.of {
            PathOf::Border(_) => {
                let font = FontId::proportional(WORDS - 1.5);
                let at = *end + vec2(0.0, 3.0);
                inside.text(at, Align2::CENTER_TOP, &line.words, font, palette::PENCIL.egui());
            }
            _ => labels.push((*end, line.words.clone(), line.look.tint)),
        }
    }
    // Marks lie over words: where a point is comes first.
    write_labels(painter, view, labels);
    for line in drawn {
        if let (Some(now), Some(shape)) = (line.now, line.look.mark) {
            let tint = line.look.tint.egui();
            let (fill, edge) = if line.hollow {
                (Color32::WHITE, Stroke::new(1.8, tint))
            } else {
                (tint, Stroke::new(1.2, Color32::WHITE))
            };
            inside.add(glyph(shape, point(sheet.place(&now)), 5.0, fill, edge));
        }
    }
}

/// Title, grid, and the millimetres along two edges.
fn rulers(painter: &Painter, view: Rect, sheet: &Sheet, spread: Spread) {
    let font = FontId::proportional(WORDS);
    let small = FontId::proportional(WORDS - 1.0);
    let ink = palette::INK.egui();
    painter.text(view.left_top() + vec2(6.0, 2.0), Align2::LEFT_TOP, sheet.plane.title(), font, ink);
    let from = match spread {
        Spread::FromRest => "from rest",
        Spread::InPlace => "from the axis",
    };
    let told = format!("mm {from}, grid {}", number::as_given(sheet.fit.grid_mm()));
    painter.text(
        view.right_top() + vec2(-6.0, 3.0),
        Align2::RIGHT_TOP,
        told,
        small.clone(),
        palette::PENCIL.egui(),
    );
    let half = [f64::from(view.width()) / 2.0 + 40.0, f64::from(view.height()) / 2.0 + 40.0];
    let [across, up] = sheet.marks(half);
    let paper = Rect::from_min_max(view.min + vec2(RULER, TITLE), view.max - vec2(1.0, RULER));
    let grid = Stroke::new(0.6, palette::PENCIL.egui().gamma_multiply(0.28));
    let zero = Stroke::new(1.0, palette::PENCIL.egui().gamma_multiply(0.8));
    let [left, right, below, above] = sheet.plane.directions();
    let mut free = f32::NEG_INFINITY;
    for (mm, at) in across {
        // In the horizontal view the patient's left is to the left.
        let mm = if sheet.plane == Plane::Horizontal { -mm } else { mm };
        let x = point([at, 0.0]).x;
        if !paper.x_range().contains(x) {
            continue;
        }
        painter.vline(x, paper.y_range(), if mm.abs() < 1e-9 { zero } else { grid });
        if x > free + 24.0 && x > paper.left() + 34.0 && x < paper.right() - 44.0 {
            let place = pos2(x, paper.bottom() + 2.0);
            painter.text(place, Align2::CENTER_TOP, number::as_given(mm), small.clone(), ink);
            free = x;
        }
    }
    for (mm, at) in up {
        let y = point([0.0, at]).y;
        if !paper.y_range().contains(y) {
            continue;
        }
        painter.hline(paper.x_range(), y, if mm.abs() < 1e-9 { zero } else { grid });
        if y > paper.top() + 20.0 && y < paper.bottom() - 14.0 {
            let place = pos2(paper.left() - 3.0, y);
            painter.text(place, Align2::RIGHT_CENTER, number::as_given(mm), small.clone(), ink);
        }
    }
    let pencil = palette::PENCIL.egui();
    for (at, align, word) in [
        (paper.left_bottom() + vec2(0.0, 2.0), Align2::LEFT_TOP, left),
        (paper.right_bottom() + vec2(-3.0, 2.0), Align2::RIGHT_TOP, right),
        (paper.left_top() + vec2(3.0, 1.0), Align2::LEFT_TOP, above),
        (paper.left_bottom() + vec2(3.0, -1.0), Align2::LEFT_BOTTOM, below),
    ] {
        painter.text(at, align, word, small.clone(), pencil);
    }
}

/// The arcs that are seen in this view.
fn arcs_of(
    painter: &Painter,
    sheet: &Sheet,
    arcs: &[AngleArc],
    spread: Spread,
    labels: &mut Vec<(Pos2, String, Tint)>,
) {
    let mut radius = RADIUS;
    for arc in arcs.iter().filter(|arc| arc.plane() == sheet.plane) {
        let mut arc = *arc;
        if spread == Spread::FromRest {
            arc.vertex = Vector3::zeros();
        }
        let scale = sheet.fit.points_per_mm;
        let (places, legs) = arc.lines(radius / scale, (radius + LEG) / scale);
        let vertex = point(sheet.place(&arc.vertex));
        let stroke = Stroke::new(1.3, palette::WORKING_WALL.egui());
        for leg in &legs {
            painter.line_segment([vertex, point(sheet.place(leg))], stroke);
        }
        let bow: Vec<Pos2> = places.iter().map(|place| point(sheet.place(place))).collect();
        labels.push((bow[bow.len() / 2], arc.words(), palette::WORKING_WALL));
        painter.add(Shape::line(bow, stroke));
        // Arcs about one place are drawn one outside the other.
        radius += NEXT;
    }
}

/// Writes labels in a column at the right edge, each led to its place, so that none lies on another.
fn write_labels(painter: &Painter, view: Rect, mut labels: Vec<(Pos2, String, Tint)>) {
    labels.sort_by(|a, b| a.0.y.total_cmp(&b.0.y));
    let (top, bottom) = (view.top() + TITLE + LINE, view.bottom() - RULER - 4.0);
    #[allow(clippy::cast_precision_loss, reason = "a dozen labels")]
    let room = labels.len().saturating_sub(1) as f32 * LINE;
    let mut free = top;
    let mut left = room;
    for (at, words, tint) in labels {
        let y = (at.y).max(free).min((bottom - left).max(free));
        free = y + LINE;
        left -= LINE;
        let galley = painter.layout_no_wrap(words, FontId::proportional(WORDS - 0.5), palette::INK.egui());
        let rect = Align2::RIGHT_CENTER.anchor_size(pos2(view.right() - 6.0, y), galley.size());
        painter.line_segment(
            [at, rect.left_center() - vec2(3.0, 0.0)],
            Stroke::new(0.6, palette::PENCIL.egui().gamma_multiply(0.7)),
        );
        painter.rect_filled(rect.expand2(vec2(2.0, 0.0)), 2.0, palette::PANEL.egui().gamma_multiply(0.9));
        painter.rect_filled(
            Rect::from_center_size(rect.left_center() - vec2(3.5, 0.0), vec2(2.5, LINE - 4.0)),
            0.0,
            tint.egui(),
        );
        painter.galley(rect.min, galley, palette::INK.egui());
    }
}
