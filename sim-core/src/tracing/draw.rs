//! The tracing that a stylus on the upper rim draws on a horizontal plate on the lower one.

use crate::excursion::SampleCount;
use crate::excursion::{Drive, Excursion, ExcursionError, Mechanism, Movement, NoPose, Placement};
use crate::frame::{Side, UpperPoint};
use crate::units::Length;

use super::{PlatePoint, Tracing};

/// Why no tracing can be drawn.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum TracingError {
    /// The length of the legs is out of range.
    #[error(transparent)]
    Reach(#[from] ExcursionError),
    /// The settings admit no pose on a leg.
    #[error(transparent)]
    NoPose(#[from] NoPose),
}

/// Draws the tracing of a spring-loaded stylus: its tip is fixed to the upper member at `stylus`
/// but for sliding along the vertical, and marks the plate, parallel to the horizontal reference
/// plane and fixed to the lower member, where that member's vertical meets it.
///
/// Each leg is driven by the condylar advance to `reach`, in `samples` points, the apex first.
///
/// # Errors
/// [`TracingError`] when `reach` is out of range or a leg admits no pose.
pub fn draw(
    mechanism: &Mechanism,
    stylus: &UpperPoint,
    reach: Length,
    samples: SampleCount,
) -> Result<Tracing, TracingError> {
    let rest = mechanism.rest()?.jaw.to_lower(stylus);
    let mark = |placed: Placement| {
        let tip = placed.jaw.to_lower(stylus);
        PlatePoint { forward: Length::from_mm(tip.x() - rest.x()), left: Length::from_mm(tip.y() - rest.y()) }
    };
    let leg = |movement: Movement| -> Result<Vec<PlatePoint>, TracingError> {
        let excursion = Excursion::new(movement, Drive::Advance(reach))?;
        Ok(mechanism
            .samples(&excursion, samples)
            .map(|sample| sample.map(mark))
            .collect::<Result<_, NoPose>>()?)
    };
    Ok(Tracing {
        protrusive: leg(Movement::Protrusive)?,
        right_lateral: leg(Movement::Lateral { working: Side::Right })?,
        left_lateral: leg(Movement::Lateral { working: Side::Left })?,
    })
}
