//! Records as the bench has them, from made-up benches: a jaw whose settings are known, what its records
//! leave at the grooves of the split or on the scales, and the settings back.
//!
//! The made-up bench does not use the code under test: the upper member is brought down by bisection on
//! poses written out here, sphere by sphere, from the definition of the split cast.

use nalgebra::{Isometry3, Rotation3, Translation3, UnitVector3, Vector3};
use proptest::prelude::*;
use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::SeedableRng;
use rand_distr::{Distribution, Normal};
use sim_core::doubt::{Uncertainties, redraw};
use sim_core::excursion::{CondyleReading, Mechanism, Movement, Station};
use sim_core::frame::{JawPose, Side, UpperPoint};
use sim_core::guide::CondylarGuide;
use sim_core::instrument::{Design, Instrument};
use sim_core::record::program::{ProgramError, Source};
use sim_core::record::trial::{BaseMotion, SeatedRecord};
use sim_core::record::warning::Warning;
use sim_core::record::{
    Case, GrooveGaps, GuideHold, MountingFields, NamedAxis, RecordFields, RecordKind, ScaleReadings,
    ScanPlace, SideFields, TrialAngles,
};
use sim_core::units::{Angle, Length};
use whole_checks::patient::millimetres;
use whole_checks::random;
use whole_checks::{deg, tolerance::SOLVED};

/// Millimetres: exact settings close every gap to this.
const CLOSED_MM: f64 = 1e-9;
/// Degrees: gaps made from known settings give them back to this.
const BACK_DEG: f64 = 1e-6;
/// Six grooves of an upper base, millimetres, in the upper frame (invented).
const GROOVES: [[f64; 3]; 6] = [
    [30.0, -24.0, -15.0],
    [30.0, 24.0, -15.0],
    [55.0, -25.0, -16.0],
    [55.0, 25.0, -16.0],
    [86.0, -9.0, -17.0],
    [86.0, 9.0, -17.0],
];

fn grooves() -> Vec<UpperPoint> {
    GROOVES.iter().map(|at| UpperPoint::mm(at[0], at[1], at[2])).collect()
}

fn jaw(design: Design, [right_h, left_h]: [f64; 2], [right_l, left_l]: [f64; 2]) -> Instrument {
    Instrument {
        design,
        right_guide: CondylarGuide::straight(deg(right_h), deg(right_l)),
        left_guide: CondylarGuide::straight(deg(left_h), deg(left_l)),
        ..Instrument::zeroed()
    }
}

fn pose(jaw: &Instrument, kind: RecordKind, advance_mm: f64) -> JawPose {
    let movement = match kind {
        RecordKind::Centric => return JawPose::identity(),
        RecordKind::Protrusive => Movement::Protrusive,
        RecordKind::RightLateral => Movement::Lateral { working: Side::Right },
        RecordKind::LeftLateral => Movement::Lateral { working: Side::Left },
    };
    Mechanism::new(jaw).at(movement, Station::advanced(Length::from_mm(advance_mm))).expect("a pose").jaw
}

fn isometry(jaw: &JawPose) -> Isometry3<f64> {
    let rotation = Rotation3::from_matrix_unchecked(*jaw.rotation());
    Isometry3::from_parts(Translation3::from(*jaw.translation()), rotation.into())
}

