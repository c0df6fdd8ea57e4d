//! Which parts of which triangles a film prints on.

use std::collections::BTreeSet;

use nalgebra::Vector3;

use super::casts::Casts;
use super::lowering::Lowering;
use super::map::Map;
use super::nearness::{Nearness, is_behind, nearest_to};
use super::opening::FirstTouch;
use super::search;
use crate::cusp::Arch;
use crate::frame::JawPose;

/// The distance is taken at points this far apart, in millimetres, for a film of a millimetre, and in
/// proportion to the square root of the thickness: so is the breadth of what a rounded cusp prints. For
/// the thinnest film sold that is 0.045 mm, and between such points the distance from a cusp of 1 mm
/// radius bends by a quarter of a micrometre.
const GRAIN_MM: f64 = 0.5;
/// Finer than so many parts no edge is divided.
const FINEST: u16 = 64;

/// What a film prints on one triangle.
#[derive(Clone, Debug)]
pub(super) struct Printed {
    pub(super) triangle: u32,
    /// Printed area, square millimetres.
    pub(super) area: f64,
    /// Area times centroid.
    pub(super) moment: Vector3<f64>,
    /// Where the distance is least, and how much that is.
    pub(super) deepest: Vector3<f64>,
    pub(super) least: f64,
    /// Whether it prints on each edge.
    pub(super) edges: [bool; 3],
}

/// A film between the casts in one pose.
pub(super) struct Print<'c> {
    casts: &'c Casts,
    jaw: Map,
    thickness: f64,
    /// Triangles of either arch that may print.
    triangles: [BTreeSet<u32>; 2],
}

/// A point of a triangle, and its distance from the other surface.
type Sample = (Vector3<f64>, f64);

impl<'c> Print<'c> {
    pub(super) fn of(casts: &'c Casts, pose: &JawPose, thickness: f64) -> Self {
        let jaw = Map::jaw(pose);
        let mut triangles = [BTreeSet::new(), BTreeSet::new()];
        let mut note = |pairs: [&[u32]; 2]| {
            for (set, pairs) in triangles.iter_mut().zip(pairs) {
                set.extend(pairs);
            }
        };
        search::beyond(&mut Nearness::new(jaw), casts.sides(), -thickness, &mut note);
        // What has come through, as seen along z.
        let mut lowering = FirstTouch::new(Lowering::new(), Map::identity(), jaw);
        search::beyond(&mut lowering, casts.sides(), 0.0, &mut note);
        Self { casts, jaw, thickness, triangles }
    }

    /// What prints on an arch, in the order of triangles.
    pub(super) fn on(&self, arch: Arch) -> Vec<Printed> {
        let triangles = &self.triangles[usize::from(arch == Arch::Lower)];
        triangles.iter().filter_map(|&triangle| self.triangle(arch, triangle)).collect()
    }

    /// The distance of a point of an arch from the other surface, less than zero behind it. `within` is
    /// more than that distance, if known.
    fn distance(&self, arch: Arch, at: &Vector3<f64>, within: f64) -> f64 {
        let opposite = self.casts.cast(arch.opposite());
        let point = match arch {
            Arch::Upper => self.jaw.back(at),
            Arch::Lower => self.jaw.point(at),
        };
        let Some(near) = nearest_to(&opposite.surface, &opposite.tree, &point, within) else {
            return f64::INFINITY;
        };
        let is_behind = is_behind(&opposite.surface, &opposite.joins, &near, &point);
        if is_behind { -near.distance } else { near.distance }
    }

    fn triangle(&self, arch: Arch, triangle: u32) -> Option<Printed> {
        let corners = self.casts.surface(arch).corners(triangle as usize);
        let [a, b, c] = &corners;
        let longest = [b - a, c - b, a - c].iter().map(Vector3::norm).fold(0.0, f64::max);
        let distances = corners.each_ref().map(|corner| self.distance(arch, corner, f64::INFINITY));
        // No point of a triangle is farther from all its corners than an equilateral one's middle.
        if distances.iter().all(|distance| *distance > self.thickness + longest / 3.0_f64.sqrt()) {
            return None;
        }
        let grain = GRAIN_MM * self.thickness.sqrt();
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // from 1 to FINEST
        let parts = (longest / grain).ceil().clamp(1.0, f64::from(FINEST)) as u16;
        let samples = self.samples(arch, &corners, distances, parts);
        let mut printed = Printed {
            triangle,
            area: 0.0,
            moment: Vector3::zeros(),
            deepest: *a,
            least: f64::INFINITY,
            edges: [false; 3],
        };
        let at = |row: u16, column: u16| {
            samples[usize::from(row) * (usize::from(row) + 1) / 2 + usize::from(column)]
        };
        for row in 0..=parts {
            for column in 0..=row {
                let (place, distance) = at(row, column);
                if distance < printed.least {
                    (printed.deepest, printed.least) = (place, distance);
                }
                let on = [column == 0, row == parts, column == row];
                // Edges run from a to b, b to c, c to a; rows go from a down to the edge from b to c.
                for (edge, on) in printed.edges.iter_mut().zip(on) {
                    *edge |= on && distance <= self.thickness;
                }
                if row < parts {
                    printed
                        .add(self.thickness, [at(row, column), at(row + 1, column), at(row + 1, column + 1)]);
                    if column < row {
                        printed.add(
                            self.thickness,
                            [at(row, column), at(row + 1, column + 1), at(row, column + 1)],
                        );
                    }
                }
            }
        }
        (printed.area > 0.0).then_some(printed)
    }

    /// Points of a triangle in rows from the first corner, each edge in so many parts, with their
    /// distances.
    fn samples(
        &self,
        arch: Arch,
        [a, b, c]: &[Vector3<f64>; 3],
        distances: [f64; 3],
        parts: u16,
    ) -> Vec<Sample> {
        let mut samples: Vec<Sample> = Vec::new();
        let mut last = (*a, distances[0].abs());
        for row in 0..=parts {
            for column in 0..=row {
                let [down, across] = [row, column].map(|part| f64::from(part) / f64::from(parts));
                let place = a + (b - a) * (down - across) + (c - a) * across;
                let corner = match (row, column) {
                    (0, _) => Some(0),
                    (row, 0) if row == parts => Some(1),
                    (row, column) if row == parts && column == parts => Some(2),
                    _ => None,
                };
                // No point's distance differs from another's by more than the way between them.
                let within = (last.1 + (place - last.0).norm()) * 1.0001 + 1e-9;
                let distance =
                    corner.map_or_else(|| self.distance(arch, &place, within), |corner| distances[corner]);
                last = (place, distance.abs());
                samples.push((place, distance));
            }
        }
        samples
    }
}

impl Printed {
    /// Adds the part of a small triangle where the distance, linear over it, is within the thickness.
    fn add(&mut self, thickness: f64, corners: [Sample; 3]) {
        let mut part: Vec<Vector3<f64>> = Vec::with_capacity(4);
        for (at, (place, distance)) in corners.iter().enumerate() {
            let (next, beyond) = corners[(at + 1) % 3];
            if *distance <= thickness {
                part.push(*place);
            }
            if (*distance <= thickness) != (beyond <= thickness) {
                part.push(place + (next - place) * ((thickness - distance) / (beyond - distance)));
            }
        }
        let Some((first, rest)) = part.split_first() else { return };
        for pair in rest.windows(2) {
            let area = (pair[0] - first).cross(&(pair[1] - first)).norm() / 2.0;
            self.area += area;
            self.moment += (first + pair[0] + pair[1]) * (area / 3.0);
        }
    }
}
