//! Out of order, doubled, retraced, with stray marks: still the same tracing.

use super::{Chance, Made};
use crate::tracing::{Findings, Leg, Objection, Order, PlatePoint, Recorded, Shape, USUAL_RADIUS, examine};

fn legs(made: &Made, seed: u64) -> [Vec<PlatePoint>; 3] {
    let mut chance = Chance(seed);
    Leg::ALL.map(|leg| made.leg(leg, &mut chance))
}

fn found([protrusive, right, left]: [Vec<PlatePoint>; 3]) -> Findings {
    examine(&Recorded::new(protrusive, right, left).unwrap(), USUAL_RADIUS).unwrap()
}

fn shuffled(mut points: Vec<PlatePoint>, chance: &mut Chance) -> Vec<PlatePoint> {
    for last in (1..points.len()).rev() {
        points.swap(last, (chance.even() * (last + 1) as f64) as usize);
    }
    points
}

#[test]
fn the_order_of_the_points_changes_nothing_but_is_told() {
    let made = Made::default();
    let in_order = found(legs(&made, 5));
    let mut chance = Chance(6);
    let mixed = found(legs(&made, 5).map(|leg| shuffled(leg, &mut chance)));
    assert!(in_order.apex.at.distance(&mixed.apex.at).mm() < 1e-9);
    assert!((in_order.apex_angle.value - mixed.apex_angle.value).degrees().abs() < 1e-7);
    assert_eq!(in_order.leg(Leg::Protrusive).order, Order::Once);
    assert_eq!(mixed.leg(Leg::Protrusive).order, Order::Mixed);
    let line = &mixed.leg(Leg::LeftLateral).line;
    let from_apex = |point: &PlatePoint| point.distance(&mixed.apex.at).mm();
    assert!(line.windows(2).all(|pair| from_apex(&pair[0]) < from_apex(&pair[1]) + 0.2), "sorted outward");
}

#[test]
fn points_given_twice_do_not_lessen_the_standard_errors() {
    let made = Made::default();
    let once = found(legs(&made, 7));
    let twice = found(legs(&made, 7).map(|leg| [leg.clone(), leg].concat()));
    assert!(once.apex.at.distance(&twice.apex.at).mm() < 1e-12);
    assert_eq!(once.apex_angle.standard_error, twice.apex_angle.standard_error);
    assert_eq!(twice.leg(Leg::Protrusive).repeated, made.points);
    assert_eq!(twice.leg(Leg::Protrusive).order, Order::Retraced { passes: 2 });
}

#[test]
fn a_leg_gone_over_again_is_one_leg_with_smaller_errors() {
    let made = Made::default();
    let once = found(legs(&made, 8));
    let (first, second, third) = (legs(&made, 8), legs(&made, 9), legs(&made, 10));
    let thrice = found([0, 1, 2].map(|leg| {
        let back: Vec<_> = second[leg].iter().rev().copied().collect();
        [first[leg].clone(), back, third[leg].clone()].concat()
    }));
    assert_eq!(thrice.leg(Leg::RightLateral).order, Order::Retraced { passes: 3 });
    let error = |findings: &Findings| findings.apex_angle.standard_error.degrees();
    assert!(error(&thrice) < error(&once));
    assert!(thrice.objections().is_empty(), "{:?}", thrice.objections());
}

#[test]
fn stray_marks_are_set_aside() {
    let made = Made::default();
    let clean = found(legs(&made, 11));
    let mut chance = Chance(12);
    let stray = found(legs(&made, 11).map(|mut leg| {
        for index in [20, 30, 40, 47, 52] {
            leg[index].left = leg[index].left + crate::units::Length::from_mm(0.5 + 2.0 * chance.even());
            leg[index].forward = leg[index].forward - crate::units::Length::from_mm(1.0 * chance.even());
        }
        leg
    }));
    let off = stray.apex.at.distance(&clean.apex.at).mm();
    assert!(off < 3.0 * clean.apex.ellipse.greater.mm(), "apex moved by {off} mm");
    assert!(stray.leg(Leg::Protrusive).set_aside >= 4, "{}", stray.leg(Leg::Protrusive).set_aside);
    assert!((stray.leg(Leg::Protrusive).scatter.mm() - made.scatter_mm).abs() < 0.015);
    assert!(stray.objections().is_empty());
}

