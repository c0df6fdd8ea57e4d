//! Separation and clearance against advance, for the cusps chosen.

use egui_plot::{
    AxisHints, HLine, Line, LineStyle, MarkerShape, Plot, PlotPoint, PlotPoints, Points, Span, Text, VLine,
};
use kiss3d::egui::{Align2, RichText, Ui};
use sim_core::cusp::CuspReading;

use super::output::PanelOutput;
use crate::palette::{self, Shape};
use crate::solved::SolvedExcursion;
use crate::state::State;

/// Least half height of the plot, in millimetres.
const LEAST_MM: f64 = 0.5;

pub(super) fn show(ui: &mut Ui, state: &State, height: f32, output: &mut PanelOutput) {
    let solved = &state.shown.solved;
    let (driver, unit) = solved.driver();
    let marked: Vec<(usize, usize)> = state.marked().collect();
    let (mut low, mut high) = (-LEAST_MM / 2.0, LEAST_MM);
    for sample in solved.samples() {
        for &(number, _) in &marked {
            let reading = &sample.readings[number];
            high = high.max(reading.separation.mm()).max(reading.clearance.mm());
            low = low.min(reading.clearance.mm()).min(reading.separation.mm());
        }
    }
    for sample in state.kept.iter().filter_map(|kept| kept.solved.as_ref()).flat_map(SolvedExcursion::samples)
    {
        for &(number, _) in &marked {
            let theirs =
                state.kept.as_ref().and_then(|kept| kept.number_of(state.shown.scene.cusps.get(number)?));
            if let Some(reading) = theirs.and_then(|theirs| sample.readings.get(theirs)) {
                high = high.max(reading.separation.mm());
                low = low.min(reading.separation.mm());
            }
        }
    }
    // Room for the word below zero.
    let margin = (high - low) * 0.08;
    let (low, high) = ((low - margin).min(-2.0 * margin), high + margin);
    let end = solved.last().driven.max(0.1);
    let plot = Plot::new("separation and clearance")
        .height(height)
        .allow_drag(false)
        .allow_zoom(false)
        .allow_scroll(false)
        .allow_boxed_zoom(false)
        .allow_double_click_reset(false)
        .show_background(false)
        .grid_spacing(18.0..=90.0)
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
                curves(plot, state, number, mark);
            }
        });
    output.note("plot", &plot.response);
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

/// An axis with a number at every line of its grid that leaves room for one.
fn axis<'a>(hints: AxisHints<'a>, label: String) -> AxisHints<'a> {
    hints.label(RichText::new(label).small()).label_spacing(14.0..=20.0)
}

/// What a curve shows of a reading.
type Read = fn(&CuspReading) -> f64;

fn curves<'a>(plot: &mut egui_plot::PlotUi<'a>, state: &State, number: usize, mark: usize) {
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
                .width(2.2)
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
