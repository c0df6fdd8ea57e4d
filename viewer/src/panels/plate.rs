//! The page of the tracing: the plate true to scale, what it tells, and the way to paper.

use kiss3d::egui::{
    Align2, Painter, Pos2, Rect, RichText, ScrollArea, Sense, Shape, Stroke, TextStyle, Ui, pos2, vec2,
};
use sim_core::tracing::{Leg, PlatePoint, Recorded};
use words::number::{angle, as_given, is_below_zero, length, two_decimals};
use words::verdict::tracer;

use super::output::PanelOutput;
use super::text::title;
use crate::action::Action;
use crate::drawing::plate::{arc, tint};
use crate::palette;
use crate::plate::{ARC_MM, DrawnPlate, Under};
use crate::state::State;

/// What the figure shows, in millimetres: ahead of the apex, behind it, and to either side.
const SHOWN_MM: (f32, f32, f32) = (2.5, 11.5, 11.0);
/// Room for the rules.
const RULE: f32 = 22.0;

pub(super) fn show(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    ScrollArea::vertical().id_salt("plate").auto_shrink(false).show(ui, |ui| {
        ui.set_width(ui.available_width() - 10.0);
        match &state.plate.drawn {
            Some(drawn) => page(ui, state, drawn, output),
            None => {
                ui.label("This scene has no tracer: nothing says where plate and stylus stand.");
                let usual = ui.button("Show the usual tracer, an example");
                output.explain(&usual, "A plate parallel to the occlusal plane, its bearing 35 mm behind the incisal point. The scene's file stays as it is.");
                output.note("usual_tracer", &usual);
                if usual.clicked() {
                    output.actions.push(Action::UsualTracer(true));
                }
            }
        }
        recorded(ui, state, output);
    });
}

fn page(ui: &mut Ui, state: &State, drawn: &DrawnPlate, output: &mut PanelOutput) {
    if drawn.is_usual {
        ui.horizontal_wrapped(|ui| {
            ui.label(RichText::new("The usual tracer, an example: the scene has none of its own.").small());
            let away = ui.small_button("Take it away");
            output.note("usual_tracer", &away);
            if away.clicked() {
                output.actions.push(Action::UsualTracer(false));
            }
        });
    }
    let setup = match &drawn.setup {
        Ok(setup) => setup,
        Err(why) => {
            ui.label(format!("Nothing can be drawn: {why}."));
            return;
        }
    };
    let mut alone = state.plate.alone;
    let look = ui.checkbox(&mut alone, RichText::new("plate alone in the picture").small());
    output.explain(&look, "Lifts off the member that carries the stylus, and looks at the plate from above.");
    output.note("plate_alone", &look);
    if look.changed() {
        output.actions.push(Action::PlateAlone(alone));
    }
    let movement = state.shown.solved.excursion.movement();
    let now = drawn.stylus(&state.shown.scene, movement, &state.sample().placement);
    let rect = figure(ui, Some(drawn), state.plate.under.as_deref(), now);
    output.places.insert("plate".to_owned(), rect);
    if let Some(now) = now {
        let off = two_decimals(now.distance(&PlatePoint::APEX).mm());
        let place = placed(now.forward.mm(), now.left.mm());
        ui.label(format!("Stylus {off} mm from the apex on the plate: {place}."));
    }
    if let Some(apex) = drawn.apex_angle() {
        let arc = as_given(ARC_MM);
        ui.label(format!("Angle at the apex {}, by straight lines to the arc of {arc} mm.", angle(apex, 1)));
    }
    title(ui, "Records on the arc");
    for leg in Leg::ALL {
        let hole = setup.leg(leg).hole;
        let place = placed(hole.forward.mm(), hole.left.mm());
        ui.label(RichText::new(format!("{}: {place}", leg.words())).small());
    }
    // Printed by the browser, a picture in its own size stays in it as well as a PDF does.
    let form = if state.place.is_page() { "SVG" } else { "PDF" };
    let template = ui.button(format!("Template in its own size ({form})"));
    output.explain(
        &template,
        "Writes a page with the apex, the legs and the holes of the records, 1 : 1. Print it at 100 %.",
    );
    output.note("template", &template);
    if template.clicked() {
        output.actions.push(Action::WriteTemplate);
    }
    title(ui, "The tracer");
    for (is_good, said) in tracer::setup(setup) {
        let said = RichText::new(said).small();
        ui.label(if is_good { said } else { said.color(palette::INTERFERENCE.egui()) });
    }
    let words = "The bearing guides while a tracing is made: the anterior guide plays no part in the arch.";
    ui.label(RichText::new(words).small().color(palette::PENCIL.egui()));
}

