//! Where two surfaces come nearest.

use crate::cusp::Tooth;
use crate::frame::{LowerPoint, UpperPoint};
use crate::units::Length;

/// Where two surfaces come nearest, and how near.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Nearest {
    /// The gap there; below zero where the surfaces pass through each other.
    pub gap: Length,
    /// The place on the upper surface.
    pub upper: UpperPoint,
    /// The place on the lower surface.
    pub lower: LowerPoint,
    /// The tooth of the upper place.
    pub upper_tooth: Option<Tooth>,
    /// The tooth of the lower place.
    pub lower_tooth: Option<Tooth>,
}

impl Nearest {
    pub(super) const fn nowhere() -> Self {
        Self {
            gap: Length::from_mm(f64::INFINITY),
            upper: UpperPoint::mm(0.0, 0.0, 0.0),
            lower: LowerPoint::mm(0.0, 0.0, 0.0),
            upper_tooth: None,
            lower_tooth: None,
        }
    }
}
