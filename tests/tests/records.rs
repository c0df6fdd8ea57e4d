//! Records back to the settings that made them: exactly when exact, as surely as stated when noisy.

use proptest::prelude::*;
use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::SeedableRng;
use rand_distr::{Distribution, Normal};
use sim_core::excursion::Movement;
use sim_core::frame::{JawPose, Side};
use sim_core::instrument::Design;
use sim_core::programmed::AnteriorSource;
use sim_core::record::program::Source;
use sim_core::record::warning::Warning;
use sim_core::record::{Case, PoseFields, RecordFields, RecordKind};
use sim_core::units::{Angle, Length};
use whole_checks::patient::{CENTRIC, LEFT, PROTRUSIVE, Patient, RIGHT};
use whole_checks::random;
use whole_checks::tolerance::{HALF_OF_THE_DIGITS, SOLVED, SURE};

/// What exact landmarks of a few hundred millimetres leave of a fit.
const LEFT_OVER_MM: f64 = 1e-10;
/// A step of a tenth has a curvature that a step of a thousandth has not: a hundredth of the share. A
/// share of nothing is met to a millionth of a degree.
const CURVATURE: f64 = 0.01;
const NO_SHARE_DEG: f64 = 1e-6;

/// Degrees: exact records give exact settings to this.
const EXACT_DEG: f64 = 1e-9;

fn arcon() -> Patient {
    Patient::unequal(Design::Arcon)
}

proptest! {
    #![proptest_config(random::cases(400))]

    #[test]
    fn exact_records_return_exact_settings(jaw in random::straight_jaw(), scan in random::scan_frame(), advance in 2.0..8.0) {
        let patient = Patient { jaw, scan };
        let done = patient.exact_case(advance).program().unwrap();
        prop_assert!(done.centric.as_ref().unwrap().confirmed);
        for side in Side::BOTH {
            let (settings, truth) = (done.side(side).unwrap(), patient.jaw.guide(side));
            let h = settings.horizontal_inclination.angle.value.degrees() - truth.horizontal_inclination.degrees();
            let l = settings.lateral_angle.angle.value.degrees() - truth.lateral_angle.degrees();
            prop_assert!(h.abs() <= EXACT_DEG, "{side} H off by {h}°");
            prop_assert!(l.abs() <= EXACT_DEG, "{side} L off by {l}°");
        }
        for record in &done.records {
            prop_assert!(record.fit_rms.unwrap().mm() <= LEFT_OVER_MM);
        }
    }

    #[test]
    fn a_case_is_written_back_as_it_was_read(jaw in random::straight_jaw(), scan in random::scan_frame()) {
        let case = Patient { jaw, scan }.exact_case(6.0);
        prop_assert_eq!(Case::from_ron(&case.to_ron()).unwrap(), case);
    }
}

/// The errors of 2,000 noisy sets of records, each divided by its stated standard error, squared and
/// summed, follow a chi-square law with 2,000 degrees of freedom: mean 2,000, standard deviation
/// √4,000 ≈ 63. Held to four of those (a false alarm in some 16,000 runs; the seed is fixed).
#[test]
fn noisy_records_are_off_by_as_much_as_they_say() {
    const RUNS: u32 = 2000;
    for design in [Design::Arcon, Design::NonArcon] {
        let mut patient = arcon();
        patient.jaw.design = design;
        let poses = [
            JawPose::identity(),
            patient.pose(Movement::Protrusive, 6.0),
            patient.pose(Movement::Lateral { working: Side::Right }, 6.0),
            patient.pose(Movement::Lateral { working: Side::Left }, 6.0),
        ];
        let sd_mm = 0.05;
        let normal = Normal::new(0.0, sd_mm).unwrap();
        let mut random = ChaCha8Rng::seed_from_u64(7);
        let mut sums = [[0.0; 2]; 2];
        for _ in 0..RUNS {
            let mut seen = |pose| patient.landmarks(pose, || normal.sample(&mut random));
            let in_centric = seen(&poses[0]);
            let of = |landmarks| PoseFields { lower_landmarks_mm: Some(landmarks), ..PoseFields::default() };
            let records =
                vec![PROTRUSIVE(of(seen(&poses[1]))), RIGHT(of(seen(&poses[2]))), LEFT(of(seen(&poses[3])))];
            let done = patient.case(records, in_centric, sd_mm).program().unwrap();
            for side in Side::BOTH {
                let (settings, truth) = (done.side(side).unwrap(), patient.jaw.guide(side));
                let pairs = [
                    (&settings.horizontal_inclination, truth.horizontal_inclination),
                    (&settings.lateral_angle, truth.lateral_angle),
                ];
                for (sum, (read, truth)) in sums[side as usize].iter_mut().zip(pairs) {
                    let error = (read.angle.value - truth).degrees();
                    *sum += (error / read.angle.standard_error.unwrap().degrees()).powi(2);
                }
            }
        }
        let runs = f64::from(RUNS);
        for sum in sums.into_iter().flatten() {
            println!("{design:?}: chi-square {sum:.0} on {RUNS} degrees of freedom");
            assert!((sum - runs).abs() <= SURE * (2.0 * runs).sqrt(), "{design:?}: {sum}");
        }
    }
}

