//! The window and its loop.

use std::time::{Duration, Instant};

use kiss3d::pollster::block_on;
use kiss3d::window::{CanvasSetup, NumSamples, Window};

use super::error::ViewerError;
use super::report_file::ReportFile;
use super::{files, surroundings};
use crate::action::Action;
use crate::drawing::Drawing;
use crate::frame;
use crate::input::actions;
use crate::keys::Held;
use crate::mouse::Mouse;
use crate::report::Line;
use crate::state::State;

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
pub(super) fn run(
    mut state: State,
    size: (u32, u32),
    mut report: Option<ReportFile>,
) -> Result<(), ViewerError> {
    surroundings::window()?;
    let adapter = surroundings::adapter()?;
    let samples = if adapter.is_software { NumSamples::One } else { NumSamples::Four };
    let setup = CanvasSetup { samples, ..CanvasSetup::default() };
    let doing = "opening the window (does the display answer? --snapshot FILE.png draws without one)";
    let mut window = surroundings::guarded(doing, || {
        block_on(Window::new_with_setup(&state.title(), size.0, size.1, setup))
    })?;
    frame::prepare(&mut window);
    let mut drawing = Drawing::new();
    let mut mouse = Mouse::default();
    let mut held = Held::default();
    let mut shown_title = state.title();
    let mut last_frame = Instant::now();
    let mut still = 0;
    loop {
        window.canvas_mut().poll_events();
        let input = actions(&window, &state, &mut mouse, &mut held);
        let is_at_rest =
            input.is_none() && !state.playing && state.rough.is_none() && state.planning.rested.is_none();
        still = if is_at_rest { still + 1 } else { 0 };
        if still > SETTLING && last_frame.elapsed() < RESTING_FRAME {
            std::thread::sleep(REST);
            continue;
        }
        for action in input.unwrap_or_default() {
            act(&mut state, action);
        }
        let now = Instant::now();
        state.pass((now - last_frame).as_secs_f64().min(LONGEST_FRAME));
        last_frame = now;

        let (mut camera, output) = frame::compose(&mut window, &mut drawing, &state);
        if !block_on(window.render_3d(&mut drawing.root, &mut camera)) || state.done {
            return Ok(());
        }
        if let Some(report) = &mut report {
            #[allow(clippy::cast_possible_truncation, reason = "a screen's scale")]
            report.write(Line::of(&state, &output, window.scale_factor() as f32))?;
        }
        for action in output.actions {
            still = 0;
            act(&mut state, action);
        }
        let title = state.title();
        if title != shown_title {
            window.set_title(&title);
            shown_title = title;
        }
    }
}

/// Lets the state do what a person asks, and does for it what it cannot.
fn act(state: &mut State, action: Action) {
    if let Some(request) = state.act(action) {
        files::answer(state, request);
    }
}
