//! Separation and clearance against advance, for the cusps chosen.

use egui_plot::{
    AxisHints, HLine, Line, LineStyle, MarkerShape, Plot, PlotPoint, PlotPoints, Points, Span, Text, VLine,
};
use kiss3d::egui::{Align2, RichText, Ui};
use sim_core::cusp::CuspReading;

use super::output::PanelOutput;
use crate::action::Action;
use crate::axes::Extent;
use crate::palette::{self, Shape};
use crate::state::State;

pub(super) fn show(ui: &mut Ui, state: &State, height: f32, output: &mut PanelOutput) {
    let solved = &state.shown.solved;
    let (driver, unit) = solved.driver();
    let marked: Vec<(usize, usize)> = state.marked().collect();
    let Extent { low, high, end } = state.axes.0;
    let plot = Plot::new("separation and clearance")
        .height(height)
        .allow_drag(false)
        .allow_zoom(false)
        .allow_scroll(false)
        .allow_boxed_zoom(false)
        .allow_double_click_reset(false)
        .show_background(false)
        .grid_spacing(18.0..=90.0)
        .x_grid_spacer(egui_plot::uniform_grid_spacer(|input| grid_steps(input.bounds)))
        .y_grid_spacer(egui_plot::uniform_grid_spacer(|input| grid_steps(input.bounds)))
        .grid_color(palette::PENCIL.egui().gamma_multiply(0.45))
        .custom_x_axes(vec![axis(AxisHints::new_x(), format!("{driver}, {unit}"))])
        .custom_y_axes(vec![axis(AxisHints::new_y(), "mm".to_owned())])
        .show(ui, |plot| {
            plot.set_plot_bounds_x(0.0..=end);
            plot.set_plot_bounds_y(low..=high);
            plot.span(
                Span::new("", low * 4.0 - 1.0..=0.0)
                    .axis(egui_plot::Axis::Y)
                    .fill(palette::INTERFERENCE.egui().gamma_multiply(0.10))
                    .border_width(0.0),
            );
            plot.text(
                Text::new(
                    "interference",
                    PlotPoint::new(end * 0.02, low),
                    RichText::new("interference").small().color(palette::INTERFERENCE.egui()),
                )
                .anchor(Align2::LEFT_BOTTOM),
            );
            plot.hline(HLine::new("contact", 0.0).color(palette::INK.egui()).width(1.5));
            plot.vline(VLine::new("now", state.sample().driven).color(palette::ACTIVE.egui()).width(1.5));
            for &(number, mark) in &marked {
                kept_curve(plot, state, number, mark);
                curves(plot, state, number, mark, marked.len());
            }
            interferences(plot, state, high - low);
            names_at_the_ends(plot, state, high - low);
        });
    output.note("plot", &plot.response);
    let pointed = plot
        .response
        .interact_pointer_pos()
        .filter(|_| plot.response.clicked() || plot.response.is_pointer_button_down_on());
    if let Some(place) = pointed {
        let at = solved.nearest(plot.transform.value_from_position(place).x);
        if at != state.at {
            output.actions.push(Action::ScrubTo(at));
        }
    }
}

/// What is not marked and interferes all the same: the part of its clearance below zero, by its number. Numbers
/// that would stand on one another are written together.
fn interferences(plot: &mut egui_plot::PlotUi<'_>, state: &State, height: f64) {
    /// Ends nearer than this part of an axis share their words.
    const TOGETHER: f64 = 0.08;
    let ink = palette::INTERFERENCE.egui();
    let end = state.axes.0.end;
    let mut written: Vec<([f64; 2], String)> = Vec::new();
    for cusp in state.interfering_unmarked() {
        let below: Vec<[f64; 2]> = (state.shown.solved.samples().iter())
            .filter_map(|sample| Some((sample.driven, sample.readings.get(cusp)?.clearance.mm())))
            .filter(|(_, clearance)| *clearance < 0.0)
            .map(|(driven, clearance)| [driven, clearance])
            .collect();
        let Some(&at) = below.last() else { continue };
        let tooth =
            state.shown.scene.cusps.get(cusp).map(|cusp| cusp.tooth().to_string()).unwrap_or_default();
        plot.line(Line::new(format!("{cusp} unmarked"), PlotPoints::from(below)).color(ink).width(1.6));
        let is_near = |other: &[f64; 2]| {
            (other[0] - at[0]).abs() < end * TOGETHER && (other[1] - at[1]).abs() < height * TOGETHER
        };
        match written.iter_mut().find(|(other, _)| is_near(other)) {
            Some((_, teeth)) => *teeth = format!("{teeth}, {tooth}"),
            None => written.push((at, tooth)),
        }
    }
    for ([x, y], teeth) in written {
        let words = format!("{teeth} ×");
        let text = RichText::new(words.clone()).small().strong().color(ink);
        // At the start there is no room to the left of it.
        let anchor = if x < end / 2.0 { Align2::LEFT_TOP } else { Align2::RIGHT_TOP };
        plot.text(Text::new(words, PlotPoint::new(x, y), text).anchor(anchor));
    }
}