/// What the caliper finds: the secondary base on a member whose spheres stand at `held` (advance, medial,
/// drop) turned down about them until the first groove touches; the shift of every groove of it in the
/// frame of the primary base, which the record holds at `jaw`.
fn by_hand(design: Design, jaw: &JawPose, held: [[f64; 3]; 2], w: f64) -> Vec<Vector3<f64>> {
    let record = isometry(jaw);
    let seats = [Vector3::new(0.0, -w / 2.0, 0.0), Vector3::new(0.0, w / 2.0, 0.0)];
    let displacement = |side: usize| {
        let outward = if side == 0 { -1.0 } else { 1.0 };
        Vector3::new(held[side][0], -outward * held[side][1], -held[side][2])
    };
    // The trial's jaw pose but for the turn: its axis ends, and where they rest.
    let (lower, upper): ([Vector3<f64>; 2], [Vector3<f64>; 2]) = match design {
        Design::Arcon => (seats, [0, 1].map(|side| seats[side] + displacement(side))),
        Design::NonArcon => ([0, 1].map(|side| seats[side] - displacement(side)), seats),
    };
    // Upper member over lower: takes the upper points of the axis to the lower ones.
    // By cross product and both parts of the angle: a small one read off a cosine loses half of its digits.
    let (from, to) = (upper[1] - upper[0], lower[1] - lower[0]);
    let across = from.cross(&to);
    let turn =
        Rotation3::new(across.try_normalize(0.0).unwrap_or_default() * across.norm().atan2(from.dot(&to)));
    let axis = UnitVector3::new_normalize(lower[1] - lower[0]);
    let member = |closing: f64| {
        let about = Rotation3::from_axis_angle(&axis, closing);
        let turn = about * turn;
        Isometry3::from_parts(Translation3::from(lower[0] - turn * upper[0]), turn.into())
    };
    let shifts = |closing: f64| -> Vec<Vector3<f64>> {
        let back = record * member(closing);
        GROOVES.iter().map(|at| (back * nalgebra::Point3::from(*at)).coords - Vector3::from(*at)).collect()
    };
    let least = |closing: f64| shifts(closing).iter().map(|shift| shift.z).fold(f64::INFINITY, f64::min);
    // A positive turn about the axis to the left lowers the front.
    let (mut open, mut through) = (-0.6, 0.6);
    assert!(least(open) > 0.0 && least(through) < 0.0);
    for _ in 0..200 {
        let middle = f64::midpoint(open, through);
        if least(middle) >= 0.0 { open = middle } else { through = middle }
    }
    shifts(open)
}

/// Where the trial holds the spheres in a record: advance kept, drop by the trial's straight walls where the
/// record guides, medial shift by its medial wall on the orbiting side; the rest keeps the spheres' distance.
fn held(jaw: &Instrument, trial: &TrialAngles, kind: RecordKind, pose: &JawPose) -> [[f64; 3]; 2] {
    let w = jaw.intercondylar_distance.mm();
    let read =
        Side::BOTH.map(|side| CondyleReading::of_pose(pose, side, jaw.design, jaw.intercondylar_distance));
    let mut held =
        [0, 1].map(|side: usize| [read[side].advance.mm(), read[side].medial.mm(), read[side].drop.mm()]);
    for (at, side) in held.iter_mut().zip(Side::BOTH) {
        if kind.is_guided(side) {
            at[2] = at[0] * trial.inclination_deg(side).to_radians().tan();
        }
    }
    let sense = if jaw.design == Design::Arcon { 1.0 } else { -1.0 };
    let across = (w * w - (held[1][0] - held[0][0]).powi(2) - (held[1][2] - held[0][2]).powi(2)).sqrt();
    let together = sense * (w - across);
    match kind.orbiting() {
        None => {
            let shared = (together - held[0][1] - held[1][1]) / 2.0;
            held[0][1] += shared;
            held[1][1] += shared;
        }
        Some(side) => {
            let lateral = trial.lateral_deg(side).expect("set").to_radians();
            held[side as usize][1] = held[side as usize][0] * lateral.tan();
            held[side.opposite() as usize][1] = together - held[side as usize][1];
        }
    }
    held
}

fn trial(right: f64, left: f64) -> TrialAngles {
    TrialAngles {
        right_deg: right,
        left_deg: left,
        right_lateral_deg: Some(10.0),
        left_lateral_deg: Some(20.0),
    }
}

/// The turn of the member that carries the spheres about its own axis, after the least turn that brings
/// the axis where it is.
fn opening_deg(design: Design, pose: &JawPose) -> f64 {
    let (carrier, sense) = match design {
        Design::Arcon => (*pose.rotation(), 1.0),
        Design::NonArcon => (pose.rotation().transpose(), -1.0),
    };
    let axis = carrier * Vector3::y();
    let least = Rotation3::rotation_between(&Vector3::y(), &axis).expect("no half turn");
    let about = least.matrix().transpose() * carrier;
    sense * f64::atan2(about[(0, 2)], about[(0, 0)]).to_degrees()
}

