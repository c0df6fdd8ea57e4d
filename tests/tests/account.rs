//! Accounts of numbers: the parts add up to the number, and the slopes are what turning a setting does.

use proptest::prelude::*;
use sim_core::account::{Account, Mover, NoSlopes, Number, PartKind, Slope, SolvedPose};
use sim_core::anterior::{AnteriorGuide, Trough};
use sim_core::cast::invented::InventedCasts;
use sim_core::cast::{Casts, ToothPlaces};
use sim_core::cusp::{Cusp, Gauges, OpposingInclines};
use sim_core::excursion::{Drive, Excursion, Mechanism, Movement, Placement, Ratio, SampleCount, Station};
use sim_core::frame::{OcclusalPlane, Side};
use sim_core::guide::{EarlyTranslation, GuidePath};
use sim_core::instrument::{Design, Instrument};
use sim_core::scene::Scene;
use sim_core::setting::{Setting, all};
use sim_core::units::{Angle, Length};
use whole_checks::random;
use whole_checks::tolerance::{ROUNDED, SOLVED};
use whole_checks::{definition, random::REACH_MM};

/// Step of a difference quotient, in degrees or millimetres. Over it a number bends by less than 1e-8 of
/// itself, and rounding leaves 1e-8 of a quotient.
const STEP: f64 = 1e-4;
/// How far a quotient may be off, for each millimetre or degree of slope and one more: by both.
const QUOTIENT: f64 = 3e-6;

/// A scene, an excursion of it and where it stands.
#[derive(Clone, Debug)]
struct Case {
    scene: Scene,
    excursion: Excursion,
}

impl Case {
    fn mechanism(&self) -> Mechanism {
        self.scene.mechanism()
    }

    /// The last pose of the excursion; none where there is none.
    fn placed(&self) -> Option<Placement> {
        let two = SampleCount::new(2).expect("two samples");
        self.mechanism().samples(&self.excursion, two).last()?.ok()
    }

    fn account(&self, number: Number, placement: &Placement) -> Account {
        let mechanism = self.mechanism();
        let (scene, excursion) = (&self.scene, self.excursion);
        let pose = SolvedPose { scene, mechanism: &mechanism, excursion, placement };
        pose.account(number).expect("a pose at rest, and its cusps")
    }

    fn numbers(&self) -> impl Iterator<Item = Number> {
        let cusps = 0..self.scene.cusps.len();
        cusps.flat_map(|cusp| [Number::Separation(cusp), Number::Clearance(cusp)]).chain(Number::WITHOUT_CUSP)
    }
}

/// An instrument as [`random::instrument`], with a pin let down where it has one.
fn instrument() -> impl Strategy<Value = Instrument> {
    let extension = prop_oneof![1 => Just(0.0), 1 => -2.0..4.0_f64];
    (random::instrument(), extension).prop_map(|(mut instrument, extension)| {
        if instrument.anterior_guide.has_pin() {
            instrument.pin_extension = Length::from_mm(extension);
        }
        instrument
    })
}

fn drive() -> impl Strategy<Value = Drive> {
    (0..4, 0.2..6.0_f64).prop_map(|(kind, mm)| match kind {
        0 => Drive::IncisalDisplacement(Length::from_mm(mm)),
        1 => Drive::Tracing(Length::from_mm(mm)),
        _ => Drive::Advance(Length::from_mm(mm)),
    })
}

fn case() -> impl Strategy<Value = Case> {
    let cusps = proptest::collection::vec(random::cusp(), 2);
    (instrument(), random::occlusal_plane(), cusps, random::movement(), drive()).prop_map(
        |(instrument, occlusal_plane, cusps, movement, drive)| {
            let excursion = Excursion::new(movement, drive).expect("within range");
            let scene = Scene { instrument, occlusal_plane, cusps, ..Scene::thirty_degree() };
            Case { scene, excursion }
        },
    )
}

