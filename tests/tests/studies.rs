//! Studies: rows computed again by another way, the same whoever computes them; files read, refused
//! with the place of the fault, and the studies that people open.

use std::fs;
use std::path::PathBuf;
use std::thread;

use sim_core::cusp::{Gauges, OpposingInclines};
use sim_core::excursion::{BennettMovement, Mechanism, Movement, Station};
use sim_core::frame::{OcclusalPlane, Side};
use sim_core::guide::{ArcPath, GuidePath, Profile};
use sim_core::scene::Scene;
use sim_core::study::{BaseScene, Cell, ColumnKind, ColumnRole, Prepared, RowBuffer, SamplingPlan, Study};
use sim_core::units::{Angle, Length};
use whole_checks::tolerance::{ROUNDED, SOLVED};

/// The left guide steers the orbiting condyle, so that its two angles have most of the variance.
const MOST: f64 = 0.5;
/// The height of the incisal point plays next to no part.
const HARDLY: f64 = 0.02;
/// Small errors add: first-order indices of 1,024 groups come to one within their standard error.
const INTERACTION: f64 = 0.05;

/// A study of the teaching scene, written in part.
fn written(factors: &str, rest: &str, record: &str) -> String {
    format!(
        "(\n    title: \"A check (invented)\",\n    scene: \"thirty_degree.ron\",\n    factors: [{factors}],\n    {rest},\n    record: ({record}),\n)"
    )
}

fn no_file(_: &str, _: &str) -> Result<Vec<f64>, String> {
    Err("no file is read here".to_owned())
}

fn prepared(text: &str) -> Prepared {
    let study = Study::from_ron(text).unwrap_or_else(|error| panic!("{error}\n{text}"));
    Prepared::new(&study, &Scene::thirty_degree(), no_file).unwrap_or_else(|error| panic!("{error}"))
}

/// A whole row, bit by bit.
fn cells(study: &Prepared, row: &RowBuffer) -> Vec<String> {
    let cell = |column| match row.cell(column) {
        Some(Cell::Number(number)) => format!("{:016x}", number.to_bits()),
        other => format!("{other:?}"),
    };
    (0..study.columns().len()).map(cell).collect()
}

fn computed(study: &Prepared, number: u64) -> Vec<String> {
    let mut row = study.row_buffer();
    study.compute(number, &mut row).expect("a row");
    cells(study, &row)
}

const MANY_FACTORS: &str = r#"
    (setting: "right_guide.horizontal_inclination_deg", values: Uniform(min: 10.0, max: 60.0)),
    (setting: "left_guide.horizontal_inclination_deg", values: Normal(mean: 30.0, sd: 8.0)),
    (setting: "right_guide.lateral_angle_deg", values: Triangular(min: 0.0, mode: 15.0, max: 30.0)),
    (setting: "intercondylar_distance_mm", values: Published("bonwill_base")),
    (setting: "immediate_translation_mm", values: List([0.0, 0.4])),
    (setting: "anterior_guide.sagittal_inclination_deg", values: Range(from: 10.0, to: 45.0, steps: 7)),
    (setting: "occlusal_plane_inclination_deg", values: TruncatedNormal(mean: 10.0, sd: 4.0, min: 0.0, max: 20.0)),
    (setting: "cusps.36.mesiobuccal.working_deg", values: Uniform(min: 10.0, max: 40.0)),
    (setting: "cusps.protrusive_deg", values: Uniform(min: 10.0, max: 40.0)),
    (setting: "incisal_point_mm.x", values: Uniform(min: 85.0, max: 105.0)),
"#;
const MANY_CONSTRAINTS: &str = "constraints: [Derived(setting: \"left_guide.lateral_angle_deg\", by: \
    HOverEightPlusTwelve(of: \"left_guide.horizontal_inclination_deg\")), Derived(setting: \"lateroretrusion_deg\", by: \
    Linear(of: \"right_guide.lateral_angle_deg\", times: 0.5, plus: -3.0))]";
const EVERY_MEASURE: &str = "measures: [Separation, Clearance, Interference, FirstInterference, BennettMovement, \
    CondylarAdvance, Opening, Guidance, IncisalPoint, Pose], advances_mm: [1.5, 3.0]";

fn many(plan: &str) -> Prepared {
    prepared(&written(MANY_FACTORS, &format!("{MANY_CONSTRAINTS}, plan: {plan}"), EVERY_MEASURE))
}

/// A column's place by its name.
fn place(study: &Prepared, name: &str) -> usize {
    study
        .columns()
        .iter()
        .position(|column| column.name == name)
        .unwrap_or_else(|| panic!("no column {name}"))
}

