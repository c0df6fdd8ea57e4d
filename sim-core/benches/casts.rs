//! How long casts take: building their trees, closing to contact, the clearance map, a reading, marks.
//!
//! `cargo bench -p sim-core --bench casts`. Beside trimesh, parry and coal, and from a hundred thousand
//! triangles to eight million, by `tests/outside/cast_growth.py`.

#![allow(clippy::expect_used, missing_docs)] // a bench that cannot run should stop

mod arches;

use std::hint::black_box;
use std::sync::Arc;
use std::time::Duration;

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use sim_core::cast::{Casts, Film, LastPairs};
use sim_core::cusp::Arch;
use sim_core::excursion::{Movement, Station};
use sim_core::frame::{JawPose, Side};
use sim_core::units::Length;

use arches::{LEVEL, arch, mechanism, places};

/// Triangles of an arch: as coarse as is of use, as scanners write, and as the finest of them do.
const SIZES: [usize; 3] = [10_000, 100_000, 1_000_000];
const AS_SCANNED: usize = 100_000;

fn casts(triangles: usize) -> Arc<Casts> {
    Arc::new(Casts::new(arch(triangles, Arch::Upper), arch(triangles, Arch::Lower), &places()))
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
        let films = Film::THICKNESSES.map(|thickness| Film::new(thickness).expect("a film"));
        group.bench_function(format!("contacts: gaps and marks of five films, {name}"), |bencher| {
            bencher.iter(|| {
                let gaps = casts.measure(black_box(&jaw), LEVEL, &mut LastPairs::default());
                (gaps, casts.marks_of(&jaw, &films).expect("marks"))
            });
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
