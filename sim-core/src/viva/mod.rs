//! A viva: questions drawn at random, with answers that the solver computes.
//!
//! A question is drawn from the seed of its viva, its level and its number, and is the same for the same
//! three. Its set-up is drawn first; then what is asked; the wrong answers come of typical slips, computed
//! as well. It is drawn anew until exactly one answer is right and every wrong one differs from it, and
//! from each other, clearly.
//!
//! ```
//! use sim_core::viva::{Score, Viva, VivaLevel};
//!
//! let viva = Viva { seed: 7, level: VivaLevel::First };
//! let mut score = Score::default();
//! for number in 0..10 {
//!     let question = viva.question(number);
//!     // Somebody who always takes the first answer.
//!     score.count(question.right == 0);
//! }
//! assert_eq!(score.asked, 10);
//! assert!(score.right < 10);
//! ```

mod answer;
mod ask;
mod level;
mod set_up;
mod templates;

pub use answer::{Slip, Statement, VivaAnswer, VivaValue};
pub use ask::{Asked, VivaQuestion};
pub use level::VivaLevel;

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::SeedableRng;

use crate::practice::dice::Dice;
use templates::Template;

/// A viva: as many questions as are asked of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Viva {
    /// What its questions are drawn from.
    pub seed: u64,
    /// How hard they are.
    pub level: VivaLevel,
}

/// How many questions were answered, and how many right.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Score {
    /// Questions answered.
    pub asked: u32,
    /// Of those answered right at once.
    pub right: u32,
}

impl Score {
    /// Counts an answer.
    pub const fn count(&mut self, is_right: bool) {
        self.asked += 1;
        if is_right {
            self.right += 1;
        }
    }
}

impl Viva {
    /// The question of that number, from 0.
    #[must_use]
    pub fn question(&self, number: u64) -> VivaQuestion {
        // Streams apart for each level and question, so that none depends on those before it.
        let mut generator = ChaCha8Rng::seed_from_u64(self.seed);
        generator.set_stream(number * VivaLevel::ALL.len() as u64 + self.level as u64);
        let mut dice = Dice(generator);
        let templates = Template::of(self.level);
        loop {
            let template = dice.one_of(templates);
            // A template that fits no set-up of these dice gives way to another; a test holds that each fits some.
            if let Some(question) = template.draw(&mut dice, self.level) {
                return question;
            }
        }
    }
}