/// Means of three noisy repeats are off by their stated error, too.
#[test]
fn repeats_of_a_record_are_pooled_with_their_scatter() {
    const RUNS: u32 = 2000;
    let patient = arcon();
    let (centric, protruded) = (JawPose::identity(), patient.pose(Movement::Protrusive, 6.0));
    let normal = Normal::new(0.0, 0.05).unwrap();
    let mut random = ChaCha8Rng::seed_from_u64(11);
    let mut sum = 0.0;
    for _ in 0..RUNS {
        let mut seen = |pose| patient.landmarks(pose, || normal.sample(&mut random));
        let in_centric = seen(&centric);
        let records = (0..3)
            .map(|_| {
                PROTRUSIVE(PoseFields { lower_landmarks_mm: Some(seen(&protruded)), ..PoseFields::default() })
            })
            .collect();
        let done = patient.case(records, in_centric, 0.05).program().unwrap();
        let read = &done.side(Side::Right).unwrap().horizontal_inclination.angle;
        assert_eq!(read.records, 3);
        assert!(read.scatter.unwrap().degrees() > 0.0);
        sum += ((read.value.degrees() - 28.0) / read.standard_error.unwrap().degrees()).powi(2);
    }
    let runs = f64::from(RUNS);
    assert!(
        (sum - runs).abs() <= SURE * (2.0 * runs).sqrt(),
        "chi-square {sum} on {RUNS} degrees of freedom"
    );
}

#[test]
fn a_false_alarm_of_the_split_cast_is_as_likely_as_it_says() {
    let patient = arcon();
    let normal = Normal::new(0.0, 0.05).unwrap();
    let mut random = ChaCha8Rng::seed_from_u64(3);
    let (mut alarms, mut stated) = (0.0, 0.0);
    let runs = 400;
    for _ in 0..runs {
        let mut seen = || patient.landmarks(&JawPose::identity(), || normal.sample(&mut random));
        let in_centric = seen();
        let records = vec![
            CENTRIC(PoseFields { lower_landmarks_mm: Some(seen()), ..PoseFields::default() }),
            patient.exact_case(6.0).records[1].clone(),
        ];
        let check = patient.case(records, in_centric, 0.05).program().unwrap().centric.unwrap();
        alarms += f64::from(u8::from(!check.confirmed));
        stated += check.false_alarm.unwrap();
    }
    let (seen, stated) = (alarms / f64::from(runs), stated / f64::from(runs));
    let deviation = (stated * (1.0 - stated) / f64::from(runs)).sqrt();
    println!("false alarms {seen:.3}, stated {stated:.3} ± {deviation:.3}");
    assert!((seen - stated).abs() <= SURE * deviation);
}

#[test]
fn a_centric_record_that_is_off_withholds_the_settings_and_says_how_it_is_off() {
    use nalgebra::Vector3;
    let patient = arcon();
    let mut case = patient.exact_case(6.0);
    // The repeat finds the jaw 0.4 mm farther back and 0.2 mm to the left.
    let moved: Vec<_> = whole_checks::patient::LANDMARKS
        .iter()
        .map(|at| patient.scan.place(&(Vector3::from(*at) + Vector3::new(-0.4, 0.2, 0.0))))
        .collect();
    case.records[0] = CENTRIC(PoseFields { lower_landmarks_mm: Some(moved), ..PoseFields::default() });
    let done = case.program().unwrap();
    let check = done.centric.as_ref().unwrap();
    assert!(!check.confirmed);
    assert!(done.settings.is_none());
    assert!((check.largest_gap.mm() - 0.2_f64.hypot(0.4)).abs() < SOLVED);
    assert!((check.shift_mm - Vector3::new(-0.4, 0.2, 0.0)).amax() < SOLVED);
    let seat = done.records[0].reading.as_ref().unwrap();
    assert!((seat.right.advance.mm() + 0.4).abs() < SOLVED);
    assert!((seat.right.medial.mm() - 0.2).abs() < SOLVED, "to the left is medial on the right");
    assert!((seat.left.medial.mm() + 0.2).abs() < SOLVED);
}

