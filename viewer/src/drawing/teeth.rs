//! Simple teeth in place of casts: rounded blocks with bumps where cusps are.

use nalgebra::Vector3;
use sim_core::cusp::{Arch, Cusp};
use sim_core::frame::Side;
use sim_core::scene::Scene;

use super::mesh::Mesh;
use crate::geometry::arch::{Curve, ToothPlace, buccolingual_mm};

/// Corners of a crown's outline.
const CORNERS: u32 = 28;
/// A block may be moved this far to bring a bump under a cusp of the scene.
const REACH_MM: f64 = 4.5;
/// Space between neighbours.
const GAP_MM: f64 = 0.35;

/// Width of the outline of a tooth, in millimetres.
const RIM_MM: f64 = 0.35;

/// Form of a tooth; lengths in millimetres, a drawing's choice.
struct Form {
    height: f64,
    relief: f64,
    roundness: f64,
    /// Bumps in fractions of the half widths: toward mesial, toward buccal.
    bumps: &'static [(f64, f64)],
    /// Width of a bump in the same fractions, along and across the arch.
    spread: (f64, f64),
}

const fn form(position: u8) -> Form {
    match position {
        1 | 2 => {
            Form { height: 10.0, relief: 3.0, roundness: 0.8, bumps: &[(0.0, 0.15)], spread: (3.0, 0.45) }
        }
        3 => Form { height: 10.5, relief: 2.6, roundness: 0.9, bumps: &[(0.0, 0.15)], spread: (0.75, 0.5) },
        4 | 5 => Form {
            height: 9.0,
            relief: 2.0,
            roundness: 0.8,
            bumps: &[(0.0, 0.52), (0.0, -0.52)],
            spread: (0.55, 0.42),
        },
        _ => Form {
            height: 8.5,
            relief: 1.9,
            roundness: 0.65,
            bumps: &[(0.5, 0.55), (-0.5, 0.55), (0.5, -0.55), (-0.5, -0.55)],
            spread: (0.38, 0.4),
        },
    }
}

/// The teeth of an arch and the base that carries them, in the frame of their member.
#[derive(Clone, Debug, Default)]
pub struct Dentition {
    /// The crowns.
    pub crowns: Mesh,
    /// A hull a little larger than the crowns, of which the rim is seen as their outline.
    pub hulls: Mesh,
    /// The base under them.
    pub base: Mesh,
}

/// The arch's teeth.
#[must_use]
pub fn dentition(scene: &Scene, arch: Arch) -> Dentition {
    let curve = Curve::of(scene);
    // Away from the opposing arch.
    let root = match arch {
        Arch::Upper => curve.normal,
        Arch::Lower => -curve.normal,
    };
    let mut teeth = Dentition::default();
    for side in Side::BOTH {
        for position in 1..=7 {
            let place = curve.tooth(arch, position, side.outward_y());
            let cusp = scene.cusps.iter().find(|cusp| {
                let tooth = cusp.tooth();
                tooth.arch() == arch && tooth.side() == side && tooth.position() == position
            });
            crown(&mut teeth.crowns, position, &place, root, cusp, 0.0);
            crown(&mut teeth.hulls, position, &place, root, cusp, RIM_MM);
        }
    }
    base(&mut teeth.base, &curve, arch, root);
    teeth
}

/// Height of the chewing surface in fractions of the relief, 0 in the grooves and 1 on a bump.
fn bump(form: &Form, mesial: f64, buccal: f64) -> f64 {
    let (along, across) = form.spread;
    form.bumps
        .iter()
        .map(|(m, b)| {
            let (u, v) = ((mesial - m) / along, (buccal - b) / across);
            (-(u * u + v * v)).exp()
        })
        .fold(0.0, f64::max)
}