/// A record given by gaps, exactly.
fn gap_record(
    jaw: &Instrument,
    kind: RecordKind,
    set_at: TrialAngles,
    advance_mm: f64,
    sd_mm: f64,
) -> RecordFields {
    let pose = pose(jaw, kind, advance_mm);
    let held = held(jaw, &set_at, kind, &pose);
    let shifts = by_hand(jaw.design, &pose, held, jaw.intercondylar_distance.mm());
    let opening = opening_deg(jaw.design, &pose);
    let gaps_mm = shifts.iter().map(|shift| shift.z).collect();
    let aside_mm = kind.orbiting().map(|_| shifts.iter().map(|shift| shift.y).collect());
    RecordFields::GrooveGaps(GrooveGaps {
        record: kind,
        set_at,
        gaps_mm,
        aside_mm,
        sd_mm: millimetres(sd_mm),
        advance_mm: Some(SideFields { right: millimetres(held[0][0]), left: millimetres(held[1][0]) }),
        opening_deg: opening,
        perforated: Some(true),
    })
}

fn case(design: Design, records: Vec<RecordFields>) -> Case {
    let place = |at: &[f64; 3]| {
        ScanPlace::new(sim_core::frame::ScanPoint::mm(at[0], at[1], at[2])).expect("within reach")
    };
    Case {
        title: "A bench invented for a test".to_owned(),
        design,
        intercondylar_distance_mm: Some(millimetres(110.0)),
        mounting: MountingFields::Named {
            axis: NamedAxis::Located,
            anterior_reference: "an invented point".to_owned(),
            rods_mm: None,
        },
        lower_landmarks: None,
        records,
        immediate_translation_mm: SideFields::default(),
        split_cast_tolerance_mm: millimetres(0.1),
        split_cast_grooves_mm: None,
        grooves_mm: Some(GROOVES.iter().map(place).collect()),
        advance_mm: None,
        guide_hold: None,
        incisal_point_mm: None,
        occlusal_plane_mm: None,
        cusps: Vec::new(),
        anterior_guide: None,
        incisal_guidance: None,
        casts: None,
        plan: None,
    }
}

const LATERALS: [RecordKind; 2] = [RecordKind::RightLateral, RecordKind::LeftLateral];

