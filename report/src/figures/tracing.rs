//! A tracing on its plate, seen from above with the patient's front at the top, and its apex
//! magnified.

use sim_core::tracing::{Ellipse, Estimate, Findings, Leg, LegFindings, PlatePoint, Shape};
use sim_core::units::{Angle, Length};

use super::colour::{BLACK, BLUE, FINE_PLATE_LINE, GREY, PLATE_LINE, RED};
use super::figure::Figure;
use super::svg::{Anchor, At, Stroke, Svg};
use crate::tracing::TracingReport;
use words::number::{as_set, length, one_decimal, two_decimals};

const WIDTH: f64 = 980.0;
const HEIGHT: f64 = 760.0;
/// Where the title ends and the verdict begins.
const VERDICT: f64 = 38.0;

/// Half of the side of the magnified square, in mm.
const MAGNIFIED_HALF_MM: f64 = 1.6;
/// Room about the legs on the plate, in mm.
const MARGIN_MM: f64 = 1.3;
/// A smaller plate has no room for words along the arc.
const ROOMY: f64 = 400.0;
/// Most points drawn of a leg; more would only blacken it.
const MOST_POINTS: usize = 2000;

fn stroke(leg: Leg) -> Stroke {
    match leg {
        Leg::Protrusive => Stroke::new(BLACK, 2.0),
        Leg::RightLateral => Stroke::new(BLUE, 2.0).dashed("9 4"),
        Leg::LeftLateral => Stroke::new(RED, 2.0).dashed("9 3 2 3"),
    }
}

/// A square of the plate on the page.
#[derive(Clone, Copy)]
struct Panel {
    corner: At,
    side: f64,
    /// What stands in the middle, (forward, left) in mm.
    middle: (f64, f64),
    per_mm: f64,
}

impl Panel {
    fn at(&self, point: &PlatePoint) -> At {
        let half = self.side / 2.0;
        (
            self.corner.0 + half - (point.left.mm() - self.middle.1) * self.per_mm,
            self.corner.1 + half - (point.forward.mm() - self.middle.0) * self.per_mm,
        )
    }

    fn half_mm(&self) -> f64 {
        self.side / 2.0 / self.per_mm
    }

    /// Lines every so many mm, numbered every so many of them.
    fn grid(&self, svg: &mut Svg, step_mm: f64, every: i64) {
        let (half, side, corner) = (self.half_mm(), self.side, self.corner);
        svg.within(corner, (side, side), |svg| {
            for (axis, middle) in [self.middle.0, self.middle.1].into_iter().enumerate() {
                let steps =
                    ((middle - half) / step_mm).ceil() as i64..=((middle + half) / step_mm).floor() as i64;
                for step in steps {
                    let stroke =
                        Stroke::new(if step % every == 0 { PLATE_LINE } else { FINE_PLATE_LINE }, 1.0);
                    let mm = step as f64 * step_mm;
                    if axis == 0 {
                        let y = self.at(&PlatePoint::mm(mm, 0.0)).1;
                        svg.line((corner.0, y), (corner.0 + side, y), stroke);
                    } else {
                        let x = self.at(&PlatePoint::mm(0.0, mm)).0;
                        svg.line((x, corner.1), (x, corner.1 + side), stroke);
                    }
                }
            }
        });
    }

    fn numbers(&self, svg: &mut Svg, step_mm: f64) {
        let half = self.half_mm();
        for (axis, middle) in [self.middle.0, self.middle.1].into_iter().enumerate() {
            let steps =
                ((middle - half) / step_mm).ceil() as i64..=((middle + half) / step_mm).floor() as i64;
            for step in steps {
                let mm = step as f64 * step_mm;
                let words = as_set(mm);
                if axis == 0 {
                    let y = self.at(&PlatePoint::mm(mm, 0.0)).1;
                    svg.words((self.corner.0 - 7.0, y + 4.0), 12.0, false, Anchor::End, &words);
                } else {
                    let x = self.at(&PlatePoint::mm(0.0, mm)).0;
                    svg.words((x, self.corner.1 + self.side + 17.0), 12.0, false, Anchor::Middle, &words);
                }
            }
        }
    }

