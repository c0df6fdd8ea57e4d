//! A viva being held.

use sim_core::viva::{Score, Viva, VivaLevel, VivaQuestion};

/// A viva being held. Nothing of it is stored anywhere else.
#[derive(Clone, Debug)]
pub struct Examined {
    /// What its questions are drawn from.
    pub viva: Viva,
    /// The number of the question, from 0.
    pub number: u64,
    /// The question.
    pub question: VivaQuestion,
    /// The answer given, if one is.
    pub chosen: Option<usize>,
    /// How it goes.
    pub score: Score,
}

impl Examined {
    /// A viva at its first question.
    #[must_use]
    pub fn new(level: VivaLevel, seed: u64) -> Self {
        let viva = Viva { seed, level };
        Self { viva, number: 0, question: viva.question(0), chosen: None, score: Score::default() }
    }

    /// Gives an answer; only the first one counts.
    pub fn choose(&mut self, answer: usize) {
        if self.chosen.is_none() && answer < self.question.answers.len() {
            self.chosen = Some(answer);
            self.score.count(answer == self.question.right);
        }
    }

    /// Goes to the next question once this one is answered.
    pub fn next(&mut self) {
        if self.chosen.take().is_some() {
            self.number += 1;
            self.question = self.viva.question(self.number);
        }
    }
}