/// Sets up each row's instrument field by field, not through the list of settings, and reads it with
/// the mechanism itself.
#[test]
fn rows_are_what_the_mechanism_gives_when_it_is_set_by_hand() {
    let study = many("Sobol(rows: 256, seed: 4)");
    let mut row = study.row_buffer();
    let mut compared = 0;
    for number in 0..study.row_count() {
        study.compute(number, &mut row).expect("a row");
        let value = |name: &str| match row.cell(place(&study, name)) {
            Some(Cell::Number(value)) => value,
            other => panic!("{name} is {other:?}"),
        };
        let mut scene = Scene::thirty_degree();
        let angle = |name: &str| Angle::from_degrees(value(name));
        scene.instrument.right_guide.horizontal_inclination = angle("right_guide.horizontal_inclination_deg");
        scene.instrument.left_guide.horizontal_inclination = angle("left_guide.horizontal_inclination_deg");
        scene.instrument.right_guide.lateral_angle = angle("right_guide.lateral_angle_deg");
        let h = value("left_guide.horizontal_inclination_deg");
        scene.instrument.left_guide.lateral_angle = Angle::from_degrees(h / 8.0 + 12.0);
        for side in Side::BOTH {
            let guide = if side == Side::Right {
                &mut scene.instrument.right_guide
            } else {
                &mut scene.instrument.left_guide
            };
            guide.immediate_translation = Length::from_mm(value("immediate_translation_mm"));
            guide.lateroretrusion = Angle::from_degrees(value("right_guide.lateral_angle_deg") * 0.5 - 3.0);
        }
        scene.instrument.intercondylar_distance = Length::from_mm(value("intercondylar_distance_mm"));
        scene.instrument.incisal_point.x = Length::from_mm(value("incisal_point_mm.x"));
        scene.occlusal_plane = OcclusalPlane { inclination: angle("occlusal_plane_inclination_deg") };
        let mut table = *scene.instrument.anterior_guide.trough().expect("a table");
        table.sagittal_inclination = angle("anterior_guide.sagittal_inclination_deg");
        scene.instrument.anterior_guide = sim_core::anterior::AnteriorGuide::Table(table);
        for cusp in &mut scene.cusps {
            let is_first = cusp.label() == "36.mesiobuccal";
            let working =
                if is_first { angle("cusps.36.mesiobuccal.working_deg") } else { cusp.opposing().working };
            let opposing =
                OpposingInclines { protrusive: angle("cusps.protrusive_deg"), working, ..*cusp.opposing() };
            let at = match cusp.tip() {
                sim_core::cusp::CuspTip::Upper(point) => *point.coords(),
                sim_core::cusp::CuspTip::Lower(point) => *point.coords(),
            };
            *cusp =
                sim_core::cusp::Cusp::new(cusp.tooth(), cusp.name(), at.into(), opposing).expect("a cusp");
        }
        let mechanism = Mechanism::new(&scene.instrument);
        let gauges = Gauges::new(scene.occlusal_plane, &scene.cusps);
        for excursion in &scene.excursions {
            let movement = excursion.movement();
            for advance in [1.5, 3.0] {
                let named = |name: &str| format!("{}.{advance}mm.{name}", movement.name());
                let Ok(placed) = mechanism.at(movement, Station::advanced(Length::from_mm(advance))) else {
                    assert!(row.reason().is_some(), "row {number}");
                    continue;
                };
                for (cusp, reading) in scene.cusps.iter().zip(gauges.read(&placed.jaw)) {
                    let at = |what: &str| named(&format!("{}.{what}", cusp.label()));
                    assert_eq!(value(&at("separation_mm")), reading.separation.mm(), "row {number}");
                    assert_eq!(value(&at("clearance_mm")), reading.clearance.mm(), "row {number}");
                    let flag = row.cell(place(&study, &at("interferes")));
                    assert_eq!(flag, Some(Cell::Flag(Some(reading.interferes()))));
                }
                if let Some(working) = movement.working_side() {
                    let bennett = BennettMovement::of(&placed, working);
                    assert_eq!(value(&named("bennett_outward_mm")), bennett.outward.mm());
                    assert_eq!(value(&named("bennett_backward_mm")), bennett.backward.mm());
                    assert_eq!(value(&named("bennett_upward_mm")), bennett.upward.mm());
                }
                assert_eq!(value(&named("right_condyle_advance_mm")), placed.right.advance.mm());
                assert_eq!(value(&named("left_condyle_advance_mm")), placed.left.advance.mm());
                assert_eq!(value(&named("opening_deg")), placed.opening().degrees());
                assert_eq!(value(&named("incisal_point_z_mm")), placed.incisal_point.z());
                assert_eq!(value(&named("r12")), placed.jaw.rotation()[(1, 2)]);
                assert_eq!(value(&named("r20")), placed.jaw.rotation()[(2, 0)]);
                assert_eq!(value(&named("ty_mm")), placed.jaw.translation().y);
                let word = |name: &str| row.cell(place(&study, &named(name)));
                assert_eq!(word("guided_by"), Some(Cell::Text(Some(placed.guidance.name()))));
                let plane = placed.guidance.plane().map(sim_core::anterior::GuidePlane::name);
                assert_eq!(word("guide_plane"), Some(Cell::Text(plane)));
                compared += 1;
            }
        }
    }
    assert!(compared > 256 * 5, "{compared} poses");
}

