//! Points without scatter give the truth back.

use proptest::prelude::*;

use super::Made;
use crate::excursion::{Mechanism, SampleCount};
use crate::frame::UpperPoint;
use crate::scene::Scene;
use crate::tracing::{Leg, PlatePoint, Recorded, Shape, USUAL_RADIUS, draw, examine, lay_over};
use crate::units::Length;

/// Rounding, through a fit of some sixty points of up to ten millimetres.
const ROUNDING: f64 = 1e-8;

proptest! {
    #[test]
    fn a_tracing_without_scatter_gives_back_what_it_was_made_of(
        apex in (-40.0..40.0, -40.0..40.0),
        angles_deg in [-8.0..8.0, 48.0..70.0, 48.0..70.0_f64],
        bends_deg in [-0.6..0.6, -0.6..0.6, -0.6..0.6],
        points in 30..90_usize,
    ) {
        let made = Made { apex, angles_deg, bends_deg, points, scatter_mm: 0.0, ..Made::default() };
        let found = examine(&made.tracing(1), USUAL_RADIUS).unwrap();
        prop_assert!(found.apex.at.distance(&PlatePoint::mm(apex.0, apex.1)).mm() < ROUNDING);
        for leg in Leg::ALL {
            let tangent = found.leg(leg).tangent.value.degrees();
            prop_assert!((tangent - angles_deg[leg as usize]).abs() < 1e-6, "{leg}: {tangent}°");
            let meets = found.leg(leg).meets.unwrap().at;
            let off = (meets.distance(&found.apex.at) - USUAL_RADIUS).mm().abs();
            prop_assert!(off < ROUNDING, "{leg} meets the arc {off} mm beside it");
        }
        let angle = found.apex_angle.value.degrees();
        prop_assert!((angle - angles_deg[1] - angles_deg[2]).abs() < 1e-6, "apex angle {angle}°");
        prop_assert!(found.protrusive_misses_by.value.mm().abs() < ROUNDING);
        prop_assert_eq!(found.roundness.shape, Shape::Sharp);
        prop_assert!(found.second_apex.is_none());
        prop_assert!(found.objections().is_empty());
    }

    #[test]
    fn an_arc_at_the_apex_is_found_with_its_radius(
        radius_mm in 1.1..2.5_f64,
        angles_deg in [-5.0..5.0, 50.0..68.0, 50.0..68.0_f64],
    ) {
        let made = Made {
            radius_mm, angles_deg, bends_deg: [0.0; 3], points: 120, scatter_mm: 0.0, ..Made::default()
        };
        let found = examine(&made.tracing(1), USUAL_RADIUS).unwrap();
        let radius = found.roundness.radius.mm();
        prop_assert!((radius - radius_mm).abs() < 0.02, "{radius} mm should be {radius_mm} mm");
        prop_assert_eq!(found.roundness.shape, Shape::Rounded);
        prop_assert_eq!(found.objections().len(), 1);
        prop_assert!(found.apex.at.distance(&PlatePoint::mm(made.apex.0, made.apex.1)).mm() < 1e-3);
    }
}

/// A tracing drawn by an instrument, as if it had been digitised at `apex`.
fn recorded(mechanism: &Mechanism, apex: PlatePoint) -> Recorded {
    let stylus = UpperPoint::mm(118.0, 0.0, -42.0);
    let drawn = draw(mechanism, &stylus, Length::from_mm(9.0), SampleCount::new(90).unwrap()).unwrap();
    let [protrusive, right, left] = Leg::ALL.map(|leg| {
        let moved = |point: &PlatePoint| PlatePoint {
            forward: point.forward + apex.forward,
            left: point.left + apex.left,
        };
        drawn.leg(leg).iter().map(moved).collect::<Vec<_>>()
    });
    Recorded::new(protrusive, right, left).unwrap()
}

