//! The window and its loop.

use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant};

use kiss3d::egui::Context;
use kiss3d::pollster::block_on;
use kiss3d::window::{CanvasSetup, NumSamples, Window};

use super::answering::Native;
use super::error::ViewerError;
use super::report_file::ReportFile;
use super::surroundings;
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
/// The same after so many times of nothing, where nobody is at the window.
const LONG_REST: Duration = Duration::from_millis(60);
const LONG_STILL: u32 = 200;
/// Frames drawn after the last event before resting: panels settle in two.
const SETTLING: u32 = 4;
/// While something moves all the time, what was changed is kept this often.
const KEEP_EVERY: Duration = Duration::from_secs(1);
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
    let mut native = Native::begin(&mut state);
    let mut drawing = Drawing::new();
    let mut mouse = Mouse::default();
    let mut held = Held::default();
    let wanted_frame = WantedFrame::of(window.egui_context());
    let mut shown_title = state.title();
    let mut last_frame = Instant::now();
    let mut last_kept = Instant::now();
    let mut still = 0;
    loop {
        window.canvas_mut().poll_events();
        let input = actions(&window, &state, &mut mouse, &mut held);
        let has_answer = native.look_at_dialog(&mut state) | native.look_at_what_goes_out(&mut state);
        let is_at_rest = !has_answer
            && input.is_none()
            && !state.playing
            && state.rough.is_none()
            && state.planning.rested.is_none();
        still = if is_at_rest { still + 1 } else { 0 };
        // At rest, and now and then while there is no rest.
        if still == SETTLING || (still < SETTLING && last_kept.elapsed() > KEEP_EVERY) {
            native.keep(&state);
            last_kept = Instant::now();
        }
        // Nothing is drawn while nothing changes: neither power nor a fan is spent on a window at rest.
        if still > SETTLING && !wanted_frame.is_due() {
            // The longer nothing has happened, the less often it is asked for.
            std::thread::sleep(if still > LONG_STILL { LONG_REST } else { REST });
            continue;
        }
        wanted_frame.clear();
        for action in input.unwrap_or_default() {
            act(&mut native, &mut state, action);
        }
        let now = Instant::now();
        state.pass((now - last_frame).as_secs_f64().min(LONGEST_FRAME));
        last_frame = now;

        let (mut camera, output) = frame::compose(&mut window, &mut drawing, &state);
        if !block_on(window.render_3d(&mut drawing.root, &mut camera)) || state.done {
            native.close(&state);
            return Ok(());
        }
        if let Some(report) = &mut report {
            #[allow(clippy::cast_possible_truncation, reason = "a screen's scale")]
            report.write(Line::of(&state, &output, window.scale_factor() as f32))?;
        }
        for action in output.actions {
            still = 0;
            act(&mut native, &mut state, action);
        }
        let title = state.title();
        if title != shown_title {
            window.set_title(&title);
            shown_title = title;
        }
    }
}

/// When the panels want another frame by themselves: a tooltip that is to come up, say.
#[derive(Clone, Default)]
struct WantedFrame(Arc<Mutex<Option<Instant>>>);

impl WantedFrame {
    fn of(panels: &Context) -> Self {
        let wanted = Self::default();
        let asked = wanted.clone();
        panels.set_request_repaint_callback(move |request| asked.ask(request.delay));
        wanted
    }

    fn ask(&self, delay: Duration) {
        // Some ask for a frame at the end of all days.
        let Some(at) = Instant::now().checked_add(delay) else { return };
        let mut wanted = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        *wanted = Some(wanted.map_or(at, |earlier| earlier.min(at)));
    }

    fn is_due(&self) -> bool {
        let wanted = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        wanted.is_some_and(|at| at <= Instant::now())
    }

    fn clear(&self) {
        *self.0.lock().unwrap_or_else(PoisonError::into_inner) = None;
    }
}

/// Lets the state do what a person asks, and does for it what it cannot.
fn act(native: &mut Native, state: &mut State, action: Action) {
    if let Some(request) = state.act(action) {
        native.answer(state, request);
    }
}