/// A number of a pose, by the definitions and not by the account.
fn read(case: &Case, placed: &Placement, number: Number) -> f64 {
    let (scene, jaw) = (&case.scene, &placed.jaw);
    let cusp = |place: usize| definition::cusp(scene.occlusal_plane, &scene.cusps[place], jaw);
    let condyle = |side: Side| definition::condyle(&scene.instrument, jaw, side);
    match number {
        Number::Separation(place) => cusp(place)[0],
        Number::Clearance(place) => cusp(place)[1],
        Number::Opening => {
            let forward = jaw.rotation() * nalgebra::Vector3::x();
            f64::atan2(-forward.z, forward.x).to_degrees()
        }
        Number::IncisalDisplacement => {
            let start = match case.excursion.movement() {
                Movement::Opening => case.mechanism().opened_to(Angle::ZERO),
                _ => case.mechanism().rest().expect("a pose at rest"),
            };
            (placed.incisal_point.coords() - start.incisal_point.coords()).norm()
        }
        Number::Advance(side) => condyle(side)[0],
        Number::Medial(side) => condyle(side)[1],
        Number::Drop(side) => condyle(side)[2],
    }
}

fn sum(account: &Account) -> f64 {
    account.parts.iter().map(|part| part.amount).sum()
}

/// The case with one setting at another number; none where it would be out of range.
fn turned(case: &Case, mover: &Mover, number: Number, by: f64) -> Option<Case> {
    let mut turned = case.clone();
    match mover {
        Mover::Setting(setting, side) => {
            let side = side.unwrap_or(Side::Right);
            let now = setting.get(&case.scene, side)?;
            setting.set(&mut turned.scene, side, now + by).ok()?;
        }
        Mover::Incline(entry) => {
            let (place, step) = (number.cusp()?, Angle::from_degrees(by));
            let mut inclines = *case.scene.cusps[place].opposing();
            let own = match entry.facts.key {
                "protrusive_deg" => &mut inclines.protrusive,
                "retrusive_deg" => &mut inclines.retrusive,
                "working_deg" => &mut inclines.working,
                _ => &mut inclines.nonworking,
            };
            *own = *own + step;
            turned.scene.cusps[place] = case.scene.cusps[place].opposed_by(inclines);
        }
    }
    Some(turned)
}

/// On which piece of everything that is pieced together a pose lies: plane, incline, early translation,
/// recorded path, sideways move.
fn piece(case: &Case, placed: &Placement, number: Number) -> impl PartialEq + use<> {
    let t = placed.advance().mm();
    let shares = match case.excursion.movement() {
        Movement::Lateroprotrusive { ratio, .. } => [1.0, ratio.get()],
        _ => [1.0, 1.0],
    };
    let guides = Side::BOTH.map(|side| {
        let guide = case.scene.instrument.guide(side);
        let on_path = shares.map(|share| match &guide.path {
            GuidePath::Profile(profile) => profile.points().iter().filter(|(a, _)| *a <= share * t).count(),
            GuidePath::Straight | GuidePath::Arc(_) => 0,
        });
        (on_path, t < guide.early_translation.over.mm())
    });
    let cusp = number.cusp().map(|place| &case.scene.cusps[place]);
    let incline = Gauges::new(case.scene.occlusal_plane, cusp).read(&placed.jaw).next();
    (placed.guidance.plane(), guides, incline.map(|read| read.incline), placed.station.is_before_advance())
}

/// The slope one way by a quotient of three values on that side; none near a kink, or out of range.
fn quotient(case: &Case, placed: &Placement, mover: &Mover, number: Number, way: f64) -> Option<f64> {
    let at = |steps: f64| {
        let turned = turned(case, mover, number, way * steps * STEP)?;
        let placed = turned.placed()?;
        Some((read(&turned, &placed, number), piece(&turned, &placed, number)))
    };
    let here = (read(case, placed, number), piece(case, placed, number));
    let (one, two) = (at(1.0)?, at(2.0)?);
    let on_one_piece = here.1 == one.1 && one.1 == two.1;
    on_one_piece.then(|| (-3.0 * here.0 + 4.0 * one.0 - two.0) / (2.0 * way * STEP))
}