/// A parabola takes the legs' bend; what it leaves over eight millimetres is of the third order.
#[test]
fn an_instruments_own_tracing_is_read_as_it_was_drawn_and_lies_on_itself() {
    let mechanism = Mechanism::new(&Scene::thirty_degree().instrument);
    let apex = PlatePoint::mm(12.0, 7.0);
    let found = examine(&recorded(&mechanism, apex), USUAL_RADIUS).unwrap();
    let off = found.apex.at.distance(&apex).mm();
    assert!(off < 0.005, "apex {off} mm off");
    assert_eq!(found.roundness.shape, Shape::Sharp);
    assert!(found.asymmetry.difference.value.degrees().abs() < 1e-6, "equal guides draw equal sides");
    let angle = found.apex_angle.value.degrees();
    assert!((90.0..170.0).contains(&angle), "an arrow point of {angle}°");
    assert!(found.leg(Leg::RightLateral).meets.unwrap().at.left.mm() > apex.left.mm());

    let stylus = UpperPoint::mm(118.0, 0.0, -42.0);
    let samples = SampleCount::new(200).unwrap();
    let again = draw(&mechanism, &stylus, Length::from_mm(9.5), samples).unwrap();
    let over = lay_over(&again, &found);
    let whole = over.whole.unwrap();
    assert!(whole.rms.mm() < 0.005 && whole.greatest.mm() < 0.006, "{whole:?}");
    assert!(over.turn.degrees().abs() < 0.05, "{:?}", over.turn);
}

#[test]
fn another_instruments_tracing_lies_beside_it_by_what_their_guides_differ() {
    let own = Mechanism::new(&Scene::thirty_degree().instrument);
    let found = examine(&recorded(&own, PlatePoint::APEX), USUAL_RADIUS).unwrap();
    let mut other = Scene::thirty_degree().instrument;
    other.left_guide.lateral_angle = crate::units::Angle::from_degrees(25.0);
    let stylus = UpperPoint::mm(118.0, 0.0, -42.0);
    let drawn =
        draw(&Mechanism::new(&other), &stylus, Length::from_mm(9.5), SampleCount::new(200).unwrap()).unwrap();
    let over = lay_over(&drawn, &found);
    let greatest = |leg: Leg| over.legs[leg as usize].unwrap().greatest.mm();
    assert!(greatest(Leg::Protrusive) < 0.01 && greatest(Leg::LeftLateral) < 0.01);
    // The left guide steers the right lateral leg: at nine millimetres of advance the jaw shifts by
    // 9·(tan 25° − tan 15°) = 1.8 mm more, of which the leg, at some 70° to the middle, shows a third.
    assert!((0.45..0.75).contains(&greatest(Leg::RightLateral)), "{}", greatest(Leg::RightLateral));
}

#[test]
fn a_tracing_turned_about_its_apex_is_told_by_the_turn() {
    let own = Mechanism::new(&Scene::thirty_degree().instrument);
    let stylus = UpperPoint::mm(118.0, 0.0, -42.0);
    let drawn = draw(&own, &stylus, Length::from_mm(9.5), SampleCount::new(200).unwrap()).unwrap();
    let (sin, cos) = 4.0_f64.to_radians().sin_cos();
    let [protrusive, right, left] = Leg::ALL.map(|leg| {
        let turned = |point: &PlatePoint| {
            let (x, y) = (point.forward.mm(), point.left.mm());
            PlatePoint::mm(cos * x - sin * y, sin * x + cos * y)
        };
        drawn.leg(leg).iter().map(turned).collect::<Vec<_>>()
    });
    let found = examine(&Recorded::new(protrusive, right, left).unwrap(), USUAL_RADIUS).unwrap();
    let over = lay_over(&drawn, &found);
    assert!((over.turn.degrees() - 4.0).abs() < 0.05, "{:?}", over.turn);
    assert!(over.turned.unwrap().rms.mm() < 0.005);
    assert!(over.whole.unwrap().rms.mm() > 0.1);
}
