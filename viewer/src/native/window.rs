//! The window and its loop.

use std::sync::LazyLock;
use std::time::{Duration, Instant};

use kiss3d::pollster::block_on;
use kiss3d::window::NumSamples;

use super::answering::Native;
use super::doorbell::Doorbell;
use super::error::ViewerError;
use super::report_file::ReportFile;
use super::surroundings;
use crate::action::Action;
use crate::drawing::Drawing;
use crate::easel::Easel;
use crate::frame;
use crate::pace::Pace;
use crate::report::Line;
use crate::state::State;

/// How long to rest before listening again when nothing moves.
const REST: Duration = Duration::from_millis(15);
/// After so many times of nothing nobody is at the window.
const LONG_STILL: u32 = 200;
/// How long to rest then, where the display cannot be waited for.
const LONG_REST: Duration = Duration::from_millis(60);
/// The longest that it is waited for: some of what it has told may already have been read for another.
const LONGEST_WAIT: f64 = 1.0;

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
    let doing = "opening the window (does the display answer? --snapshot FILE.png draws without one)";
    let mut easel =
        surroundings::guarded(doing, || block_on(Easel::in_window(&state.title(), size, samples)))?;
    frame::prepare(&easel);
    let doorbell = Doorbell::find();
    let mut native = Native::begin(&mut state);
    let mut drawing = Drawing::new();
    let mut pace = Pace::of(easel.panels(), seconds);
    let mut shown_title = state.title();
    let mut has_begun = false;
    loop {
        let has_answer = native.look_at_dialog(&mut state) | native.look_at_what_goes_out(&mut state);
        let turn = pace.turn(&mut easel, &state, &[], has_answer);
        if turn.keep {
            native.keep(&state);
        }
        let Some(actions) = turn.draw else {
            if pace.still() <= LONG_STILL || native.awaits() {
                std::thread::sleep(REST);
            } else {
                let longest = pace.wanted_in().map_or(LONGEST_WAIT, |wanted| wanted.clamp(0.0, LONGEST_WAIT));
                if !doorbell.waited(Duration::from_secs_f64(longest)) {
                    std::thread::sleep(LONG_REST);
                }
            }
            continue;
        };
        let first =
            if actions.is_empty() { Vec::new() } else { frame::let_go(&mut easel, &state, seconds()) };
        for action in first.into_iter().chain(actions) {
            act(&mut native, &mut state, action);
        }
        pace.pass(&mut state);

        let mut output = frame::show_panels(&mut easel, &state, seconds());
        if !output.actions.is_empty() {
            pace.disturb();
            for action in std::mem::take(&mut output.actions) {
                act(&mut native, &mut state, action);
            }
            // What was done is seen in this picture, not in the next.
            output = frame::show_panels(&mut easel, &state, seconds());
        }
        if frame::draw(&mut easel, &mut drawing, &state) {
            has_begun = true;
        } else if !has_begun {
            // A window that is just opening takes its first picture when it is ready.
            pace.disturb();
            std::thread::sleep(REST);
        }
        if easel.is_to_close() || state.done {
            native.close(&state);
            return Ok(());
        }
        if let Some(report) = &mut report {
            #[allow(clippy::cast_possible_truncation, reason = "a screen's scale")]
            report.write(Line::of(&state, &output, easel.scale() as f32))?;
        }
        for action in output.actions {
            pace.disturb();
            act(&mut native, &mut state, action);
        }
        let title = state.title();
        if title != shown_title {
            easel.set_title(&title);
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
