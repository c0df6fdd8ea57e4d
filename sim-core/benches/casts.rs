//! How long casts take: building their trees, closing to contact, the clearance map, a reading, marks.
//!
//! `cargo bench -p sim-core --bench casts`. The arches are invented: rows of bumps along a curve, the upper
//! following the lower so that they are in even contact at rest, which is the hardest case for a search.
//! The ratio to trimesh is taken by `tests/outside/cast_speed_ratio.py`.

#![allow(clippy::expect_used, missing_docs)] // a bench that cannot run should stop

use std::f64::consts::TAU;
use std::hint::black_box;
use std::sync::Arc;
use std::time::Duration;

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use nalgebra::Vector3;
use sim_core::anterior::{AnteriorGuide, Trough};
use sim_core::cast::{Casts, Film, LastPairs, Surface, ToothPlaces};
use sim_core::cusp::{Arch, Cusp, OpposingInclines, Tooth};
use sim_core::excursion::{Mechanism, Movement, Station};
use sim_core::frame::{JawPose, OcclusalPlane, Side};
use sim_core::instrument::Instrument;
use sim_core::units::{Angle, Length};

/// Triangles of an arch: as coarse as is of use, as scanners write, and as the finest of them do.
const SIZES: [usize; 3] = [10_000, 100_000, 1_000_000];
const AS_SCANNED: usize = 100_000;
const LEVEL: OcclusalPlane = OcclusalPlane { inclination: Angle::ZERO };
/// Half the arch's turn in radians, and its teeth.
const HALF_TURN: f64 = 1.7;
const TEETH: f64 = 14.0;

/// Where a part of the arch's length and breadth lies in plan.
fn plan(along: f64, across: f64) -> (f64, f64) {
    let (sin, cos) = ((along - 0.5) * 2.0 * HALF_TURN).sin_cos();
    let out = 1.0 + (across - 0.5) * 0.35;
    (50.0 + 48.0 * cos * out, 27.0 * sin * out)
}

/// An arch of about so many triangles, with cusps and a rougher grain upon them.
fn arch(triangles: usize, which: Arch) -> Surface {
    let rows = (triangles as f64 / 26.0).sqrt().round();
    let columns = (triangles as f64 / 2.0 / rows).round();
    let (rows, columns) = (rows as u32, columns as u32);
    let mut vertices = Vec::new();
    for row in 0..=rows {
        for column in 0..=columns {
            let (along, across) = (f64::from(column) / f64::from(columns), f64::from(row) / f64::from(rows));
            let (x, y) = plan(along, across);
            let cusps = 1.2 * (along * TEETH * TAU).cos() * (across * TAU).cos();
            let grain = 0.05 * (along * 210.0).sin() * (across * 17.0).cos();
            let gap = 0.3 * (1.0 + (along * 60.0).cos() * (across * 9.0).cos());
            let lift = if which == Arch::Upper { gap } else { 0.0 };
            vertices.push(Vector3::new(x, y, -40.0 + cusps + grain + lift));
        }
    }
    let at = |row: u32, column: u32| row * (columns + 1) + column;
    let mut faces = Vec::new();
    for row in 0..rows {
        for column in 0..columns {
            let [a, b] = [at(row, column), at(row, column + 1)];
            let [c, d] = [at(row + 1, column), at(row + 1, column + 1)];
            let seen_from_below = [[a, b, d], [a, d, c]];
            faces.extend(match which {
                Arch::Upper => seen_from_below,
                Arch::Lower => seen_from_below.map(|[p, q, r]| [p, r, q]),
            });
        }
    }
    Surface::new(vertices, faces).expect("a surface")
}

/// A cusp in the middle of each tooth.
fn places() -> ToothPlaces {
    let incline = Angle::from_degrees(20.0);
    let opposing =
        OpposingInclines { protrusive: incline, retrusive: incline, working: incline, nonworking: incline };
    let mut cusps = Vec::new();
    for position in 1..=7 {
        for quadrant in 1..=4 {
            let tooth = Tooth::new(quadrant * 10 + position).expect("a tooth number");
            let away = (f64::from(tooth.position()) - 0.5) / TEETH * tooth.side().outward_y();
            let (x, y) = plan(0.5 + away, 0.5);
            cusps.push(Cusp::new(tooth, "middle", [x, y, -40.0], opposing).expect("a cusp"));
        }
    }
    ToothPlaces::of(&cusps)
}