fn agrees(slope: f64, quotient: f64) -> bool {
    (slope - quotient).abs() <= QUOTIENT * (1.0 + slope.abs())
}

proptest! {
    #![proptest_config(random::cases(random::USUAL_CASES))]

    #[test]
    fn the_parts_of_every_number_add_up_to_it(case in case()) {
        let Some(placed) = case.placed() else { return Ok(()) };
        for number in case.numbers() {
            let account = case.account(number, &placed);
            prop_assert!(!account.parts.is_empty(), "{number:?}");
            let value = read(&case, &placed, number);
            prop_assert!((account.value - value).abs() <= SOLVED, "{number:?}: {} is {value}", account.value);
            let sum = sum(&account);
            prop_assert!((sum - account.value).abs() <= ROUNDED, "{number:?}: {sum} of {}", account.value);
        }
    }

    #[test]
    fn without_the_guides_own_part_a_separation_is_that_of_a_level_guide(case in case()) {
        let Some(placed) = case.placed() else { return Ok(()) };
        let mut level = case.scene.instrument.clone();
        level.anterior_guide = match level.anterior_guide {
            AnteriorGuide::Incisors(_) => AnteriorGuide::Incisors(Trough::LEVEL),
            _ => AnteriorGuide::Table(Trough::LEVEL),
        };
        let level = Mechanism::new(&level).at(case.excursion.movement(), placed.station);
        let Ok(level) = level else { return Ok(()) };
        for place in 0..case.scene.cusps.len() {
            let account = case.account(Number::Separation(place), &placed);
            let beyond = account.parts.iter().filter(|part| matches!(part.kind, PartKind::GuideTurn { .. }));
            let beyond: f64 = beyond.map(|part| part.amount).sum();
            let with_level = read(&case, &level, Number::Separation(place));
            prop_assert!((account.value - beyond - with_level).abs() <= SOLVED);
        }
    }

    #[test]
    fn every_slope_is_what_turning_the_setting_does(case in case()) {
        let Some(placed) = case.placed() else { return Ok(()) };
        let mut compared = 0;
        for number in case.numbers() {
            let account = case.account(number, &placed);
            let Ok(slopes) = &account.slopes else { return Ok(()) };
            for found in slopes {
                for (way, slope) in [(-1.0, found.slope.lowered()), (1.0, found.slope.raised())] {
                    if let Some(quotient) = quotient(&case, &placed, &found.mover, number, way) {
                        let key = found.mover.key();
                        prop_assert!(agrees(slope, quotient), "{number:?} by {key}: {slope} is {quotient}");
                        compared += 1;
                    }
                }
            }
        }
        prop_assert!(compared > 100, "{compared}");
    }

    #[test]
    fn a_setting_that_is_not_listed_moves_nothing(case in case(), nth in 0..60_usize) {
        let Some(placed) = case.placed() else { return Ok(()) };
        let movers: Vec<Mover> = all()
            .filter(|setting| !matches!(setting, Setting::InventedCasts(_)))
            .flat_map(|setting| setting.sides().iter().map(move |side| Mover::Setting(setting, *side)))
            .collect();
        let mover = movers[nth % movers.len()];
        for number in case.numbers() {
            let account = case.account(number, &placed);
            let Ok(slopes) = &account.slopes else { return Ok(()) };
            if slopes.iter().all(|found| found.mover.key() != mover.key()) {
                for way in [-1.0, 1.0] {
                    if let Some(quotient) = quotient(&case, &placed, &mover, number, way) {
                        prop_assert!(agrees(0.0, quotient), "{number:?} by {}: {quotient}", mover.key());
                    }
                }
            }
        }
    }
}

