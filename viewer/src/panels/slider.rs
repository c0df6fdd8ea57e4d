//! A slider without a number of its own.

use kiss3d::egui::{Context, Event, Key, Response, Slider, SliderClamping, Ui, WidgetInfo};

use super::style;
use crate::palette;

/// What an arrow moves with Shift, as a part of the step.
const FINE: f64 = 0.1;

/// A slider over a range. Dragged, it goes by whole steps; the arrows go to the next whole step, with Shift
/// to the next tenth of one. Returns where it was moved to, if it was.
pub(super) fn show(
    ui: &mut Ui,
    label: &str,
    now: f64,
    (least, greatest): (f64, f64),
    step: f64,
    width: f32,
) -> (Response, Option<f64>) {
    let mut moved = now;
    let response = ui
        .scope(|ui| {
            ui.spacing_mut().slider_width = width.max(30.0 * style::scale(ui.ctx()));
            ui.visuals_mut().widgets.inactive.bg_fill = palette::RAIL.egui();
            let slider = Slider::new(&mut moved, least..=greatest).clamping(SliderClamping::Never);
            ui.add(slider.show_value(false).smart_aim(false))
        })
        .inner;
    response.widget_info(|| WidgetInfo::slider(true, now, label));
    if !response.changed() || moved.total_cmp(&now).is_eq() {
        return (response, None);
    }
    let is_key = !response.dragged() && !response.clicked() && !response.is_pointer_button_down_on();
    let fine = is_fine(ui.ctx());
    let to = if is_key {
        next_step(now, moved > now, if fine { step * FINE } else { step })
    } else {
        whole_step(moved, step)
    };
    let to = to.clamp(least.min(now), greatest.max(now));
    (response, (to.total_cmp(&now).is_ne()).then_some(to))
}

/// Whether an arrow was pressed with Shift.
fn is_fine(ctx: &Context) -> bool {
    let is_fine = |event: &Event| {
        matches!(event, Event::Key { key: Key::ArrowLeft | Key::ArrowRight, pressed: true, modifiers, .. }
            if modifiers.shift_only())
    };
    ctx.input(|input| input.events.iter().any(is_fine))
}

/// The whole step nearest to a number.
fn whole_step(number: f64, step: f64) -> f64 {
    tidy((number / step).round(), step)
}

/// The next whole step above or below.
fn next_step(now: f64, up: bool, step: f64) -> f64 {
    /// A number this near to a step stands on it.
    const ON_IT: f64 = 1e-6;
    let steps = now / step;
    let next = if up { (steps + ON_IT).floor() + 1.0 } else { (steps - ON_IT).ceil() - 1.0 };
    tidy(next, step)
}

/// So many steps, without the rounding of the product: 0.3, not 0.30000000000000004.
fn tidy(steps: f64, step: f64) -> f64 {
    const PLACES: f64 = 1e6;
    (steps * step * PLACES).round() / PLACES + 0.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_arrow_goes_to_the_next_whole_step_and_passes_none() {
        for (now, up, step, next) in [
            (32.67, true, 1.0, 33.0),
            (32.67, false, 1.0, 32.0),
            (33.0, true, 1.0, 34.0),
            (33.0, false, 1.0, 32.0),
            (32.67, true, 0.1, 32.7),
            (0.25, true, 0.05, 0.3),
            (-0.5, true, 1.0, 0.0),
        ] {
            let to = next_step(now, up, step);
            assert!(to.total_cmp(&next).is_eq(), "{now}: {to} instead of {next}");
        }
    }
}