/// By going along each excursion in fine steps.
#[test]
fn the_first_interference_is_where_the_first_clearance_goes_below_contact() {
    const STEP_MM: f64 = 0.001;
    let study = prepared(&written(
        r#"(setting: "horizontal_inclination_deg", values: Uniform(min: 5.0, max: 45.0)),
           (setting: "cusps.working_deg", values: Uniform(min: 5.0, max: 50.0)),
           (setting: "immediate_translation_mm", values: List([0.0, 0.3])),
           (setting: "path.radius_mm", values: Uniform(min: 8.0, max: 40.0))"#,
        "plan: MonteCarlo(rows: 30, seed: 8)",
        // Recorded no farther than 2 mm, and looked for to the excursions' end at 6 mm all the same.
        "measures: [FirstInterference], advances_mm: [1.0, 2.0]",
    ));
    let mut row = study.row_buffer();
    let (mut met, mut late, mut clear, mut beyond_record) = (0, 0, 0, 0);
    for number in 0..study.row_count() {
        study.compute(number, &mut row).expect("a row");
        assert_eq!(row.reason(), None);
        let mut scene = Scene::thirty_degree();
        for name in
            ["horizontal_inclination_deg", "cusps.working_deg", "immediate_translation_mm", "path.radius_mm"]
        {
            let Some(Cell::Number(value)) = row.cell(place(&study, name)) else { panic!("{name}") };
            let change: sim_core::setting::Change = format!("{name}={value}").parse().expect("a change");
            change.make(&mut scene).expect("in range");
        }
        let mechanism = Mechanism::new(&scene.instrument);
        let gauges = Gauges::new(scene.occlusal_plane, &scene.cusps);
        for excursion in &scene.excursions {
            let movement = excursion.movement();
            let column =
                |what: &str| place(&study, &format!("{}.first_interference.{what}", movement.name()));
            let (Some(Cell::Text(cusp)), Some(Cell::Number(advance))) =
                (row.cell(column("cusp")), row.cell(column("advance_mm")))
            else {
                panic!("no such columns")
            };
            let interfering = |step: u32| -> Vec<String> {
                let at = Station::advanced(Length::from_mm(f64::from(step) * STEP_MM));
                let jaw = mechanism.at(movement, at).expect("a pose").jaw;
                let of = gauges.read(&jaw).zip(&scene.cusps).filter(|(reading, _)| reading.interferes());
                of.map(|(_, cusp)| cusp.label()).collect()
            };
            match (0..=6000).find(|step| !interfering(*step).is_empty()) {
                None => {
                    assert!(cusp.is_none() && advance.is_nan(), "row {number}: {cusp:?} at {advance}");
                    clear += 1;
                }
                Some(first) => {
                    let from = f64::from(first) * STEP_MM;
                    assert!(
                        advance <= from && advance >= from - STEP_MM,
                        "row {number}: {advance}, not {from}"
                    );
                    assert!(
                        interfering(first).iter().any(|label| cusp == Some(label)),
                        "row {number}: {cusp:?}"
                    );
                    met += 1;
                    late += u32::from(first > 1);
                    beyond_record += u32::from(first > 2000);
                }
            }
        }
    }
    assert!(
        met > 10 && clear > 5 && late > 3 && beyond_record > 0,
        "{met} interfere, {late} of them late, {beyond_record} beyond what is recorded, {clear} are clear"
    );
}

#[test]
fn a_row_is_the_same_by_any_thread_in_any_order_with_any_buffer() {
    let study = many("LatinHypercube(rows: 200, seed: 6)");
    let fresh: Vec<Vec<String>> = (0..study.row_count()).map(|number| computed(&study, number)).collect();
    thread::scope(|scope| {
        for part in 0..3_u64 {
            let (study, fresh) = (&study, &fresh);
            scope.spawn(move || {
                let mut row = study.row_buffer();
                for number in (0..200).rev().filter(|number| number % 3 == part) {
                    study.compute(number, &mut row).expect("a row");
                    assert_eq!(cells(study, &row), fresh[number as usize], "row {number}");
                }
            });
        }
    });
}

#[test]
fn columns_have_unique_names_and_rows_have_a_cell_for_each() {
    let study = many("MonteCarlo(rows: 3, seed: 6)");
    let names: std::collections::BTreeSet<&str> =
        study.columns().iter().map(|column| column.name.as_str()).collect();
    assert_eq!(names.len(), study.columns().len());
    assert_eq!(study.columns()[..10].iter().filter(|column| column.role == ColumnRole::Factor).count(), 10);
    assert_eq!(study.columns()[10].name, "left_guide.lateral_angle_deg");
    assert_eq!(study.columns().last().map(|column| column.role), Some(ColumnRole::Reason));
    let mut row = study.row_buffer();
    study.compute(0, &mut row).expect("a row");
    let of = |kind| study.columns().iter().filter(|column| column.kind == kind).count();
    assert_eq!(row.numbers().len(), of(ColumnKind::Number));
    assert_eq!(row.flags().len(), of(ColumnKind::Flag));
    assert_eq!(row.cell(study.columns().len()), None);
    let error = study.compute(3, &mut row).expect_err("past the last").to_string();
    assert!(error.contains("row 3 is asked for; the study has 3"), "{error}");
}

#[test]
fn rows_without_a_pose_or_with_a_value_out_of_range_are_kept_with_their_reason() {
    // An arc of 3 mm ends at 3(1 + sin H) mm of advance, about 4.5 mm at 30°: only the protrusion and
    // the left lateral movement, in which the right condyle orbits, need the right guide.
    let study = prepared(&written(
        r#"(setting: "right_guide.path.radius_mm", values: List([3.0, 20.0]))"#,
        "plan: FullGrid",
        "measures: [Clearance, Guidance, Interference, FirstInterference, BennettMovement, Pose]",
    ));
    let mut row = study.row_buffer();
    study.compute(0, &mut row).expect("a row");
    // Both excursions that fail are named, each once, and the one that does not is not.
    let why: Vec<&str> = row.reason().expect("a reason").split(" | ").collect();
    assert_eq!(why.len(), 2, "{why:?}");
    for (why, movement) in why.iter().zip(["protrusive", "left_lateral"]) {
        assert!(
            why.contains(movement) && why.contains("right_guide.path: the arc path ends at 4.5"),
            "{why}"
        );
    }
    let cell = |row: &RowBuffer, name: &str| format!("{:?}", row.cell(place(&study, name)).expect("a cell"));
    for nothing in [
        "protrusive.6mm.36.mesiobuccal.clearance_mm",
        "left_lateral.6mm.r00",
        "left_lateral.6mm.bennett_upward_mm",
    ] {
        assert_eq!(cell(&row, nothing), "Number(NaN)", "{nothing}");
    }
    assert_eq!(cell(&row, "protrusive.6mm.guided_by"), "Text(None)");
    assert_eq!(cell(&row, "left_lateral.6mm.37.mesiobuccal.interferes"), "Flag(None)");
    assert_ne!(cell(&row, "right_lateral.6mm.36.mesiobuccal.clearance_mm"), "Number(NaN)");
    let whole = computed(&study, 1);
    study.compute(1, &mut row).expect("a row");
    assert_eq!(cells(&study, &row), whole);
    assert_eq!(row.reason(), None);

    let study = prepared(&written(
        r#"(setting: "lateral_angle_deg", values: Normal(mean: 50.0, sd: 20.0))"#,
        "plan: MonteCarlo(rows: 100, seed: 1)",
        "measures: [Clearance, Guidance]",
    ));
    let mut row = study.row_buffer();
    let mut out = 0;
    for number in 0..100 {
        study.compute(number, &mut row).expect("a row");
        let value = row.numbers()[0];
        if value > 60.0 {
            let why =
                format!("lateral_angle_deg: lateral_angle_deg is {value}; allowed are -30 to 60 degrees");
            assert_eq!(row.reason(), Some(why.as_str()));
            assert!(row.numbers()[1..].iter().all(|number| number.is_nan()));
            out += 1;
        }
    }
    // P(value > 60) is 0.31.
    assert!((15..50).contains(&out), "{out}");
}

