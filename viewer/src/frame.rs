//! One frame of picture and panels, the same for a window and for a snapshot.

use kiss3d::post_processing::Tonemap;
use kiss3d::window::Window;

use crate::camera::Camera;
use crate::drawing::{self, Drawing};
use crate::kept::Beside;
use crate::layout::Layout;
use crate::page::Room;
use crate::panels::{self, PanelOutput};
use crate::projection::Projection;
use crate::projections::Arrangement;
use crate::state::State;

/// Sets what stays the same from frame to frame.
pub fn prepare(window: &mut Window) {
    window.set_shadows_enabled(false);
    window.set_tonemap(Tonemap::None);
    panels::style::prepare(window.egui_context());
}

/// Puts together the next frame. Rendering it, with the camera returned, is the caller's.
pub fn compose(window: &mut Window, drawing: &mut Drawing, state: &State) -> (Camera, PanelOutput) {
    let size = [window.width(), window.height()].map(f64::from);
    let scale = window.scale_factor();
    let (layout, projection) = lay_out(state, size, scale);
    panels::style::set(window.egui_context(), state.appearance);
    window.set_background_color(panels::style::paper(state.appearance).linear());
    drawing.update(state, projection.shift_mm(f64::from(layout.to_beside()) * scale, 0.0));
    if state.room == Room::Instrument {
        if !state.motion_is_hidden() {
            drawing::draw_paths(window, state);
            drawing::draw_arch(window, state);
        }
        drawing::draw_section(window, state);
    }
    let mut output = PanelOutput::default();
    window.draw_ui(|ctx| output = panels::show(ctx, state, &layout, &projection));
    #[allow(clippy::cast_possible_truncation, reason = "pixels")]
    let [width, height] = size.map(|side| side as f32);
    (Camera::new(&projection, width, height), output)
}

/// The layout in points and the projection in pixels, for a picture of this size in pixels.
#[must_use]
#[allow(clippy::cast_possible_truncation, reason = "pixels")]
pub fn lay_out(state: &State, size: [f64; 2], pixels_per_point: f64) -> (Layout, Projection) {
    let [width, height] = size.map(|side| (side / pixels_per_point) as f32);
    let layout = Layout::of(width, height, &panels::rows(state), state.appearance).arranged(
        if state.room == Room::Bench { Arrangement::Picture } else { state.projections.arrangement },
    );
    let is_beside =
        state.room == Room::Instrument && state.kept.is_some() && state.beside == Beside::SideBySide;
    let layout = if is_beside { layout.with_beside() } else { layout };
    let projection = state.look.projection(layout.window(pixels_per_point as f32), Some(state.axis()));
    (layout, projection)
}