/// A scene with everything in use, whose right side is arc and whose left is straight.
fn all_in_use(design: Design, on_a_table: bool) -> Scene {
    let mut scene = Scene::thirty_degree();
    let degrees = Angle::from_degrees;
    scene.instrument.design = design;
    scene.instrument.right_guide.path =
        GuidePath::Arc(sim_core::guide::ArcPath { radius: Length::from_mm(30.0) });
    for (side, more) in [(Side::Right, 0.0), (Side::Left, 3.0)] {
        let guide = scene.instrument.guide_mut(side);
        guide.horizontal_inclination = degrees(33.0 + more);
        guide.immediate_translation = Length::from_mm(0.4);
        guide.wall_tilt = degrees(4.0 + more);
        guide.lateroretrusion = degrees(5.0 + more);
        guide.laterosurtrusion = degrees(6.0 + more);
        guide.early_translation =
            EarlyTranslation { amount: Length::from_mm(0.5), over: Length::from_mm(4.0) };
    }
    let trough = Trough {
        sagittal_inclination: degrees(20.0),
        right_wing: degrees(12.0),
        left_wing: degrees(14.0),
        flat_half_width: Length::from_mm(0.5),
    };
    scene.instrument.anterior_guide =
        if on_a_table { AnteriorGuide::Table(trough) } else { AnteriorGuide::Incisors(trough) };
    scene.instrument.pin_extension = Length::from_mm(if on_a_table { 1.5 } else { 0.0 });
    scene
}

fn at(scene: &Scene, movement: Movement, advance_mm: f64) -> (Case, Placement) {
    let drive = Drive::Advance(Length::from_mm(advance_mm));
    let case =
        Case { scene: scene.clone(), excursion: Excursion::new(movement, drive).expect("within range") };
    let placed = case.mechanism().at(movement, Station::advanced(Length::from_mm(advance_mm)));
    (case, placed.expect("a pose"))
}

#[test]
fn every_setting_of_the_instrument_moves_some_number() {
    let ratio = Ratio::new(0.4).expect("a ratio");
    let mut moving = std::collections::BTreeSet::new();
    for design in [Design::Arcon, Design::NonArcon] {
        for on_a_table in [true, false] {
            let scene = all_in_use(design, on_a_table);
            for working in Side::BOTH {
                let movements = [
                    Movement::Protrusive,
                    Movement::Lateral { working },
                    Movement::Lateroprotrusive { working, ratio },
                ];
                for movement in movements {
                    let (case, placed) = at(&scene, movement, 3.0);
                    for number in case.numbers() {
                        let slopes = case.account(number, &placed).slopes.expect("planes guide");
                        moving.extend(slopes.iter().map(|slope| slope.mover.key()));
                    }
                }
            }
        }
    }
    for setting in all().filter(|setting| !matches!(setting, Setting::InventedCasts(_))) {
        for side in setting.sides() {
            let key = Mover::Setting(setting, *side).key();
            // The left path is straight and has no radius.
            assert!(moving.contains(&key) || key == "left_guide.path.radius_mm", "{key} moves nothing");
        }
    }
    for entry in OpposingInclines::SETTINGS {
        // Nothing moves the jaw back.
        let key = Mover::Incline(entry).key();
        assert!(moving.contains(&key) || key == "opposing.retrusive_deg", "{key} moves nothing");
    }
}

