//! Remounts made up and read: errors put in and found again, exact and noisy; and what is ground.

use std::sync::Arc;

use nalgebra::{Rotation3, Vector3};
use proptest::prelude::*;
use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::SeedableRng as _;
use rand_distr::{Distribution as _, StandardNormal};
use sim_core::cast::{Casts, ToothPlaces};
use sim_core::cusp::{OpposingIncline, Tooth};
use sim_core::excursion::{Mechanism, Movement};
use sim_core::frame::ScanPoint;
use sim_core::occlusion::{ContactKind, IntendedScheme};
use sim_core::record::{Millimetres, ScanPlace};
use sim_core::remount::{
    Centric, CentricRecord, CentricVerdict, GapAtTooth, GrindingList, Ground, Remount, cusps, grinding,
};
use sim_core::scene::Scene;
use sim_core::units::Length;

const EXACT: f64 = 1e-9;

/// The error put in: hinge turn, shift, roll and yaw, in radians and millimetres.
#[derive(Clone, Copy, Debug)]
struct Truth {
    turn: f64,
    shift: [f64; 3],
    roll: f64,
    yaw: f64,
}

impl Truth {
    /// Where a point of the lower denture goes: turned about the axis, then carried with the axis.
    fn moved(&self, at: &Vector3<f64>) -> Vector3<f64> {
        let tilt = Rotation3::from_scaled_axis(Vector3::new(self.roll, 0.0, self.yaw));
        let (sin, cos) = self.turn.sin_cos();
        let turned = Vector3::new(at.x * cos + at.z * sin, at.y, at.z * cos - at.x * sin);
        tilt * turned + Vector3::from(self.shift)
    }
}

const MARKS: [[f64; 3]; 5] = [
    [92.0, 2.0, -42.0],
    [60.0, 26.0, -36.0],
    [58.0, -27.0, -37.0],
    [75.0, 18.0, -40.0],
    [77.0, -16.0, -30.0],
];

fn mm(length: f64) -> Millimetres {
    Millimetres::new(Length::from_mm(length)).expect("within bounds")
}

fn place(at: Vector3<f64>) -> ScanPlace {
    ScanPlace::new(ScanPoint::from_coords(at)).expect("within bounds")
}

fn remount(centric: Option<CentricRecord>) -> Remount {
    Remount {
        title: "Made up".to_owned(),
        scene: "thirty_degree.ron".to_owned(),
        pin_lift_mm: None,
        incisors_mm: None,
        centric,
        tolerance_mm: None,
        intended: None,
        raised: Vec::new(),
    }
}

fn by_landmarks(truth: &Truth, noise: &mut dyn FnMut() -> f64, sd: f64) -> CentricRecord {
    let before: Vec<Vector3<f64>> = MARKS.map(Vector3::from).to_vec();
    let mut noisy = |at: Vector3<f64>| place(at + Vector3::new(noise(), noise(), noise()));
    CentricRecord::Landmarks {
        on_the_mounting_mm: before.iter().map(|at| noisy(*at)).collect(),
        in_the_record_mm: before.iter().map(|at| noisy(truth.moved(at))).collect(),
        sd_mm: mm(sd),
    }
}

fn by_gaps(truth: &Truth, noise: &mut dyn FnMut() -> f64, sd: f64) -> CentricRecord {
    let normal = Scene::thirty_degree().occlusal_plane.normal();
    let gap = |at: [f64; 3]| {
        let at = Vector3::from(at);
        let gap = (at - truth.moved(&at)).dot(&normal) + noise();
        GapAtTooth { tooth: Tooth::new(36).expect("a tooth"), at_mm: place(at), gap_mm: mm(gap) }
    };
    CentricRecord::Gaps { at: MARKS.into_iter().map(gap).collect(), sd_mm: mm(sd) }
}

fn read(record: CentricRecord) -> Centric {
    remount(Some(record)).centric(&Scene::thirty_degree()).expect("a pose").expect("a record")
}

fn assert_is(centric: &Centric, truth: &Truth, within: f64) {
    let found = [
        centric.turn.radians() - truth.turn,
        centric.shift_mm.x - truth.shift[0],
        centric.shift_mm.y - truth.shift[1],
        centric.shift_mm.z - truth.shift[2],
        centric.roll.radians() - truth.roll,
        centric.yaw.radians() - truth.yaw,
    ];
    assert!(found.iter().all(|off| off.abs() < within), "{found:?} of {truth:?}");
}

