//! The first interference of an excursion.

use crate::bracket;
use crate::cusp::{CONTACT_MM, Gauges};
use crate::excursion::SampleCount;
use crate::excursion::{Drive, Mechanism, Movement, NoPose, Station};
use crate::units::Length;

/// Length to which the beginning is found, in millimetres; what counts as contact is as wide.
const TOLERANCE_MM: f64 = 1e-9;

/// The cusp that interferes first, by its place among the gauges, and the condylar advance in
/// millimetres at which it begins.
///
/// Looked for at the samples from no advance to the end, then narrowed between two of them; what comes and goes
/// between two samples is not seen.
///
/// # Errors
/// [`NoPose`] where the settings admit none before an interference is met.
pub(super) fn first(
    mechanism: &Mechanism,
    (movement, end): (Movement, Drive),
    samples: SampleCount,
    gauges: &Gauges,
) -> Result<Option<(usize, f64)>, NoPose> {
    let end_mm = match end {
        Drive::Advance(length) => length.mm(),
        Drive::IncisalDisplacement(length) => {
            mechanism.at_incisal_displacement(movement, length)?.advance().mm()
        }
        Drive::Tracing(length) => mechanism.at_tracing_distance(movement, length)?.advance().mm(),
        Drive::Opening(_) => return Ok(None),
    };
    let at = |advance_mm: f64| mechanism.at(movement, Station::advanced(Length::from_mm(advance_mm)));
    let last = samples.get() - 1;
    let mut before = 0.0;
    for sample in 0..=last {
        #[allow(clippy::cast_precision_loss)] // counts are far below 2^53
        let advance_mm = end_mm * sample as f64 / last as f64;
        let placed = at(advance_mm)?;
        let mut found: Option<(usize, f64)> = None;
        for (cusp, reading) in gauges.read(&placed.jaw).enumerate() {
            if !reading.interferes() {
                continue;
            }
            let begins = if sample == 0 {
                0.0
            } else {
                let spare = |advance_mm: f64| {
                    let jaw = at(advance_mm)?.jaw;
                    let reading = gauges.read(&jaw).nth(cusp);
                    Ok(reading.map_or(0.0, |reading| reading.clearance.mm() + CONTACT_MM))
                };
                let values = (spare(before)?, reading.clearance.mm() + CONTACT_MM);
                bracket::root((before, advance_mm), values, TOLERANCE_MM, spare)?
            };
            if found.is_none_or(|(_, earliest)| begins < earliest) {
                found = Some((cusp, begins));
            }
        }
        if found.is_some() {
            return Ok(found);
        }
        before = advance_mm;
    }
    Ok(None)
}
