//! A plane through both casts: the lines in which it cuts them, and the vertical gap between those.
//!
//! Everything in a section is drawn in the plane itself: across (forward, to the left or outward, as
//! the cut says) and up along the occlusal plane's normal, both in millimetres.

mod gap;
mod lines;
mod plane;
#[cfg(test)]
mod tests;

pub use gap::SectionGap;
pub use plane::{Cut, SectionLine};

use super::Surface;
use crate::frame::JawPose;

/// What a plane cuts out of both casts.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Section {
    /// Lines on the upper cast.
    pub upper: Vec<SectionLine>,
    /// Lines on the lower cast, as it stands in the jaw pose.
    pub lower: Vec<SectionLine>,
}

impl Section {
    /// The section of two casts, each in its member's frame, in a jaw pose.
    #[must_use]
    pub fn of(upper: &Surface, lower: &Surface, jaw: &JawPose, cut: &Cut) -> Self {
        Self { upper: lines::cut(upper, cut), lower: lines::cut(lower, &cut.in_lower(jaw)) }
    }

    /// The least vertical gap between the two casts within the plane: from the topmost of the lower
    /// cast up to the lowest of the upper one, below zero where the lower stands above the upper.
    /// `None` where neither is over the other.
    #[must_use]
    pub fn least_gap(&self) -> Option<SectionGap> {
        gap::least(&self.upper, &self.lower)
    }
}