fn truths() -> impl Strategy<Value = Truth> {
    (-0.1..0.1_f64, prop::array::uniform3(-2.0..2.0_f64), -0.03..0.03_f64, -0.03..0.03_f64)
        .prop_map(|(turn, shift, roll, yaw)| Truth { turn, shift, roll, yaw })
}

proptest! {
    #[test]
    fn what_is_put_in_is_found_by_landmarks_and_by_a_matrix(truth in truths()) {
        let mut none = || 0.0;
        assert_is(&read(by_landmarks(&truth, &mut none, 0.0)), &truth, EXACT);
        let [x, y, z, zero] =
            [Vector3::x(), Vector3::y(), Vector3::z(), Vector3::zeros()].map(|at| truth.moved(&at));
        let row = |axis: usize| [x[axis] - zero[axis], y[axis] - zero[axis], z[axis] - zero[axis], zero[axis]];
        let matrix = CentricRecord::Transform(row(0), row(1), row(2), [0.0, 0.0, 0.0, 1.0]);
        assert_is(&read(matrix), &truth, EXACT);
    }

    #[test]
    fn gaps_give_back_turn_height_and_roll(turn in -0.1..0.1_f64, height in -1.0..1.0_f64, roll in -0.03..0.03_f64) {
        let truth = Truth { turn, shift: [0.0, 0.0, height], roll, yaw: 0.0 };
        let centric = read(by_gaps(&truth, &mut || 0.0, 0.0));
        assert_is(&centric, &truth, EXACT);
        prop_assert!(centric.by_gaps);
    }

    /// Dentures that were measured as they stand, the pin off its table, give the same error of centric: what
    /// processing opened is a hinge turn as well.
    #[test]
    fn a_hinge_turn_before_the_record_changes_no_verdict(truth in truths(), lifted in -0.05..0.05_f64) {
        let opened = Truth { turn: truth.turn + lifted, ..truth };
        let [one, other] = [truth, opened].map(|of| read(by_landmarks(&of, &mut || 0.0, 0.0)));
        prop_assert!((one.farthest.mm() - other.farthest.mm()).abs() < EXACT);
        prop_assert_eq!(one.verdict, other.verdict);
    }

    #[test]
    fn a_remount_is_written_as_it_is_read(truth in truths(), lift in -9.0..9.0_f64, kind in 0..4_u8) {
        let centric = match kind {
            0 => None,
            1 => Some(by_landmarks(&truth, &mut || 0.0, 0.05)),
            2 => Some(by_gaps(&Truth { shift: [0.0; 3], ..truth }, &mut || 0.0, 0.02)),
            _ => Some(CentricRecord::Transform([1.0, 0.0, 0.0, lift], [0.0, 1.0, 0.0, 0.0], [0.0, 0.0, 1.0, 0.0], [0.0, 0.0, 0.0, 1.0])),
        };
        let remount = Remount { pin_lift_mm: Some(mm(lift)), intended: Some(IntendedScheme::GroupFunction), ..remount(centric) };
        prop_assert_eq!(Remount::from_ron(&remount.to_ron()).expect("what was written"), remount);
    }

    /// The turn by the lift lifts the pin by as much: worked out by turning the tip and measuring to the plate.
    #[test]
    fn the_lift_is_the_tips_distance_from_the_plate(lift in -3.0..6.0_f64, plate in 0.0..40.0_f64) {
        let mut scene = Scene::thirty_degree();
        let text = scene.to_ron();
        let change = format!("anterior_guide.sagittal_inclination_deg={plate}");
        change.parse::<sim_core::setting::Change>().expect("a change").make(&mut scene).expect("a setting");
        prop_assert!(text != scene.to_ron() || plate == 10.0);
        let remount = Remount { pin_lift_mm: Some(mm(lift)), ..remount(None) };
        let found = remount.processing(&scene).expect("a turn").expect("a lift");
        let tip = scene.instrument.incisal_point.coords();
        // The upper member turned back against the jaw's opening.
        let turned = Rotation3::from_axis_angle(&Vector3::y_axis(), -found.turn.radians()) * tip;
        let (sin, cos) = plate.to_radians().sin_cos();
        let off = (turned - tip).dot(&Vector3::new(sin, 0.0, cos));
        prop_assert!((off - lift).abs() < EXACT, "{} for {}", off, lift);
        prop_assert!(found.turn.radians() * lift >= 0.0);
    }
}

