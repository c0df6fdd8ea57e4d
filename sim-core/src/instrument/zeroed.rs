//! The zeroed baseline.

use super::{Design, IncisalPoint, Instrument};
use crate::anterior::{AnteriorGuide, Trough};
use crate::guide::CondylarGuide;
use crate::units::{Angle, Length};

impl Instrument {
    /// The zeroed instrument, as it stands before a patient is mounted: horizontal inclination 30°
    /// and lateral angle 30° on both sides, plate and wings level, pin flush with the upper member
    /// and its tip in the middle of the table, no side play (common practice, no source). The
    /// geometry is invented: 110 mm between the condyles, pin tip at (98, 0, −42) mm.
    #[must_use]
    pub fn zeroed() -> Self {
        let guide = || CondylarGuide::straight(Angle::from_degrees(30.0), Angle::from_degrees(30.0));
        Self {
            design: Design::Arcon,
            intercondylar_distance: Length::from_mm(110.0),
            right_guide: guide(),
            left_guide: guide(),
            anterior_guide: AnteriorGuide::Table(Trough::LEVEL),
            incisal_point: IncisalPoint::mm(98.0, 0.0, -42.0),
            pin_extension: Length::ZERO,
        }
    }

    /// The same instrument with every setting that zeroing speaks of put to its zeroed value;
    /// design and geometry are kept.
    #[must_use]
    pub fn with_settings_zeroed(&self) -> Self {
        let baseline = Self::zeroed();
        Self {
            design: self.design,
            intercondylar_distance: self.intercondylar_distance,
            incisal_point: IncisalPoint { y: Length::ZERO, ..self.incisal_point },
            ..baseline
        }
    }
}