proptest! {
    #![proptest_config(random::cases(200))]

    /// The settings of the jaw close the split on its own records, whatever form its guides have.
    #[test]
    fn exact_settings_close_every_gap(jaw in random::straight_jaw(), advance in 1.0..8.0) {
        for kind in [RecordKind::Centric, RecordKind::Protrusive, RecordKind::RightLateral, RecordKind::LeftLateral] {
            let record = SeatedRecord::of_pose(kind, &pose(&jaw, kind, advance), jaw.design, jaw.intercondylar_distance);
            let closed = record.gaps([&jaw.right_guide, &jaw.left_guide], &grooves(), GuideHold::Track).unwrap();
            prop_assert!(closed.greatest().mm() <= CLOSED_MM, "{kind:?}: {:?}", closed.gaps);
        }
    }

    /// At trial angles the gaps are those of the bench made up by bisection.
    #[test]
    fn gaps_at_trial_angles_are_those_of_the_definition(
        h in [15.0..50.0, 15.0..50.0], l in [0.0..25.0, 0.0..25.0],
        set in [10.0..55.0, 10.0..55.0], advance in 2.0..7.0, arcon in any::<bool>(),
    ) {
        let jaw = jaw(if arcon { Design::Arcon } else { Design::NonArcon }, h, l);
        let set_at = trial(set[0], set[1]);
        for kind in [RecordKind::Protrusive, RecordKind::RightLateral, RecordKind::LeftLateral] {
            let pose = pose(&jaw, kind, advance);
            let wanted = by_hand(jaw.design, &pose, held(&jaw, &set_at, kind, &pose), 110.0);
            let guides = Side::BOTH.map(|side| {
                CondylarGuide::straight(deg(set_at.inclination_deg(side)), deg(set_at.lateral_deg(side).unwrap()))
            });
            let record = SeatedRecord::of_pose(kind, &pose, jaw.design, jaw.intercondylar_distance);
            let found = record.gaps([&guides[0], &guides[1]], &grooves(), GuideHold::Track).unwrap();
            for (gap, shift) in found.gaps.iter().zip(&wanted) {
                prop_assert!(gap.mm() >= 0.0 && (gap.mm() - shift.z).abs() <= SOLVED, "{kind:?}: {:?} {wanted:?}", found.gaps);
            }
            prop_assert_eq!(found.gaps[found.touching], Length::ZERO);
            // The secondary base as a whole stands where the made-up bench brings it, not its gaps alone.
            for (groove, shift) in grooves().iter().zip(&wanted) {
                let off: Vector3<f64> = found.secondary.of(groove).coords() - groove.coords() - shift;
                prop_assert!(off.norm() <= SOLVED, "{kind:?}: {groove:?} is {off:?} off");
            }
            // And the record carries the primary base as the jaw went.
            let back = record.jaw();
            prop_assert!((back.translation() - pose.translation()).norm() <= SOLVED, "{back:?} for {pose:?}");
            prop_assert_eq!(back.rotation(), pose.rotation());
        }
    }

    /// A small turn about a place leaves that place where the shift takes it, and lifts what lies ahead of it,
    /// or to its left, by as much as the angle says.
    #[test]
    fn a_base_turned_about_a_place_lifts_what_lies_around_it(
        place in [20.0..90.0, -20.0..20.0, -30.0..0.0], shift in [-1.0..1.0, -1.0..1.0, 0.0..1.0],
        about_left in -0.01..0.01_f64, about_ahead in -0.01..0.01_f64, arm in 1.0..40.0,
    ) {
        let place = UpperPoint::mm(place[0], place[1], place[2]);
        let shift: Vector3<f64> = Vector3::from(shift);
        let turn = [about_ahead, about_left, 0.0].map(Angle::from_radians);
        let base = BaseMotion::about(&place, shift, turn);
        prop_assert!((base.of(&place).coords() - place.coords() - shift).norm() <= SOLVED);
        let lift = |at: Vector3<f64>| -> f64 {
            let at = UpperPoint::from_coords(place.coords() + at);
            base.of(&at).z() - at.z() - shift.z
        };
        // To first order: what is left is of the product of the angles, within 40 mm · 0.01² .
        prop_assert!((lift(Vector3::new(arm, 0.0, 0.0)) + arm * about_left).abs() < 5e-3);
        prop_assert!((lift(Vector3::new(0.0, arm, 0.0)) - arm * about_ahead).abs() < 5e-3);
    }

    /// Gaps made from known settings give them back.
    #[test]
    fn gaps_give_their_settings_back(
        h in [15.0..50.0, 15.0..50.0], l in [0.0..25.0, 0.0..25.0],
        set in [10.0..55.0, 10.0..55.0], advance in 3.0..7.0, arcon in any::<bool>(),
    ) {
        let jaw = jaw(if arcon { Design::Arcon } else { Design::NonArcon }, h, l);
        let kinds = [RecordKind::Protrusive, RecordKind::RightLateral, RecordKind::LeftLateral];
        let records = kinds.map(|kind| gap_record(&jaw, kind, trial(set[0], set[1]), advance, 0.05));
        let done = case(jaw.design, records.to_vec()).program().unwrap();
        for side in Side::BOTH {
            let read = done.side(side).unwrap();
            let guide = jaw.guide(side);
            let off = read.horizontal_inclination.angle.value - guide.horizontal_inclination;
            prop_assert!(off.degrees().abs() <= BACK_DEG, "{side} H is off by {off:?}");
            let off = read.lateral_angle.angle.value - guide.lateral_angle;
            prop_assert!(off.degrees().abs() <= BACK_DEG, "{side} L is off by {off:?}");
        }
    }
}