#[test]
fn gaps_at_grooves_are_explained_by_a_shift_and_a_tilt() {
    use sim_core::frame::UpperPoint;
    use sim_core::record::split_cast;
    let grooves: Vec<UpperPoint> =
        [[45.0, -25.0], [45.0, 25.0], [62.0, -24.0], [62.0, 24.0], [85.0, -9.0], [85.0, 9.0]]
            .iter()
            .map(|[x, y]| UpperPoint::mm(*x, *y, -20.0))
            .collect();
    // 0.3 mm at the back fading to nothing 50 mm in front: a tilt about y that opens backward.
    let gaps: Vec<f64> = grooves.iter().map(|groove| 0.3 * (95.0 - groove.x()) / 50.0).collect();
    let check = split_cast::from_gaps(&gaps, &grooves, Length::from_mm(0.1)).unwrap();
    assert!(!check.confirmed);
    assert!((check.tilt[1].radians() + 0.3 / 50.0).abs() < SOLVED, "{:?}", check.tilt);
    assert!(check.tilt[0].degrees().abs() < SOLVED);
    assert!(split_cast::from_gaps(&gaps[..5], &grooves, Length::from_mm(0.1)).is_err());
    assert!(split_cast::from_gaps(&[f64::NAN; 6], &grooves, Length::from_mm(0.1)).is_err());
}

#[test]
fn without_lateral_records_the_rule_is_used_and_labelled() {
    let mut case = arcon().exact_case(6.0);
    case.records.truncate(2);
    let done = case.program().unwrap();
    let right = &done.side(Side::Right).unwrap().lateral_angle;
    assert_eq!(right.from, Source::Rule);
    assert_eq!(words::verdict::warning::source(right.from), "H/8 + 12 rule");
    // Common practice, no source: L = H/8 + 12.
    assert!((right.angle.value.degrees() - (28.0 / 8.0 + 12.0)).abs() < SOLVED);
    assert!(done.warnings.contains(&Warning::ByRule { side: Side::Right }));
}

#[test]
fn what_is_doubtful_is_warned_of_in_numbers() {
    let patient = arcon();
    let warned = |case: &Case| case.program().unwrap().warnings;
    assert_eq!(warned(&patient.exact_case(6.0)), []);

    let mut unconfirmed = patient.exact_case(6.0);
    unconfirmed.records.remove(0);
    assert_eq!(warned(&unconfirmed), [Warning::Unconfirmed]);

    let short = warned(&patient.exact_case(3.0));
    let text = words::verdict::warning::warning(&short[0]);
    assert!(text.contains("advanced 3.00 mm") && text.contains("1.6 times"), "{text}");

    let mut swapped = patient.exact_case(6.0);
    for record in &mut swapped.records {
        *record = match record.clone() {
            RecordFields::RightLateral(pose) => RecordFields::LeftLateral(pose),
            RecordFields::LeftLateral(pose) => RecordFields::RightLateral(pose),
            other => other,
        };
    }
    // The condyle that orbits has not advanced, so no angle can be read from it either.
    let message = swapped.program().unwrap_err().to_string();
    assert!(message.starts_with("lateral_angle_deg") && message.contains("swapped"), "{message}");

    let mut off = patient.exact_case(6.0);
    if let RecordFields::Protrusive(PoseFields { lower_landmarks_mm: Some(landmarks), .. }) =
        &mut off.records[1]
    {
        let wrong = landmarks[3].point().coords() + nalgebra::Vector3::new(0.0, 0.8, 0.0);
        landmarks[3] =
            sim_core::record::ScanPlace::new(sim_core::frame::ScanPoint::from_coords(wrong)).unwrap();
    }
    assert!(
        warned(&off)
            .iter()
            .any(|warning| matches!(warning, Warning::BadLandmark { record: 1, landmark: 3, .. }))
    );
}