    fn ellipse(&self, svg: &mut Svg, at: &PlatePoint, ellipse: &Ellipse, stroke: Stroke) {
        let axis = |sd: Length| sd.mm() * Ellipse::TO_95_PERCENT * self.per_mm;
        // From forward (up the page) to the left of the page.
        let turn = -90.0 - ellipse.direction.degrees();
        svg.ellipse(self.at(at), (axis(ellipse.greater), axis(ellipse.lesser)), turn, stroke);
    }
}

/// The picture of a tracing, without its title as it is without the page above the verdict.
pub fn figure(report: &TracingReport, titled: bool) -> Figure {
    let findings = &report.findings;
    let from = if titled { 0.0 } else { VERDICT };
    let mut svg = Svg::from(from, WIDTH, HEIGHT);
    let name: String = report.name.chars().rev().take(70).collect::<Vec<_>>().into_iter().rev().collect();
    let title = format!("Tracing {name}");
    if titled {
        svg.words((62.0, 32.0), 19.0, true, Anchor::Start, &title);
    }
    let verdict = report.verdict();
    let verdict = textwrap::wrap(&verdict, 118);
    for (index, line) in verdict.iter().take(2).enumerate() {
        svg.words((62.0, 55.0 + 18.0 * index as f64), 14.0, false, Anchor::Start, line);
    }
    let plate = plate_panel(report, (62.0, 104.0), 570.0);
    draw_plate(&mut svg, &plate, report, label_leg);
    let magnified = Panel {
        corner: (682.0, 104.0),
        side: 270.0,
        middle: (findings.apex.at.forward.mm(), findings.apex.at.left.mm()),
        per_mm: 135.0 / MAGNIFIED_HALF_MM,
    };
    draw_apex(&mut svg, &magnified, report);
    write_figures(&mut svg, (682.0, 402.0), report);
    let height = HEIGHT - from;
    Figure { svg: svg.end(), width: WIDTH, height, title, explanation: String::new() }
}

/// The plate alone, small.
pub fn plate(report: &TracingReport) -> Figure {
    let (corner, side) = ((30.0, 20.0), 290.0);
    let (width, height) = (corner.0 + side + 4.0, corner.1 + side + 42.0);
    let mut svg = Svg::new(width, height);
    draw_plate(&mut svg, &plate_panel(report, corner, side), report, label_end);
    Figure { svg: svg.end(), width, height, title: "The tracing".to_owned(), explanation: String::new() }
}

/// The square that holds the whole tracing.
fn plate_panel(report: &TracingReport, corner: At, side: f64) -> Panel {
    let apex = &report.findings.apex.at;
    let mut low = (apex.forward.mm(), apex.left.mm());
    let mut high = low;
    for point in report.findings.legs.iter().flat_map(|leg| &leg.line) {
        let (forward, left) = (point.forward.mm(), point.left.mm());
        low = (low.0.min(forward), low.1.min(left));
        high = (high.0.max(forward), high.1.max(left));
    }
    let extent = (high.0 - low.0).max(high.1 - low.1) + 2.0 * MARGIN_MM;
    Panel {
        corner,
        side,
        middle: (f64::midpoint(low.0, high.0), f64::midpoint(low.1, high.1)),
        per_mm: side / extent,
    }
}

/// Writes a leg's name beside it.
type Labelling = fn(&mut Svg, &Panel, &LegFindings, &Findings);

