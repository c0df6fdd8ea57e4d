//! A term, and what it belongs to.

use sim_core::units::Unit;

/// A term.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Term {
    /// What it is called here.
    pub term: &'static str,
    /// What else it is called; also other forms of the word that a label may use.
    pub also: &'static [&'static str],
    /// What it is.
    pub meaning: &'static str,
    /// The unit that it is counted in, where it is a quantity.
    pub unit: Option<Unit>,
    /// What it belongs to.
    pub section: Section,
}

/// What a term belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Section {
    /// Movements of the jaw, and sides.
    Movements,
    /// What can be set on the instrument.
    Settings,
    /// The instrument and its parts.
    Instrument,
    /// Teeth, casts and what is read at them.
    Teeth,
    /// A patient's records and the bench.
    Records,
}

impl Section {
    /// Every section, in order.
    pub const ALL: [Self; 5] =
        [Self::Movements, Self::Settings, Self::Instrument, Self::Teeth, Self::Records];

    /// Its heading.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            Self::Movements => "Movements and sides",
            Self::Settings => "Settings",
            Self::Instrument => "The instrument",
            Self::Teeth => "Teeth",
            Self::Records => "Records",
        }
    }
}
