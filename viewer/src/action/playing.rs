//! Playing, stepping and scrubbing along the excursion.

use crate::state::State;

/// Speed of play, in millimetres (degrees) a second.
const SPEED: f64 = 1.5;
/// A hand that has changed nothing for this long has come to rest, in seconds.
const REST: f64 = 0.35;
/// A position this near to the last counts as there.
const THERE: f64 = 1e-9;

impl State {
    pub(super) fn play_or_pause(&mut self) {
        self.playing = !self.playing;
        self.since_sample = 0.0;
        if self.playing && self.at + 1 >= self.shown.solved.samples().len() {
            self.playing_back = false;
            self.at = 0;
        }
    }

    /// Somebody moves along the excursion: it is not taken back to where it stood before a change.
    pub(super) fn move_along(&mut self) {
        if let Some(rough) = &mut self.rough {
            rough.driven = None;
        }
    }

    pub(super) fn step(&mut self, by: f64) {
        self.playing = false;
        self.move_along();
        let solved = &self.shown.solved;
        let next = solved.nearest(self.sample().driven + by);
        // A side shift is a sample of its own, at the same position.
        self.at = match by {
            by if by > 0.0 && next <= self.at => (self.at + 1).min(solved.samples().len() - 1),
            by if by > 0.0
                && self.at == 0
                && solved.samples().get(1).is_some_and(|sample| sample.driven < THERE) =>
            {
                1
            }
            by if by < 0.0 && next >= self.at => self.at.saturating_sub(1),
            _ => next,
        };
    }

    /// Lets time pass: playing goes on, and what was drawn roughly is drawn in full once the hand rests.
    pub fn pass(&mut self, seconds: f64) {
        if let Some(rough) = &mut self.rough {
            rough.rested += seconds;
            if rough.rested > REST {
                self.solve_edited(false);
            }
        }
        self.play(seconds);
        self.wait_for_plan(seconds);
        self.hold_axes();
        self.read_casts();
        self.follow_envelope();
        self.follow_kept();
        self.plate.keep_up(&self.shown.scene, self.shown.revision);
    }

    /// There and back again, while playing.
    fn play(&mut self, seconds: f64) {
        if !self.playing {
            return;
        }
        self.move_along();
        self.since_sample += seconds * SPEED;
        let samples = self.shown.solved.samples();
        loop {
            let next = if self.playing_back { self.at.checked_sub(1) } else { Some(self.at + 1) };
            let Some(next) = next.filter(|next| *next < samples.len()) else {
                self.playing_back = !self.playing_back;
                self.since_sample = 0.0;
                return;
            };
            let apart = (samples[next].driven - samples[self.at].driven).abs();
            if apart > self.since_sample {
                return;
            }
            self.since_sample -= apart;
            self.at = next;
        }
    }
}

#[cfg(test)]
mod tests {
    use sim_core::frame::Side;
    use sim_core::guide::CondylarGuide;
    use sim_core::setting::Setting;

    use crate::action::testing::{near, opened};
    use crate::action::{Action, STEP};

    #[test]
    fn steps_go_forward_and_back_through_a_side_shift_at_rest() {
        let mut state = opened();
        state.act(Action::Set(Setting::Guide(&CondylarGuide::IMMEDIATE_TRANSLATION), Side::Left, 1.0));
        let lateral = state.excursions.iter().position(|e| e.movement().name() == "right_lateral").unwrap();
        state.act(Action::Excursion(lateral));
        assert_eq!(state.at, 0);
        state.act(Action::Step(STEP));
        assert!(state.at == 1 && near(state.sample().driven, 0.0));
        state.act(Action::Step(STEP));
        assert!(near(state.sample().driven, STEP));
        for _ in 0..2 {
            state.act(Action::Step(-STEP));
        }
        assert_eq!(state.at, 0);
        state.act(Action::Step(-STEP));
        assert_eq!(state.at, 0);
    }

    #[test]
    fn playing_goes_there_and_back_at_an_even_speed() {
        let mut state = opened();
        state.act(Action::PlayOrPause);
        for _ in 0..20 {
            state.pass(0.1);
        }
        assert!(near(state.sample().driven, 3.0), "{}", state.sample().driven);
        for _ in 0..25 {
            state.pass(0.1);
        }
        assert!(state.playing_back && state.sample().driven < 6.0);
        state.act(Action::PlayOrPause);
        let at = state.at;
        state.pass(10.0);
        assert_eq!(state.at, at);
    }
}