#[test]
fn records_given_as_matrices_are_read_like_landmarks_but_say_nothing_of_their_error() {
    let patient = arcon();
    let mut case = patient.exact_case(6.0);
    let pose = patient.pose(Movement::Protrusive, 6.0);
    // D = S M S⁻¹ with S from the upper frame to the scan.
    let scan = patient.scan.rotation.to_homogeneous().append_translation(&patient.scan.translation);
    let motion = scan * whole_checks::definition::matrix(&pose) * scan.try_inverse().unwrap();
    let rows = std::array::from_fn(|row| std::array::from_fn(|column| motion[(row, column)]));
    case.records[1] = PROTRUSIVE(PoseFields { transform: Some(rows), ..PoseFields::default() });
    let done = case.program().unwrap();
    let read = &done.side(Side::Left).unwrap().horizontal_inclination.angle;
    assert!((read.value.degrees() - 41.0).abs() <= HALF_OF_THE_DIGITS, "{:?}", read.value);
    assert_eq!(read.standard_error, None);
    assert_eq!(done.records[1].kind, RecordKind::Protrusive);

    let mut mirrored = rows;
    mirrored[0][0] = -mirrored[0][0];
    case.records[1] = PROTRUSIVE(PoseFields { transform: Some(mirrored), ..PoseFields::default() });
    assert!(case.check().unwrap_err().to_string().contains("rigid"));
}

#[test]
fn mountings_that_no_patient_has_are_refused_with_the_reason() {
    use sim_core::record::MountingFields;
    let good = arcon().exact_case(6.0);
    let MountingFields::FaceBow { right_axis_mm, left_axis_mm, anterior_reference_mm } = good.mounting else {
        panic!("a face-bow");
    };
    let refused =
        |mounting: MountingFields| Case { mounting, ..good.clone() }.program().unwrap_err().to_string();
    let swapped = MountingFields::FaceBow {
        right_axis_mm: left_axis_mm,
        left_axis_mm: right_axis_mm,
        anterior_reference_mm,
    };
    assert!(refused(swapped.clone()).contains("swapped"), "{}", refused(swapped));
    let in_line =
        MountingFields::FaceBow { right_axis_mm, left_axis_mm, anterior_reference_mm: right_axis_mm };
    assert!(refused(in_line.clone()).contains("line"), "{}", refused(in_line));
    let narrow =
        MountingFields::FaceBow { right_axis_mm, left_axis_mm: right_axis_mm, anterior_reference_mm };
    assert!(refused(narrow.clone()).contains("0.0 mm apart"), "{}", refused(narrow));
}

#[test]
fn a_tentative_record_that_is_off_is_told_by_direction() {
    use nalgebra::{Rotation3, Vector3};
    let patient = arcon();
    let mut case = patient.exact_case(6.0);
    // The repeat finds the jaw 0.4 mm farther back, 0.2 mm to the left and, about the middle of the
    // landmarks, closed by a tenth of a degree: the tentative record is off the other way.
    let middle =
        whole_checks::patient::LANDMARKS.iter().map(|at| Vector3::from(*at)).sum::<Vector3<f64>>() / 6.0;
    let closed = Rotation3::new(Vector3::new(0.0, -0.1_f64.to_radians(), 0.0));
    let moved = whole_checks::patient::LANDMARKS
        .iter()
        .map(|at| closed * (Vector3::from(*at) - middle) + middle + Vector3::new(-0.4, 0.2, 0.0))
        .map(|at| patient.scan.place(&at))
        .collect();
    case.records[0] = CENTRIC(PoseFields { lower_landmarks_mm: Some(moved), ..PoseFields::default() });
    let check = case.program().unwrap().centric.unwrap();
    assert_eq!(
        words::verdict::centric::tentative_is_off(&check),
        "0.40 mm too far forward, 0.20 mm too far right, opened 0.10° too far"
    );
}

