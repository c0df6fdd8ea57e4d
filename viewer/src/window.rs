//! The window and its loop.

use std::time::{Duration, Instant};

use kiss3d::egui::{Order, pos2};
use kiss3d::pollster::block_on;
use kiss3d::window::{CanvasSetup, NumSamples, Window};

use crate::action::Action;
use crate::drawing::Drawing;
use crate::error::ViewerError;
use crate::frame;
use crate::keys;
use crate::mouse::Mouse;
use crate::report::Report;
use crate::state::State;
use crate::surroundings;

/// How long to rest before listening again when nothing moves.
const REST: Duration = Duration::from_millis(15);
/// Frames drawn after the last event before resting: panels settle in two.
const SETTLING: u32 = 4;
/// While resting a frame is drawn this often, for a window that has been covered.
const RESTING_FRAME: Duration = Duration::from_millis(500);
/// Longest time that one frame lets pass while playing, so that a stall is not a leap.
const LONGEST_FRAME: f64 = 0.1;

/// Shows the state in a window until it is closed.
///
/// # Errors
/// [`ViewerError::Surroundings`] when no window can be opened, [`ViewerError::Unwritable`] when the
/// report cannot be written.
pub fn run(mut state: State, size: (u32, u32), mut report: Option<Report>) -> Result<(), ViewerError> {
    surroundings::window()?;
    let adapter = surroundings::adapter()?;
    let samples = if adapter.is_software { NumSamples::One } else { NumSamples::Four };
    let setup = CanvasSetup { samples, ..CanvasSetup::default() };
    let doing = "opening the window (does the display answer? --snapshot FILE.png draws without one)";
    let mut window = surroundings::guarded(doing, || {
        block_on(Window::new_with_setup(&title(&state), size.0, size.1, setup))
    })?;
    frame::prepare(&mut window);
    let mut drawing = Drawing::new();
    let mut mouse = Mouse::default();
    let mut shown_title = title(&state);
    let mut last_frame = Instant::now();
    let mut still = 0;
    loop {
        window.canvas_mut().poll_events();
        let asked = listen(&window, &state, &mut mouse);
        let is_at_rest =
            asked.is_none() && !state.playing && state.rough.is_none() && state.planning.rested.is_none();
        still = if is_at_rest { still + 1 } else { 0 };
        if still > SETTLING && last_frame.elapsed() < RESTING_FRAME {
            std::thread::sleep(REST);
            continue;
        }
        for action in asked.unwrap_or_default() {
            state.act(action);
        }
        let now = Instant::now();
        state.pass((now - last_frame).as_secs_f64().min(LONGEST_FRAME));
        last_frame = now;

        let (mut camera, found) = frame::compose(&mut window, &mut drawing, &state);
        if !block_on(window.render_3d(&mut drawing.root, &mut camera)) || state.done {
            return Ok(());
        }
        if let Some(report) = &mut report {
            #[allow(clippy::cast_possible_truncation, reason = "a screen's scale")]
            report.tell(&state, &found, window.scale_factor() as f32)?;
        }
        for action in found.actions {
            still = 0;
            state.act(action);
        }
        let title = title(&state);
        if title != shown_title {
            window.set_title(&title);
            shown_title = title;
        }
    }
}

/// What keys, mouse and dropped files ask for; none when nothing happened at all.
fn listen(window: &Window, state: &State, mouse: &mut Mouse) -> Option<Vec<Action>> {
    let mut asked = Vec::new();
    let mut happened = false;
    let scale = window.scale_factor();
    let size = [window.width(), window.height()].map(f64::from);
    let (layout, projection) = frame::lay_out(state, size, scale);
    let is_typing = window.egui_context().text_edit_focused();
    for event in window.events().iter() {
        happened = true;
        let event = event.value;
        if event.is_keyboard_event() {
            asked.extend(keys::asked(&event, is_typing));
        } else {
            #[allow(clippy::cast_possible_truncation, reason = "pixels")]
            let on_picture = |x: f64, y: f64| {
                // Asked for the place of the event, not for where the mouse was at the last frame.
                let place = pos2((x / scale) as f32, (y / scale) as f32);
                let above = window.egui_context().layer_id_at(place);
                layout.picture.contains(place) && above.is_none_or(|layer| layer.order == Order::Background)
            };
            asked.extend(mouse.asked(&event, &projection, on_picture));
        }
    }
    for file in window.dropped_files() {
        happened = true;
        asked.push(Action::Open(file));
    }
    happened.then_some(asked)
}

/// The window's title: what one would say of it.
fn title(state: &State) -> String {
    let course = &state.shown.course;
    format!(
        "{} – {} at {:.2} {}",
        state.shown.scene.title,
        words::name::movement(course.excursion.movement()),
        state.stop().driven,
        course.driver().1,
    )
}