/// Mean of chi-square over draws against its degrees of freedom: its own spread is √(2·dof/draws).
fn assert_honest(freedom: f64, draws: u32, mut draw: impl FnMut(&mut dyn FnMut() -> f64) -> f64) {
    let mut rng = ChaCha8Rng::seed_from_u64(11);
    let mut noise = || -> f64 { StandardNormal.sample(&mut rng) };
    let sum: f64 = (0..draws).map(|_| draw(&mut noise)).sum();
    let mean = sum / f64::from(draws);
    let spread = (2.0 * freedom / f64::from(draws)).sqrt();
    assert!((mean - freedom).abs() < 4.0 * spread, "{mean} for {freedom} ± {spread}");
}

#[test]
fn standard_errors_are_as_large_as_the_errors() {
    let truth = Truth { turn: 0.03, shift: [0.0; 3], roll: 0.0, yaw: 0.0 };
    let sd = 0.05;
    assert_honest(5.0, 1000, |noise| {
        let centric = read(by_landmarks(&truth, &mut || sd * noise(), sd));
        centric.errors.expect("a standard error").chi_square
    });
    assert_honest(2.0, 1000, |noise| {
        let centric = read(by_gaps(&truth, &mut || sd * noise(), sd));
        centric.errors.expect("a standard error").chi_square
    });
    // Each part by itself, the hinge turn too, and with an error of centric put in.
    let wrong = Truth { shift: [-0.6, 0.3, 0.2], roll: 0.01, yaw: -0.008, ..truth };
    let part = |of: fn(&Centric) -> [f64; 2], truth: f64| {
        assert_honest(1.0, 1000, |noise| {
            let [found, error] = of(&read(by_landmarks(&wrong, &mut || sd * noise(), sd)));
            ((found - truth) / error).powi(2)
        });
    };
    part(|centric| [centric.turn.radians(), centric.errors.expect("one").turn.radians()], wrong.turn);
    part(|centric| [centric.shift_mm.x, centric.errors.expect("one").shift_mm.x], wrong.shift[0]);
    part(|centric| [centric.shift_mm.y, centric.errors.expect("one").shift_mm.y], wrong.shift[1]);
    part(|centric| [centric.shift_mm.z, centric.errors.expect("one").shift_mm.z], wrong.shift[2]);
    part(|centric| [centric.roll.radians(), centric.errors.expect("one").roll.radians()], wrong.roll);
    part(|centric| [centric.yaw.radians(), centric.errors.expect("one").yaw.radians()], wrong.yaw);
}

#[test]
fn a_wrong_centric_is_told_from_a_hinge_turn_and_from_noise() {
    let turned = Truth { turn: 0.05, shift: [0.0; 3], roll: 0.0, yaw: 0.0 };
    let verdict = |truth: &Truth, sd| read(by_landmarks(truth, &mut || 0.0, sd)).verdict;
    assert_eq!(verdict(&turned, 0.01), CentricVerdict::Stands);
    let back = Truth { shift: [-1.0, 0.0, 0.0], ..turned };
    assert_eq!(verdict(&back, 0.01), CentricVerdict::Wrong);
    // So noisy that a condyle cannot be told to the tolerance, or that a millimetre comes by chance.
    assert_eq!(verdict(&turned, 0.5), CentricVerdict::Undecided);
    assert_eq!(verdict(&back, 1.0), CentricVerdict::Undecided);
    assert_eq!(
        read(by_gaps(&back, &mut || 0.0, 0.01)).verdict,
        CentricVerdict::Stands,
        "gaps are blind to it"
    );
}

fn refused(text: &str, parts: &[&str]) {
    let said = Remount::from_ron(text).expect_err(text).to_string();
    assert!(parts.iter().all(|part| said.contains(part)), "{text}: {said}");
}

