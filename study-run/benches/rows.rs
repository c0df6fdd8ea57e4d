//! Rows a second: computed alone, into Arrow columns, and into a Parquet file by one thread and by two.
//! Criterion's throughput is rows.

#![allow(missing_docs)]

use std::hint::black_box;
use std::path::Path;
use std::sync::atomic::AtomicBool;

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use study_run::{Batcher, Destination, Existing, Options, Part, UnderWay, run, schema};

mod invented;

/// Rows of a batch; as many as a piece of a group has.
const BATCH: u64 = 1024;
/// Rows of a file: enough that beginning and ending it do not count.
const FILE: u64 = 1 << 20;

fn rows(criterion: &mut Criterion) {
    let loaded = match files::study_from_text(&invented::study(FILE), "invented.ron", Path::new("")) {
        Ok(loaded) => loaded,
        Err(error) => return eprintln!("{error}"),
    };
    let study = &loaded.prepared;
    let mut group = criterion.benchmark_group("three excursions, eight cusps");
    group.throughput(Throughput::Elements(BATCH));
    let mut row = study.row_buffer();
    let mut number = 0;
    group.bench_function("rows computed", |bencher| {
        bencher.iter(|| {
            for _ in 0..BATCH {
                number = (number + 1) % FILE;
                let _ = study.compute(black_box(number), &mut row);
                black_box(row.numbers());
            }
        });
    });
    let mut batcher = Batcher::new(study, &schema(&loaded));
    group.bench_function("rows into columns", |bencher| {
        bencher.iter(|| {
            number = (number + BATCH) % (FILE - BATCH);
            batcher.batch(black_box(number..number + BATCH))
        });
    });
    group.throughput(Throughput::Elements(FILE)).sample_size(10);
    let Ok(folder) = tempfile::tempdir() else { return };
    for (name, threads) in [("Parquet by one thread", 1), ("Parquet by two threads", 2)] {
        let options = Options {
            destination: Destination::File(folder.path().join("table.parquet")),
            existing: Existing::Replaced,
            part: Part::WHOLE,
            threads,
            under_way: UnderWay::default(),
            free_space: study_run::FreeSpace::Ignored,
        };
        group.bench_function(name, |bencher| {
            bencher.iter(|| run(&loaded, &options, &mut (), &AtomicBool::new(false)));
        });
    }
    group.finish();
}

criterion_group!(benches, rows);
criterion_main!(benches);