/// A mounting by averages that puts the axis where a face-bow has it reads the same settings, less
/// surely: by the published spread of arm and Balkwill angle, to first order.
#[test]
fn a_mounting_by_averages_adds_the_spread_between_people_to_every_standard_error() {
    use nalgebra::Vector3;
    use sim_core::record::MountingFields;
    use sim_core::record::mounting::{arm_deviation, balkwill_deviation};
    let (base, arm, balkwill) = (100.0_f64, 103.0_f64, 20.0_f64);
    let mut patient = arcon();
    patient.jaw.intercondylar_distance = Length::from_mm(base);
    let face_bow = patient.exact_case(6.0);
    // The incisal point that these averages put the axis behind.
    let height = (arm * arm - base * base / 4.0).sqrt();
    let at = |x: f64, y: f64, z: f64| patient.scan.place(&Vector3::new(x, y, z));
    let (x, z) = (height * balkwill.to_radians().cos(), -height * balkwill.to_radians().sin());
    let mounted = |arm: f64, balkwill_deg: f64| {
        let mut case = face_bow.clone();
        case.intercondylar_distance_mm = Some(whole_checks::patient::millimetres(base));
        case.mounting = MountingFields::Average {
            balkwill_deg,
            arm_mm: whole_checks::patient::millimetres(arm),
            incisal_mm: at(x, 0.0, z),
            right_molar_mm: at(x - 40.0, -25.0, z),
            left_molar_mm: at(x - 40.0, 25.0, z),
        };
        case.program().unwrap()
    };
    let exact = face_bow.program().unwrap();
    let [here, farther, lower] =
        [mounted(arm, balkwill), mounted(arm + 0.1, balkwill), mounted(arm, balkwill + 0.1)];
    for side in Side::BOTH {
        let read: [fn(&sim_core::record::program::SideSettings) -> &sim_core::record::program::ReadAngle; 2] =
            [|settings| &settings.horizontal_inclination.angle, |settings| &settings.lateral_angle.angle];
        for read in read {
            let [exact, here, farther, lower] =
                [&exact, &here, &farther, &lower].map(|done| read(done.side(side).unwrap()));
            assert!((exact.value - here.value).degrees().abs() < SOLVED);
            assert_eq!(exact.mounting_error, None);
            let by_arm = (farther.value - here.value).degrees() * arm_deviation().mm() / 0.1;
            let by_balkwill = (lower.value - here.value).degrees() * balkwill_deviation().degrees() / 0.1;
            let (share, noise) = (by_arm.hypot(by_balkwill), exact.standard_error.unwrap().degrees());
            assert!(
                (here.mounting_error.unwrap().degrees() - share).abs() < CURVATURE * share + NO_SHARE_DEG
            );
            assert!(
                (here.standard_error.unwrap().degrees() - share.hypot(noise)).abs()
                    < CURVATURE * share + NO_SHARE_DEG
            );
            println!("{side}: {noise:.3}° by landmarks, {share:.3}° by averages");
        }
    }
}

#[test]
fn the_scene_of_a_case_has_its_settings_and_what_the_case_adds() {
    use nalgebra::Vector3;
    use sim_core::anterior::AnteriorGuide;
    use sim_core::cusp::{CuspTip, OpposingInclines, Tooth};
    use sim_core::record::CuspPlace;
    use sim_core::scene::Scene;
    let patient = arcon();
    let mut case = patient.exact_case(6.0);
    let bare = case.scene(&case.program().unwrap()).unwrap().unwrap();
    assert_eq!(bare.warnings, [Warning::IncisalPointAssumed { landmark: 0 }, Warning::AnteriorGuideAssumed]);
    assert_eq!(bare.anterior, AnteriorSource::Assumed);
    assert_eq!(bare.scene.instrument.anterior_guide, AnteriorGuide::Table(sim_core::anterior::Trough::LEVEL));
    let place = |x: f64, y: f64, z: f64| patient.scan.place(&Vector3::new(x, y, z));
    let fifteen = 15.0_f64.to_radians().tan();
    case.incisal_point_mm = Some(place(95.0, 1.0, -42.0));
    // A plane falling 15° forward, given against the turn that would make its normal point up.
    case.occlusal_plane_mm = Some(vec![
        place(90.0, 0.0, -40.0),
        place(50.0, -25.0, -40.0 + 40.0 * fifteen),
        place(50.0, 25.0, -40.0 + 40.0 * fifteen),
    ]);
    let opposing = OpposingInclines {
        protrusive: Angle::ZERO,
        retrusive: Angle::ZERO,
        working: Angle::ZERO,
        nonworking: Angle::ZERO,
    };
    let at_mm = place(60.0, 24.0, -36.0);
    case.cusps =
        vec![CuspPlace { tooth: Tooth::new(36).unwrap(), name: "mesiobuccal".into(), at_mm, opposing }];
    let made = case.scene(&case.program().unwrap()).unwrap().unwrap();
    assert_eq!(made.warnings, [Warning::AnteriorGuideAssumed]);
    let scene = made.scene;
    assert!((scene.occlusal_plane.inclination.degrees() - 15.0).abs() < SOLVED);
    assert!((scene.instrument.incisal_point.coords() - Vector3::new(95.0, 1.0, -42.0)).amax() < SOLVED);
    let CuspTip::Lower(tip) = scene.cusps[0].tip() else { panic!("a lower cusp") };
    assert!((tip.coords() - Vector3::new(60.0, 24.0, -36.0)).amax() < SOLVED);
    for side in Side::BOTH {
        let (guide, truth) = (scene.instrument.guide(side), patient.jaw.guide(side));
        assert!((guide.horizontal_inclination - truth.horizontal_inclination).degrees().abs() < SOLVED);
        assert!((guide.lateral_angle - truth.lateral_angle).degrees().abs() < SOLVED);
    }
    assert_eq!(Scene::from_ron(&scene.to_ron()).unwrap(), scene);
    assert_eq!(Case::from_ron(&case.to_ron()).unwrap(), case);
    // On the wrong side of the middle.
    case.cusps[0].tooth = Tooth::new(46).unwrap();
    let error = case.scene(&case.program().unwrap()).unwrap_err().to_string();
    assert!(error.contains("cusps[0]") && error.contains("right"), "{error}");
    case.cusps.clear();
    case.occlusal_plane_mm = Some(vec![at_mm; 3]);
    let error = case.program().unwrap_err();
    assert_eq!(error.field(), "occlusal_plane_mm");
    assert!(error.to_string().contains("one line"), "{error}");
}

