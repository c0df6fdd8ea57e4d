//! A condyle as an object.

use serde::Serialize;
use sim_core::excursion::CondyleReading;

use crate::rows::exact;

/// Where a condyle stands on its guide.
#[derive(Serialize)]
pub struct Condyle {
    advance_mm: f64,
    medial_mm: f64,
    drop_mm: f64,
}

impl From<&CondyleReading> for Condyle {
    fn from(reading: &CondyleReading) -> Self {
        Self {
            advance_mm: exact(reading.advance.mm()),
            medial_mm: exact(reading.medial.mm()),
            drop_mm: exact(reading.drop.mm()),
        }
    }
}
