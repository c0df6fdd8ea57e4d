//! The section through both casts, true to scale.

use egui_plot::{AxisHints, Line, MarkerShape, Plot, PlotPoint, PlotPoints, Points, Text};
use kiss3d::egui::{Align2, Button, RichText, Slider, SliderClamping, Ui};
use words::number::two_decimals;

use super::output::PanelOutput;
use crate::action::Action;
use crate::casts::{CutPlane, Mounted, SectionRead};
use crate::palette::{self, Tint};
use crate::state::State;

/// Space left round the lines, in millimetres.
const MARGIN_MM: f64 = 1.0;
/// Step of the plane's slider, in millimetres.
const STEP_MM: f64 = 0.1;
/// Width of the number beside it.
const NUMBER: f32 = 58.0;

/// Which plane, where it stands, and what it cuts.
pub(super) fn show(ui: &mut Ui, state: &State, mounted: &Mounted, height: f32, output: &mut PanelOutput) {
    let view = &state.casts;
    ui.horizontal(|ui| {
        ui.label(RichText::new("section").small());
        for plane in CutPlane::ALL {
            let pressed = view.plane == plane;
            let button = ui.add(Button::new(RichText::new(plane.label()).small()).selected(pressed));
            output.note(format!("cut={}", plane.label()), &button);
            if button.clicked() {
                output.actions.push(Action::Cut(plane));
            }
        }
    });
    let [least, greatest] = mounted.cut_range_mm(view.plane);
    let now = view.cut_at_mm();
    let mut at = now;
    ui.scope(|ui| {
        let width = ui.available_width();
        let spacing = ui.spacing_mut();
        spacing.interact_size.x = NUMBER;
        spacing.slider_width = (width - NUMBER - spacing.item_spacing.x - 6.0).max(60.0);
        let slider = ui.add(
            Slider::new(&mut at, least..=greatest)
                .step_by(STEP_MM)
                .clamping(SliderClamping::Never)
                .fixed_decimals(1)
                .smart_aim(false),
        );
        output.note("cut_at", &slider);
        if slider.changed() && at.total_cmp(&now).is_ne() {
            output.actions.push(Action::CutAt(at));
        }
    });
    ui.label(RichText::new(format!("mm {}", view.plane.position())).small());
    let read = state.readout.as_ref().and_then(|readout| readout.section.as_ref());
    let Some(read) = read else {
        ui.label("These teeth form no arch that a section could follow.");
        return;
    };
    plot(ui, read, height, output);
    ui.label(gap_words(read));
}

/// The least gap and where it is.
fn gap_words(read: &SectionRead) -> RichText {
    match read.gap {
        Some(gap) if gap.gap.mm() < -palette::PIERCED_FROM_MM => RichText::new(format!(
            "the casts penetrate each other by {} mm here, measured vertically",
            two_decimals(-gap.gap.mm())
        ))
        .strong()
        .color(palette::INTERFERENCE.egui()),
        Some(gap) => {
            RichText::new(format!("least vertical gap in this section: {} mm", two_decimals(gap.gap.mm())))
                .strong()
        }
        None => RichText::new("in this section neither cast lies over the other"),
    }
}

fn plot(ui: &mut Ui, read: &SectionRead, height: f32, output: &mut PanelOutput) {
    let across = read.plane.across();
    let ([low_x, high_x], [low_y, high_y]) = extent(read);
    let response = Plot::new("section")
        .height(height)
        .data_aspect(1.0)
        .allow_drag(false)
        .allow_zoom(false)
        .allow_scroll(false)
        .allow_boxed_zoom(false)
        .allow_double_click_reset(false)
        .show_background(false)
        .grid_spacing(16.0..=80.0)
        .grid_color(palette::PENCIL.egui().gamma_multiply(0.35))
        .custom_x_axes(vec![axis(AxisHints::new_x(), format!("{across}, mm"))])
        .custom_y_axes(vec![axis(AxisHints::new_y(), "up, mm".to_owned())])
        .show(ui, |plot| {
            plot.set_plot_bounds_x(low_x..=high_x);
            plot.set_plot_bounds_y(low_y..=high_y);
            lines(plot, &read.section.upper, "upper", palette::UPPER_LINE);
            lines(plot, &read.section.lower, "lower", palette::LOWER_LINE);
            gap(plot, read);
        })
        .response;
    output.note("section", &response);
}

fn axis<'a>(hints: AxisHints<'a>, label: String) -> AxisHints<'a> {
    hints.label(RichText::new(label).small()).label_spacing(14.0..=20.0)
}

/// What the lines take up across and upward. The plot keeps both scales equal.
fn extent(read: &SectionRead) -> ([f64; 2], [f64; 2]) {
    let mut extent = [[f64::INFINITY, f64::NEG_INFINITY]; 2];
    for place in read.section.upper.iter().chain(&read.section.lower).flatten() {
        for (range, value) in extent.iter_mut().zip(place) {
            *range = [range[0].min(*value), range[1].max(*value)];
        }
    }
    let [x, y] =
        extent.map(
            |[low, high]| {
                if low <= high { [low - MARGIN_MM, high + MARGIN_MM] } else { [-MARGIN_MM, MARGIN_MM] }
            },
        );
    (x, y)
}

fn lines(plot: &mut egui_plot::PlotUi<'_>, lines: &[Vec<[f64; 2]>], name: &str, tint: Tint) {
    for line in lines {
        plot.line(Line::new(name.to_owned(), PlotPoints::from(line.clone())).color(tint.egui()).width(2.0));
    }
    // Named at its end away from the other cast.
    let places = || lines.iter().flatten();
    let away = if name == "upper" { 1.0 } else { -1.0 };
    let Some(far) = places().max_by(|a, b| (a[1] * away).total_cmp(&(b[1] * away))) else { return };
    let align = if away > 0.0 { Align2::CENTER_TOP } else { Align2::CENTER_BOTTOM };
    plot.text(
        Text::new(
            name.to_owned(),
            PlotPoint::new(far[0], far[1] - away * 0.4),
            RichText::new(name).strong().color(tint.egui()),
        )
        .anchor(align),
    );
}

/// The least gap, as a dimension line on a drawing, with a ring about it that is seen also where it is
/// small.
fn gap(plot: &mut egui_plot::PlotUi<'_>, read: &SectionRead) {
    let Some(gap) = read.gap else { return };
    let (at, upper, lower) = (gap.across.mm(), gap.upper.mm(), gap.lower.mm());
    let pierced = gap.gap.mm() < -palette::PIERCED_FROM_MM;
    let tint = if pierced { palette::INTERFERENCE } else { palette::INK };
    for (name, ends) in [
        ("gap", [[at, lower], [at, upper]]),
        ("gap upper", [[at - 0.5, upper], [at + 0.5, upper]]),
        ("gap lower", [[at - 0.5, lower], [at + 0.5, lower]]),
    ] {
        plot.line(Line::new(name, PlotPoints::from(ends.to_vec())).color(tint.egui()).width(2.0));
    }
    plot.points(
        Points::new("gap place", vec![[at, (upper + lower) / 2.0]])
            .color(tint.egui())
            .shape(MarkerShape::Circle)
            .filled(false)
            .radius(8.0),
    );
}