/// The recorded tracing under the drawn one.
fn recorded(ui: &mut Ui, state: &State, output: &mut PanelOutput) {
    title(ui, "Recorded tracing");
    let Some(under) = &state.plate.under else {
        let words = "Drop a tracing's points (CSV) here to lay it under the arch. A photo is made points by \
                     `eminentia tracing PHOTO --format csv`.";
        ui.label(RichText::new(words).small());
        return;
    };
    ui.label(&under.name);
    let objections = under.findings.objections();
    if objections.is_empty() {
        ui.label(RichText::new("One sharp apex: the tracing is accepted.").small());
    }
    for objection in objections {
        let words = report::tracing::objection_text(&objection);
        ui.label(
            RichText::new(format!("Repeat the tracing: {words}."))
                .small()
                .color(palette::INTERFERENCE.egui()),
        );
    }
    ui.label(
        RichText::new(format!("Angle at its apex {}.", angle(under.findings.apex_angle.value, 1))).small(),
    );
    let over = state.plate.drawn.as_ref().and_then(|drawn| drawn.over);
    if let Some(apart) = over.and_then(|over| over.whole) {
        let (rms, greatest) = (length(apart.rms, 2), length(apart.greatest, 2));
        ui.label(
            RichText::new(format!(
                "Laid apex on apex, its points are {rms} off the arch (root mean square), {greatest} at most."
            ))
            .small(),
        );
    }
    if let Some((over, apart)) = over.and_then(|over| Some((over, over.turned?))) {
        let (turn, rms) = (angle(over.turn, 1), length(apart.rms, 2));
        ui.label(RichText::new(format!("With the arch turned by {turn} about the apex, {rms}.")).small());
    }
    let away = ui.small_button("Take it away");
    output.note("take_under_away", &away);
    if away.clicked() {
        output.actions.push(Action::TakeUnderAway);
    }
}

/// A plate seen from above, its front up, the same length a millimetre both ways, the apex at the rules' zero.
fn figure(ui: &mut Ui, drawn: Option<&DrawnPlate>, under: Option<&Under>, now: Option<PlatePoint>) -> Rect {
    let sheet = Sheet::new(ui);
    sheet.rules(ui);
    let painter = ui.painter().with_clip_rect(sheet.rect);
    if let Some(under) = under {
        for leg in Leg::ALL {
            for point in under.leg(leg) {
                painter.circle_filled(sheet.at(&point), 1.6, palette::PENCIL.egui());
            }
        }
    }
    if let Some(Ok(setup)) = drawn.map(|drawn| &drawn.setup) {
        for leg in Leg::ALL {
            let line: Vec<Pos2> = setup.drawn.leg(leg).iter().map(|point| sheet.at(point)).collect();
            leg_line(&painter, leg, line);
            painter.circle_stroke(sheet.at(&setup.leg(leg).hole), 4.0, Stroke::new(1.5, palette::INK.egui()));
        }
    }
    let ring: Vec<Pos2> = arc().map(|point| sheet.at(&point)).collect();
    painter.add(Shape::line(ring, Stroke::new(1.0, palette::INK.egui())));
    if let Some(now) = now {
        let at = sheet.at(&now);
        painter.circle_filled(at, 4.5, palette::CENTRE_MARK.egui());
        painter.circle_stroke(at, 4.5, Stroke::new(1.5, palette::INK.egui()));
    }
    let font = TextStyle::Small.resolve(ui.style());
    let word = |at: PlatePoint, anchor: Align2, words: &str| {
        painter.text(sheet.at(&at), anchor, words, font.clone(), palette::INK.egui());
    };
    word(PlatePoint::mm(0.4, 0.0), Align2::CENTER_BOTTOM, "apex");
    word(PlatePoint::mm(-10.2, 0.0), Align2::CENTER_TOP, "protrusive");
    word(PlatePoint::mm(-1.4, 10.6), Align2::LEFT_CENTER, "right lateral");
    word(PlatePoint::mm(-1.4, -10.6), Align2::RIGHT_CENTER, "left lateral");
    sheet.rect
}

/// A leg, told from the others by its strokes as well.
fn leg_line(painter: &Painter, leg: Leg, line: Vec<Pos2>) {
    let stroke = Stroke::new(2.0, tint(leg).egui());
    match leg {
        Leg::Protrusive => {
            painter.add(Shape::line(line, stroke));
        }
        Leg::RightLateral => {
            painter.extend(Shape::dashed_line(&line, stroke, 9.0, 4.0));
        }
        Leg::LeftLateral => {
            painter.extend(Shape::dashed_line(&line, stroke, 4.0, 3.0));
        }
    }
}

