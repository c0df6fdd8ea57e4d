//! How load, closing, clearance map and contacts grow with the triangles, ours beside parry; a JSON object a line.
//!
//! `tests/outside/cast_growth.py` runs it and puts trimesh, fcl and coal beside them:
//! `cargo run --release -p files --example cast_growth -- FOLDER TRIANGLES …`. TRIANGLES are those of both arches. The
//! arches of `sim-core/benches` are written into FOLDER as binary STL and read from there.
//!
//! parry has no search for a first touch: with it, closing is a bisection on whether the meshes cross, down to a
//! micrometre at the front teeth.

#![allow(clippy::expect_used, clippy::cast_precision_loss)] // an example that cannot run should stop

#[path = "../../sim-core/benches/arches/mod.rs"]
mod arches;

use std::fs;
use std::hint::black_box;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Instant;

use files::cast::{read, write_stl_binary};
use nalgebra::Vector3;
use parry3d_f64::math::{Pose, Rotation, Vector};
use parry3d_f64::query::{Ray, RayCast, intersection_test};
use parry3d_f64::shape::{TriMesh, TriMeshFlags};
use sim_core::cast::{CastUnit, Casts, Film, LastPairs};
use sim_core::cusp::Arch;
use sim_core::excursion::{Movement, Station};
use sim_core::frame::JawPose;
use sim_core::units::Length;

use arches::{LEVEL, arch, mechanism, places};

/// The longest that a single figure of parry may take, in seconds: larger casts are then left out.
const PATIENCE_S: f64 = 20.0;
const FRONT_MM: f64 = 100.0;
const CLOSE_ENOUGH_MM: f64 = 1e-3;
const CAP_MM: f64 = 5.0;

fn main() {
    let mut args = std::env::args().skip(1);
    let folder = PathBuf::from(args.next().expect("a folder"));
    let mut is_patient = true;
    for triangles in args.map(|number| number.parse::<usize>().expect("how many triangles")) {
        let paths = written(&folder, triangles / 2);
        ours(&paths);
        if is_patient {
            is_patient = by_parry(&paths);
        }
    }
}

/// Both arches as files.
fn written(folder: &Path, triangles: usize) -> [PathBuf; 2] {
    [(Arch::Upper, "upper"), (Arch::Lower, "lower")].map(|(which, name)| {
        let path = folder.join(format!("{name}_{}.stl", 2 * triangles));
        let mut file = Vec::new();
        write_stl_binary(&arch(triangles, which), "Invented.", &mut file).expect("in memory");
        fs::write(&path, file).expect("written");
        path
    })
}

/// How long this thread takes, without what other programs take of the machine, where the system tells it.
fn seconds<T>(work: impl FnOnce() -> T) -> (f64, T) {
    let began = Instant::now();
    let before = on_processor();
    let done = black_box(work());
    let taken = on_processor().zip(before).map(|(after, before)| (after - before) * 1e-9);
    (taken.unwrap_or_else(|| began.elapsed().as_secs_f64()), done)
}

/// Nanoseconds that this thread has been on a processor so far.
fn on_processor() -> Option<f64> {
    fs::read_to_string("/proc/thread-self/schedstat").ok()?.split(' ').next()?.parse().ok()
}

/// The least of some runs, in milliseconds: what other work on the machine adds is left out.
fn least_ms<T>(runs: usize, mut work: impl FnMut() -> T) -> f64 {
    (0..runs).map(|_| seconds(&mut work).0 * 1e3).fold(f64::INFINITY, f64::min)
}

fn ours(paths: &[PathBuf; 2]) {
    let unit = Some(CastUnit::Millimetre);
    let read_both = || {
        [(Arch::Upper, &paths[0]), (Arch::Lower, &paths[1])]
            .map(|(which, path)| read(path, which, unit).expect("a cast"))
    };
    let (reading, [upper, lower]) = seconds(read_both);
    let triangles = upper.surface.triangles().len() + lower.surface.triangles().len();
    let (trees, casts) = seconds(|| Arc::new(Casts::new(upper.surface, lower.surface, &places())));
    let mechanism = mechanism(&casts);
    let mut warm = LastPairs::default();
    let mut poses = (0..120).map(|step| Station::advanced(Length::from_mm(0.05 * f64::from(step))));
    let (moving, ()) = seconds(|| {
        poses.by_ref().for_each(|at| {
            black_box(mechanism.at_from(Movement::Protrusive, at, &mut warm).expect("a pose"));
        });
    });
    let rest = least_ms(9, || mechanism.rest().expect("a pose"));
    let jaw = mechanism.rest().expect("a pose").jaw;
    let map = least_ms(5, || casts.clearance_map(&jaw, LEVEL, Arch::Lower, Length::from_mm(CAP_MM)));
    let gaps = least_ms(5, || casts.measure(&jaw, LEVEL, &mut LastPairs::default()));
    let films = Film::THICKNESSES.map(|thickness| Film::new(thickness).expect("a film"));
    let marks = least_ms(3, || casts.marks_of(&jaw, &films).expect("marks"));
    let two_mm = Station::advanced(Length::from_mm(2.0));
    let jaw = mechanism.at(Movement::Protrusive, two_mm).expect("a pose").jaw;
    let away = least_ms(5, || {
        (casts.measure(&jaw, LEVEL, &mut LastPairs::default()), casts.marks_of(&jaw, &films).expect("marks"))
    });
    println!(
        "{{\"who\": \"ours\", \"triangles\": {triangles}, \"read_s\": {reading}, \"trees_s\": {trees}, \
         \"moving_ms\": {}, \"rest_ms\": {rest}, \"map_ms\": {map}, \"gaps_ms\": {gaps}, \"marks_ms\": {marks}, \"contacts_2mm_ms\": {away}}}",
        moving * 1e3 / 120.0
    );
}