fn draw_plate(svg: &mut Svg, panel: &Panel, report: &TracingReport, label: Labelling) {
    let findings = &report.findings;
    let apex = &findings.apex.at;
    let (corner, side) = (panel.corner, panel.side);
    panel.grid(svg, 1.0, 5);
    svg.within(corner, (side, side), |svg| {
        if let Some(over) = &report.over {
            for leg in Leg::ALL {
                let start = over.drawn.leg(leg).first().copied().unwrap_or(PlatePoint::APEX);
                let laid = over.drawn.leg(leg).iter().map(|point| {
                    panel.at(&PlatePoint {
                        forward: point.forward - start.forward + apex.forward,
                        left: point.left - start.left + apex.left,
                    })
                });
                svg.path(laid, Stroke::new(PLATE_LINE, 7.0));
            }
        }
        draw_all_points(svg, panel, report, 1.3);
        for leg in &findings.legs {
            draw_leg(svg, panel, leg, apex, 1.7, 0.8);
        }
        draw_arc(svg, panel, findings);
        draw_second_apex(svg, panel, findings);
        for leg in &findings.legs {
            if let Some(meets) = leg.meets {
                svg.ring(panel.at(&meets.at), 5.5, Stroke::new(BLACK, 1.6));
            }
            label(svg, panel, leg, findings);
        }
        let at = panel.at(apex);
        svg.ring(at, 7.0, Stroke::new(BLACK, 1.6));
        svg.words((at.0, at.1 - 15.0), 13.0, true, Anchor::Middle, "apex");
    });
    svg.frame(corner, (side, side), Stroke::new(BLACK, 1.0));
    panel.numbers(svg, if panel.half_mm() > 12.0 { 5.0 } else { 2.0 });
    let middle = corner.0 + side / 2.0;
    svg.words((middle, corner.1 - 9.0), 12.0, false, Anchor::Middle, "patient’s front");
    svg.words((corner.0, corner.1 - 9.0), 12.0, false, Anchor::Start, "patient’s left");
    svg.words((corner.0 + side, corner.1 - 9.0), 12.0, false, Anchor::End, "patient’s right");
    let below = corner.1 + side + 35.0;
    svg.words((middle, below), 12.0, false, Anchor::Middle, "left, mm (across); forward, mm (up)");
}

fn draw_leg(svg: &mut Svg, panel: &Panel, leg: &LegFindings, apex: &PlatePoint, dot: f64, width: f64) {
    let step = leg.line.len().div_ceil(MOST_POINTS).max(1);
    for point in leg.line.iter().step_by(step) {
        svg.dot(panel.at(point), dot, GREY);
    }
    let leg_stroke = stroke(leg.leg);
    let fitted = leg.fitted(apex, 80);
    svg.path(
        fitted.iter().map(|point| panel.at(point)),
        Stroke { width: leg_stroke.width * width, ..leg_stroke },
    );
}

/// Those too that belong to a second tracing or were set aside.
fn draw_all_points(svg: &mut Svg, panel: &Panel, report: &TracingReport, radius: f64) {
    for points in Leg::ALL.map(|leg| report.recorded.leg(leg)) {
        for point in points.iter().step_by(points.len().div_ceil(MOST_POINTS).max(1)) {
            svg.dot(panel.at(point), radius, GREY);
        }
    }
}

fn label_leg(svg: &mut Svg, panel: &Panel, leg: &LegFindings, findings: &Findings) {
    let apex = panel.at(&findings.apex.at);
    let far = leg.fitted(&findings.apex.at, 2).pop().map_or(apex, |point| panel.at(&point));
    let on = |part: f64| (apex.0 + (far.0 - apex.0) * part, apex.1 + (far.1 - apex.1) * part);
    match leg.leg {
        Leg::Protrusive => {
            let at = on(0.9);
            svg.words((at.0 + 12.0, at.1), 13.0, false, Anchor::Start, "protrusive leg");
        }
        // Outside of the arrow, above the leg.
        Leg::RightLateral => {
            let at = on(0.55);
            svg.words((at.0 - 6.0, at.1 - 16.0), 13.0, false, Anchor::End, "right lateral leg");
        }
        Leg::LeftLateral => {
            let at = on(0.55);
            svg.words((at.0 + 6.0, at.1 - 16.0), 13.0, false, Anchor::Start, "left lateral leg");
        }
    }
}