/// The points of a recorded tracing as they were handed out: no arch, no verdict.
pub(super) fn points_alone(ui: &mut Ui, recorded: &Recorded) -> Rect {
    let sheet = Sheet::new(ui);
    sheet.rules(ui);
    let painter = ui.painter().with_clip_rect(sheet.rect);
    // Its foremost point, near enough to the apex, is put at the rules' zero.
    let all = || Leg::ALL.into_iter().flat_map(|leg| recorded.leg(leg));
    let Some(first) = all().max_by(|a, b| a.forward.mm().total_cmp(&b.forward.mm())) else {
        return sheet.rect;
    };
    for point in all() {
        let at = PlatePoint { forward: point.forward - first.forward, left: point.left - first.left };
        painter.circle_filled(sheet.at(&at), 1.6, palette::INK.egui());
    }
    sheet.rect
}

/// The part of a panel that is a plate.
struct Sheet {
    rect: Rect,
    per_mm: f32,
}

impl Sheet {
    fn new(ui: &mut Ui) -> Self {
        let (ahead, behind, aside) = SHOWN_MM;
        let per_mm = (ui.available_width() - RULE) / (2.0 * aside);
        let size = vec2(2.0 * aside * per_mm + RULE, (ahead + behind) * per_mm + RULE);
        let (whole, _) = ui.allocate_exact_size(size, Sense::hover());
        let rect = Rect::from_min_max(whole.min + vec2(RULE, 0.0), whole.max - vec2(0.0, RULE));
        Self { rect, per_mm }
    }

    /// A place on the plate; the patient's left is at the left of the page.
    #[allow(clippy::cast_possible_truncation, reason = "points")]
    fn at(&self, point: &PlatePoint) -> Pos2 {
        let (ahead, _, aside) = SHOWN_MM;
        pos2(
            self.rect.left() + (aside - point.left.mm() as f32) * self.per_mm,
            self.rect.top() + (ahead - point.forward.mm() as f32) * self.per_mm,
        )
    }

    /// The face of the plate, and a rule along two of its edges.
    #[allow(clippy::cast_possible_truncation, reason = "millimetres of a plate")]
    fn rules(&self, ui: &Ui) {
        let painter = ui.painter();
        painter.rect_filled(self.rect, 0.0, palette::FIELD.egui());
        painter.rect_stroke(
            self.rect,
            0.0,
            Stroke::new(1.0, palette::PENCIL.egui()),
            kiss3d::egui::StrokeKind::Inside,
        );
        let font = TextStyle::Small.resolve(ui.style());
        let ink = palette::PENCIL.egui();
        let (ahead, behind, aside) = SHOWN_MM;
        let mark = |mm: i32| if mm % 5 == 0 { 8.0 } else { 4.0 };
        for mm in (-aside.floor() as i32)..=(aside.floor() as i32) {
            let x = self.at(&PlatePoint::mm(0.0, f64::from(mm))).x;
            let y = self.rect.bottom();
            painter.line_segment([pos2(x, y), pos2(x, y - mark(mm))], Stroke::new(1.0, ink));
            if mm % 5 == 0 {
                painter.text(pos2(x, y + 2.0), Align2::CENTER_TOP, signed_mm(mm), font.clone(), ink);
            }
        }
        for mm in (-behind.floor() as i32)..=(ahead.floor() as i32) {
            let y = self.at(&PlatePoint::mm(f64::from(mm), 0.0)).y;
            let x = self.rect.left();
            painter.line_segment([pos2(x, y), pos2(x + mark(mm), y)], Stroke::new(1.0, ink));
            if mm % 5 == 0 {
                painter.text(pos2(x - 3.0, y), Align2::RIGHT_CENTER, signed_mm(mm), font.clone(), ink);
            }
        }
    }
}

fn signed_mm(mm: i32) -> String {
    as_given(f64::from(mm))
}

/// A place from the apex, in words: `3.94 mm back, 5.84 mm to the left`.
fn placed(forward_mm: f64, left_mm: f64) -> String {
    let way = |mm: f64, above: &str, below: &str| {
        format!("{} mm {}", two_decimals(mm.abs()), if is_below_zero(mm, 2) { below } else { above })
    };
    format!("{}, {}", way(forward_mm, "ahead", "back"), way(left_mm, "to the left", "to the right"))
}
