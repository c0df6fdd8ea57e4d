//! Vertices of either surface that lie behind the other.

use std::collections::BTreeMap;

use nalgebra::{Matrix3, Vector3};

use super::casts::Casts;
use super::lowering::Lowering;
use super::map::Map;
use super::measure::Nearest;
use super::nearness::{is_behind, nearest_to};
use super::opening::FirstTouch;
use super::search;
use crate::cusp::{Arch, Tooth};
use crate::frame::{LowerPoint, UpperPoint};
use crate::units::Length;

/// A vertex of one surface behind the other, and where it is nearest to that.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pierce {
    depth: f64,
    upper: Vector3<f64>,
    lower: Vector3<f64>,
    teeth: [Option<Tooth>; 2],
}

impl Pierce {
    /// The upper tooth and the lower.
    pub(super) const fn teeth(&self) -> &[Option<Tooth>; 2] {
        &self.teeth
    }

    /// The deeper of two; of equals the first.
    pub(super) fn deeper<'p>(one: &'p Self, other: &'p Self) -> &'p Self {
        if other.depth > one.depth { other } else { one }
    }

    pub(super) fn nearest(&self) -> Nearest {
        Nearest {
            gap: Length::mm(-self.depth),
            upper: UpperPoint::from_coords(self.upper),
            lower: LowerPoint::from_coords(self.lower),
            upper_tooth: self.teeth[0],
            lower_tooth: self.teeth[1],
        }
    }
}

/// All vertices behind the other surface, given the map from the lower frame to the upper, and the
/// vertical as the last row of `axes`.
///
/// Looked for among the triangles that overlap in plan with opposing ones that they are beyond: what
/// has come through since the surfaces were apart along the vertical.
pub(super) fn pierces(casts: &Casts, jaw: &Map, axes: &Matrix3<f64>) -> Vec<Pierce> {
    let mut lowering = FirstTouch::new(Lowering::new(), Map::identity().seen(axes), jaw.seen(axes));
    // Each vertex once, with the first of its triangles.
    let mut candidates = [(Arch::Upper, BTreeMap::new()), (Arch::Lower, BTreeMap::new())];
    search::beyond(&mut lowering, casts.sides(), 0.0, |triangles| {
        for ((arch, vertices), triangles) in candidates.iter_mut().zip(triangles) {
            let surface = casts.surface(*arch);
            for &triangle in triangles {
                for vertex in surface.triangles()[triangle as usize] {
                    let first = vertices.entry(vertex).or_insert(triangle);
                    *first = triangle.min(*first);
                }
            }
        }
    });
    let mut found = Vec::new();
    for (arch, vertices) in candidates {
        let opposite = casts.cast(arch.opposite());
        for (vertex, triangle) in vertices {
            let own = casts.surface(arch).vertices()[vertex as usize];
            let point = match arch {
                Arch::Upper => jaw.back(&own),
                Arch::Lower => jaw.point(&own),
            };
            let near = nearest_to(&opposite.surface, &opposite.tree, &point, f64::INFINITY);
            let Some(near) = near.filter(|near| is_behind(&opposite.surface, &opposite.joins, near, &point))
            else {
                continue;
            };
            let teeth = [casts.cast(arch).tooth(triangle), opposite.tooth(near.triangle)];
            found.push(match arch {
                Arch::Upper => Pierce { depth: near.distance, upper: own, lower: near.at, teeth },
                Arch::Lower => {
                    Pierce { depth: near.distance, upper: near.at, lower: own, teeth: [teeth[1], teeth[0]] }
                }
            });
        }
    }
    found
}