/// Standardised errors of H and L from noisy gaps: their mean square over 1,000 benches is one to within four
/// of its standard errors, √(2/n), for either design, and their mean is zero.
#[test]
fn the_standard_errors_from_gaps_are_true() {
    const RUNS: usize = 1000;
    let normal = Normal::new(0.0, 0.05).unwrap();
    let mut random = ChaCha8Rng::seed_from_u64(11);
    for design in [Design::Arcon, Design::NonArcon] {
        let jaw = jaw(design, [28.0, 37.0], [12.0, 19.0]);
        let kinds = [RecordKind::Protrusive, RecordKind::RightLateral, RecordKind::LeftLateral];
        let exact = kinds.map(|kind| gap_record(&jaw, kind, trial(32.0, 32.0), 6.0, 0.05));
        let mut errors: [Vec<f64>; 4] = Default::default();
        for _ in 0..RUNS {
            let mut records = exact.to_vec();
            for record in &mut records {
                let RecordFields::GrooveGaps(gaps) = record else { unreachable!() };
                let steps = gaps.aside_mm.iter_mut().flatten();
                gaps.gaps_mm.iter_mut().chain(steps).for_each(|gap| *gap += normal.sample(&mut random));
            }
            let done = case(design, records).program().unwrap();
            for side in Side::BOTH {
                let (read, guide) = (done.side(side).unwrap(), jaw.guide(side));
                let both = [
                    (&read.horizontal_inclination.angle, guide.horizontal_inclination),
                    (&read.lateral_angle.angle, guide.lateral_angle),
                ];
                for (number, (angle, truth)) in both.into_iter().enumerate() {
                    let error = (angle.value - truth).degrees() / angle.standard_error.unwrap().degrees();
                    errors[2 * (side as usize) + number].push(error);
                }
            }
        }
        for (number, errors) in errors.iter().enumerate() {
            let count = errors.len() as f64;
            let square = errors.iter().map(|error| error * error).sum::<f64>() / count;
            assert!(
                (square - 1.0).abs() <= 4.0 * (2.0 / count).sqrt(),
                "{design:?}, angle {number}: {square}"
            );
            let mean = errors.iter().sum::<f64>() / count;
            assert!(mean.abs() <= 4.0 / count.sqrt(), "{design:?}, angle {number}: {mean}");
        }
    }
}

/// The mean square of the errors over that which is stated of them: (of a scale off by the same within its
/// graduation at every repeat, of one that rounds every repeat by itself).
fn squares(scatter: f64, repeats: usize) -> [f64; 2] {
    const RUNS: usize = 2000;
    let mut random = ChaCha8Rng::seed_from_u64(12);
    let within = rand_distr::Uniform::new(-0.5, 0.5).unwrap();
    let normal = Normal::new(0.0, scatter).unwrap();
    [false, true].map(|rounds| {
        let (mut true_square, mut stated) = (0.0, 0.0);
        for _ in 0..RUNS {
            let truth: f64 = 33.0 + within.sample(&mut random);
            let mut read = || -> Vec<f64> {
                let off = if rounds { 0.0 } else { within.sample(&mut random) };
                let repeats = (0..repeats).map(|_| truth + off + normal.sample(&mut random));
                repeats.map(|reading| if rounds { reading.round() } else { reading }).collect()
            };
            let record = RecordFields::ScaleReadings(ScaleReadings {
                record: RecordKind::Protrusive,
                right_deg: read(),
                left_deg: read(),
                graduation_deg: 1.0,
                perforated: None,
            });
            let done = case(Design::Arcon, vec![record]).program().unwrap();
            for side in Side::BOTH {
                let angle = &done.side(side).unwrap().horizontal_inclination.angle;
                true_square += (angle.value.degrees() - truth).powi(2);
                stated += angle.standard_error.unwrap().degrees().powi(2);
            }
        }
        true_square / stated
    })
}

/// A mean of 4,000 squares is off by some 2 % of itself.
const OF_SQUARES: f64 = 0.09;

#[test]
fn the_standard_errors_from_scales_are_true() {
    for (scatter, repeats) in [(1e-4, 3), (0.3, 4), (0.8, 6), (0.8, 24)] {
        let [common, rounded] = squares(scatter, repeats);
        assert!((common - 1.0).abs() < OF_SQUARES, "{scatter}, {repeats}: {common}");
        // Where every repeat is rounded by itself, its rounding is in the scatter too: never too small.
        assert!(rounded < 1.0 + OF_SQUARES, "{scatter}, {repeats}: {rounded}");
    }
}

#[test]
fn without_a_step_aside_the_lateral_angle_is_by_rule_and_has_no_error() {
    let jaw = jaw(Design::Arcon, [28.0, 37.0], [12.0, 19.0]);
    let mut records = vec![gap_record(&jaw, RecordKind::Protrusive, trial(32.0, 32.0), 6.0, 0.05)];
    for kind in LATERALS {
        let mut record = gap_record(&jaw, kind, trial(32.0, 32.0), 6.0, 0.05);
        let RecordFields::GrooveGaps(gaps) = &mut record else { unreachable!() };
        gaps.aside_mm = None;
        records.push(record);
    }
    let done = case(Design::Arcon, records).program().unwrap();
    for side in Side::BOTH {
        let lateral = &done.side(side).unwrap().lateral_angle;
        assert_eq!((lateral.from, lateral.angle.standard_error), (Source::Rule, None));
    }
}

