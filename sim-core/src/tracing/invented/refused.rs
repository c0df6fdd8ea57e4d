//! What no tracing can be read from.

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

#[test]
fn a_radius_out_of_range_is_refused() {
    for given in [0.0, -6.0, 21.0, f64::NAN, f64::INFINITY] {
        let error = examine(&Made::default().tracing(1), Length::mm(given)).unwrap_err();
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