fn crown(
    mesh: &mut Mesh,
    position: u8,
    place: &ToothPlace,
    root: Vector3<f64>,
    cusp: Option<&Cusp>,
    larger_mm: f64,
) {
    let form = &form(position);
    let (half_width, half_depth) = ((place.width_mm - GAP_MM) / 2.0, buccolingual_mm(position) / 2.0);
    let at = |mesial: f64, buccal: f64| {
        place.mesial * (mesial * half_width) + place.buccal * (buccal * half_depth)
    };
    let drawn = |mesial: f64, buccal: f64| {
        place.mesial * (mesial * (half_width + larger_mm))
            + place.buccal * (buccal * (half_depth + larger_mm))
    };
    let shift = cusp.and_then(|cusp| {
        form.bumps
            .iter()
            .map(|(mesial, buccal)| cusp.at_mm() - (place.middle + at(*mesial, *buccal)))
            .min_by(|a, b| a.norm().total_cmp(&b.norm()))
            .filter(|shift| shift.norm() < REACH_MM)
    });
    // The chewing surface goes all the way to the cusp; the neck stays in its row.
    let shift = shift.unwrap_or_default();
    let along_root = root * shift.dot(&root);
    let middle = place.middle + (shift - along_root);
    let ring = |size: f64, raised: f64, depth: &dyn Fn(f64, f64) -> f64| -> Vec<Vector3<f64>> {
        (0..CORNERS)
            .map(|corner| {
                let (sin, cos) = (std::f64::consts::TAU * f64::from(corner) / f64::from(CORNERS)).sin_cos();
                let rounded = |value: f64| value.signum() * value.abs().powf(form.roundness) * size;
                let (mesial, buccal) = (rounded(cos), rounded(sin));
                middle
                    + along_root * raised
                    + drawn(mesial, buccal)
                    + root * (depth(mesial, buccal) - larger_mm)
            })
            .collect()
    };
    let surface = |mesial: f64, buccal: f64| form.relief * (1.0 - bump(form, mesial, buccal));
    let mut rings = Vec::new();
    for (part, size, raised) in
        [(1.15, 0.62, 0.0), (1.0, 0.74, 0.1), (0.75, 0.92, 0.4), (0.5, 1.0, 0.7), (0.32, 0.985, 1.0)]
    {
        let depth = form.height * part;
        rings.push(ring(size, raised, &|m, b| depth.max(surface(m, b) + 0.4)));
    }
    for size in [0.9, 0.78, 0.66, 0.54, 0.42, 0.3, 0.18, 0.06] {
        rings.push(ring(size, 1.0, &surface));
    }
    mesh.loft(&rings);
}

/// A band along the arch that the crowns stand in.
fn base(mesh: &mut Mesh, curve: &Curve, arch: Arch, root: Vector3<f64>) {
    const STEPS: i32 = 28;
    const SECTION_MM: [(f64, f64); 8] = [
        (3.4, 7.4),
        (2.4, 6.4),
        (-2.4, 6.4),
        (-3.4, 7.4),
        (-3.4, 10.5),
        (-2.6, 12.0),
        (2.6, 12.0),
        (3.4, 10.5),
    ];
    let half = curve.half_length(arch);
    let rings: Vec<Vec<_>> = (-STEPS..=STEPS)
        .map(|step| {
            let place = curve.place(arch, half * f64::from(step) / f64::from(STEPS), 1.0, 0.0);
            SECTION_MM
                .iter()
                .map(|(buccal, depth)| place.middle + place.buccal * *buccal + root * *depth)
                .collect()
        })
        .collect();
    mesh.loft(&rings);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_cusp_of_the_teaching_scene_stands_on_a_drawn_tooth() {
        let scene = Scene::thirty_degree();
        for cusp in &scene.cusps {
            let crowns = dentition(&scene, cusp.tooth().arch()).crowns;
            let off = crowns.points().iter().map(|p| (p - cusp.at_mm()).norm()).fold(f64::INFINITY, f64::min);
            assert!(off < 0.8, "{} {}: {off:.2} mm", cusp.tooth(), cusp.name());
        }
    }
}
