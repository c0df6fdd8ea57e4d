//! How long a pose takes: with its cusps, over a whole scene, on straight and on curved paths.
//!
//! `cargo bench -p sim-core`. The ratio to SciPy solving the same equations is taken by
//! `tests/outside/speed_ratio.py`.

#![allow(clippy::expect_used, missing_docs)] // a bench that cannot run should stop

use std::hint::black_box;

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use sim_core::anterior::{AnteriorGuide, Trough};
use sim_core::cusp::{Cusp, Gauges, OpposingInclines, Tooth};
use sim_core::excursion::{Mechanism, Movement, Station};
use sim_core::frame::{Side, UpperPoint};
use sim_core::guide::{ArcPath, CondylarGuide, GuidePath, Profile};
use sim_core::instrument::Instrument;
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

fn one_pose(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("one pose with ten cusps");
    group.throughput(Throughput::Elements(1));
    let movements =
        [("protrusive", Movement::Protrusive), ("lateral", Movement::Lateral { working: Side::Right })];
    let paths = [
        ("straight", GuidePath::Straight),
        ("arc", GuidePath::Arc(ArcPath { radius: Length::from_mm(20.0) })),
        ("profile", recorded()),
    ];
    for (path_name, path) in &paths {
        let scene = on(path);
        let mechanism = Mechanism::new(&scene.instrument);
        let gauges = Gauges::new(scene.occlusal_plane, &scene.cusps);
        for (name, movement) in movements {
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

criterion_group!(benches, one_pose, the_six_equations, whole_scene, split_cast);
criterion_main!(benches);
