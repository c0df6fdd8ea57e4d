//! From what the scales read when the split closed to angles.
//!
//! The mean of the repeats; its variance is the scatter of the repeats over their number and a twelfth
//! of the graduation's square, for a scale that is off by the same, anywhere within a graduation, at
//! every repeat. Where hands round every repeat by itself, the rounding is in the scatter as well, and
//! the error stated is too large rather than too small. Of a single reading the scale's share is all
//! that is known.

use super::bench_record::ScaleReadings;
use super::settings::ReadAngle;
use crate::frame::Side;
use crate::units::Angle;

/// The angle that the scale of one guide was read at, over all records given; `None` without a reading.
///
/// Records with scales of different graduation are pooled with the coarsest.
pub(super) fn read<'c>(records: impl Iterator<Item = &'c ScaleReadings>, side: Side) -> Option<ReadAngle> {
    let (mut readings, mut graduation) = (Vec::new(), 0.0_f64);
    for record in records {
        readings.extend_from_slice(record.of(side));
        graduation = graduation.max(record.graduation_deg);
    }
    let count = readings.len() as f64;
    if readings.is_empty() {
        return None;
    }
    let mean = readings.iter().sum::<f64>() / count;
    let scatter = (readings.len() > 1).then(|| {
        let squares: f64 = readings.iter().map(|reading| (reading - mean).powi(2)).sum();
        squares / (count - 1.0)
    });
    let variance = scatter.unwrap_or(0.0) / count + graduation * graduation / 12.0;
    Some(ReadAngle {
        value: Angle::from_degrees(mean),
        standard_error: Some(Angle::from_degrees(variance.sqrt())),
        mounting_error: None,
        scatter: scatter.map(|variance| Angle::from_degrees(variance.sqrt())),
        records: readings.len(),
    })
}
