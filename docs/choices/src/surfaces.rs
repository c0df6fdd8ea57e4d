//! Distance between two surfaces: the library's own query, and our search over hierarchies it builds.

use nalgebra::Vector3;
use parry3d_f64::math::{Pose, Vector};
use parry3d_f64::query;
use parry3d_f64::shape::TriMesh;
use sim_core::cast::{Casts, Surface, ToothPlaces, LastPairs};
use sim_core::frame::{JawPose, OcclusalPlane};
use sim_core::units::Angle;

use crate::measure::{measured, row};
use crate::meshes::{sheet, sheet_above};

fn by_crate(surface: &Surface) -> TriMesh {
    let vertices = surface.vertices().iter().map(|at: &Vector3<f64>| Vector::new(at.x, at.y, at.z));
    TriMesh::new(vertices.collect(), surface.triangles().to_vec()).expect("a mesh")
}

pub(crate) fn rows() {
    let what = "least distance of two sheets of 99,458 triangles";
    let (upper, lower) = (sheet_above(223, 2.0), sheet(223));
    let meshes = [by_crate(&upper), by_crate(&lower)];
    let here = Pose::identity();
    let (ms, mb, gap) =
        measured(2, || query::distance(&here, &meshes[0], &here, &meshes[1]).expect("supported"));
    row(what, "parry3d-f64 0.31.1", (ms, mb), &format!("{:.9} mm", gap.distance));
    let casts = Casts::new(upper, lower, &ToothPlaces::of(&[]));
    let plane = OcclusalPlane { inclination: Angle::ZERO };
    let (ms, mb, gap) = measured(5, || {
        casts.measure_overall(&JawPose::identity(), plane, &mut LastPairs::default()).1.gap.mm()
    });
    row(what, "ours", (ms, mb), &format!("{gap:.9} mm, and the least vertical gap"));
}