/// A leg's name below its last points, where a small plate has room.
fn label_end(svg: &mut Svg, panel: &Panel, leg: &LegFindings, _: &Findings) {
    let lowest = panel.corner.1 + panel.side - 6.0;
    let ends = leg.line.iter().map(|point| panel.at(point));
    let Some(far) = ends.max_by(|one, other| one.1.total_cmp(&other.1)) else { return };
    let below = (far.1 + 20.0).min(lowest);
    let (left, right) = (panel.corner.0 + 6.0, panel.corner.0 + panel.side - 6.0);
    match leg.leg {
        Leg::Protrusive => svg.words((far.0, below), 12.0, false, Anchor::Middle, "protrusive leg"),
        Leg::RightLateral => svg.words((left, below), 12.0, false, Anchor::Start, "right lateral leg"),
        Leg::LeftLateral => svg.words((right, below), 12.0, false, Anchor::End, "left lateral leg"),
    }
}

/// The arc on which the legs are met, from one lateral leg to the other and a little beyond.
fn draw_arc(svg: &mut Svg, panel: &Panel, findings: &Findings) {
    let radius = findings.radius.mm();
    let apex = &findings.apex.at;
    let beyond = 9.0_f64;
    let end = |leg: Leg| {
        let angle = findings.leg(leg).chord.unwrap_or(findings.leg(leg).tangent).value.degrees() + beyond;
        angle * leg.side_of_plate()
    };
    let (from, to) = (end(Leg::LeftLateral), end(Leg::RightLateral));
    let on_arc = |degrees: f64| {
        let (sin, cos) = degrees.to_radians().sin_cos();
        PlatePoint::mm(apex.forward.mm() - radius * cos, apex.left.mm() + radius * sin)
    };
    let points = (0..=90).map(|step| panel.at(&on_arc(from + (to - from) * f64::from(step) / 90.0)));
    svg.path(points, Stroke::new(BLACK, 1.0).dashed("2 3"));
    if panel.side < ROOMY {
        return;
    }
    let label = panel.at(&on_arc(from * 0.5));
    svg.words(
        (label.0 + 4.0, label.1 + 14.0),
        12.0,
        false,
        Anchor::Start,
        &format!("{radius} mm from the apex"),
    );
}

fn draw_second_apex(svg: &mut Svg, panel: &Panel, findings: &Findings) {
    if let Some(second) = &findings.second_apex {
        let at = panel.at(&second.at);
        cross(svg, at, 7.0);
        svg.words((at.0 + 10.0, at.1 + 20.0), 13.0, true, Anchor::Start, "second apex");
    }
}

fn cross(svg: &mut Svg, at: At, half: f64) {
    for side in [1.0, -1.0] {
        let from = (at.0 - half, at.1 - half * side);
        svg.line(from, (at.0 + half, at.1 + half * side), Stroke::new(BLACK, 1.8));
    }
}

fn draw_apex(svg: &mut Svg, panel: &Panel, report: &TracingReport) {
    let findings = &report.findings;
    let (corner, side) = (panel.corner, panel.side);
    let apex = &findings.apex.at;
    panel.grid(svg, 0.5, 2);
    svg.within(corner, (side, side), |svg| {
        draw_all_points(svg, panel, report, 2.0);
        for leg in &findings.legs {
            draw_leg(svg, panel, leg, apex, 3.0, 0.9);
        }
        draw_best_arc(svg, panel, findings);
        panel.ellipse(svg, apex, &findings.apex.ellipse, Stroke::new(BLACK, 1.2));
        draw_second_apex(svg, panel, findings);
    });
    svg.frame(corner, (side, side), Stroke::new(BLACK, 1.0));
    svg.words((corner.0, corner.1 - 9.0), 12.0, false, Anchor::Start, "At the apex; lines every 0.5 mm");
}

/// The best-fitting arc between the lateral legs.
fn draw_best_arc(svg: &mut Svg, panel: &Panel, findings: &Findings) {
    let radius = findings.roundness.radius.mm();
    let half = findings.apex_angle.value.radians() / 2.0;
    let middle = findings.asymmetry.middle.value.radians();
    if radius < 0.05 {
        return;
    }
    let apex = &findings.apex.at;
    let off = radius / half.sin();
    let centre = (apex.forward.mm() - off * middle.cos(), apex.left.mm() + off * middle.sin());
    // From one tangent point to the other, about the way from the centre to the apex.
    let reach = std::f64::consts::FRAC_PI_2 - half;
    let points = (-20..=20).map(|step| {
        let angle = middle + reach * f64::from(step) / 20.0;
        panel.at(&PlatePoint::mm(centre.0 + radius * angle.cos(), centre.1 - radius * angle.sin()))
    });
    svg.path(points, Stroke::new(BLACK, 3.4));
}

