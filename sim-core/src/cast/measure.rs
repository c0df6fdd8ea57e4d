//! How near the casts come in a jaw pose: overall and at each tooth.

use nalgebra::{Matrix3, Vector3};

use super::casts::{Casts, LastPairs};
use super::lowering::Lowering;
use super::map::{Map, axes_of};
use super::nearest::Nearest;
use super::nearness::Nearness;
use super::opening::FirstTouch;
use super::piercing::{Pierce, pierces};
use super::search::{self, Best, Search, Side};
use crate::cusp::{Arch, Tooth};
use crate::frame::{JawPose, OcclusalPlane};

/// How near a tooth comes to the opposing arch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ToothReading {
    /// The tooth.
    pub tooth: Tooth,
    /// Least vertical gap, as in [`CastsReading::vertical`].
    pub vertical: Option<Nearest>,
    /// Least true distance, as in [`CastsReading::distance`].
    pub distance: Nearest,
}

/// How near the casts come in one jaw pose.
#[derive(Clone, Debug, PartialEq)]
pub struct CastsReading {
    /// The least vertical gap: along the occlusal plane's normal, from the lower surface's top side up
    /// to the upper surface's underside. Below zero where the lower stands above the upper. `None`
    /// where nothing is opposite.
    pub vertical: Option<Nearest>,
    /// The least true distance. Where the surfaces pierce each other, less than zero: minus the
    /// greatest distance from a vertex of either that lies behind the other surface to that surface;
    /// zero where they cross with no vertex behind.
    pub distance: Nearest,
    /// The same for each tooth of either arch against the whole opposing one, by number.
    pub teeth: Vec<ToothReading>,
}

/// A jaw pose made ready for the searches.
struct PosedCasts<'c> {
    casts: &'c Casts,
    /// Rows: anterior, left, up along the occlusal plane's normal.
    axes: Matrix3<f64>,
    jaw: Map,
    pierces: Vec<Pierce>,
}

impl Casts {
    /// The least vertical gap and the least true distance in a jaw pose, overall and at each tooth.
    ///
    /// The vertical is the normal of the occlusal plane, in the upper frame. Only sides that face each
    /// other along it count for the vertical gap, all of both surfaces for the true distance.
    #[must_use]
    pub fn measure(&self, pose: &JawPose, plane: OcclusalPlane, warm: &mut LastPairs) -> CastsReading {
        let mut ready = PosedCasts::new(self, pose, plane);
        let (vertical, distance) = ready.overall(warm);
        let whole = self.sides();
        let mut teeth = Vec::new();
        for arch in [Arch::Upper, Arch::Lower] {
            for &(tooth, branch) in self.cast(arch).tree.branches() {
                let Some(tooth) = tooth else { continue };
                let mut sides = whole;
                sides[usize::from(arch == Arch::Lower)] = self.cast(arch).branch(branch);
                let start = warm.of(tooth);
                // A pair that is of another tooth is no pair of this branch.
                let is_of_it = |pair: &search::Pair| {
                    self.cast(arch).tooth(if arch == Arch::Upper { pair.0 } else { pair.1 }) == Some(tooth)
                };
                start.vertical = start.vertical.filter(is_of_it);
                start.distance = start.distance.filter(is_of_it);
                teeth.push(ToothReading {
                    tooth,
                    vertical: ready.vertical(sides, &mut start.vertical),
                    distance: ready.distance(sides, Some(tooth), &mut start.distance),
                });
            }
        }
        teeth.sort_unstable_by_key(|reading| reading.tooth);
        CastsReading { vertical, distance, teeth }
    }

    /// The least vertical gap and the least true distance of [`Self::measure`] overall, without those of
    /// each tooth, which take most of its time.
    #[must_use]
    pub fn measure_overall(
        &self,
        pose: &JawPose,
        plane: OcclusalPlane,
        warm: &mut LastPairs,
    ) -> (Option<Nearest>, Nearest) {
        PosedCasts::new(self, pose, plane).overall(warm)
    }
}

impl<'c> PosedCasts<'c> {
    fn new(casts: &'c Casts, pose: &JawPose, plane: OcclusalPlane) -> Self {
        Self { casts, axes: axes_of(plane), jaw: Map::jaw(pose), pierces: Vec::new() }
    }

    /// Both overall; also finds where the surfaces pierce each other.
    fn overall(&mut self, warm: &mut LastPairs) -> (Option<Nearest>, Nearest) {
        let whole = self.casts.sides();
        let vertical = self.vertical(whole, &mut warm.whole.vertical);
        if vertical.is_none_or(|nearest| nearest.gap.mm() <= 0.0) {
            self.pierces = pierces(self.casts, &self.jaw, &self.axes);
        }
        (vertical, self.distance(whole, None, &mut warm.whole.distance))
    }

    fn vertical(&self, sides: [Side<'_>; 2], warm: &mut Option<search::Pair>) -> Option<Nearest> {
        let upper = Map::identity().seen(&self.axes);
        let mut lowering = FirstTouch::new(Lowering::new(), upper, self.jaw.seen(&self.axes));
        let found = seek(&mut lowering, sides, warm)?;
        let back = |at: &Vector3<f64>| self.axes.tr_mul(at);
        let (upper, lower) = (back(&found.meeting.upper), back(&found.meeting.lower));
        Some(self.nearest(&found, upper, lower))
    }

    /// Overall, or of a tooth.
    fn distance(&self, sides: [Side<'_>; 2], of: Option<Tooth>, warm: &mut Option<search::Pair>) -> Nearest {
        let concerned = self.pierces.iter().filter(|pierce| of.is_none_or(|tooth| pierce.is_of(tooth)));
        if let Some(pierce) = concerned.reduce(Pierce::deeper) {
            return pierce.nearest(of);
        }
        let mut nearness = Nearness::new(self.jaw);
        match seek(&mut nearness, sides, warm) {
            Some(found) => self.nearest(&found, found.meeting.upper, found.meeting.lower),
            // Any two triangles have a distance, and no surface is without triangles.
            None => Nearest::nowhere(),
        }
    }

    /// Both places in the upper frame.
    fn nearest(&self, found: &Best, upper: Vector3<f64>, lower: Vector3<f64>) -> Nearest {
        self.casts.nearest(&self.jaw, found, &[upper, lower])
    }
}

fn seek<S: Search>(search: &mut S, sides: [Side<'_>; 2], warm: &mut Option<search::Pair>) -> Option<Best> {
    let found = search::best(search, sides, f64::NEG_INFINITY, warm.as_slice())?;
    *warm = Some(found.pair);
    Some(found)
}
