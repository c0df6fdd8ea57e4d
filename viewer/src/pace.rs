//! When the next frame is drawn: at once while something happens or moves, else not at all.
//!
//! Whoever has a clock says what it shows, in seconds from any beginning.

use std::sync::{Arc, Mutex, PoisonError};

use kiss3d::egui::Context;

use crate::action::Action;
use crate::easel::Easel;
use crate::input::{Typed, actions};
use crate::keys::Held;
use crate::mouse::Mouse;
use crate::state::State;

/// Frames drawn after the last event before resting: panels settle in two.
const SETTLING: u32 = 4;
/// While something moves all the time, what was changed is kept this often, in seconds.
const KEEP_EVERY: f64 = 1.0;
/// Longest time that one frame lets pass while playing, in seconds, so that a stall is not a leap.
const LONGEST_FRAME: f64 = 0.1;

/// What the time has come for.
#[derive(Clone, Debug)]
pub struct Turn {
    /// What was changed is to be kept.
    pub keep: bool,
    /// A frame is to be drawn, after these actions; none where all is at rest.
    pub draw: Option<Vec<Action>>,
}

/// What is known from frame to frame of a window's time and of the hands at it.
pub struct Pace {
    clock: fn() -> f64,
    wanted: Arc<Mutex<Option<f64>>>,
    mouse: Mouse,
    held: Held,
    still: u32,
    last_frame: f64,
    last_kept: f64,
}

impl Pace {
    /// The pace of a window that has these panels, by this clock.
    #[must_use]
    pub fn of(panels: &Context, clock: fn() -> f64) -> Self {
        let wanted = Arc::new(Mutex::new(None));
        let asked = wanted.clone();
        panels.set_request_repaint_callback(move |request| {
            ask(&asked, clock() + request.delay.as_secs_f64());
        });
        let now = clock();
        Self {
            clock,
            wanted,
            mouse: Mouse::default(),
            held: Held::default(),
            still: 0,
            last_frame: now,
            last_kept: now,
        }
    }

    /// Takes in what happened at the window, and decides. `chords` are letters typed with the control key of which the
    /// window does not tell, `has_news` says that something happened elsewhere.
    pub fn turn(&mut self, easel: &mut Easel, state: &State, chords: &[Typed], has_news: bool) -> Turn {
        let input = actions(easel, state, &mut self.mouse, &mut self.held, chords);
        let is_at_rest = !has_news
            && input.is_none()
            && !state.playing
            && state.rough.is_none()
            && state.planning.rested.is_none();
        self.still = if is_at_rest { self.still.saturating_add(1) } else { 0 };
        let now = (self.clock)();
        // At rest, and now and then while there is no rest.
        let keep = self.still == SETTLING || (self.still < SETTLING && now - self.last_kept > KEEP_EVERY);
        if keep {
            self.last_kept = now;
        }
        // Nothing is drawn while nothing changes: neither power nor a fan is spent on a window at rest.
        if self.still > SETTLING && self.wanted_in().is_none_or(|seconds| seconds > 0.0) {
            return Turn { keep, draw: None };
        }
        *self.wanted.lock().unwrap_or_else(PoisonError::into_inner) = None;
        Turn { keep, draw: Some(input.unwrap_or_default()) }
    }

    /// Lets the time since the last frame pass.
    pub fn pass(&mut self, state: &mut State) {
        let now = (self.clock)();
        state.pass((now - self.last_frame).clamp(0.0, LONGEST_FRAME));
        self.last_frame = now;
    }

    /// The panels did something.
    pub const fn disturb(&mut self) {
        self.still = 0;
    }

    /// How often nothing has happened, one time after the other.
    #[must_use]
    pub const fn still(&self) -> u32 {
        self.still
    }

    /// In how many seconds the panels want a frame by themselves: a tooltip that is to come up, say.
    #[must_use]
    pub fn wanted_in(&self) -> Option<f64> {
        let wanted = *self.wanted.lock().unwrap_or_else(PoisonError::into_inner);
        wanted.map(|at| at - (self.clock)())
    }
}

fn ask(wanted: &Mutex<Option<f64>>, at: f64) {
    let mut wanted = wanted.lock().unwrap_or_else(PoisonError::into_inner);
    *wanted = Some(wanted.map_or(at, |earlier| earlier.min(at)));
}
