//! An instrument brought to its baseline.

use super::{Baseline, Design, IncisalPoint, Instrument};
use crate::anterior::AnteriorGuide;
use crate::units::Length;

impl Instrument {
    /// An instrument that stands at the example of a baseline ([`Baseline::example`]), the pin's tip in the
    /// middle of the table. The geometry is invented: arcon, 110 mm between the condyles, pin tip at
    /// (98, 0, −42) mm.
    #[must_use]
    pub fn zeroed() -> Self {
        let Baseline { guide, table, pin_extension } = Baseline::example();
        Self {
            design: Design::Arcon,
            intercondylar_distance: Length::from_mm(110.0),
            right_guide: guide.clone(),
            left_guide: guide,
            anterior_guide: AnteriorGuide::Table(table),
            incisal_point: IncisalPoint::mm(98.0, 0.0, -42.0),
            pin_extension,
        }
    }

    /// The same instrument with every setting that zeroing speaks of put to its value in a baseline, and
    /// the pin's tip to the middle of the table; design and geometry are kept.
    #[must_use]
    pub fn with_settings_zeroed(&self, baseline: &Baseline) -> Self {
        Self {
            design: self.design,
            intercondylar_distance: self.intercondylar_distance,
            right_guide: baseline.guide.clone(),
            left_guide: baseline.guide.clone(),
            anterior_guide: AnteriorGuide::Table(baseline.table),
            incisal_point: IncisalPoint { y: Length::ZERO, ..self.incisal_point },
            pin_extension: baseline.pin_extension,
        }
    }
}