#[test]
fn a_row_allocates_nothing_whatever_the_paths() {
    let recorded = Profile::new(vec![(0.0, 0.0), (4.0, 3.0), (10.0, 5.0)]).expect("a path");
    let text = written(
        MANY_FACTORS,
        &format!("{MANY_CONSTRAINTS}, plan: LatinHypercube(rows: 100, seed: 1)"),
        EVERY_MEASURE,
    );
    let study = Study::from_ron(&text).expect("a study");
    for path in [
        GuidePath::Straight,
        GuidePath::Arc(ArcPath { radius: Length::from_mm(20.0) }),
        GuidePath::Profile(recorded),
    ] {
        let mut scene = Scene::thirty_degree();
        for side in Side::BOTH {
            scene.instrument.guide_mut(side).path = path.clone();
        }
        let prepared = Prepared::new(&study, &scene, no_file).expect("a study");
        let mut row = prepared.row_buffer();
        // A first round lets the reason grow as long as any.
        (0..100).for_each(|number| prepared.compute(number, &mut row).expect("a row"));
        let counted = allocation_counter::measure(|| {
            (0..100).for_each(|number| prepared.compute(number, &mut row).expect("a row"));
        });
        assert_eq!(counted.count_total, 0, "{}", path.name());
    }
}

#[test]
fn a_column_is_asked_for_by_file_and_name_and_taken_as_levels() {
    let text = written(
        r#"(setting: "horizontal_inclination_deg", values: Column(file: "clinic.csv", column: "H"))"#,
        "plan: FullGrid",
        "measures: [Clearance]",
    );
    let study = Study::from_ron(&text).expect("a study");
    let scene = Scene::thirty_degree();
    let of = |numbers: Result<Vec<f64>, String>| {
        Prepared::new(&study, &scene, move |file, column| {
            assert_eq!((file, column), ("clinic.csv", "H"));
            numbers.clone()
        })
    };
    let prepared = of(Ok(vec![28.0, 33.5])).expect("a study");
    assert_eq!(prepared.row_count(), 2);
    let mut row = prepared.row_buffer();
    prepared.compute(1, &mut row).expect("a row");
    assert_eq!(row.numbers()[0], 33.5);
    for (given, part) in [
        (Err("no such column".to_owned()), "column \"H\" of clinic.csv: no such column"),
        (Ok(Vec::new()), "the list is empty"),
        (Ok(vec![1.0, f64::NAN]), "NaN, which is not a finite number"),
        (
            Ok(vec![30.0, 99.0]),
            "horizontal_inclination_deg is 99; allowed are -30 to 85 degrees; row 1 would be the first",
        ),
    ] {
        let message = of(given).expect_err(part).to_string();
        assert!(message.contains(part), "{message}");
    }
}

#[test]
fn the_canonical_text_holds_all_that_the_table_depends_on_and_no_more() {
    let text = |seed: u32, comment: &str| {
        written(
            r#"(setting: "lateral_angle_deg", values: Published("lateral_angle_by_rule"))"#,
            &format!("{comment} plan: MonteCarlo(rows: 4, seed: {seed})"),
            "measures: [Clearance]",
        )
    };
    let canonical = |text: &str| prepared(text).canonical();
    assert_eq!(canonical(&text(1, "")), canonical(&text(1, "// the same\n")));
    assert_ne!(canonical(&text(1, "")), canonical(&text(2, "")));
    let mut other = Scene::thirty_degree();
    other.instrument.intercondylar_distance = Length::from_mm(111.0);
    let study = Study::from_ron(&text(1, "")).expect("a study");
    let on_other = Prepared::new(&study, &other, no_file).expect("a study").canonical();
    assert_ne!(on_other, canonical(&text(1, "")));
    // It is a study itself, with the scene in it, and gives itself again.
    let body = on_other.split_once('\n').expect("a first line").1;
    let again = Study::from_ron(body).expect("a study");
    let BaseScene::Here(scene) = &again.scene else { panic!("{:?}", again.scene) };
    assert_eq!(Prepared::new(&again, scene, no_file).expect("a study").canonical(), on_other);
}

#[test]
fn what_is_hardly_meant_is_warned_of() {
    let study = prepared(&written(
        r#"(setting: "lateral_angle_deg", values: Uniform(min: 5.0, max: 25.0))"#,
        "plan: Sobol(rows: 1000, seed: 1)",
        "measures: [Clearance]",
    ));
    assert!(
        words::verdict::study::warning(&study.warnings()[0])
            .contains("rows is 1000, not 8 times a power of two"),
        "{:?}",
        study.warnings()
    );
    let mut scene = Scene::thirty_degree();
    scene.instrument.left_guide.path =
        GuidePath::Profile(Profile::new(vec![(0.0, 0.0), (9.0, 4.0)]).expect("a path"));
    let text = written(
        r#"(setting: "horizontal_inclination_deg", values: List([30.0, 40.0]))"#,
        "plan: FullGrid",
        "measures: [Clearance]",
    );
    let study = Prepared::new(&Study::from_ron(&text).expect("a study"), &scene, no_file).expect("a study");
    assert!(
        words::verdict::study::warning(&study.warnings()[0]).contains("changes nothing on the left side"),
        "{:?}",
        study.warnings()
    );
}