#[test]
fn one_tracing_is_not_taken_for_two() {
    // Some thousand legs: a false alarm in a thousand tracings would be one too many.
    for seed in 0..350 {
        let findings = found(legs(&Made::default(), 1000 + seed));
        assert!(findings.second_apex.is_none(), "seed {seed}: {:?}", findings.second_apex);
        assert!(findings.legs.iter().all(|leg| leg.two_lines.is_none()), "seed {seed}");
    }
}

fn doubled(away: (f64, f64), second_points: usize, seed: u64) -> Findings {
    let first = Made::default();
    let second =
        Made { apex: (first.apex.0 + away.0, first.apex.1 + away.1), points: second_points, ..first };
    let (one, other) = (legs(&first, seed), legs(&second, seed + 1));
    let mut chance = Chance(seed + 2);
    found([0, 1, 2].map(|leg| shuffled([one[leg].clone(), other[leg].clone()].concat(), &mut chance)))
}

#[test]
fn a_double_apex_is_found_whichever_way_it_moved() {
    let stands = Made::default().apex;
    for (index, way_deg) in (0..360).step_by(30).enumerate() {
        let distance = 0.6;
        let (sin, cos) = f64::from(way_deg).to_radians().sin_cos();
        let findings = doubled((distance * cos, distance * sin), 45, 100 + 10 * index as u64);
        let Some(second) = findings.second_apex else { panic!("moved {way_deg}°: no second apex") };
        let (is, error) = (second.distance.value.mm(), second.distance.standard_error.mm());
        assert!((is - distance).abs() < 4.0 * error, "{way_deg}°: {is} ± {error} mm");
        assert!(error < 0.1, "{error}");
        let true_second = PlatePoint::mm(stands.0 + distance * cos, stands.1 + distance * sin);
        let off = second.at.distance(&true_second).mm();
        assert!(off < 0.2, "{way_deg}°: second apex {off} mm off");
        let off = findings.apex.at.distance(&PlatePoint::mm(stands.0, stands.1)).mm();
        assert!(off < 0.2, "{way_deg}°: apex of the stronger tracing {off} mm off");
        assert!(matches!(findings.objections().last(), Some(Objection::Double(_))));
    }
}

#[test]
fn a_rounded_apex_is_told_from_a_sharp_one_in_spite_of_scatter() {
    let (mut sharp, mut rounded) = (0, 0);
    for seed in 0..40 {
        let of = |radius_mm| found(legs(&Made { radius_mm, ..Made::default() }, 500 + seed)).roundness;
        sharp += usize::from(of(0.0).shape == Shape::Sharp);
        let round = of(2.0);
        rounded += usize::from(round.shape == Shape::Rounded);
        assert!((round.radius.mm() - 2.0).abs() < 0.8, "{round:?}");
    }
    assert!(sharp >= 39 && rounded >= 39, "{sharp} of 40 sharp, {rounded} of 40 rounded");
}

#[test]
fn without_points_near_the_apex_its_shape_is_unclear() {
    let far = |leg: Vec<PlatePoint>| leg.into_iter().skip(12).collect::<Vec<_>>();
    let findings = found(legs(&Made::default(), 3).map(far));
    assert_eq!(findings.roundness.shape, Shape::Unclear);
    assert!(matches!(findings.objections()[..], [Objection::Unclear(_)]));
}

#[test]
fn a_leg_that_ends_before_the_arc_does_not_meet_it() {
    let findings = found(legs(&Made { length_mm: 4.5, ..Made::default() }, 3));
    assert!(findings.legs.iter().all(|leg| leg.meets.is_none() && leg.chord.is_none()));
    let nearer = Recorded::new(
        findings.leg(Leg::Protrusive).line.clone(),
        findings.leg(Leg::RightLateral).line.clone(),
        findings.leg(Leg::LeftLateral).line.clone(),
    )
    .unwrap();
    let nearer = examine(&nearer, crate::units::Length::from_mm(4.0)).unwrap();
    assert!(nearer.legs.iter().all(|leg| leg.meets.is_some()));
}
