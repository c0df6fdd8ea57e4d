//! How long a pose takes: with its cusps, over a whole scene, on straight and on curved paths.
//!
//! `cargo bench -p sim-core --bench poses`. At its end one by one and in lanes stand side by side, measured in
//! turns. The ratio to SciPy solving the same equations is taken by
//! `tests/outside/speed_ratio.py`.

#![allow(clippy::expect_used, clippy::print_stdout, clippy::cast_precision_loss, missing_docs)] // a bench that cannot run should stop

use std::hint::black_box;
use std::time::Instant;

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use sim_core::anterior::{AnteriorGuide, Trough};
use sim_core::cusp::{Cusp, GaugeLanes, Gauges, OpposingInclines, Tooth};
use sim_core::excursion::{Mechanism, MechanismLanes, Movement, PoseLanes, Station};
use sim_core::frame::{Side, UpperPoint};
use sim_core::guide::{ArcPath, CondylarGuide, GuidePath, Profile};
use sim_core::instrument::Instrument;
use sim_core::lanes::LANES;
use sim_core::record::trial::SeatedRecord;
use sim_core::record::{GuideHold, RecordKind};
use sim_core::scene::Scene;
use sim_core::units::{Angle, Length};

/// The teaching scene with ten cusps of lower teeth on planar walls.
fn ten_cusps() -> Scene {
    let mut scene = Scene::thirty_degree();
    let incline = Angle::from_degrees(20.0);
    let opposing =
        OpposingInclines { protrusive: incline, retrusive: incline, working: incline, nonworking: incline };
    scene.cusps = [34, 35, 36, 37, 38, 44, 45, 46, 47, 48]
        .into_iter()
        .map(|number| {
            let tooth = Tooth::new(number).expect("a tooth number");
            let behind = f64::from(tooth.position()) * 8.0;
            Cusp::new(tooth, "buccal", [110.0 - behind, 24.0 * tooth.side().outward_y(), -38.0], opposing)
                .expect("a cusp")
        })
        .collect();
    scene
}

/// The scene with one path on both sides.
fn on(path: &GuidePath) -> Scene {
    let mut scene = ten_cusps();
    for side in Side::BOTH {
        scene.instrument.guide_mut(side).path = path.clone();
    }
    scene
}

fn recorded() -> GuidePath {
    let points = (0..60).map(|n| f64::from(n) * 0.2).map(|a| (a, 10.0 * (a / 12.0).sin())).collect();
    GuidePath::Profile(Profile::new(points).expect("a profile"))
}

