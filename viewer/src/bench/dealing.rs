//! What patient is to be dealt.

use sim_core::practice::{Deal, DealError, Form, Level, deal_as, drawn_faults};

/// What patient is to be dealt.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Dealing {
    /// How hard.
    pub level: Level,
    /// In which form the records come.
    pub form: Form,
    /// Whether faults are drawn, none to three.
    pub with_faults: bool,
}

impl Default for Dealing {
    fn default() -> Self {
        Self { level: Level::First, form: Form::Coordinates, with_faults: true }
    }
}

impl Dealing {
    /// The patient of a seed.
    ///
    /// # Errors
    /// [`DealError`] where the seed deals none.
    pub fn deal(self, seed: u64) -> Result<Deal, DealError> {
        let faults = if self.with_faults { drawn_faults(seed, self.form) } else { Vec::new() };
        deal_as(self.form, seed, self.level, &faults)
    }

    /// A level in words.
    #[must_use]
    pub const fn level_words(level: Level) -> &'static str {
        match level {
            Level::First => "first",
            Level::Second => "second",
            Level::Third => "third",
        }
    }

    /// A form in words.
    #[must_use]
    pub const fn form_words(form: Form) -> &'static str {
        match form {
            Form::Coordinates => "scanned casts",
            Form::Bench => "scales and gaps",
        }
    }
}
