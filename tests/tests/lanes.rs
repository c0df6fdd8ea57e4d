//! What is solved in lanes is what is solved one by one, to the last bit: poses, cusps, rows of studies.

use proptest::collection::vec;
use proptest::prelude::*;
use sim_core::anterior::AnteriorGuide;
use sim_core::cusp::{GaugeLanes, Gauges};
use sim_core::excursion::{
    Mechanism, MechanismLanes, Movement, NoPose, Placement, PoseLanes, Station, solve_all,
};
use sim_core::frame::OcclusalPlane;
use sim_core::guide::{ArcPath, GuidePath};
use sim_core::instrument::Instrument;
use sim_core::lanes::LANES;
use sim_core::scene::Scene;
use sim_core::study::{ColumnKind, Prepared, Study};
use sim_core::units::{Angle, Length};
use whole_checks::random::{USUAL_CASES, cases, instrument, movement};

/// All numbers of a pose, by their bits.
fn bits(placed: &Placement) -> Vec<u64> {
    let condyles = [placed.right, placed.left].into_iter().flat_map(|it| [it.advance, it.medial, it.drop]);
    let numbers = (condyles.map(|length| length.mm()))
        .chain(placed.jaw.rotation().iter().copied())
        .chain(placed.jaw.translation().iter().copied())
        .chain(placed.incisal_point.coords().iter().copied());
    numbers.map(f64::to_bits).collect()
}

fn same(one: &Result<Placement, NoPose>, other: &Result<Placement, NoPose>) -> Result<(), TestCaseError> {
    match (one, other) {
        (Ok(one), Ok(other)) => {
            prop_assert_eq!(bits(one), bits(other));
            prop_assert_eq!(one.guidance, other.guidance);
            prop_assert_eq!(one.station, other.station);
        }
        (one, other) => prop_assert_eq!(one, other),
    }
    Ok(())
}

/// Instruments that may be set so that there is no pose: guides unlike each other, a steep plate, a long way.
fn unruly() -> impl Strategy<Value = Instrument> {
    (instrument(), 0..4_u8, 50.0..85.0_f64).prop_map(|(mut instrument, how, steep)| {
        match how {
            0 => instrument.right_guide.wall_tilt = Angle::from_degrees(steep),
            1 => instrument.right_guide.laterosurtrusion = Angle::from_degrees(-steep),
            2 => {
                if let AnteriorGuide::Table(trough) | AnteriorGuide::Incisors(trough) =
                    &mut instrument.anterior_guide
                {
                    trough.sagittal_inclination = Angle::from_degrees(steep);
                }
            }
            _ => {}
        }
        instrument
    })
}

/// The same kind of guide and design for all, so that they go in lanes.
fn of_one_kind(mut instruments: Vec<Instrument>) -> Vec<Instrument> {
    let (design, is_table) =
        (instruments[0].design, matches!(instruments[0].anterior_guide, AnteriorGuide::Table(_)));
    for instrument in &mut instruments {
        instrument.design = design;
        if let AnteriorGuide::Table(trough) | AnteriorGuide::Incisors(trough) =
            instrument.anterior_guide.clone()
        {
            instrument.anterior_guide =
                if is_table { AnteriorGuide::Table(trough) } else { AnteriorGuide::Incisors(trough) };
        }
    }
    instruments
}