/// A lateral angle off its record leaves the gaps as they are and carries the base aside.
#[test]
fn a_wrong_lateral_angle_opens_no_gap() {
    let jaw = jaw(Design::Arcon, [30.0, 30.0], [15.0, 15.0]);
    let kind = RecordKind::LeftLateral;
    let record = SeatedRecord::of_pose(kind, &pose(&jaw, kind, 6.0), jaw.design, jaw.intercondylar_distance);
    let wrong = CondylarGuide::straight(deg(30.0), deg(25.0));
    let gaps = record.gaps([&wrong, &jaw.left_guide], &grooves(), GuideHold::Track).unwrap();
    assert!(gaps.greatest() < Length::from_mm(1e-9), "{:?}", gaps.gaps);
}

#[test]
fn a_track_opens_either_way_and_an_open_fossa_one() {
    let jaw = jaw(Design::Arcon, [30.0, 30.0], [15.0, 15.0]);
    let kind = RecordKind::Protrusive;
    let record = SeatedRecord::of_pose(kind, &pose(&jaw, kind, 6.0), jaw.design, jaw.intercondylar_distance);
    let at = |angle: f64, hold| {
        let guide = CondylarGuide::straight(deg(angle), deg(15.0));
        record.gaps([&guide, &guide], &grooves(), hold).unwrap()
    };
    let (back, front) = (0, 5);
    let steep = at(36.0, GuideHold::Track);
    assert!(steep.gaps[back].mm() > 0.5 && steep.gaps[front].mm() < 1e-9, "{:?}", steep.gaps);
    let shallow = at(24.0, GuideHold::Track);
    assert!(shallow.gaps[front].mm() > 0.5 && shallow.gaps[back].mm() < 1e-9, "{:?}", shallow.gaps);
    let open = at(24.0, GuideHold::Open);
    assert!(open.greatest().mm() < 1e-9);
    // It stands off by v − f(a).
    let off = 6.0 * (30f64.to_radians().tan() - 24f64.to_radians().tan());
    assert!((open.stands_off[Side::Right].mm() - off).abs() < 1e-9, "{:?}", open.stands_off);
    assert_eq!(at(36.0, GuideHold::Open), steep);
}

#[test]
fn an_open_guide_that_may_stand_off_sets_nothing() {
    let jaw = jaw(Design::Arcon, [33.0, 33.0], [15.0, 15.0]);
    let closed = |set: f64| {
        let record = RecordFields::GrooveGaps(GrooveGaps {
            record: RecordKind::Protrusive,
            set_at: trial(set, set),
            gaps_mm: vec![0.0; 6],
            aside_mm: None,
            sd_mm: millimetres(0.05),
            advance_mm: Some(SideFields { right: millimetres(6.0), left: millimetres(6.0) }),
            opening_deg: 0.0,
            perforated: None,
        });
        Case { guide_hold: Some(GuideHold::Open), ..case(Design::Arcon, vec![record]) }
    };
    let error = closed(20.0).program().unwrap_err();
    assert!(matches!(error, ProgramError::Gaps(_)), "{error:?}");
    assert!(error.to_string().contains("may stand off its sphere at 20.0°"), "{error}");
    // Surely too steep, it says where the sphere is.
    let record = gap_record(&jaw, RecordKind::Protrusive, trial(38.0, 38.0), 6.0, 0.05);
    let steep = Case { guide_hold: Some(GuideHold::Open), ..case(Design::Arcon, vec![record]) };
    let read = steep.program().unwrap().side(Side::Left).unwrap().horizontal_inclination.angle.value;
    assert!((read.degrees() - 33.0).abs() < BACK_DEG);
}

#[test]
fn gaps_that_no_angle_closes_are_said_so() {
    let jaw = jaw(Design::Arcon, [30.0, 30.0], [15.0, 15.0]);
    let mut record = gap_record(&jaw, RecordKind::Protrusive, trial(34.0, 34.0), 6.0, 0.05);
    let RecordFields::GrooveGaps(gaps) = &mut record else { unreachable!() };
    // The middle pair alone stands open, as over a crumb.
    gaps.gaps_mm[2] += 0.8;
    gaps.gaps_mm[3] += 0.8;
    let warnings = case(Design::Arcon, vec![record]).program().unwrap().warnings;
    assert!(
        warnings.iter().any(|warning| matches!(warning, Warning::GapsUnlike { record: 0, .. })),
        "{warnings:?}"
    );
}

