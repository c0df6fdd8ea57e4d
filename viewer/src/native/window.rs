//! The window and its loop.

use std::sync::LazyLock;
use std::time::{Duration, Instant};

use kiss3d::pollster::block_on;
use kiss3d::window::{CanvasSetup, NumSamples, Window};

use super::answering::Native;
use super::error::ViewerError;
use super::report_file::ReportFile;
use super::surroundings;
use crate::action::Action;
use crate::drawing::Drawing;
use crate::frame;
use crate::pace::Pace;
use crate::report::Line;
use crate::state::State;

/// How long to rest before listening again when nothing moves.
const REST: Duration = Duration::from_millis(15);
/// The same after so many times of nothing, where nobody is at the window.
const LONG_REST: Duration = Duration::from_millis(60);
const LONG_STILL: u32 = 200;

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
    let mut pace = Pace::of(window.egui_context(), seconds);
    let mut shown_title = state.title();
    loop {
        let has_answer = native.look_at_dialog(&mut state) | native.look_at_what_goes_out(&mut state);
        let turn = pace.turn(&mut window, &state, &[], has_answer);
        if turn.keep {
            native.keep(&state);
        }
        let Some(actions) = turn.draw else {
            // The longer nothing has happened, the less often it is asked for.
            std::thread::sleep(if pace.still() > LONG_STILL { LONG_REST } else { REST });
            continue;
        };
        for action in actions {
            act(&mut native, &mut state, action);
        }
        pace.pass(&mut state);

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
            pace.disturb();
            act(&mut native, &mut state, action);
        }
        let title = state.title();
        if title != shown_title {
            window.set_title(&title);
            shown_title = title;
        }
    }
}

/// The clock, from when it was first looked at.
fn seconds() -> f64 {
    static BEGAN: LazyLock<Instant> = LazyLock::new(Instant::now);
    BEGAN.elapsed().as_secs_f64()
}

/// Lets the state do what a person asks, and does for it what it cannot.
fn act(native: &mut Native, state: &mut State, action: Action) {
    if let Some(request) = state.act(action) {
        native.answer(state, request);
    }
}