/// The tooth numbers at the ends of the curves; those whose curves end in one place share it.
fn names_at_the_ends(plot: &mut egui_plot::PlotUi<'_>, state: &State, height: f64) {
    /// Ends that are nearer than this part of the axis are written together.
    const TOGETHER: f64 = 0.06;
    let last = state.shown.solved.last();
    let mut ends: Vec<(f64, String)> = state
        .marked()
        .filter_map(|(cusp, _)| {
            let tooth = state.shown.scene.cusps.get(cusp)?.tooth().to_string();
            Some((last.readings.get(cusp)?.separation.mm(), tooth))
        })
        .collect();
    ends.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut written: Vec<(f64, String)> = Vec::new();
    for (y, tooth) in ends {
        match written.last_mut() {
            Some((below, teeth)) if y - *below < height * TOGETHER => *teeth = format!("{teeth}, {tooth}"),
            _ => written.push((y, tooth)),
        }
    }
    for (y, teeth) in written {
        let text = RichText::new(teeth.clone()).small().strong().color(palette::INK.egui());
        plot.text(Text::new(teeth, PlotPoint::new(last.driven, y), text).anchor(Align2::RIGHT_BOTTOM));
    }
}

/// The separation of B at the same cusp: thin, dotted, and with its letter at the end.
fn kept_curve<'a>(plot: &mut egui_plot::PlotUi<'a>, state: &State, number: usize, mark: usize) {
    let Some(kept) = &state.kept else { return };
    let Some(solved) = &kept.solved else { return };
    let Some(theirs) = state.shown.scene.cusps.get(number).and_then(|cusp| kept.number_of(cusp)) else {
        return;
    };
    let points: Vec<[f64; 2]> = (solved.samples().iter())
        .map(|sample| [sample.driven, sample.readings[theirs].separation.mm()])
        .collect();
    let tint = palette::cusp(mark).0.egui();
    if let Some(&[x, y]) = points.last() {
        let letter = RichText::new("B").small().strong().color(tint);
        plot.text(Text::new("B", PlotPoint::new(x, y), letter).anchor(Align2::RIGHT_BOTTOM));
    }
    plot.line(
        Line::new(format!("{number} B"), PlotPoints::from(points))
            .color(tint.gamma_multiply(0.75))
            .width(1.6)
            .style(LineStyle::dotted_loose()),
    );
}

/// Lines of the grid at ones, twos or fives, so few that each has room for its number.
fn grid_steps((from, to): (f64, f64)) -> [f64; 3] {
    /// Lines that an axis of a panel has room for.
    const LINES: f64 = 8.0;
    const STEPS: [f64; 3] = [1.0, 2.0, 5.0];
    let least = ((to - from) / LINES).max(1e-6);
    let power = 10_f64.powf(least.log10().floor());
    let step = STEPS.into_iter().map(|step| step * power).find(|step| *step >= least).unwrap_or(10.0 * power);
    [step, 10.0 * step, 100.0 * step]
}

/// An axis with a number at every line of its grid that leaves room for one.
fn axis<'a>(hints: AxisHints<'a>, label: String) -> AxisHints<'a> {
    // With a real minus.
    hints
        .formatter(|mark, _| words::number::as_set(mark.value))
        .label(RichText::new(label).small())
        .label_spacing(14.0..=20.0)
}

/// What a curve shows of a reading.
type Read = fn(&CuspReading) -> f64;

fn curves<'a>(plot: &mut egui_plot::PlotUi<'a>, state: &State, number: usize, mark: usize, count: usize) {
    // One that lies exactly under another, as the other side does in protrusion, stands out on both sides of it.
    #[allow(clippy::cast_precision_loss, reason = "a handful of cusps")]
    let width = 1.8 + 1.1 * (count.saturating_sub(mark + 1)).min(4) as f32;
    let (tint, shape) = palette::cusp(mark);
    let samples = state.shown.solved.samples();
    let kinds: [(&str, LineStyle, Read); 2] = [
        ("separation", LineStyle::Solid, |reading| reading.separation.mm()),
        ("clearance", LineStyle::dashed_dense(), |reading| reading.clearance.mm()),
    ];
    for (kind, style, read) in kinds {
        let points: Vec<[f64; 2]> =
            samples.iter().map(|sample| [sample.driven, read(&sample.readings[number])]).collect();
        plot.line(
            Line::new(format!("{number} {kind}"), PlotPoints::from(points))
                .color(tint.egui())
                .width(width)
                .style(style),
        );
        let sample = state.sample();
        plot.points(
            Points::new(
                format!("{number} {kind} now"),
                vec![[sample.driven, read(&sample.readings[number])]],
            )
            .color(tint.egui())
            .shape(marker(shape))
            .filled(kind == "separation")
            .radius(5.0),
        );
    }
}

const fn marker(shape: Shape) -> MarkerShape {
    match shape {
        Shape::Circle => MarkerShape::Circle,
        Shape::Square => MarkerShape::Square,
        Shape::Triangle => MarkerShape::Up,
        Shape::Diamond => MarkerShape::Diamond,
        Shape::Wedge => MarkerShape::Down,
        Shape::Hexagon => MarkerShape::Asterisk,
    }
}