/// Forms mixed freely: two independent estimates of one angle are weighed by their variances.
#[test]
fn scales_and_gaps_are_weighed_by_what_they_know() {
    let jaw = jaw(Design::Arcon, [30.0, 36.0], [15.0, 15.0]);
    let gaps = gap_record(&jaw, RecordKind::Protrusive, trial(34.0, 34.0), 6.0, 0.05);
    let scale = RecordFields::ScaleReadings(ScaleReadings {
        record: RecordKind::Protrusive,
        right_deg: vec![31.0],
        left_deg: vec![37.0],
        graduation_deg: 2.0,
        perforated: None,
    });
    let of = |records: Vec<RecordFields>| {
        let done = case(Design::Arcon, records).program().unwrap();
        let angle = &done.side(Side::Right).unwrap().horizontal_inclination.angle;
        (angle.value.degrees(), angle.standard_error.unwrap().degrees())
    };
    let ((by_gaps, gap_error), (by_scale, scale_error)) = (of(vec![gaps.clone()]), of(vec![scale.clone()]));
    assert!((scale_error - 2.0 / 12f64.sqrt()).abs() < 1e-12);
    let (both, error) = of(vec![gaps, scale]);
    let (one, other) = (gap_error.powi(-2), scale_error.powi(-2));
    assert!((both - (by_gaps * one + by_scale * other) / (one + other)).abs() < 1e-9);
    assert!((error - (one + other).powf(-0.5)).abs() < 1e-9);
}

/// The spread of a case read anew from scale and caliper is what the standard errors state: of 4,000 draws
/// it is known to 1.1 %.
#[test]
fn a_case_read_anew_spreads_as_its_standard_errors_say() {
    let text = include_str!("../../scenes/cases/bench.ron");
    let case = Case::from_ron(text).unwrap();
    let read = Uncertainties { readings: true, ..Uncertainties::NONE };
    let doubt = redraw(&case, &read, 4000, 3).unwrap();
    for setting in &doubt.settings {
        let stated = setting.standard_error.unwrap().degrees();
        let ratio = setting.spread.sd / stated;
        assert!((ratio - 1.0).abs() < 0.06, "{} {}: {ratio}", setting.side, setting.setting.key);
    }
    let exact = redraw(&case, &Uncertainties::NONE, 10, 3).unwrap();
    assert!(exact.settings.iter().all(|setting| setting.spread.sd == 0.0));
}

#[test]
fn a_bearing_point_that_left_no_hole_is_a_reason_to_doubt() {
    let jaw = jaw(Design::Arcon, [30.0, 30.0], [15.0, 15.0]);
    let mut record = gap_record(&jaw, RecordKind::Protrusive, trial(34.0, 34.0), 6.0, 0.05);
    let RecordFields::GrooveGaps(gaps) = &mut record else { unreachable!() };
    gaps.perforated = Some(false);
    let warnings = case(Design::Arcon, vec![record]).program().unwrap().warnings;
    let kind = RecordKind::Protrusive;
    assert!(warnings.contains(&Warning::NotPerforated { record: 0, kind }), "{warnings:?}");
}

