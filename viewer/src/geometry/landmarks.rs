//! Points of the mechanism, each in the frame of the member that carries it.

use nalgebra::Vector3;
use sim_core::cusp::{Cusp, CuspTip};
use sim_core::excursion::Placement;
use sim_core::frame::{Side, Upper};
use sim_core::instrument::Instrument;

/// Sphere centre of one side at rest.
#[must_use]
pub fn rest_centre(instrument: &Instrument, side: Side) -> Vector3<f64> {
    *instrument.seat::<Upper>(side).coords()
}

/// Where the guided point rests: the pin tip before it is let down, or the lower incisal edge.
#[must_use]
pub fn rest_point(instrument: &Instrument) -> Vector3<f64> {
    let point = &instrument.incisal_point;
    Vector3::new(point.x.mm(), point.y.mm(), point.z.mm())
}

/// The pin tip in the upper frame, let down as the pin is.
#[must_use]
pub fn pin_tip(instrument: &Instrument) -> Vector3<f64> {
    rest_point(instrument) - Vector3::z() * instrument.pin_extension.mm()
}

/// Where a cusp's tip has gone, in the frame of the opposing member.
#[must_use]
pub fn tip_seen_by_opponent(cusp: &Cusp, placement: &Placement) -> Vector3<f64> {
    match cusp.tip() {
        CuspTip::Upper(point) => *placement.jaw.to_lower(&point).coords(),
        CuspTip::Lower(point) => *placement.jaw.to_upper(&point).coords(),
    }
}
