//! Pairs of opposing teeth: which of them stop the closing, and how near each of them comes.

use std::sync::Arc;

use nalgebra::Vector3;

use super::casts::{Branches, Casts, LastPairs};
use super::lowering::Lowering;
use super::map::{Map, axes_of};
use super::nearest::Nearest;
use super::nearness::Nearness;
use super::opening::FirstTouch;
use super::piercing::{Pierce, pierces};
use super::search::{self, Best, EQUAL, Search, Side};
use crate::cusp::{Arch, Tooth};
use crate::frame::{JawPose, LowerPoint, OcclusalPlane, UpperPoint};
use crate::units::Length;

impl Casts {
    /// The same casts, of which only some pairs of teeth stop the closing: the others are passed
    /// through, as if they had been ground away. `is_stop` is asked of every upper and every lower
    /// tooth; `None` is what belongs to no tooth. What is measured stays as it was.
    #[must_use]
    pub(crate) fn stopped_by(&self, is_stop: impl Fn(Option<Tooth>, Option<Tooth>) -> bool) -> Self {
        let stops = self.pairs(is_stop).collect();
        Self { upper: Arc::clone(&self.upper), lower: Arc::clone(&self.lower), stops: Some(stops) }
    }

    /// The least vertical gap of each pair of teeth where it is less than `below`, in the order of
    /// upper and then lower tooth; what belongs to no tooth comes first.
    ///
    /// The vertical is the normal of the occlusal plane as `member` carries it: fixed to the upper
    /// member, or fixed to the lower one and turned with the jaw. A gap below zero is what must come
    /// off that member's surface there, along that normal, for the pair to go clear.
    #[must_use]
    pub(crate) fn vertical_gaps(
        &self,
        pose: &JawPose,
        plane: OcclusalPlane,
        member: Arch,
        below: Length,
        is_asked: impl Fn(Option<Tooth>, Option<Tooth>) -> bool,
    ) -> Vec<Nearest> {
        let axes = match member {
            Arch::Upper => axes_of(plane),
            Arch::Lower => axes_of(plane) * pose.rotation().transpose(),
        };
        let jaw = Map::jaw(pose);
        let mut lowering = FirstTouch::new(Lowering::new(), Map::identity().seen(&axes), jaw.seen(&axes));
        let of_pair = |pair| {
            let found = search::best(&mut lowering, self.sides_of(pair), -below.mm(), &[])?;
            let back = |at| axes.tr_mul(at);
            let places = [back(&found.meeting.upper), back(&found.meeting.lower)];
            Some(self.nearest(&jaw, &found, &places))
        };
        self.pairs(is_asked).filter_map(of_pair).collect()
    }

    /// The least true distance of each pair of teeth where it is no more than `within`, in the order
    /// of [`Self::vertical_gaps`]. Below zero where they pierce each other, as in
    /// [`CastsReading::distance`](super::CastsReading::distance).
    #[must_use]
    pub(crate) fn distances(
        &self,
        pose: &JawPose,
        plane: OcclusalPlane,
        within: Length,
        is_asked: impl Fn(Option<Tooth>, Option<Tooth>) -> bool,
    ) -> Vec<Nearest> {
        let jaw = Map::jaw(pose);
        let found = pierces(self, &jaw, &axes_of(plane));
        let mut nearness = Nearness::new(jaw);
        let of_pair = |pair| {
            let teeth = self.teeth_of(pair);
            let deepest = found.iter().filter(|pierce| pierce.is_between(&teeth)).reduce(Pierce::deeper);
            deepest.map(|pierce| pierce.nearest_between(teeth)).or_else(|| {
                let floor = -within.mm() - EQUAL;
                let found = search::best(&mut nearness, self.sides_of(pair), floor, &[])?;
                Some(self.nearest(&jaw, &found, &[found.meeting.upper, found.meeting.lower]))
            })
        };
        self.pairs(is_asked).filter_map(of_pair).collect()
    }

    /// The best over the pairs that stop the closing, or over everything where all of them do.
    pub(super) fn best_stop<S: Search>(&self, search: &mut S, floor: f64, warm: &LastPairs) -> Option<Best> {
        let Some(stops) = &self.stops else {
            return search::best(search, self.sides(), floor, warm.closing.as_slice());
        };
        let mut best: Option<Best> = None;
        for &pair in stops {
            let seed = warm.closing.filter(|seed| self.teeth_of_triangles(*seed) == self.teeth_of(pair));
            let above = best.map_or(floor, |best| (best.meeting.score - 2.0 * EQUAL).max(floor));
            let found = search::best(search, self.sides_of(pair), above, seed.as_slice());
            best = match (best, found) {
                (Some(best), Some(found)) => Some(better(best, found)),
                (best, found) => best.or(found),
            };
        }
        best
    }

    fn pairs(
        &self,
        is_asked: impl Fn(Option<Tooth>, Option<Tooth>) -> bool,
    ) -> impl Iterator<Item = Branches> {
        let lower = self.lower.tree.branches();
        self.upper.tree.branches().iter().flat_map(move |&(upper_tooth, upper)| {
            let asked = lower.iter().filter(|(lower_tooth, _)| is_asked(upper_tooth, *lower_tooth));
            asked.map(|&(_, lower)| (upper, lower)).collect::<Vec<_>>()
        })
    }

    fn sides_of(&self, (upper, lower): Branches) -> [Side<'_>; 2] {
        [self.upper.branch(upper), self.lower.branch(lower)]
    }

    fn teeth_of(&self, (upper, lower): Branches) -> [Option<Tooth>; 2] {
        self.teeth_of_triangles((self.upper.tree.node(upper).first, self.lower.tree.node(lower).first))
    }

    fn teeth_of_triangles(&self, (upper, lower): search::Pair) -> [Option<Tooth>; 2] {
        [self.upper.tooth(upper), self.lower.tooth(lower)]
    }

    /// Both places in the upper frame.
    pub(super) fn nearest(&self, jaw: &Map, found: &Best, [upper, lower]: &[Vector3<f64>; 2]) -> Nearest {
        let [upper_tooth, lower_tooth] = self.teeth_of_triangles(found.pair);
        Nearest {
            gap: Length::from_mm(-found.meeting.score),
            upper: UpperPoint::from_coords(*upper),
            lower: LowerPoint::from_coords(jaw.back(lower)),
            upper_tooth,
            lower_tooth,
        }
    }
}

/// The better of two; of equals the pair of the lowest numbers.
fn better(one: Best, other: Best) -> Best {
    let ahead = other.meeting.score - one.meeting.score;
    if ahead > EQUAL || (ahead >= -EQUAL && other.pair < one.pair) { other } else { one }
}