#[test]
fn overlap_canines_and_lateral_records_set_the_incisal_table() {
    use sim_core::anterior::{AnteriorGuide, Trough};
    use sim_core::record::{CanineGuidance, IncisalGuidance};
    use whole_checks::patient::millimetres;
    let trough = Trough {
        sagittal_inclination: Angle::from_degrees(35.0),
        right_wing: Angle::from_degrees(18.0),
        left_wing: Angle::from_degrees(24.0),
        flat_half_width: Length::ZERO,
    };
    let mut patient = arcon();
    patient.jaw.anterior_guide = AnteriorGuide::Table(trough);
    let mut case = patient.exact_case(6.0);
    let incisal = patient.scan.place(&patient.jaw.incisal_point.coords());
    let plane = |x: f64, y: f64| patient.scan.place(&nalgebra::Vector3::new(x, y, -30.0));
    case.incisal_point_mm = Some(incisal);
    case.occlusal_plane_mm = Some(vec![plane(90.0, 0.0), plane(50.0, 25.0), plane(50.0, -25.0)]);
    // On a level occlusal plane atan(2.1/3.0) ≈ 35°; the wings are what the jaw itself moved on.
    let overlap = 3.0 * 35_f64.to_radians().tan();
    let guidance = IncisalGuidance {
        vertical_overlap_mm: millimetres(overlap),
        horizontal_overlap_mm: millimetres(3.0),
        right_canine: None,
        left_canine: None,
        wings_from_records: true,
    };
    let made = |case: &Case| case.scene(&case.program().unwrap()).unwrap().unwrap().scene;
    case.incisal_guidance = Some(guidance);
    assert_eq!(Case::from_ron(&case.to_ron()).unwrap(), case);
    let table = *made(&case).instrument.anterior_guide.trough().unwrap();
    for (angle, set) in [
        (table.sagittal_inclination, trough.sagittal_inclination),
        (table.right_wing, trough.right_wing),
        (table.left_wing, trough.left_wing),
    ] {
        assert!((angle - set).degrees().abs() <= HALF_OF_THE_DIGITS, "{angle:?}, {set:?} wanted");
    }
    // The right canine guides right lateral movements, in which the pin runs up the left wing.
    let canine = CanineGuidance { rise_mm: millimetres(1.0), outward_mm: millimetres(2.0) };
    case.incisal_guidance =
        Some(IncisalGuidance { right_canine: Some(canine), wings_from_records: false, ..guidance });
    let table = *made(&case).instrument.anterior_guide.trough().unwrap();
    assert!((table.left_wing.degrees() - 0.5_f64.atan().to_degrees()).abs() <= SOLVED);
    assert_eq!(table.right_wing, Angle::ZERO);

    case.anterior_guide = Some(AnteriorGuide::Table(Trough::LEVEL));
    assert!(case.check().unwrap_err().to_string().contains("both given"));
    case.anterior_guide = None;
    case.incisal_guidance = Some(IncisalGuidance { horizontal_overlap_mm: millimetres(0.0), ..guidance });
    assert!(case.scene(&case.program().unwrap()).unwrap_err().to_string().contains("incisal_guidance"));
}
