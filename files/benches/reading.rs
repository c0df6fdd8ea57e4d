//! How long a scan takes from bytes to a mended surface, as binary STL, which has the most to weld.
//!
//! `cargo bench -p files`. At the end the ratio of ten times the triangles is printed.

#![allow(clippy::expect_used, missing_docs)] // a bench that cannot run should stop

use std::hint::black_box;
use std::time::Instant;

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use files::cast::{PlyForm, read_bytes, write_obj, write_ply, write_stl_binary};
use nalgebra::Vector3;
use sim_core::cast::{CastUnit, Surface};
use sim_core::cusp::Arch;

/// An invented sheet of bumps, 60 by 60 mm, of about so many triangles.
fn sheet(triangles: u32) -> Surface {
    let side = (f64::from(triangles) / 2.0).sqrt() as u32;
    let step = 60.0 / f64::from(side);
    let vertices = (0..=side)
        .flat_map(|y| (0..=side).map(move |x| (f64::from(x) * step, f64::from(y) * step)))
        .map(|(x, y)| Vector3::new(x, y, 3.0 * (x.sin() * y.cos())))
        .collect();
    let at = |x: u32, y: u32| y * (side + 1) + x;
    let triangles = (0..side)
        .flat_map(|y| (0..side).map(move |x| (x, y)))
        .flat_map(|(x, y)| {
            [[at(x, y), at(x + 1, y), at(x + 1, y + 1)], [at(x, y), at(x + 1, y + 1), at(x, y + 1)]]
        })
        .collect();
    Surface::new(vertices, triangles).expect("sound")
}

/// The sheet as a binary STL file.
fn scan(triangles: u32) -> Vec<u8> {
    let mut file = Vec::new();
    write_stl_binary(&sheet(triangles), "Invented, for a bench.", &mut file).expect("written");
    file
}

fn read(file: &[u8]) -> Surface {
    let cast = read_bytes("scan", file, Arch::Lower, Some(CastUnit::Millimetre)).expect("a cast");
    assert_eq!(cast.report.shells, 1);
    cast.surface
}

fn reading(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("read and mend binary STL");
    group.sample_size(10);
    let files = [100_000, 1_000_000].map(|triangles| (triangles, scan(triangles)));
    for (triangles, file) in &files {
        group.throughput(Throughput::Elements(u64::from(*triangles)));
        group.bench_function(format!("{triangles} triangles"), |bencher| {
            bencher.iter(|| black_box(read(file)));
        });
    }
    group.finish();
    let least = files.map(|(_, file)| {
        let runs = (0..5).map(|_| {
            let start = Instant::now();
            black_box(read(&file));
            start.elapsed().as_secs_f64()
        });
        runs.fold(f64::INFINITY, f64::min)
    });
    println!("Ten times the triangles take {:.1} times as long.", least[1] / least[0]);
}

fn other_formats(criterion: &mut Criterion) {
    const TRIANGLES: u32 = 100_000;
    let mut group = criterion.benchmark_group(format!("read and mend {TRIANGLES} triangles"));
    group.sample_size(10);
    let surface = sheet(TRIANGLES);
    let mut files = [const { Vec::new() }; 3];
    write_ply(&surface, PlyForm::BinaryLittleEndian, "Invented.", &mut files[0]).expect("written");
    write_ply(&surface, PlyForm::Ascii, "Invented.", &mut files[1]).expect("written");
    write_obj(&surface, "Invented.", &mut files[2]).expect("written");
    for (name, file) in ["binary PLY", "ASCII PLY", "OBJ"].into_iter().zip(&files) {
        group.bench_function(name, |bencher| {
            bencher.iter(|| black_box(read(file)));
        });
    }
    group.finish();
}

criterion_group!(benches, reading, other_formats);
criterion_main!(benches);