fn casts(triangles: usize) -> Arc<Casts> {
    Arc::new(Casts::new(arch(triangles, Arch::Upper), arch(triangles, Arch::Lower), &places()))
}

/// Guided by these teeth.
fn mechanism(casts: &Arc<Casts>) -> Mechanism {
    let mut instrument = Instrument::zeroed();
    for side in Side::BOTH {
        instrument.guide_mut(side).horizontal_inclination = Angle::from_degrees(30.0);
        instrument.guide_mut(side).lateral_angle = Angle::from_degrees(15.0);
    }
    instrument.anterior_guide = AnteriorGuide::Casts(Trough::LEVEL);
    Mechanism::new(&instrument).with_casts(Arc::clone(casts))
}

/// Every pose another one, a twentieth of a millimetre on.
fn next(advance: &mut f64) -> Station {
    *advance = if *advance > 6.0 { 0.0 } else { *advance + 0.05 };
    Station::advanced(Length::from_mm(black_box(*advance)))
}

fn build(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("casts built");
    group.sample_size(10).measurement_time(Duration::from_secs(3));
    for size in SIZES {
        let (upper, lower, places) = (arch(size, Arch::Upper), arch(size, Arch::Lower), places());
        group.bench_function(BenchmarkId::from_parameter(size), |bencher| {
            bencher.iter_batched(
                || (upper.clone(), lower.clone()),
                |(upper, lower)| Casts::new(upper, lower, &places),
                criterion::BatchSize::PerIteration,
            );
        });
    }
    group.finish();
}

fn closing(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("closing to contact");
    group.sample_size(20).measurement_time(Duration::from_secs(3));
    for size in SIZES {
        let casts = casts(size);
        let mechanism = mechanism(&casts);
        group.bench_function(BenchmarkId::new("warm, swept in protrusion", size), |bencher| {
            let (mut warm, mut advance) = (LastPairs::default(), 0.0);
            bencher.iter(|| {
                mechanism.at_from(Movement::Protrusive, next(&mut advance), &mut warm).expect("a pose")
            });
        });
        group.bench_function(BenchmarkId::new("warm, swept to the right", size), |bencher| {
            let movement = Movement::Lateral { working: Side::Right };
            let (mut warm, mut advance) = (LastPairs::default(), 0.0);
            bencher.iter(|| mechanism.at_from(movement, next(&mut advance), &mut warm).expect("a pose"));
        });
        group.bench_function(BenchmarkId::new("cold, at rest in even contact", size), |bencher| {
            bencher.iter(|| mechanism.rest().expect("a pose"));
        });
    }
    group.finish();
}

fn readings(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("readings");
    group.sample_size(10).measurement_time(Duration::from_secs(3));
    let casts = casts(AS_SCANNED);
    let mechanism = mechanism(&casts);
    let protruded =
        mechanism.at(Movement::Protrusive, Station::advanced(Length::from_mm(2.0))).expect("a pose").jaw;
    for (name, jaw) in [("at rest", JawPose::identity()), ("2 mm protruded", protruded)] {
        group.bench_function(format!("clearance map of 50,000 vertices, {name}"), |bencher| {
            bencher.iter(|| casts.clearance_map(black_box(&jaw), LEVEL, Arch::Lower, Length::from_mm(5.0)));
        });
        group.bench_function(format!("gaps overall and at 28 teeth, {name}"), |bencher| {
            let mut warm = LastPairs::default();
            bencher.iter(|| casts.measure(black_box(&jaw), LEVEL, &mut warm));
        });
        for thickness in [Film::THICKNESSES[0], Film::THICKNESSES[4]] {
            let film = Film::new(thickness).expect("a film");
            group.bench_function(format!("marks of {:.0} µm, {name}", thickness.mm() * 1e3), |bencher| {
                bencher.iter(|| casts.marks(black_box(&jaw), film).expect("marks"));
            });
        }
    }
    group.finish();
}

criterion_group!(benches, build, closing, readings);
criterion_main!(benches);
