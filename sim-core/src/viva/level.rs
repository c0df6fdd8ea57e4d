//! How hard a viva is.

/// How hard the questions are.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum VivaLevel {
    /// One guide and its formula; what is near to what.
    First,
    /// Cusps: separation, clearance, what acts on them; the split.
    Second,
    /// Designs, tracings, axes.
    Third,
}

impl VivaLevel {
    /// All, easiest first.
    pub const ALL: [Self; 3] = [Self::First, Self::Second, Self::Third];

    /// `first`, `second` or `third`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::First => "first",
            Self::Second => "second",
            Self::Third => "third",
        }
    }
}