#[test]
fn a_level_protrusion_is_taken_apart_as_on_the_blackboard() {
    // Equal straight guides of 30°, a level table and a level plane: both condyles drop by t·tan 30°, half of
    // it each at the middle; the jaw turns front up until the pin is back on the table.
    let mut scene = Scene::thirty_degree();
    scene.instrument = Instrument::zeroed();
    scene.occlusal_plane = OcclusalPlane { inclination: Angle::ZERO };
    let (case, placed) = at(&scene, Movement::Protrusive, 3.0);
    let account = case.account(Number::Separation(0), &placed);
    let amount = |is: fn(&PartKind) -> bool| -> f64 {
        account.parts.iter().filter(|part| is(&part.kind)).map(|part| part.amount).sum()
    };
    let drop = 3.0 * 30.0_f64.to_radians().tan();
    assert!((amount(|kind| matches!(kind, PartKind::CondyleDrop { .. })) - drop).abs() < ROUNDED);
    assert!(amount(|kind| matches!(kind, PartKind::Advances(_))).abs() < ROUNDED);
    assert!(amount(|kind| matches!(kind, PartKind::Shifts(_))).abs() < ROUNDED);
    assert!(amount(|kind| matches!(kind, PartKind::GuideTurn { .. })).abs() < ROUNDED);
    // Seen from the axis the cusp stands at (x, z) and the pin's tip of the upper member at (X − 3, Z + drop)
    // in the lower frame moved by it: the turn φ, front up, that brings it down again lifts the cusp by
    // x·sin φ − z·(1 − cos φ).
    let tip = scene.cusps[0].at_mm();
    let turn = account.parts.iter().find_map(|part| match part.kind {
        PartKind::LevelTurn { turn } => Some(turn),
        _ => None,
    });
    let (sin, cos) = turn.expect("a turn to the level").sin_cos();
    let lifted = -tip.x * -sin + tip.z * (1.0 - cos);
    let turned = amount(|kind| matches!(kind, PartKind::LevelTurn { .. }));
    assert!((turned - lifted).abs() < 1e-9, "{turned} is {lifted}");
    // Villa: the influence of the condylar guidance falls linearly from all of it at the condyle to none at
    // the guide in front, to the first order (J Prosthet Dent 1970;23:522).
    let part = account.value / drop;
    let linear = 1.0 - tip.x / scene.instrument.incisal_point.x.mm();
    assert!((part - linear).abs() < 0.05, "{part} is {linear}");
}

#[test]
fn in_the_groove_between_two_wings_a_number_has_two_slopes() {
    // On an instrument of equal sides the pin slides in the groove where both wings meet. A guide that is
    // steeper on one side, or flatter, carries it up one wing or the other.
    let mut scene = Scene::thirty_degree();
    scene.instrument = Instrument::zeroed();
    let degrees = Angle::from_degrees;
    let wings = Trough { right_wing: degrees(25.0), left_wing: degrees(20.0), ..Trough::LEVEL };
    scene.instrument.anterior_guide = AnteriorGuide::Table(wings);
    let (case, placed) = at(&scene, Movement::Protrusive, 4.0);
    let slopes = case.account(Number::Opening, &placed).slopes.expect("a table guides");
    let left = slopes.iter().find(|slope| slope.mover.key() == "left_guide.horizontal_inclination_deg");
    let left = left.expect("it moves the opening");
    let Slope::Kink { lowered, raised } = left.slope else { panic!("{left:?}") };
    let opening = |by: f64| {
        let turned = turned(&case, &left.mover, Number::Opening, by).expect("within range");
        turned.placed().expect("a pose").opening().degrees()
    };
    for (way, slope) in [(-1.0, lowered), (1.0, raised)] {
        let [here, one, two] = [0.0, way * STEP, 2.0 * way * STEP].map(opening);
        let quotient = (-3.0 * here + 4.0 * one - two) / (2.0 * way * STEP);
        assert!(agrees(slope, quotient), "{slope} is {quotient}");
    }
    assert!((lowered - raised).abs() > 1e-3, "{lowered} {raised}");
    // What is alike on both sides is smooth: the plate carries the pin up the groove.
    let plate = slopes.iter().find(|slope| slope.mover.key() == "anterior_guide.sagittal_inclination_deg");
    assert!(matches!(plate.expect("it moves the opening").slope, Slope::Smooth(_)));
}

#[test]
fn a_setting_at_the_end_of_its_range_is_told_the_way_that_is_left() {
    // In the teaching scene the plate has no width, and can have no less.
    let (case, placed) = at(&Scene::thirty_degree(), Movement::Protrusive, 3.0);
    let slopes = case.account(Number::Separation(0), &placed).slopes.expect("a table guides");
    let width = slopes.iter().find(|slope| slope.mover.key() == "anterior_guide.flat_half_width_mm");
    // Wider, it is still the plate that the pin slides on.
    assert!(width.is_none(), "{width:?}");
}

