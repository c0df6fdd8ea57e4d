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
use crate::frame::{self, Hands};
use crate::pace::Pace;
use crate::report::Line;
use crate::state::State;

/// How long to wait for the display at most before listening again when nothing moves, or to rest where it cannot be
/// waited for.
const REST: Duration = Duration::from_millis(15);
/// After so many times of nothing nobody is at the window.
const LONG_STILL: u32 = 200;
/// How long to rest then, where the display cannot be waited for.
const LONG_REST: Duration = Duration::from_millis(60);
/// The longest that it is waited for then: some of what it has told may already have been read for another.
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
    let native = Native::begin(&mut state);
    let mut drawing = Drawing::new();
    let mut shown_title = state.title();
    let pace = Pace::of(easel.panels(), seconds);
    let mut at = AtWindow { native, state, pace };
    let mut has_begun = false;
    loop {
        let AtWindow { native, state, pace } = &mut at;
        let has_answer = native.look_at_dialog(state) | native.look_at_what_goes_out(state);
        let turn = pace.turn(&mut easel, state, &[], has_answer);
        if turn.keep {
            native.keep(state);
        }
        let Some(actions) = turn.draw else {
            let (longest, blindly) = if pace.still() <= LONG_STILL || native.awaits() {
                (REST, REST)
            } else {
                let wanted = pace.wanted_in().map_or(LONGEST_WAIT, |wanted| wanted.clamp(0.0, LONGEST_WAIT));
                (Duration::from_secs_f64(wanted), LONG_REST)
            };
            if !doorbell.waited(longest) {
                std::thread::sleep(blindly);
            }
            continue;
        };
        let output = frame::turn(&mut easel, seconds(), actions, &mut at);
        if frame::draw(&mut easel, &mut drawing, &at.state) {
            has_begun = true;
        } else if !has_begun {
            // A window that is just opening takes its first picture when it is ready.
            at.pace.disturb();
            std::thread::sleep(REST);
        }
        if easel.is_to_close() || at.state.done {
            at.native.close(&at.state);
            return Ok(());
        }
        if let Some(report) = &mut report {
            #[allow(clippy::cast_possible_truncation, reason = "a screen's scale")]
            report.write(Line::of(&at.state, &output, easel.scale() as f32))?;
        }
        output.actions.into_iter().for_each(|action| at.act(action));
        let title = at.state.title();
        if title != shown_title {
            easel.set_title(&title);
            shown_title = title;
        }
    }
}

/// The state, and what a window has beside it.
struct AtWindow {
    native: Native,
    state: State,
    pace: Pace,
}

impl Hands for AtWindow {
    fn state(&self) -> &State {
        &self.state
    }

    /// Lets the state do what a person asks, and does for it what it cannot.
    fn act(&mut self, action: Action) {
        self.pace.disturb();
        if let Some(request) = self.state.act(action) {
            self.native.answer(&mut self.state, request);
        }
    }

    fn pass(&mut self) {
        self.pace.pass(&mut self.state);
    }
}

/// The clock, from when it was first looked at.
fn seconds() -> f64 {
    static BEGAN: LazyLock<Instant> = LazyLock::new(Instant::now);
    BEGAN.elapsed().as_secs_f64()
}