/// The paths that are measured, by name.
fn paths() -> [(&'static str, GuidePath); 3] {
    [
        ("straight", GuidePath::Straight),
        ("arc", GuidePath::Arc(ArcPath { radius: Length::from_mm(20.0) })),
        ("profile", recorded()),
    ]
}

const MOVEMENTS: [(&str, Movement); 2] =
    [("protrusive", Movement::Protrusive), ("lateral", Movement::Lateral { working: Side::Right })];

fn one_pose(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("one pose with ten cusps");
    group.throughput(Throughput::Elements(1));
    for (path_name, path) in &paths() {
        let scene = on(path);
        let mechanism = Mechanism::new(&scene.instrument);
        let gauges = Gauges::new(scene.occlusal_plane, &scene.cusps);
        for (name, movement) in MOVEMENTS {
            group.bench_function(format!("{path_name}, {name}"), |bencher| {
                let mut advance = 0.0;
                bencher.iter(|| {
                    // Every pose another one, so that nothing is foreseen.
                    advance = if advance > 6.0 { 0.0 } else { advance + 0.001 };
                    let station = Station::advanced(Length::from_mm(black_box(advance)));
                    let placed = mechanism.at(movement, station).expect("a pose");
                    let mut least = f64::INFINITY;
                    for reading in gauges.read(&placed.jaw) {
                        least = least.min(black_box(reading.clearance.mm()));
                    }
                    (placed, least)
                });
            });
        }
    }
    group.finish();
}

/// The instrument and the sweep of `tests/outside/solve_speed.py`: a pose alone.
fn the_six_equations(criterion: &mut Criterion) {
    let mut instrument = Instrument::zeroed();
    for side in Side::BOTH {
        instrument.guide_mut(side).lateral_angle = Angle::from_degrees(15.0);
    }
    let plate = Angle::from_degrees(10.0);
    instrument.anterior_guide = AnteriorGuide::Table(Trough { sagittal_inclination: plate, ..Trough::LEVEL });
    let mechanism = Mechanism::new(&instrument);
    criterion.bench_function("the six equations, swept in protrusion and to the right", |bencher| {
        let mut advance = 0.0;
        let mut protrudes = true;
        bencher.iter(|| {
            advance += 0.001;
            if advance > 8.0 {
                (advance, protrudes) = (0.0, !protrudes);
            }
            let movement =
                if protrudes { Movement::Protrusive } else { Movement::Lateral { working: Side::Right } };
            mechanism.at(movement, Station::advanced(Length::from_mm(black_box(advance))))
        });
    });
    let (mut lanes, mut poses) = (MechanismLanes::default(), PoseLanes::default());
    while lanes.put(&mechanism).is_some() {}
    let mut group = criterion.benchmark_group("the six equations in lanes");
    group.throughput(Throughput::Elements(LANES as u64));
    group.bench_function("the same sweep", |bencher| {
        let mut advance = 0.0;
        let mut protrudes = true;
        bencher.iter(|| {
            if advance > 8.0 {
                (advance, protrudes) = (0.0, !protrudes);
            }
            let stations = std::array::from_fn(|_| {
                advance += 0.001;
                Station::advanced(Length::from_mm(black_box(advance)))
            });
            let movement =
                if protrudes { Movement::Protrusive } else { Movement::Lateral { working: Side::Right } };
            lanes.solve_each(movement, &stations, &mut poses);
            black_box(poses.jaws());
        });
    });
    group.finish();
}

fn whole_scene(criterion: &mut Criterion) {
    let scene = ten_cusps();
    criterion.bench_function("whole scene: three excursions of 13 samples", |bencher| {
        bencher.iter(|| {
            let mechanism = Mechanism::new(black_box(&scene.instrument));
            let gauges = Gauges::new(scene.occlusal_plane, &scene.cusps);
            let mut sum = 0.0;
            for excursion in &scene.excursions {
                let motion = mechanism.motion(excursion, scene.samples);
                for placed in motion.placements() {
                    sum += gauges.read(&placed.jaw).map(|reading| reading.separation.mm()).sum::<f64>();
                }
            }
            sum
        });
    });
    criterion.bench_function("one pose driven by the incisal point", |bencher| {
        let mechanism = Mechanism::new(&scene.instrument);
        bencher.iter(|| {
            mechanism.at_incisal_displacement(Movement::Protrusive, Length::from_mm(black_box(5.0)))
        });
    });
}

/// The gaps at the six grooves at trial angles: what a slider asks at every step.
fn split_cast(criterion: &mut Criterion) {
    let bench = Instrument::zeroed();
    let station = Station::advanced(Length::from_mm(6.0));
    let jaw = Mechanism::new(&bench).at(Movement::Protrusive, station).expect("a pose").jaw;
    let record =
        SeatedRecord::of_pose(RecordKind::Protrusive, &jaw, bench.design, bench.intercondylar_distance);
    let grooves = [(30.0, 25.0), (30.0, -25.0), (55.0, 25.0), (55.0, -25.0), (85.0, 10.0), (85.0, -10.0)]
        .map(|(x, y)| UpperPoint::mm(x, y, -15.0));
    let trial = CondylarGuide::straight(Angle::from_degrees(35.0), Angle::from_degrees(15.0));
    criterion.bench_function("split cast at trial angles, six grooves", |bencher| {
        bencher.iter(|| record.gaps([black_box(&trial), &trial], &grooves, GuideHold::Track));
    });
}

/// Poses of a turn, and turns of each of two that are measured beside each other.
const POSES: usize = 1 << 14;
const TURNS: usize = 40;

/// The least time of a pose in nanoseconds, of each way; the two take turns, so that both meet the same machine.
fn in_turns(mut one: impl FnMut() -> f64, mut other: impl FnMut() -> f64) -> [f64; 2] {
    let mut least = [f64::INFINITY; 2];
    for _ in 0..TURNS {
        for (least, way) in least.iter_mut().zip([&mut one as &mut dyn FnMut() -> f64, &mut other]) {
            let began = Instant::now();
            black_box(way());
            *least = least.min(began.elapsed().as_secs_f64() * 1e9 / POSES as f64);
        }
    }
    least
}

/// A pose with ten cusps, every one at another advance: one by one, and in lanes.
fn side_by_side(_: &mut Criterion) {
    println!("a pose with ten cusps, the least of {TURNS} turns       one by one   in lanes   ratio");
    for (path_name, path) in &paths() {
        let scene = on(path);
        let mechanism = Mechanism::new(&scene.instrument);
        let gauges = Gauges::new(scene.occlusal_plane, &scene.cusps);
        let (mut lanes, mut poses) = (MechanismLanes::default(), PoseLanes::default());
        while lanes.put(&mechanism).is_some() {}
        let mut gauge_lanes = GaugeLanes::new(&gauges);
        let station = |pose: usize| Station::advanced(Length::from_mm(6.0 * pose as f64 / POSES as f64));
        for (name, movement) in MOVEMENTS {
            let one_by_one = || {
                let mut sum = 0.0;
                for pose in 0..POSES {
                    let placed = mechanism.at(movement, black_box(station(pose))).expect("a pose");
                    sum += gauges.read(&placed.jaw).map(|reading| reading.clearance.mm()).sum::<f64>();
                }
                sum
            };
            let in_lanes = || {
                let mut sum = 0.0;
                for first in (0..POSES).step_by(LANES) {
                    let stations = black_box(std::array::from_fn(|lane| station(first + lane)));
                    lanes.solve_each(movement, &stations, &mut poses);
                    assert!((0..LANES).all(|lane| poses.has_pose(lane)), "a pose");
                    gauge_lanes.read(poses.jaws());
                    sum += gauge_lanes.clearances_mm().iter().flatten().sum::<f64>();
                }
                sum
            };
            let [one, other] = in_turns(one_by_one, in_lanes);
            let what = format!("{path_name}, {name}");
            println!("  {what:<50} {one:7.1} ns {other:7.1} ns {:7.2}", one / other);
        }
    }
}

criterion_group!(benches, one_pose, the_six_equations, whole_scene, split_cast, side_by_side);
criterion_main!(benches);