#[test]
fn openings_lateroprotrusions_and_incisal_displacements_are_measured_by_their_own_ends() {
    let study = prepared(&written(
        r#"(setting: "horizontal_inclination_deg", values: List([30.0]))"#,
        "plan: FullGrid",
        "measures: [Opening, CondylarAdvance], advances_mm: [3.0], excursions: [Opening(angle_deg: 7.5), \
         RightLateroprotrusive(advance_mm: 5.0, ratio: 0.25), RightLateroprotrusive(advance_mm: 5.0, ratio: 0.5)]",
    ));
    let mut row = study.row_buffer();
    study.compute(0, &mut row).expect("a row");
    let number = |name: &str| match row.cell(place(&study, name)) {
        Some(Cell::Number(number)) => number,
        other => panic!("{name}: {other:?}"),
    };
    assert!((number("opening.7.5deg.opening_deg") - 7.5).abs() < ROUNDED);
    assert_eq!(number("right_lateroprotrusive_0.25.3mm.left_condyle_advance_mm"), 3.0);
    assert!((number("right_lateroprotrusive_0.5.3mm.right_condyle_advance_mm") - 1.5).abs() < SOLVED);
    let study = prepared(&written(
        r#"(setting: "horizontal_inclination_deg", values: List([30.0]))"#,
        "plan: FullGrid",
        "measures: [IncisalPoint, CondylarAdvance], excursions: [Protrusive(incisal_displacement_mm: 5.0)]",
    ));
    let mut row = study.row_buffer();
    study.compute(0, &mut row).expect("a row");
    let mechanism = Mechanism::new(&Scene::thirty_degree().instrument);
    let placed =
        mechanism.at_incisal_displacement(Movement::Protrusive, Length::from_mm(5.0)).expect("a pose");
    assert_eq!(
        row.cell(place(&study, "protrusive.incisal_5mm.right_condyle_advance_mm")),
        Some(Cell::Number(placed.right.advance.mm()))
    );
}

const GRID: &str = "plan: FullGrid";
const CLEARANCE: &str = "measures: [Clearance]";
const H: &str = r#"(setting: "horizontal_inclination_deg", values: List([30.0, 40.0]))"#;

/// A study must be refused in words that hold all of these, at the line in which a word stands.
fn refused(text: &str, at: &str, parts: &[&str]) {
    let error = match Study::from_ron(text) {
        Err(error) => error,
        Ok(study) => match Prepared::new(&study, &Scene::thirty_degree(), no_file) {
            Err(error) => Study::placed(&error, text),
            Ok(_) => panic!("{text}\nis not refused for {parts:?}"),
        },
    };
    let message = error.to_string();
    for part in parts {
        assert!(message.contains(part), "{text}\nis refused by {message:?}, without {part:?}");
    }
    let line = text.lines().position(|line| line.contains(at)).unwrap_or_else(|| panic!("no {at}")) + 1;
    assert_eq!(error.line, line, "{message}\n{text}");
}

#[test]
fn mistakes_in_a_factor_are_refused_with_their_place_and_what_is_allowed() {
    let of = |setting: &str, values: &str| {
        written(&format!("\n        (setting: \"{setting}\", values: {values}),\n    "), GRID, CLEARANCE)
    };
    for (setting, part) in [
        ("horizontal_inclination", "near it: horizontal_inclination_deg"),
        ("left_guide.horizontl_inclination_deg", "near it: horizontal_inclination_deg"),
        ("anterior_guide.sagital_inclination_deg", "near it: anterior_guide.sagittal_inclination_deg"),
        ("cusps.36.mesiobuccal.werking_deg", "near it: cusps.working_deg"),
        ("cusps.36.mesiobucal.working_deg", "its cusps are 34.buccal, 36.mesiobuccal"),
        ("cusps.48.working_deg", "finds no cusp in the scene"),
        ("cusps.49.working_deg", "31 to 38"),
        ("left_guide.intercondylar_distance_mm", "write `intercondylar_distance_mm`"),
        ("design", "takes one of Arcon, NonArcon, not a number"),
        ("invented_casts.cusp_angle_deg", "casts are made once for a study"),
    ] {
        refused(&of(setting, "List([20.0])"), setting, &[part]);
    }
    let h = "horizontal_inclination_deg";
    for (values, parts) in [
        ("List([])", &["the list is empty"][..]),
        ("List([30.0, inf])", &["inf, which is not a finite number"]),
        ("List([\"steep\"])", &["factors[0].values"]),
        ("Range(from: 60.0, to: 10.0, steps: 5)", &["from is 60 and to is 10; from must be less"]),
        ("Range(from: 10.0, to: 10.0, steps: 5)", &["from must be less"]),
        (
            "Range(from: 10.0, to: 60.0, steps: 0)",
            &["0 is given; allowed are whole numbers from 1 to 1000000"],
        ),
        (
            "Range(from: 10.0, to: 60.0, steps: -1)",
            &["factors[0].values", "-1 is given; allowed are whole numbers from 1"],
        ),
        ("Range(from: 10.0, to: 60.0)", &["steps"]),
        ("Uniform(min: 2.0, max: 1.0)", &["min is 2 and max is 1"]),
        ("Uniform(min: 2.0, max: 1.0, mode: 3.0)", &["mode"]),
        ("Uniform(min: NaN, max: 1.0)", &["min is NaN, which is not a finite number"]),
        ("Normal(mean: 30.0, sd: 0.0)", &["sd is 0; a standard deviation is greater than 0"]),
        ("Normal(mean: 30.0, sd: -2.0)", &["sd is -2"]),
        ("TruncatedNormal(mean: 0.0, sd: 0.1, min: 30.0, max: 40.0)", &["nothing of a normal distribution"]),
        ("TruncatedNormal(mean: 0.0, sd: 0.1, min: 3.0, max: -4.0)", &["min must be less"]),
        ("Triangular(min: 0.0, mode: 50.0, max: 40.0)", &["mode is 50; allowed are 0 to 40"]),
        ("Published(\"balkwil_angle\")", &["near it: balkwill_angle"]),
        ("Published(\"bonwill_arm\")", &["which is the arm of Bonwill", "in mm", "stands for no setting"]),
        // Degrees too, and no condylar inclination.
        ("Published(\"balkwill_angle\")", &["which is the Balkwill angle", "stands for no setting"]),
        ("Published(\"lateral_angle_by_rule\")", &["may stand for `lateral_angle_deg`"]),
        ("Sometimes(1.0)", &["Sometimes"]),
        ("Column(file: \"a.csv\", column: \"H\")", &["column \"H\" of a.csv: no file is read here"]),
        ("List([30.0, 86.0])", &["is 86; allowed are -30 to 85 degrees; row 1 would be the first"]),
        ("Uniform(min: 0.0, max: 1.0)", &["FullGrid needs levels", "has a distribution"]),
    ] {
        refused(&of(h, values), h, parts);
    }
    let random = |values: &str| {
        let factor = format!("\n        (setting: \"{h}\", values: {values}),\n    ");
        written(&factor, "plan: MonteCarlo(rows: 50, seed: 1)", CLEARANCE)
    };
    refused(&random("Uniform(min: 80.0, max: 90.0)"), h, &["allowed are -30 to 85 degrees; row "]);
    refused(&random("Normal(mean: 90.0, sd: 1.0)"), h, &["allowed are -30 to 85 degrees; row 0 would"]);
}

