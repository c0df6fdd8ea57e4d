//! What another setting makes of the teeth in the way.

use super::Interference;

/// What becomes of one pair of teeth in one excursion.
#[derive(Clone, Copy, Debug, PartialEq)]
#[allow(clippy::large_enum_variant)] // a handful of them, shown and dropped
pub enum Difference {
    /// In the way before, and not seen after.
    Hidden(Interference),
    /// Not in the way before, and seen after.
    Invented(Interference),
    /// In the way before and after.
    Changed {
        /// As it was.
        before: Interference,
        /// As it is seen after.
        after: Interference,
    },
}

impl Difference {
    /// By how much the reduction of the upper tooth that is asked for grows, in millimetres: less than
    /// zero where part or all of it is hidden.
    #[must_use]
    pub fn growth_mm(&self) -> f64 {
        match self {
            Self::Hidden(before) => -before.upper_reduction.mm(),
            Self::Invented(after) => after.upper_reduction.mm(),
            Self::Changed { before, after } => after.upper_reduction.mm() - before.upper_reduction.mm(),
        }
    }
}

/// Holds two lists of interferences against each other: with `before` from the patient's settings
/// and `after` from a wrongly set instrument, what the instrument hides and what it invents. The
/// greatest difference comes first.
#[must_use]
pub fn differences(before: &[Interference], after: &[Interference]) -> Vec<Difference> {
    let same = |one: &Interference, other: &Interference| {
        one.movement == other.movement && one.teeth() == other.teeth()
    };
    let partner = |of: &Interference, among: &[Interference]| among.iter().find(|one| same(of, one)).copied();
    let was = before.iter().map(|&before| match partner(&before, after) {
        Some(after) => Difference::Changed { before, after },
        None => Difference::Hidden(before),
    });
    let new = after.iter().filter(|after| partner(after, before).is_none());
    let mut all: Vec<Difference> = was.chain(new.map(|&after| Difference::Invented(after))).collect();
    all.sort_by(|one, other| other.growth_mm().abs().total_cmp(&one.growth_mm().abs()));
    all
}