/// Whether the next larger ones are worth waiting for.
fn by_parry(paths: &[PathBuf; 2]) -> bool {
    let (loading, [upper, lower]) = seconds(|| paths.each_ref().map(|path| mesh(path)));
    let triangles = upper.indices().len() + lower.indices().len();
    let (rest, _) = seconds(|| closing(&upper, &lower, 0.0));
    let moving = (rest < PATIENCE_S).then(|| {
        seconds(|| {
            for step in 1..=3 {
                black_box(closing(&upper, &lower, 2.0 * f64::from(step)));
            }
        })
        .0 / 3.0
    });
    let (map, _) = seconds(|| rays(&upper, &lower, &JawPose::identity()));
    let moving = moving.map_or("null".to_owned(), |seconds| (seconds * 1e3).to_string());
    println!(
        "{{\"who\": \"parry\", \"triangles\": {triangles}, \"load_s\": {loading}, \"moving_ms\": {moving}, \
         \"rest_ms\": {}, \"map_ms\": {}}}",
        rest * 1e3,
        map * 1e3
    );
    rest < PATIENCE_S && loading < PATIENCE_S
}

/// A binary STL file as parry has meshes: equal vertices merged, a tree built.
fn mesh(path: &Path) -> TriMesh {
    let bytes = fs::read(path).expect("a file");
    let number = |bytes: &[u8], at: usize| {
        f64::from(f32::from_le_bytes(bytes[at..at + 4].try_into().expect("four bytes")))
    };
    let mut vertices = Vec::new();
    for triangle in bytes[84..].chunks_exact(50) {
        for corner in 0..3 {
            let [x, y, z] = [0, 4, 8].map(|at| number(triangle, 12 + 12 * corner + at));
            vertices.push(Vector::new(x, y, z));
        }
    }
    let count = u32::try_from(vertices.len() / 3).expect("in 32 bits");
    let triangles = (0..count).map(|at| [3 * at, 3 * at + 1, 3 * at + 2]).collect();
    TriMesh::with_flags(vertices, triangles, TriMeshFlags::MERGE_DUPLICATE_VERTICES).expect("a mesh")
}

/// The opening at which the lower mesh, advanced down a path of thirty degrees, first crosses the upper.
fn closing(upper: &TriMesh, lower: &TriMesh, forward: f64) -> f64 {
    let here = Pose::identity();
    let (mut clear, mut crossing) = (0.1, -0.1);
    while (clear - crossing) * FRONT_MM > CLOSE_ENOUGH_MM {
        let middle = f64::midpoint(clear, crossing);
        let shift = Vector::new(forward, 0.0, -forward * 30.0_f64.to_radians().tan());
        let pose = Pose::from_parts(shift, Rotation::from_axis_angle(Vector::Y, middle));
        if intersection_test(&here, upper, &pose, lower).expect("supported").intersecting {
            crossing = middle;
        } else {
            clear = middle;
        }
    }
    clear
}

/// The clearance map by rays, in the upper frame.
fn rays(upper: &TriMesh, lower: &TriMesh, jaw: &JawPose) -> Vec<Option<f64>> {
    let up = Vector::new(0.0, 0.0, 1.0);
    let from = |at: &Vector| {
        let at = jaw.rotation() * Vector3::new(at.x, at.y, at.z) + jaw.translation();
        Ray::new(Vector::new(at.x, at.y, at.z - CAP_MM), up)
    };
    lower.vertices().iter().map(|at| upper.cast_local_ray(&from(at), 2.0 * CAP_MM, false)).collect()
}