#[test]
fn mistakes_between_factors_are_refused_with_their_place_and_what_is_allowed() {
    let with = |more: &str, constraints: &str, plan: &str| {
        written(
            &format!("\n        {H},\n        {more}"),
            &format!("constraints: [\n        {constraints}\n    ], plan: {plan}"),
            CLEARANCE,
        )
    };
    let linear = |setting: &str, of: &str, times: &str| {
        format!("Derived(setting: \"{setting}\", by: Linear(of: \"{of}\", times: {times}, plus: 0.0)),")
    };
    let l = r#"(setting: "lateral_angle_deg", values: List([15.0, 20.0])), "#;
    refused(&with(&H.replacen("30.0", "31.0", 1), "", "FullGrid"), "31.0", &["set the same number"]);
    refused(
        &with(r#"(setting: "left_guide.horizontal_inclination_deg", values: List([15.0]))"#, "", "FullGrid"),
        "left_guide.horizontal_inclination_deg",
        &["`horizontal_inclination_deg` and `left_guide.horizontal_inclination_deg` set the same number"],
    );
    refused(
        &with("", &linear("horizontal_inclination_deg", "horizontal_inclination_deg", "1.0"), "FullGrid"),
        "Linear",
        &["set the same number"],
    );
    refused(
        &with("", &linear("lateral_angle_deg", "horizontal_inclination", "1.0"), "FullGrid"),
        "Linear",
        &["no setting is called"],
    );
    refused(
        &with("", &linear("lateral_angle_deg", "left_guide.horizontal_inclination_deg", "1.0"), "FullGrid"),
        "left_guide.horizontal_inclination_deg",
        &["is no factor", "near it: horizontal_inclination_deg"],
    );
    refused(
        &with("", &linear("lateral_angle_deg", "horizontal_inclination_deg", "inf"), "FullGrid"),
        "Linear",
        &["times = inf"],
    );
    refused(
        &with(
            "",
            r#"Derived(setting: "wall_tilt_deg", by: HOverEightPlusTwelve(of: "horizontal_inclination_deg")),"#,
            "FullGrid",
        ),
        "wall_tilt_deg",
        &["derives lateral_angle_deg from horizontal_inclination_deg"],
    );
    refused(
        &with("", "LeftEqualsRight(\"pin_extension_mm\"),", "FullGrid"),
        "pin_extension_mm",
        &["condylar guide's setting"],
    );
    refused(
        &with("", "LeftEqualsRight(\"right_guide.wall_tilt_deg\"),", "FullGrid"),
        "right_guide.wall_tilt_deg",
        &["without its side"],
    );
    refused(
        &with("", "LeftEqualsRight(\"wall_tilt_deg\"),", "FullGrid"),
        "LeftEqualsRight",
        &["`right_guide.wall_tilt_deg` in a constraint is no factor"],
    );
    let correlated = |matrix: &str| {
        format!(
            "Correlated(between: [\"horizontal_inclination_deg\", \"lateral_angle_deg\"], matrix: {matrix}),"
        )
    };
    let sobol = "Sobol(rows: 8, seed: 1)";
    refused(
        &with(l, &correlated("[[1.0, 0.5], [0.5, 1.0]]"), "FullGrid"),
        "Correlated",
        &["FullGrid does not keep correlations"],
    );
    refused(
        &with(l, &correlated("[[1.0, 0.5], [0.5, 1.0]]"), "LatinHypercube(rows: 8, seed: 1)"),
        "Correlated",
        &["LatinHypercube does not keep"],
    );
    refused(&with(l, &correlated("[[1.0, 0.5]]"), sobol), "matrix", &["2 factors need 2 rows of 2"]);
    refused(
        &with(l, &correlated("[[1.0, 0.5], [0.4, 1.0]]"), sobol),
        "matrix",
        &["0.5 at row 1, column 2 but 0.4"],
    );
    refused(&with(l, &correlated("[[1.0, 1.0], [1.0, 1.0]]"), sobol), "matrix", &["not positive definite"]);
    refused(
        &with("", &correlated("[[1.0, 0.5], [0.5, 1.0]]"), sobol),
        "lateral_angle_deg",
        &["`lateral_angle_deg` in a constraint is no factor"],
    );
    let twice = "Correlated(between: [\"horizontal_inclination_deg\", \"horizontal_inclination_deg\"], matrix: [[1.0, 0.5], [0.5, 1.0]]),";
    refused(&with("", twice, sobol), "between", &["`horizontal_inclination_deg` is listed twice in between"]);
    let pin = r#"(setting: "pin_extension_mm", values: List([2.0]))"#;
    let study = Study::from_ron(&written(pin, GRID, CLEARANCE)).expect("a study");
    let mut incisors = Scene::thirty_degree();
    incisors.instrument.anterior_guide = sim_core::anterior::AnteriorGuide::Incisors(
        *incisors.instrument.anterior_guide.trough().expect("a table"),
    );
    let message = Prepared::new(&study, &incisors, no_file).expect_err("no pin").to_string();
    assert!(message.contains("with the factors' values, instrument.pin_extension_mm is 2"), "{message}");
}

#[test]
fn mistakes_in_plan_and_record_are_refused_with_their_place_and_what_is_allowed() {
    let plan = |plan: &str| written(H, &format!("plan: {plan}"), CLEARANCE);
    for (given, parts) in [
        (
            "MonteCarlo(rows: 0, seed: 1)",
            &["plan.MonteCarlo.rows", "0 is given; allowed are whole numbers from 1 to"][..],
        ),
        ("MonteCarlo(rows: 2.5, seed: 1)", &["2.5", "whole number"]),
        ("MonteCarlo(rows: 5)", &["seed"]),
        ("Sobol(rows: 9000000000000000000, seed: 1)", &["rows"]),
        ("Indices(groups: 5, seed: 1, points: Even)", &["Even"]),
        ("Everything", &["Everything"]),
    ] {
        refused(&plan(given), "plan:", parts);
    }
    let wide: String = ["wall_tilt_deg", "lateroretrusion_deg", "laterosurtrusion_deg"]
        .map(|name| format!("(setting: \"{name}\", values: Range(from: 0.0, to: 9.0, steps: 1000000)), "))
        .concat();
    refused(&written(&wide, GRID, CLEARANCE), "plan:", &["FullGrid has more than 1125899906842624 rows"]);
    refused(&written("", GRID, CLEARANCE), "factors", &["factors is empty; give at least one"]);
    let record = |record: &str| written(H, GRID, record);
    for (given, parts) in [
        ("measures: []", &["measures is empty"][..]),
        ("measures: [Clearence]", &["Clearence"]),
        ("measures: [Clearance, Opening, Clearance]", &["Clearance is listed twice in measures"]),
        (
            "measures: [Opening], advances_mm: [3.0, 40.0]",
            &["advances_mm", "is 40; allowed are 0.001 to 30 mm"],
        ),
        ("measures: [Opening], advances_mm: [3.0, 3.0]", &["3 mm is listed twice in advances_mm"]),
        (
            "measures: [Clearance], cusps: [\"36.mesial\"]",
            &["\"36.mesial\", which the scene has not; its cusps are 34.buccal"],
        ),
        ("measures: [Clearance], cusps: []", &["Clearance gives no column: there is no cusp"]),
        (
            "measures: [BennettMovement], excursions: [Protrusive(advance_mm: 3.0)]",
            &["there is no lateral excursion"],
        ),
        ("measures: [Opening], excursions: [Protrusive(advance_mm: 300.0)]", &["advance_mm is 300"]),
        ("measures: [Opening], excursions: []", &["excursions is empty"]),
        (
            "measures: [Opening], excursions: [Protrusive(advance_mm: 3.0), Protrusive(advance_mm: 3.0)]",
            &["protrusive.3mm is listed twice in excursions"],
        ),
    ] {
        let text = record(given);
        refused(&text, "record", parts);
    }
    refused(&written(H, GRID, CLEARANCE).replacen("title", "titel", 1), "titel", &["titel", "title"]);
    let inline =
        written(H, GRID, CLEARANCE).replacen("\"thirty_degree.ron\"", "(title: \"x\", instrumnt: 3)", 1);
    refused(&inline, "instrumnt", &["instrumnt", "instrument"]);
    assert!(Study::from_ron("").is_err());
    let whole = written(H, GRID, CLEARANCE);
    assert!(Study::from_ron(&whole[..whole.len() / 2]).is_err());
}

#[test]
fn a_base_scene_can_stand_in_the_study_itself() {
    let scene = Scene::thirty_degree().to_ron();
    let text = written(H, GRID, CLEARANCE).replacen("\"thirty_degree.ron\"", &scene, 1);
    let study = Study::from_ron(&text).expect("a study");
    assert_eq!(study.scene, BaseScene::Here(Box::new(Scene::thirty_degree())));
    assert_eq!(Study::from_ron(&study.to_ron()).expect("its own text"), study);
    refused(
        &text.replacen("lateral_angle_deg: 15.0", "lateral_angle_deg: 95.0", 1),
        "lateral_angle_deg: 95.0",
        &["scene.instrument.right_guide", "is 95"],
    );
}

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../scenes/studies")
}

