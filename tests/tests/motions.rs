//! Whole excursions: where they start and end, how they are cut, what movements they give.

use approx::assert_relative_eq;
use sim_core::excursion::{
    BennettMovement, Drive, Excursion, Mechanism, Motion, Movement, Obstacle, Ratio, SampleCount,
};
use sim_core::frame::{JawPose, Side};
use sim_core::guide::{ArcPath, GuidePath};
use sim_core::instrument::Instrument;
use sim_core::units::{Angle, Length};
use whole_checks::tolerance::{ROUNDED, SOLVED};

/// A root of squares of a hundred millimetres, less a hundred millimetres: two digits more are lost.
const ROOT_MM: f64 = 1e-10;

const TO_THE_RIGHT: Movement = Movement::Lateral { working: Side::Right };

fn motion(instrument: &Instrument, movement: Movement, drive: Drive, samples: i64) -> Motion {
    let excursion = Excursion::new(movement, drive).expect("an excursion");
    Mechanism::new(instrument).motion(&excursion, SampleCount::new(samples).expect("a count"))
}

fn advances(motion: &Motion) -> Vec<f64> {
    motion.placements().iter().map(|placed| placed.advance().mm()).collect()
}

#[test]
fn samples_are_even_in_what_drives_them_and_both_ends_are_among_them() {
    let instrument = Instrument::zeroed();
    let by_advance = motion(&instrument, Movement::Protrusive, Drive::Advance(Length::from_mm(6.0)), 5);
    assert_eq!(advances(&by_advance), [0.0, 1.5, 3.0, 4.5, 6.0]);

    let by_incisor = motion(&instrument, TO_THE_RIGHT, Drive::IncisalDisplacement(Length::from_mm(8.0)), 5);
    let rest = by_incisor.placements()[0].incisal_point;
    for (placed, wanted) in by_incisor.placements().iter().zip([0.0, 2.0, 4.0, 6.0, 8.0]) {
        assert_relative_eq!(placed.incisal_point.distance_mm(&rest), wanted, epsilon = SOLVED);
    }

    let opened = motion(&instrument, Movement::Opening, Drive::Opening(Angle::from_degrees(8.0)), 3);
    let openings: Vec<f64> = opened.placements().iter().map(|placed| placed.opening().degrees()).collect();
    for (opening, wanted) in openings.into_iter().zip([0.0, 4.0, 8.0]) {
        assert_relative_eq!(opening, wanted, epsilon = ROUNDED);
    }
}

#[test]
fn immediate_translation_is_a_pure_sideways_move_before_any_advance() {
    let mut instrument = Instrument::zeroed();
    instrument.left_guide.immediate_translation = Length::from_mm(0.8);
    let right = motion(&instrument, TO_THE_RIGHT, Drive::Advance(Length::from_mm(6.0)), 4);
    assert_eq!(advances(&right), [0.0, 0.0, 2.0, 4.0, 6.0]);
    assert_eq!(right.placements()[0].jaw, JawPose::identity());
    let shifted = &right.placements()[1];
    assert_relative_eq!(shifted.left.medial.mm(), 0.8, epsilon = ROUNDED);
    assert_relative_eq!(shifted.right.medial.mm(), -0.8, epsilon = ROUNDED);
    assert_relative_eq!(shifted.jaw.translation().y, -0.8, epsilon = ROUNDED);
    // The other side's excursion, and protrusion, have none of it.
    let left = Movement::Lateral { working: Side::Left };
    assert_eq!(motion(&instrument, left, Drive::Advance(Length::from_mm(6.0)), 4).placements().len(), 4);
    assert_eq!(
        motion(&instrument, Movement::Protrusive, Drive::Advance(Length::from_mm(6.0)), 4).placements().len(),
        4
    );

    // Driven by the incisal point the sideways move is part of the way.
    let by_incisor = motion(&instrument, TO_THE_RIGHT, Drive::IncisalDisplacement(Length::from_mm(0.8)), 3);
    let half = &by_incisor.placements()[1];
    assert_eq!(half.advance().mm(), 0.0);
    assert_relative_eq!(half.left.medial.mm(), 0.4, epsilon = SOLVED);
}

#[test]
fn a_path_that_ends_stops_the_excursion_and_keeps_the_good_part() {
    let mut instrument = Instrument::zeroed();
    instrument.left_guide.path = GuidePath::Arc(ArcPath { radius: Length::from_mm(3.0) });
    let stopped = motion(&instrument, TO_THE_RIGHT, Drive::Advance(Length::from_mm(6.0)), 7);
    assert_eq!(advances(&stopped), [0.0, 1.0, 2.0, 3.0, 4.0]);
    let no_pose = stopped.stopped().expect("the arc ends at 4.5 mm");
    assert_eq!(no_pose.advance.mm(), 5.0);
    // r(1 + sin H) with r = 3 mm and H = 30°.
    match no_pose.obstacle {
        Obstacle::PastEnd { side: Side::Left, path: "arc", ends_at_mm } => {
            assert_relative_eq!(ends_at_mm, 4.5, epsilon = ROUNDED);
        }
        other => panic!("{other}"),
    }
    assert!(no_pose.to_string().contains("left_guide.path") && no_pose.to_string().contains("5 mm"));
    // The right guide does not steer a right lateral movement.
    let left = Movement::Lateral { working: Side::Left };
    assert!(motion(&instrument, left, Drive::Advance(Length::from_mm(6.0)), 7).stopped().is_none());
}