proptest! {
    #![proptest_config(cases(USUAL_CASES))]

    /// Any instruments at all, of one kind and mixed: each lane has the pose, or the reason for none, that its
    /// instrument has by itself.
    #[test]
    fn a_lane_has_the_pose_of_its_instrument(
        instruments in vec(unruly(), 1..2 * LANES),
        alike in any::<bool>(),
        movement in movement(),
        station in -1.0..14.0_f64,
    ) {
        let instruments = if alike { of_one_kind(instruments) } else { instruments };
        let mechanisms: Vec<Mechanism> = instruments.iter().map(Mechanism::new).collect();
        let station = Station::from_parameter(station);
        let mut next = 0;
        let mut differs = Ok(());
        solve_all(&mechanisms, movement, station, |number, placed| {
            if differs.is_ok() {
                differs = same(&placed, &mechanisms[number].at(movement, station));
            }
            assert_eq!(number, next, "in order, each once");
            next += 1;
        });
        differs?;
        prop_assert_eq!(next, mechanisms.len());
    }

    /// Lanes themselves refuse no instrument that has a pose: what is left to be asked one by one is what has none.
    #[test]
    fn a_lane_is_left_out_only_where_there_is_no_pose(
        instruments in vec(unruly(), LANES),
        movement in movement(),
        stations in vec(-1.0..14.0_f64, LANES),
    ) {
        let (mut lanes, mut poses) = (MechanismLanes::default(), PoseLanes::default());
        let mechanisms: Vec<Mechanism> = of_one_kind(instruments).iter().map(Mechanism::new).collect();
        mechanisms.iter().for_each(|mechanism| assert!(lanes.put(mechanism).is_some()));
        prop_assert_eq!(lanes.put(&mechanisms[0]), None);
        let stations: [Station; LANES] = std::array::from_fn(|lane| Station::from_parameter(stations[lane]));
        lanes.solve_each(movement, &stations, &mut poses);
        for (lane, mechanism) in mechanisms.iter().enumerate() {
            let alone = mechanism.at(movement, stations[lane]);
            prop_assert_eq!(poses.has_pose(lane), alone.is_ok());
            if let Some(placed) = lanes.placement(&poses, lane) {
                same(&Ok(placed), &alone)?;
            }
        }
    }

    /// Cusps of both jaws read in lanes are those read one by one.
    #[test]
    fn cusps_read_in_lanes_are_those_read_one_by_one(
        instruments in vec(instrument(), LANES),
        movement in movement(),
        advance in 0.0..8.0_f64,
        inclination in -5.0..20.0_f64,
    ) {
        let plane = OcclusalPlane { inclination: Angle::from_degrees(inclination) };
        let gauges = Gauges::new(plane, &Scene::thirty_degree().cusps);
        let (mut lanes, mut poses) = (MechanismLanes::default(), PoseLanes::default());
        let mechanisms: Vec<Mechanism> = of_one_kind(instruments).iter().map(Mechanism::new).collect();
        mechanisms.iter().for_each(|mechanism| assert!(lanes.put(mechanism).is_some()));
        let station = Station::advanced(Length::from_mm(advance));
        lanes.solve(movement, station, &mut poses);
        let mut in_lanes = GaugeLanes::new(&gauges);
        in_lanes.read(poses.jaws());
        for (lane, mechanism) in mechanisms.iter().enumerate() {
            let Ok(placed) = mechanism.at(movement, station) else { continue };
            for (cusp, read) in gauges.read(&placed.jaw).enumerate() {
                let both = [in_lanes.separations_mm()[cusp][lane], in_lanes.clearances_mm()[cusp][lane]];
                prop_assert_eq!(both.map(f64::to_bits), [read.separation.mm(), read.clearance.mm()].map(f64::to_bits));
            }
        }
    }
}

#[test]
fn a_hinge_opening_and_empty_lanes_have_no_pose_there() {
    let mechanism = Mechanism::new(&Instrument::zeroed());
    let (mut lanes, mut poses) = (MechanismLanes::default(), PoseLanes::default());
    lanes.solve(Movement::Protrusive, Station::REST, &mut poses);
    assert!((0..LANES).all(|lane| !poses.has_pose(lane) && lanes.placement(&poses, lane).is_none()));
    lanes.put(&mechanism);
    lanes.solve(Movement::Protrusive, Station::REST, &mut poses);
    assert!(lanes.placement(&poses, 0).is_some() && lanes.placement(&poses, 1).is_none());
    assert!(!poses.has_pose(LANES));
    lanes.solve(Movement::Opening, Station::REST, &mut poses);
    assert!(!poses.has_pose(0));
}