fn opened(name: &str) -> Prepared {
    let text = fs::read_to_string(folder().join(name)).expect("a study file");
    let study = Study::from_ron(&text).unwrap_or_else(|error| panic!("{name}: {error}"));
    let BaseScene::File(path) = &study.scene else { panic!("{name} has its scene in it") };
    let scene = fs::read_to_string(folder().join(path)).expect("its scene");
    Prepared::new(&study, &Scene::from_ron(&scene).expect("a scene"), no_file)
        .unwrap_or_else(|error| panic!("{name}: {error}"))
}

#[test]
fn every_study_is_read_computed_and_says_that_it_is_invented() {
    let mut count = 0;
    for entry in fs::read_dir(folder()).expect("the folder of studies") {
        let path = entry.expect("an entry").path();
        let text = fs::read_to_string(&path).expect("text");
        assert!(text.starts_with("// What it teaches: "), "{}", path.display());
        assert!(text.contains("Invented for teaching"), "{}", path.display());
        let study = opened(&path.file_name().expect("a name").to_string_lossy());
        assert!(study.study().title.contains("(invented)"), "{}", path.display());
        assert_eq!(study.warnings(), [], "{}", path.display());
        let mut row = study.row_buffer();
        for number in 0..study.row_count() {
            study.compute(number, &mut row).expect("a row");
            assert_eq!(row.reason(), None, "{} row {number}", path.display());
        }
        count += 1;
    }
    assert!(count >= 2);
}