#[test]
fn at_the_end_of_early_translation_its_length_matters_one_way_only() {
    let scene = all_in_use(Design::Arcon, true);
    let (case, placed) = at(&scene, Movement::Lateral { working: Side::Right }, 4.0);
    let slopes = case.account(Number::Medial(Side::Left), &placed).slopes.expect("a table guides");
    let over = slopes.iter().find(|slope| slope.mover.key() == "left_guide.early_translation.over_mm");
    let Slope::Kink { lowered, raised } = over.expect("it moves the shift").slope else { panic!("{over:?}") };
    // e·a/aₑ: over a longer way less of it is spent; over a shorter one all of it is, as before.
    assert!((raised + 0.5 / 4.0).abs() < ROUNDED && lowered == 0.0, "{lowered} {raised}");
}

#[test]
fn where_no_angle_guides_the_parts_still_add_up_and_no_slope_is_told() {
    let mut scene = Scene::thirty_degree();
    scene.instrument.anterior_guide = AnteriorGuide::Casts(Trough::LEVEL);
    let fineness = Length::from_mm(1.2);
    let invented = InventedCasts { fineness, ..InventedCasts::dentate() };
    scene.invented_casts = Some(invented);
    let pair = scene.invent_casts().expect("casts that go together").expect("invented casts");
    let casts = Casts::new(pair.upper, pair.lower, &ToothPlaces::of(&pair.cusps));
    let mechanism = scene.mechanism().with_casts(std::sync::Arc::new(casts));
    let movement = Movement::Lateral { working: Side::Right };
    let at = Station::advanced(Length::from_mm(REACH_MM / 4.0));
    let placed = mechanism.at(movement, at).expect("a pose");
    let excursion = Excursion::new(movement, Drive::Advance(at.advance())).expect("within range");
    let pose = SolvedPose { scene: &scene, mechanism: &mechanism, excursion, placement: &placed };
    for place in 0..scene.cusps.len() {
        let account = pose.account(Number::Clearance(place)).expect("a cusp");
        assert!((sum(&account) - account.value).abs() <= ROUNDED);
        assert_eq!(account.slopes.err(), Some(NoSlopes::TeethGuide));
    }
}

#[test]
fn a_hinge_opening_is_one_turn_that_no_guide_moves() {
    let scene = Scene::thirty_degree();
    let drive = Drive::Opening(Angle::from_degrees(5.0));
    let case = Case { scene, excursion: Excursion::new(Movement::Opening, drive).expect("within range") };
    let placed = case.placed().expect("a pose");
    for number in case.numbers() {
        let account = case.account(number, &placed);
        assert!((sum(&account) - account.value).abs() <= ROUNDED, "{number:?}");
        for found in account.slopes.expect("nothing guides") {
            assert!(!matches!(found.mover, Mover::Setting(Setting::Guide(_) | Setting::Anterior(_), _)));
        }
    }
    let account = case.account(Number::Opening, &placed);
    assert!(matches!(account.parts[..], [ref part] if (part.amount - 5.0).abs() < ROUNDED));
}

#[test]
fn a_cusp_that_is_not_listed_is_refused() {
    let scene = Scene { cusps: Vec::<Cusp>::new(), ..Scene::thirty_degree() };
    let (case, placed) = at(&scene, Movement::Protrusive, 1.0);
    let mechanism = case.mechanism();
    let (scene, excursion) = (&case.scene, case.excursion);
    let pose = SolvedPose { scene, mechanism: &mechanism, excursion, placement: &placed };
    let refused = pose.account(Number::Separation(0)).expect_err("no cusps").to_string();
    assert_eq!(refused, "the scene has 0 cusps; there is none of the number 1");
}