/// Studies whose rows go in lanes, wholly and in part: any measure, values out of range, poses that do not exist,
/// arcs past their lowest point, cusps and the plane varied, derived settings.
fn studies() -> Vec<Prepared> {
    let measures = [
        "Clearance",
        "Pose, Separation, Interference, Opening, IncisalPoint, CondylarAdvance, BennettMovement, Guidance",
        "Interference, Clearance, FirstInterference",
    ];
    let factors = [
        r#"(setting: "horizontal_inclination_deg", values: Uniform(min: 15.0, max: 50.0)),
           (setting: "occlusal_plane_inclination_deg", values: Uniform(min: 0.0, max: 15.0)),"#,
        r#"(setting: "right_guide.horizontal_inclination_deg", values: Normal(mean: 70.0, sd: 25.0)),
           (setting: "cusps.working_deg", values: Uniform(min: 10.0, max: 30.0)),
           (setting: "anterior_guide.sagittal_inclination_deg", values: Uniform(min: 40.0, max: 85.0)),"#,
        r#"(setting: "left_guide.path.radius_mm", values: Uniform(min: 2.0, max: 12.0)),
           (setting: "wall_tilt_deg", values: Normal(mean: 0.0, sd: 20.0)),
           (setting: "right_guide.lateral_angle_deg", values: Triangular(min: 0.0, mode: 10.0, max: 30.0)),"#,
    ];
    let plans = [
        "Sobol(rows: 75, seed: 3)",
        "Sobol(rows: 60, seed: 4, replicates: 3)",
        "MonteCarlo(rows: 75, seed: 5)",
    ];
    let mut studies = Vec::new();
    for measures in measures {
        for factors in factors {
            for plan in plans {
                for incisors in [false, true] {
                    let text = format!(
                        r#"(title: "Rows in lanes (invented)", scene: "thirty_degree.ron", factors: [{factors}],
                            plan: {plan}, record: (measures: [{measures}], advances_mm: [1.0, 5.0]))"#
                    );
                    let mut scene = Scene::thirty_degree();
                    if incisors && let AnteriorGuide::Table(trough) = scene.instrument.anterior_guide.clone()
                    {
                        scene.instrument.anterior_guide = AnteriorGuide::Incisors(trough);
                        scene.instrument.pin_extension = Length::ZERO;
                    }
                    if factors.contains("radius_mm") {
                        let arc = ArcPath { radius: Length::from_mm(20.0) };
                        scene.instrument.left_guide.path = GuidePath::Arc(arc);
                    }
                    let study = Study::from_ron(&text).expect("a study");
                    studies.push(
                        Prepared::new(&study, &scene, |_, _| Err(String::new()))
                            .expect("it can be made ready"),
                    );
                }
            }
        }
    }
    studies
}

#[test]
fn rows_in_lanes_are_the_rows_one_by_one() {
    let (mut whole, mut broken, mut noted) = (0, 0, 0);
    for study in studies() {
        let (mut row, mut rows, mut given) = (study.row_buffer(), study.row_lanes(), study.row_lanes());
        let factors = study.design().factors().len();
        // Not from a multiple of the lanes on, and not full at the end.
        let mut first = 0;
        for count in [3, LANES, 1, LANES, LANES, LANES, LANES] {
            let count = count.min((study.row_count() - first) as usize);
            if count == 0 {
                break;
            }
            study.compute_lanes(first, count, &mut rows).expect("rows");
            assert_eq!(rows.rows(), count);
            let values = |lane: usize, factor: usize| rows.numbers()[factor][lane];
            study.compute_given_lanes((count, factors), values, &mut given).expect("one for each");
            for lane in 0..count {
                study.compute(first + lane as u64, &mut row).expect("a row");
                for lanes in [&rows, &given] {
                    let numbers: Vec<u64> =
                        lanes.numbers().iter().map(|column| column[lane].to_bits()).collect();
                    let alone: Vec<u64> = row.numbers().iter().map(|number| number.to_bits()).collect();
                    assert_eq!(numbers, alone, "row {}", first + lane as u64);
                    for slot in 0..texts(&study) {
                        assert_eq!(lanes.text(slot, lane), row.text(slot));
                    }
                    for (slot, flag) in row.flags().iter().enumerate() {
                        assert_eq!(lanes.flag(slot, lane), *flag);
                    }
                }
                if row.reason().is_some() {
                    broken += 1;
                } else {
                    whole += 1;
                }
                noted += usize::from(
                    (0..texts(&study))
                        .filter_map(|slot| row.text(slot))
                        .any(|word| word.contains("lowest_point")),
                );
            }
            first += count as u64;
        }
        assert!(study.compute_lanes(study.row_count(), 1, &mut rows).is_err());
        assert!(study.compute_given_lanes((1, factors + 1), |_, _| 0.0, &mut rows).is_err());
    }
    assert!(whole > 500 && broken > 500 && noted > 100, "all kinds of rows: {whole}, {broken}, {noted}");
}

fn texts(study: &Prepared) -> usize {
    study.columns().iter().filter(|column| column.kind == ColumnKind::Text).count()
}