#[test]
fn the_lecture_shows_that_steeper_guides_and_steeper_tables_part_the_first_molars_more() {
    let study = opened("inclination.ron");
    assert_eq!(study.row_count(), 3 * 51);
    let column = place(&study, "protrusive.3mm.36.mesiobuccal.clearance_mm");
    let mut row = study.row_buffer();
    let mut clearances = vec![Vec::new(); 3];
    for number in 0..study.row_count() {
        study.compute(number, &mut row).expect("a row");
        let Some(Cell::Number(clearance)) = row.cell(column) else { panic!("no number") };
        clearances[number as usize / 51].push(clearance);
    }
    for table in &clearances {
        assert!(table.windows(2).all(|pair| pair[1] > pair[0]));
    }
    for (number, ((level, middle), steep)) in
        clearances[0].iter().zip(&clearances[1]).zip(&clearances[2]).enumerate()
    {
        assert!(level < middle && middle < steep, "{} degrees", 10 + number);
    }
}

#[test]
fn the_error_study_blames_the_guides_for_the_orbiting_molar_and_spares_the_incisal_points_height() {
    use sim_core::study::statistics::sobol_indices;
    let study = opened("record_error.ron");
    let column = place(&study, "right_lateral.3mm.37.mesiobuccal.clearance_mm");
    let mut row = study.row_buffer();
    let outputs = (0..study.row_count()).map(|number| {
        study.compute(number, &mut row).expect("a row");
        let Some(Cell::Number(clearance)) = row.cell(column) else { panic!("no number") };
        clearance
    });
    let outputs: Vec<f64> = outputs.collect();
    let indices = sobol_indices(&outputs, 7, 0, 1).expect("indices");
    let total: Vec<f64> = indices.factors.iter().map(|factor| factor.total.value).collect();
    // The left guide steers the left, orbiting condyle; the right one is a seat in this movement.
    assert!(total[1] + total[3] > MOST, "{total:?}");
    assert!(total[0] < SOLVED && total[2] < SOLVED, "{total:?}");
    assert!(total[6] < HARDLY, "{total:?}");
    // Small errors add, so that there is next to no interaction.
    let first: f64 = indices.factors.iter().map(|factor| factor.first.value).sum();
    assert!((first - 1.0).abs() < INTERACTION, "{first}");
}

#[test]
fn whole_numbers_out_of_range_are_refused_with_the_range() {
    let factor = "(setting: \"horizontal_inclination_deg\", values: Uniform(min: 20.0, max: 40.0))";
    let read =
        |plan: &str| Study::from_ron(&written(factor, &format!("plan: {plan}"), "measures: [Clearance]"));
    for (plan, given, most) in [
        ("Sobol(rows: 64, seed: -1)", "-1", "18446744073709551615"),
        ("MonteCarlo(rows: 64, seed: 1.5)", "1.5", "18446744073709551615"),
        (
            "LatinHypercube(rows: 64, seed: 18446744073709551616)",
            "18446744073709552000",
            "18446744073709551615",
        ),
        ("Sobol(rows: 10000000000000000, seed: 1)", "10000000000000000", "1125899906842624"),
        ("Sobol(rows: 0, seed: 1)", "0", "1125899906842624"),
        ("Sobol(rows: -5, seed: 1)", "-5", "1125899906842624"),
        ("Indices(groups: 1e16, seed: 1, points: Sobol)", "10000000000000000", "1125899906842624"),
    ] {
        let error = read(plan).expect_err(plan);
        assert!(
            error.what.contains(&format!("{given} is given; allowed are whole numbers from ")),
            "{plan}: {error}"
        );
        assert!(error.what.ends_with(most), "{plan}: {error}");
        assert_eq!(error.line, 5, "{plan}: {error}");
    }
    // To the last digit, and as people write large numbers.
    for (plan, wanted) in [
        (
            "Sobol(rows: 1e3, seed: 18446744073709551615)",
            SamplingPlan::Sobol { rows: 1000, seed: u64::MAX, replicates: None },
        ),
        ("MonteCarlo(rows: 1125899906842624, seed: 0)", SamplingPlan::MonteCarlo { rows: 1 << 50, seed: 0 }),
    ] {
        assert_eq!(read(plan).expect(plan).plan, wanted);
    }
}

#[test]
fn a_field_that_is_missing_is_named_in_plain_words() {
    let factor = "(setting: \"horizontal_inclination_deg\", values: List([30.0]))";
    for (rest, missing) in [("constraints: []", "plan"), ("plan: Sobol(rows: 4)", "seed")] {
        let error = Study::from_ron(&written(factor, rest, "measures: [Clearance]")).expect_err(missing);
        assert!(error.what.contains(&format!("`{missing}` is missing and has to be given")), "{error}");
    }
}