fn write_figures(svg: &mut Svg, at: At, report: &TracingReport) {
    let findings = &report.findings;
    let mut y = at.1;
    let mut row = |svg: &mut Svg, bold: bool, words: &str| {
        svg.words((at.0, y), 12.5, bold, Anchor::Start, words);
        y += 19.0;
    };
    let shape = match findings.roundness.shape {
        Shape::Sharp => "sharp",
        Shape::Rounded => "rounded",
        Shape::Unclear => "unclear",
    };
    row(svg, true, &format!("Angle at the apex {}", degrees(&findings.apex_angle)));
    let (low, high) = findings.roundness.interval;
    row(svg, false, &format!("Apex {shape}: best arc {} radius", length(findings.roundness.radius, 2)));
    row(svg, false, &format!("({} to {} with 95 %)", two_decimals(low.mm()), length(high, 2)));
    if let Some(second) = &findings.second_apex {
        row(svg, false, &format!("Second apex {} off", millimetres(&second.distance)));
    }
    for leg in &findings.legs {
        row(svg, false, &format!("{}: {}", leg.leg, degrees(&leg.tangent)));
    }
    row(svg, false, &format!("Right less left: {}", degrees(&findings.asymmetry.difference)));
    if let Some(over) = &report.over {
        let whole = over.overlay.whole;
        let apart = whole.map_or("–".to_owned(), |apart| {
            format!("{} rms, {} at most", length(apart.rms, 2), length(apart.greatest, 2))
        });
        row(svg, true, "Instrument’s own tracing apart by");
        row(svg, false, &apart);
    }
    y += 6.0;
    let sample = |svg: &mut Svg, y: f64, words: &str, draw: &dyn Fn(&mut Svg, f64)| {
        draw(svg, y - 4.0);
        svg.words((at.0 + 40.0, y), 11.5, false, Anchor::Start, words);
    };
    sample(svg, y, "points", &|svg, y| {
        (0..4).for_each(|index| svg.dot((at.0 + 4.0 + 8.0 * f64::from(index), y), 1.9, GREY));
    });
    sample(svg, y + 18.0, "fitted legs", &|svg, y| {
        svg.line((at.0, y), (at.0 + 32.0, y), stroke(Leg::RightLateral));
    });
    sample(svg, y + 36.0, "meets the arc", &|svg, y| {
        svg.ring((at.0 + 16.0, y), 5.5, Stroke::new(BLACK, 1.6));
    });
    sample(svg, y + 54.0, "apex lies within, with 95 %", &|svg, y| {
        svg.ellipse((at.0 + 16.0, y), (13.0, 5.0), 0.0, Stroke::new(BLACK, 1.2));
    });
    sample(svg, y + 72.0, "best-fitting arc at the apex", &|svg, y| {
        svg.line((at.0, y), (at.0 + 32.0, y), Stroke::new(BLACK, 3.4));
    });
    if let Some(over) = &report.over {
        let title = textwrap::fill(&over.title, 28);
        let title = title.lines().next().unwrap_or_default();
        sample(svg, y + 90.0, &format!("drawn by “{title}”"), &|svg, y| {
            svg.line((at.0, y), (at.0 + 32.0, y), Stroke::new(PLATE_LINE, 7.0));
        });
    }
}

fn degrees(estimate: &Estimate<Angle>) -> String {
    let [value, error] = [estimate.value, estimate.standard_error].map(|angle| one_decimal(angle.degrees()));
    format!("{value}° ± {error}°")
}

fn millimetres(estimate: &Estimate<Length>) -> String {
    let [value, error] = [estimate.value, estimate.standard_error].map(|length| two_decimals(length.mm()));
    format!("{value} ± {error} mm")
}
