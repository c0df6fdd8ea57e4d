//! What no tracing can be read from.

use proptest::prelude::*;

use super::{Chance, Made};
use crate::tracing::{ExamineError, Leg, PlatePoint, Recorded, USUAL_RADIUS, examine};
use crate::units::Length;

fn changed(change: impl Fn(Leg, PlatePoint) -> PlatePoint) -> ExamineError {
    let mut chance = Chance(1);
    let [protrusive, right, left] = Leg::ALL.map(|leg| {
        let points = Made::default().leg(leg, &mut chance);
        points.into_iter().map(|point| change(leg, point)).collect::<Vec<_>>()
    });
    examine(&Recorded::new(protrusive, right, left).unwrap(), USUAL_RADIUS).unwrap_err()
}

fn anywhere() -> impl Strategy<Value = Vec<PlatePoint>> {
    // Few places, so that points coincide, stand in line and make corners of all kinds.
    let coordinate = prop_oneof![-9.0..9.0_f64, (-4..4_i32).prop_map(f64::from)];
    let point = (coordinate.clone(), coordinate).prop_map(|(forward, left)| PlatePoint::mm(forward, left));
    proptest::collection::vec(point, 6..40)
}

proptest! {
    /// Whatever the points, there are figures or a reason why not, and figures are numbers.
    #[test]
    fn points_anywhere_are_read_or_refused(legs in [anywhere(), anywhere(), anywhere()]) {
        let [protrusive, right, left] = legs;
        let Ok(recorded) = Recorded::new(protrusive, right, left) else { return Ok(()) };
        if let Ok(found) = examine(&recorded, USUAL_RADIUS) {
            let angle = found.apex_angle;
            prop_assert!(angle.value.degrees().is_finite() && angle.standard_error.degrees().is_finite());
            prop_assert!(found.apex.at.forward.mm().is_finite() && found.apex.at.left.mm().is_finite());
            prop_assert!(found.apex.ellipse.greater.mm() >= found.apex.ellipse.lesser.mm());
            let (low, high) = found.roundness.interval;
            prop_assert!(low <= found.roundness.radius && found.roundness.radius <= high);
        }
    }
}

#[test]
fn a_radius_out_of_range_is_refused() {
    for given in [0.0, -6.0, 21.0, f64::NAN, f64::INFINITY] {
        let error = examine(&Made::default().tracing(1), Length::from_mm(given)).unwrap_err();
        assert!(error.to_string().contains("allowed are 1 to 20 mm"), "{error}");
    }
}

#[test]
fn sides_exchanged_are_noticed() {
    assert_eq!(changed(|_, point| PlatePoint { left: -point.left, ..point }), ExamineError::SidesExchanged);
}

#[test]
fn a_tracing_upside_down_is_noticed() {
    let error = changed(|_, point| PlatePoint { forward: -point.forward, left: -point.left });
    assert!(matches!(error, ExamineError::Askew { .. }), "{error}");
    assert!(error.to_string().contains("180°"), "{error}");
}

#[test]
fn lateral_legs_in_one_line_have_no_apex() {
    let error = changed(|leg, point| match leg {
        Leg::Protrusive => point,
        _ => PlatePoint { forward: point.forward * 0.02, ..point },
    });
    assert!(matches!(error, ExamineError::NoCorner { .. }), "{error}");
}

#[test]
fn lateral_legs_that_are_the_same_have_no_apex() {
    let mut chance = Chance(1);
    let right = Made::default().leg(Leg::RightLateral, &mut chance);
    let protrusive = Made::default().leg(Leg::Protrusive, &mut chance);
    let error = examine(&Recorded::new(protrusive, right.clone(), right).unwrap(), USUAL_RADIUS).unwrap_err();
    assert!(matches!(error, ExamineError::NoCorner { .. }), "{error}");
}

#[test]
fn legs_that_stop_short_of_the_range_are_refused() {
    let short = Made { length_mm: 1.3, points: 20, ..Made::default() };
    let error = examine(&short.tracing(1), USUAL_RADIUS).unwrap_err();
    assert!(matches!(error, ExamineError::TooFew { .. }), "{error}");
}