#[test]
fn a_bench_case_that_makes_no_sense_is_refused_by_its_field() {
    let jaw = jaw(Design::Arcon, [30.0, 30.0], [15.0, 15.0]);
    let good = gap_record(&jaw, RecordKind::Protrusive, trial(34.0, 34.0), 6.0, 0.05);
    let RecordFields::GrooveGaps(gaps) = &good else { unreachable!() };
    let scale = ScaleReadings {
        record: RecordKind::Protrusive,
        right_deg: vec![31.0],
        left_deg: vec![37.0],
        graduation_deg: 1.0,
        perforated: None,
    };
    let gap = |change: &dyn Fn(&mut GrooveGaps)| {
        let mut gaps = gaps.clone();
        change(&mut gaps);
        RecordFields::GrooveGaps(gaps)
    };
    let read = |change: &dyn Fn(&mut ScaleReadings)| {
        let mut scale = scale.clone();
        change(&mut scale);
        RecordFields::ScaleReadings(scale)
    };
    let wrong = [
        (gap(&|gaps| gaps.gaps_mm.truncate(4)), "gaps_mm", "has 4 numbers, and the case names 6 grooves"),
        (
            gap(&|gaps| gaps.gaps_mm[1] = -0.2),
            "gaps_mm",
            "number 2 of gaps_mm is -0.2; allowed are 0 to 20 mm",
        ),
        (gap(&|gaps| gaps.sd_mm = millimetres(0.0)), "sd_mm", "sd_mm is 0"),
        (gap(&|gaps| gaps.advance_mm = None), "advance_mm", "read on the guides"),
        (gap(&|gaps| gaps.set_at.left_deg = 99.0), "set_at", "left_deg"),
        (gap(&|gaps| gaps.aside_mm = Some(vec![0.0; 6])), "aside_mm", "belongs to a lateral record"),
        (read(&|scale| scale.graduation_deg = 0.0), "graduation_deg", "more than 0"),
        (read(&|scale| scale.record = RecordKind::Centric), "record", "sets no scale"),
        (read(&|scale| scale.record = RecordKind::RightLateral), "right_deg", "the working one"),
        (read(&|scale| scale.left_deg = vec![120.0]), "left_deg", "120"),
        (read(&|scale| (scale.right_deg, scale.left_deg) = (vec![], vec![])), "record", "no reading"),
    ];
    for (record, field, what) in wrong {
        let error = case(Design::Arcon, vec![record]).check().unwrap_err();
        assert_eq!(error.field(), field, "{error}");
        assert!(error.to_string().contains(what), "{error}");
    }
    assert!(case(Design::Arcon, vec![good]).check().is_ok());
}

#[test]
fn a_caliper_rejects_a_closed_split_as_often_as_it_says() {
    const RUNS: usize = 4000;
    let normal = Normal::new(0.0, 0.05).unwrap();
    let mut random = ChaCha8Rng::seed_from_u64(5);
    let mut rejected = 0.0;
    let mut stated = 0.0;
    for _ in 0..RUNS {
        let record = RecordFields::GrooveGaps(GrooveGaps {
            record: RecordKind::Centric,
            set_at: trial(30.0, 30.0),
            gaps_mm: (0..6).map(|_| f64::max(normal.sample(&mut random), 0.0)).collect(),
            aside_mm: None,
            sd_mm: millimetres(0.05),
            advance_mm: None,
            opening_deg: 0.0,
            perforated: None,
        });
        let protrusive = RecordFields::ScaleReadings(ScaleReadings {
            record: RecordKind::Protrusive,
            right_deg: vec![31.0],
            left_deg: vec![37.0],
            graduation_deg: 1.0,
            perforated: None,
        });
        let check = case(Design::Arcon, vec![record, protrusive]).program().unwrap().centric.unwrap();
        rejected += f64::from(u8::from(!check.confirmed));
        stated = check.false_alarm.unwrap();
    }
    let part = rejected / RUNS as f64;
    assert!((part - stated).abs() < 4.0 * (stated * (1.0 - stated) / RUNS as f64).sqrt(), "{part} {stated}");
}

#[test]
fn an_angle_that_is_not_a_number_closes_nothing() {
    let jaw = jaw(Design::Arcon, [30.0, 30.0], [15.0, 15.0]);
    let kind = RecordKind::Protrusive;
    let record = SeatedRecord::of_pose(kind, &pose(&jaw, kind, 6.0), jaw.design, jaw.intercondylar_distance);
    let guide = CondylarGuide::straight(Angle::from_degrees(f64::NAN), deg(15.0));
    assert!(record.gaps([&guide, &guide], &grooves(), GuideHold::Track).is_err());
    let behind = [UpperPoint::mm(2.0, 0.0, -10.0)];
    let good = CondylarGuide::straight(deg(30.0), deg(15.0));
    let error = record.gaps([&good, &good], &behind, GuideHold::Track).unwrap_err();
    assert!(error.to_string().starts_with("groove 1 lies"), "{error}");
    assert!(record.gaps([&good, &good], &[], GuideHold::Track).is_err());
}