#[test]
fn settings_without_a_pose_are_named() {
    let mut far_apart = Instrument::zeroed();
    far_apart.left_guide.horizontal_inclination = Angle::from_degrees(85.0);
    let stopped = motion(&far_apart, Movement::Protrusive, Drive::Advance(Length::from_mm(20.0)), 21);
    assert!(matches!(stopped.stopped().expect("too far apart").obstacle, Obstacle::Unbridged { .. }));
    assert!(!stopped.placements().is_empty());

    let wanted = Drive::IncisalDisplacement(Length::from_mm(40.0));
    let mut short = Instrument::zeroed();
    short.right_guide.path = GuidePath::Arc(ArcPath { radius: Length::from_mm(3.0) });
    short.left_guide.path = short.right_guide.path.clone();
    let stopped = motion(&short, Movement::Protrusive, wanted, 3);
    assert!(matches!(stopped.stopped().expect("not so far").obstacle, Obstacle::PastEnd { .. }));

    // A table 60 mm below the axis is out of reach of a tip that is 36 mm from it.
    let mut unreached = Instrument::zeroed();
    unreached.pin_extension = Length::from_mm(-30.0);
    unreached.incisal_point = sim_core::instrument::IncisalPoint::mm(20.0, 0.0, -60.0);
    let stopped = motion(&unreached, Movement::Protrusive, Drive::Advance(Length::from_mm(2.0)), 3);
    assert!(matches!(stopped.stopped().expect("not reached").obstacle, Obstacle::GuideNotReached));
}

/// With a straight medial wall and no other, the Bennett movement follows from the distance of the
/// spheres alone: (w − m + s)² + t² + v² = w².
#[test]
fn the_bennett_movement_keeps_the_distance_of_the_spheres() {
    let instrument = Instrument::zeroed();
    let motion = motion(&instrument, TO_THE_RIGHT, Drive::Advance(Length::from_mm(6.0)), 7);
    let bennett = |placed| BennettMovement::of(placed, Side::Right);
    let w: f64 = 110.0;
    for placed in motion.placements() {
        let moved = bennett(placed);
        let t = placed.advance().mm();
        let (m, v) = (t * 30_f64.to_radians().tan(), t * 30_f64.to_radians().tan());
        let s = (w * w - t * t - v * v).sqrt() - w + m;
        assert_relative_eq!(moved.outward.mm(), s, epsilon = ROOT_MM);
        assert_eq!((moved.backward.mm().abs(), moved.upward.mm().abs()), (0.0, 0.0));
    }
    assert_eq!(motion.placements().len(), 7);
    assert!(bennett(&motion.placements()[6]).outward.mm() > 3.0);

    let mut walled = instrument.clone();
    walled.right_guide.lateroretrusion = Angle::from_degrees(10.0);
    walled.right_guide.laterosurtrusion = Angle::from_degrees(-5.0);
    let excursion = Excursion::new(TO_THE_RIGHT, Drive::Advance(Length::from_mm(6.0))).expect("an excursion");
    let motion = Mechanism::new(&walled).motion(&excursion, SampleCount::new(2).expect("a count"));
    let moved = bennett(&motion.placements()[1]);
    let s = moved.outward.mm();
    assert_relative_eq!(moved.backward.mm(), s * 10_f64.to_radians().tan(), epsilon = ROUNDED);
    assert_relative_eq!(moved.upward.mm(), -s * 5_f64.to_radians().tan(), epsilon = ROUNDED);
    assert_eq!(Movement::Protrusive.working_side(), None);
}

#[test]
fn excursions_that_cannot_be_are_refused() {
    let refused = |movement, drive| Excursion::new(movement, drive).expect_err("refused").to_string();
    assert!(refused(Movement::Protrusive, Drive::Advance(Length::from_mm(0.0))).contains("0.001 to 30 mm"));
    assert!(
        refused(Movement::Protrusive, Drive::Advance(Length::from_mm(f64::NAN)))
            .contains("not a finite number")
    );
    assert!(
        refused(Movement::Opening, Drive::Advance(Length::from_mm(5.0))).contains("opening cannot be driven")
    );
    let angle = Drive::Opening(Angle::from_degrees(5.0));
    assert!(refused(TO_THE_RIGHT, angle).contains("right_lateral cannot be driven"));
    for ratio in [0.0, 1.0, -0.1, f64::NAN] {
        assert!(Ratio::new(ratio).expect_err("refused").to_string().contains("between 0"));
    }
}
