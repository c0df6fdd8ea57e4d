//! Vertices of either surface that lie behind the other.

use std::collections::BTreeMap;

use nalgebra::{Matrix3, Vector3};

use super::casts::{Cast, Casts};
use super::lowering::Lowering;
use super::map::Map;
use super::nearest::Nearest;
use super::nearness::{is_behind, nearest_to};
use super::opening::FirstTouch;
use super::search;
use crate::cusp::{Arch, Tooth};
use crate::frame::{LowerPoint, UpperPoint};
use crate::units::Length;

/// A vertex of one surface behind the other, and where it is nearest to that.
#[derive(Clone, Debug)]
pub(super) struct Pierce {
    depth: f64,
    upper: Vector3<f64>,
    lower: Vector3<f64>,
    /// Of the upper place and of the lower: on an edge or a corner between teeth, all of them.
    teeth: [Vec<Option<Tooth>>; 2],
}

impl Pierce {
    /// Whether it is a tooth's, upper or lower.
    pub(super) fn is_of(&self, tooth: Tooth) -> bool {
        self.teeth.iter().any(|teeth| teeth.contains(&Some(tooth)))
    }

    /// Whether it is of an upper tooth and a lower one.
    pub(super) fn is_between(&self, teeth: &[Option<Tooth>; 2]) -> bool {
        self.teeth.iter().zip(teeth).all(|(own, tooth)| own.contains(tooth))
    }

    /// The deeper of two; of equals the first.
    pub(super) fn deeper<'p>(one: &'p Self, other: &'p Self) -> &'p Self {
        if other.depth > one.depth { other } else { one }
    }

    /// Where it is, told of a tooth that it is of.
    pub(super) fn nearest(&self, of: Option<Tooth>) -> Nearest {
        self.nearest_between(self.teeth.each_ref().map(|own| {
            let is_it = |tooth: &&Option<Tooth>| of.is_some() && **tooth == of;
            own.iter().find(is_it).or(own.first()).copied().flatten()
        }))
    }

    /// Where it is, told of an upper tooth and a lower one.
    pub(super) fn nearest_between(&self, [upper_tooth, lower_tooth]: [Option<Tooth>; 2]) -> Nearest {
        Nearest {
            gap: Length::from_mm(-self.depth),
            upper: UpperPoint::from_coords(self.upper),
            lower: LowerPoint::from_coords(self.lower),
            upper_tooth,
            lower_tooth,
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
    search::beyond(&mut lowering, casts.sides(), 0.0, |(upper, lower), _, _| {
        for ((arch, vertices), triangle) in candidates.iter_mut().zip([upper, lower]) {
            for vertex in casts.surface(*arch).triangles()[triangle as usize] {
                let first = vertices.entry(vertex).or_insert(triangle);
                *first = triangle.min(*first);
            }
        }
    });
    let mut found = Vec::new();
    for (arch, vertices) in candidates {
        let opposite = casts.cast(arch.opposite());
        let mut last = None;
        for (vertex, triangle) in vertices {
            let own = casts.surface(arch).vertices()[vertex as usize];
            let point = match arch {
                Arch::Upper => jaw.back(&own),
                Arch::Lower => jaw.point(&own),
            };
            let near = nearest_to(&opposite.surface, &opposite.tree, &point, f64::INFINITY, last);
            last = near.map(|near| near.triangle);
            let Some(near) = near.filter(|near| is_behind(&opposite.surface, &opposite.joins, near, &point))
            else {
                continue;
            };
            let own_teeth = teeth_at(casts.cast(arch), triangle, &own);
            let teeth = teeth_at(opposite, near.triangle, &near.at);
            found.push(match arch {
                Arch::Upper => {
                    Pierce { depth: near.distance, upper: own, lower: near.at, teeth: [own_teeth, teeth] }
                }
                Arch::Lower => {
                    Pierce { depth: near.distance, upper: near.at, lower: own, teeth: [teeth, own_teeth] }
                }
            });
        }
    }
    found
}

/// The teeth of a place on a triangle, by number, before them what belongs to no tooth. Which of those
/// that meet at an edge the nearest triangle is of, rounding would decide.
fn teeth_at(cast: &Cast, triangle: u32, place: &Vector3<f64>) -> Vec<Option<Tooth>> {
    let about = cast.joins.about(triangle, place, &cast.surface).unwrap_or_else(|| vec![triangle]);
    let mut teeth: Vec<Option<Tooth>> = about.into_iter().map(|triangle| cast.tooth(triangle)).collect();
    teeth.sort_unstable();
    teeth.dedup();
    teeth
}
