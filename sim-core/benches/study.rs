//! How many rows of a study a core computes: three excursions, eight cusps, one advance each.
//!
//! `cargo bench -p sim-core --bench study`.

#![allow(clippy::expect_used, missing_docs)] // a bench that cannot run should stop

use std::hint::black_box;

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use sim_core::scene::Scene;
use sim_core::study::{Prepared, Study};

/// Both inclinations and lateral angles and the table, each with a distribution of its own.
fn study(plan: &str, measures: &str, more: &str) -> Prepared {
    let text = format!(
        r#"(
            title: "A bench (invented)",
            scene: "thirty_degree.ron",
            factors: [
                (setting: "right_guide.horizontal_inclination_deg", values: Uniform(min: 20.0, max: 45.0)),
                (setting: "left_guide.horizontal_inclination_deg", values: Uniform(min: 20.0, max: 45.0)),
                (setting: "lateral_angle_deg", values: TruncatedNormal(mean: 15.0, sd: 3.0, min: 5.0, max: 25.0)),
                (setting: "anterior_guide.sagittal_inclination_deg", values: Uniform(min: 20.0, max: 45.0)),
                {more}
            ],
            plan: {plan},
            record: (measures: [{measures}], advances_mm: [3.0]),
        )"#
    );
    let study = Study::from_ron(&text).expect("a study");
    Prepared::new(&study, &Scene::thirty_degree(), |_, _| Err(String::new())).expect("a study")
}

fn rows(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("a row of three excursions and eight cusps");
    group.throughput(Throughput::Elements(1));
    let both = "Separation, Clearance";
    let cusps = r#"(setting: "cusps.working_deg", values: Uniform(min: 10.0, max: 30.0)),
        (setting: "occlusal_plane_inclination_deg", values: Uniform(min: 0.0, max: 20.0)),"#;
    for (name, plan, measures, more) in [
        ("monte carlo", "MonteCarlo(rows: 1000000, seed: 1)", both, ""),
        ("latin hypercube", "LatinHypercube(rows: 1000000, seed: 1)", both, ""),
        ("sobol", "Sobol(rows: 1048576, seed: 1)", both, ""),
        ("sobol, cusps and plane too", "Sobol(rows: 1048576, seed: 1)", both, cusps),
        (
            "sobol, first interference too",
            "Sobol(rows: 1048576, seed: 1)",
            "Clearance, FirstInterference",
            "",
        ),
        (
            "sobol, every measure but that",
            "Sobol(rows: 1048576, seed: 1)",
            "Separation, Clearance, Interference, BennettMovement, CondylarAdvance, Opening, Guidance, IncisalPoint, Pose",
            "",
        ),
    ] {
        let study = study(plan, measures, more);
        let mut row = study.row_buffer();
        group.bench_function(name, |bencher| {
            let mut number = 0;
            bencher.iter(|| {
                number = (number + 1) % study.row_count();
                study.compute(black_box(number), &mut row).expect("a row");
                black_box(row.numbers()[4])
            });
        });
    }
    group.finish();
}

/// The values of a row alone.
fn values(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("the four values of a row");
    for plan in [
        "MonteCarlo(rows: 1000000, seed: 1)",
        "LatinHypercube(rows: 1000000, seed: 1)",
        "Sobol(rows: 1048576, seed: 1)",
    ] {
        let study = study(plan, "Clearance", "");
        let mut values = [0.0; 4];
        group.bench_function(study.study().plan.name(), |bencher| {
            let mut number = 0;
            bencher.iter(|| {
                number = (number + 1) % study.row_count();
                study.design().row(black_box(number), &mut values);
                values
            });
        });
    }
    group.finish();
}

criterion_group!(benches, rows, values);
criterion_main!(benches);