#[test]
fn what_cannot_be_is_refused_with_what_is_allowed() {
    refused(r#"(title: "t", scene: "s")"#, &["neither pin_lift_mm nor centric"]);
    refused(r#"(title: "t", scene: "s", pin_lift_mm: 40)"#, &["pin_lift_mm is 40", "-10 to 10 mm"]);
    refused(
        r#"(title: "t", scene: "s", pin_lift_mm: 1, tolerance_mm: -1)"#,
        &["tolerance_mm is -1", "0 to 5"],
    );
    refused(r#"(title: "t", scene: "s", pin_lift: 1)"#, &["pin_lift"]);
    refused(r#"(title: "t", scene: "s", raised: [(tooth: 99, by_mm: 1)])"#, &["99"]);
    let scene = Scene::thirty_degree();
    let centric = |record: &str| {
        let text = format!(r#"(title: "t", scene: "s", centric: {record})"#);
        let remount = Remount::from_ron(&text).expect("it can be read");
        remount.centric(&scene).expect_err(record).to_string()
    };
    let two = "Landmarks(on_the_mounting_mm: [(1, 0, 0), (2, 5, 0)], in_the_record_mm: [(1, 0, 0), (2, 5, 0)], sd_mm: 0)";
    assert!(centric(two).contains("at least 3"), "{}", centric(two));
    let stretched = "Transform((2, 0, 0, 0), (0, 1, 0, 0), (0, 0, 1, 0), (0, 0, 0, 1))";
    assert!(centric(stretched).contains("rigid motion"), "{}", centric(stretched));
    let one_side = "Gaps(at: [(tooth: 36, at_mm: (60, 25, -36), gap_mm: 1), (tooth: 35, at_mm: (65, 25, -36), gap_mm: 1), (tooth: 34, at_mm: (70, 25, -36), gap_mm: 1)], sd_mm: 0.1)";
    assert!(centric(one_side).contains("not in one line"), "{}", centric(one_side));
}

fn ground(name: &str, scheme: IntendedScheme, raised: &str, changes: &[&str]) -> GrindingList {
    let path = format!("{}/../scenes/{name}", env!("CARGO_MANIFEST_DIR"));
    let mut scene = Scene::from_ron(&std::fs::read_to_string(path).expect("a scene")).expect("a scene");
    for change in changes.iter().chain(&["invented_casts.fineness_mm=0.8"]) {
        change.parse::<sim_core::setting::Change>().expect("a change").make(&mut scene).expect("a setting");
    }
    let pair = scene.invent_casts().expect("a pair").expect("invented casts");
    let casts = Arc::new(Casts::new(pair.upper, pair.lower, &ToothPlaces::none()));
    let text = format!(r#"(title: "t", scene: "s", pin_lift_mm: 0, raised: [{raised}])"#);
    let casts =
        Remount::from_ron(&text).expect("a remount").processed(&casts, scene.occlusal_plane).expect("teeth");
    grinding::list(&scene, &casts, scheme).expect("a pose")
}

#[test]
fn a_raised_tooth_is_ground_by_as_much_as_it_was_raised_and_the_pin_comes_back() {
    let list = ground("denture_casts.ron", IntendedScheme::Balanced, "(tooth: 46, by_mm: 0.4)", &[]);
    assert!(list.pin_before.expect("a pin").mm() > 0.3, "{:?}", list.pin_before);
    assert!(list.pin_after.expect("a pin").mm() < 0.04, "{:?}", list.pin_after);
    let centric: Vec<_> = list.places.iter().filter(|place| place.kind == ContactKind::Centric).collect();
    assert!(!centric.is_empty() && list.places[0].kind == ContactKind::Centric);
    for place in &centric {
        assert_eq!(place.nearest.lower_tooth, Tooth::new(46).ok(), "{place:?}");
        assert!(place.then.iter().any(|(upper, _)| upper.is_some_and(|tooth| tooth.number() / 10 == 2)));
    }
    let most = centric.iter().map(|place| place.amount.mm()).fold(0.0, f64::max);
    assert!((most - 0.4).abs() < 0.02, "{most}");
    let order = |kind| {
        [ContactKind::Centric, ContactKind::Working, ContactKind::Orbiting, ContactKind::Protrusive]
            .iter()
            .position(|one| *one == kind)
    };
    assert!(list.places.is_sorted_by_key(|place| order(place.kind)));
}

#[test]
fn without_an_error_centric_needs_no_grinding() {
    let list = ground("denture_casts.ron", IntendedScheme::Balanced, "", &[]);
    assert!(list.places.iter().all(|place| place.kind != ContactKind::Centric), "{:?}", list.places);
}

#[test]
fn under_canine_guidance_what_interferes_is_ground_on_inclines_that_hold_no_centric() {
    let steep = ["invented_casts.cusp_angle_deg=40"];
    let list = ground("dentate_casts.ron", IntendedScheme::CanineGuided, "", &steep);
    let working: Vec<_> = list.places.iter().filter(|place| place.kind == ContactKind::Working).collect();
    assert!(!working.is_empty());
    for place in working {
        let name = place.ground.name();
        assert!(["upper_buccal_palatal_incline", "lower_lingual_buccal_incline"].contains(&name), "{name}");
        let canine =
            |(upper, _): &(Option<Tooth>, Option<Tooth>)| upper.is_some_and(|tooth| tooth.position() == 3);
        assert!(place.then.iter().any(canine), "then the canine leads: {place:?}");
    }
}

/// A level, zeroed instrument, whose protrusion is a shift straight forward, and two cusps of each side.
fn level_scene(excursions: &str) -> Scene {
    let opposing = "opposing: (protrusive_deg: 20, retrusive_deg: 0, working_deg: 25, nonworking_deg: 30)";
    let text = format!(
        r#"(
            title: "Level (made up)",
            instrument: (
                design: Arcon,
                intercondylar_distance_mm: 110,
                right_guide: (horizontal_inclination_deg: 0, lateral_angle_deg: 0),
                left_guide: (horizontal_inclination_deg: 0, lateral_angle_deg: 0),
                anterior_guide: Table(sagittal_inclination_deg: 0, right_wing_deg: 0, left_wing_deg: 0, flat_half_width_mm: 0),
                incisal_point_mm: (98, 0, -42),
            ),
            occlusal_plane_inclination_deg: 0,
            cusps: [
                (tooth: 43, name: "tip", at_mm: (88, -14, -40), {opposing}),
                (tooth: 46, name: "mesiobuccal", at_mm: (66, -24, -36), {opposing}),
                (tooth: 36, name: "mesiobuccal", at_mm: (66, 24, -36), {opposing}),
                (tooth: 26, name: "mesiopalatal", at_mm: (64, 20, -36), {opposing}),
                (tooth: 37, name: "distolingual", at_mm: (50, 18, -36), {opposing}),
            ],
            excursions: [{excursions}],
            samples: 13,
        )"#
    );
    Scene::from_ron(&text).expect("a scene")
}

fn high(raised: &str, scene: &Scene) -> Vec<(usize, Length)> {
    let text = format!(r#"(title: "t", scene: "s", pin_lift_mm: 0, raised: [{raised}])"#);
    Remount::from_ron(&text).expect("a remount").high_cusps(scene).expect("such a tooth")
}

#[test]
fn cusps_that_shift_straight_forward_are_in_the_way_by_the_tangent_of_what_they_meet() {
    let scene = level_scene("Protrusive(advance_mm: 6)");
    let mut list = cusps::list(&scene, &[], IntendedScheme::CanineGuided).expect("a pose");
    // Equally deep but for rounding, which would order them.
    list.sort_by(|one, other| one.cusp.cmp(&other.cusp));
    // 6 mm forward against 20°, by a table of tangents: tan 20° = 0.36397. Front teeth are meant to lead in protrusion.
    let named: Vec<&str> = list.iter().map(|one| one.cusp.as_str()).collect();
    assert_eq!(named, ["26.mesiopalatal", "36.mesiobuccal", "37.distolingual", "46.mesiobuccal"]);
    for one in &list {
        assert!((one.amount.mm() - 6.0 * 0.363_970_23).abs() < 1e-6, "{one:?}");
        assert!((one.advance.mm() - 6.0).abs() < EXACT && one.incline == OpposingIncline::Protrusive);
        assert_eq!((one.kind, one.movement), (ContactKind::Protrusive, Some(Movement::Protrusive)));
    }
    let ground: Vec<Option<Ground>> = list.iter().map(|one| one.ground).collect();
    let [upper, lower] = [Some(Ground::UpperDistalIncline), Some(Ground::LowerMesialIncline)];
    assert_eq!(ground, [lower, upper, None, upper]);
}

/// How deep a lower cusp is in the incline that it meets, worked out from where its tip goes.
fn depth(at: [f64; 3], jaw: &sim_core::frame::JawPose, outward_y: f64) -> f64 {
    let [x, y, z] = at;
    let moved = jaw.to_upper(&sim_core::frame::LowerPoint::mm(x, y, z)).coords() - Vector3::from(at);
    let outward = moved.y * outward_y;
    let slopes = [
        moved.x * 20_f64.to_radians().tan(),
        outward * 25_f64.to_radians().tan(),
        -outward * 30_f64.to_radians().tan(),
        0.0,
    ];
    slopes.into_iter().fold(0.0, f64::max) + moved.z
}

#[test]
fn in_a_lateral_excursion_the_working_side_comes_before_the_orbiting_side_and_each_is_as_deep_as_its_tip_goes()
 {
    let scene = level_scene("RightLateral(advance_mm: 6)");
    let motion = Mechanism::new(&scene.instrument).motion(&scene.excursions[0], scene.samples);
    let deepest = |at, outward_y| {
        motion.placements().iter().map(|placed| depth(at, &placed.jaw, outward_y)).fold(0.0, f64::max)
    };
    let canine = cusps::list(&scene, &[], IntendedScheme::CanineGuided).expect("a pose");
    let of = |tooth: u8| canine.iter().find(|one| one.tooth.number() == tooth).expect("in the way");
    for (tooth, at, outward_y, kind, ground) in [
        (46, [66.0, -24.0, -36.0], -1.0, ContactKind::Working, Ground::UpperBuccalPalatalIncline),
        (36, [66.0, 24.0, -36.0], 1.0, ContactKind::Orbiting, Ground::LowerBuccalLingualIncline),
    ] {
        let one = of(tooth);
        assert!(one.amount.mm() > 0.1 && (one.amount.mm() - deepest(at, outward_y)).abs() < EXACT, "{one:?}");
        assert_eq!((one.kind, one.ground), (kind, Some(ground)));
    }
    // Both that meet on the orbiting side hold centric: the lower one's incline is ground, whichever cusp is looked at.
    assert_eq!(of(26).ground, Some(Ground::LowerBuccalLingualIncline));
    assert!(canine.iter().all(|one| one.tooth.number() != 43), "the canine leads: {canine:?}");
    assert_eq!(canine[0].kind, ContactKind::Working);
    assert!(canine[1..].iter().all(|one| one.kind == ContactKind::Orbiting));
    // In group function the working side is meant to touch, in balance every tooth is.
    let group = cusps::list(&scene, &[], IntendedScheme::GroupFunction).expect("a pose");
    assert_eq!(group, canine[1..]);
    assert!(cusps::list(&scene, &[], IntendedScheme::Balanced).expect("a pose").is_empty());
}

#[test]
fn a_raised_cusp_comes_first_by_as_much_as_it_was_raised_and_a_lowered_one_not_at_all() {
    let scene =
        level_scene("RightLateral(advance_mm: 6), LeftLateral(advance_mm: 6), Protrusive(advance_mm: 6)");
    let raised = high("(tooth: 36, by_mm: 0.4), (tooth: 26, by_mm: -0.2)", &scene);
    for scheme in IntendedScheme::ALL {
        let list = cusps::list(&scene, &raised, scheme).expect("a pose");
        let first = &list[0];
        assert_eq!(
            (first.cusp.as_str(), first.kind, first.movement),
            ("36.mesiobuccal", ContactKind::Centric, None)
        );
        assert!((first.amount.mm() - 0.4).abs() < EXACT);
        assert!(list[1..].iter().all(|one| one.kind != ContactKind::Centric));
        // It is in the way in protrusion and on both sides, or nowhere: the fossa. In group function not on the working
        // side: the cusp.
        let expected = if scheme == IntendedScheme::GroupFunction {
            Ground::LowerBuccalCusp
        } else {
            Ground::UpperFossa
        };
        assert_eq!(first.ground, Some(expected), "{scheme:?}");
    }
    let absent = Remount::from_ron(r#"(title: "t", scene: "s", raised: [(tooth: 47, by_mm: 1)])"#);
    let told = absent.expect("a remount").high_cusps(&scene).expect_err("no such cusp").to_string();
    assert!(told.contains("no tooth 47"), "{told}");
}
