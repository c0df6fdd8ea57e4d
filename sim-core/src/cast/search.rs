//! The search for the best pair of triangles of two surfaces: branch and bound over both trees.

use nalgebra::Vector3;

use super::Surface;
use super::tree::{Node, Tree};
use crate::cusp::Arch;

/// Scores closer than this (millimetres or radians) are equal: some hundred times what rounding leaves
/// of jaw-sized numbers. Among equals the pair of the lowest numbers wins, so that neither the order
/// of the search nor where it started decides which tooth is named.
pub(super) const EQUAL: f64 = 1e-12;

/// Room for the branches left open on the way down two trees of a million leaves; more is got when
/// needed.
pub(super) const STACK: usize = 64;

/// A triangle of the upper surface and one of the lower.
pub(super) type Pair = (u32, u32);

/// A triangle in the frame of a search.
#[derive(Clone, Copy, Debug)]
pub(super) struct Facet {
    pub(super) corners: [Vector3<f64>; 3],
    /// Outward unit normal, or zero where there is none.
    pub(super) normal: Vector3<f64>,
}

impl Facet {
    #[inline]
    pub(super) fn new(corners: [Vector3<f64>; 3]) -> Self {
        let [a, b, c] = &corners;
        let area = (b - a).cross(&(c - a));
        Self { corners, normal: area.try_normalize(0.0).unwrap_or_else(Vector3::zeros) }
    }
}

/// Where on the two triangles of a pair, and how good.
#[derive(Clone, Copy, Debug)]
pub(super) struct Meeting {
    pub(super) score: f64,
    /// On the upper surface and on the lower, in the frame of the search.
    pub(super) upper: Vector3<f64>,
    pub(super) lower: Vector3<f64>,
}

/// The best pair found.
#[derive(Clone, Copy, Debug)]
pub(super) struct Best {
    pub(super) pair: Pair,
    pub(super) meeting: Meeting,
}

/// What is looked for, as a score of two triangles to be greatest.
pub(super) trait Search {
    /// A node in the frame of the search, with what a bound needs of it.
    type Place;
    /// Brings a node there.
    fn node(&self, arch: Arch, node: &Node) -> Self::Place;
    /// A triangle in the frame of the search.
    fn facet(&self, arch: Arch, corners: &[Vector3<f64>; 3]) -> Facet;
    /// No pair of triangles in these nodes scores more; −∞ where none scores at all or none more than
    /// the last value given to [`Self::raise`].
    fn bound(&self, upper: &Self::Place, lower: &Self::Place) -> f64;
    /// Whether these triangles score less than the last value given to [`Self::raise`], as far as a quick
    /// look can tell.
    fn is_less(&self, upper: &Facet, lower: &Facet) -> bool;
    /// The score of two triangles, if they have one.
    fn score(&self, upper: &Facet, lower: &Facet) -> Option<Meeting>;
    /// From here on only pairs that score this much or more matter.
    fn raise(&mut self, best: f64);
}

/// A surface and its tree.
#[derive(Clone, Copy)]
pub(super) struct Side<'c> {
    pub(super) surface: &'c Surface,
    pub(super) tree: &'c Tree,
    /// Where in the tree to begin.
    pub(super) from: u32,
}

/// The pair that scores most, and more than `floor`. Each seed is tried first.
pub(super) fn best<S: Search>(
    search: &mut S,
    [upper, lower]: [Side<'_>; 2],
    floor: f64,
    seeds: &[Pair],
) -> Option<Best> {
    let mut winner = Winner { floor, found: None };
    search.raise(floor);
    for &pair in seeds {
        let inside = |side: &Side<'_>, at: u32| (at as usize) < side.surface.triangles().len();
        if inside(&upper, pair.0) && inside(&lower, pair.1) {
            let facet = |arch, side: &Side<'_>, at| search.facet(arch, &side.surface.corners(at as usize));
            let of_upper = facet(Arch::Upper, &upper, pair.0);
            let of_lower = facet(Arch::Lower, &lower, pair.1);
            winner.offer(search, pair, &of_upper, &of_lower);
        }
    }
    let mut open = Vec::with_capacity(STACK);
    open.push((f64::INFINITY, upper.from, lower.from));
    while let Some((bound, at_upper, at_lower)) = open.pop() {
        let (one, other) = (upper.tree.node(at_upper), lower.tree.node(at_lower));
        if winner.beats(bound, one, other) {
            continue;
        }
        if one.is_leaf() && other.is_leaf() {
            leaves(search, &mut winner, (&upper, one), (&lower, other));
            continue;
        }
        let below = if splits_first(one, other) {
            let lower = search.node(Arch::Lower, other);
            one.children().map(|at| {
                (search.bound(&search.node(Arch::Upper, upper.tree.node(at)), &lower), at, at_lower)
            })
        } else {
            let upper = search.node(Arch::Upper, one);
            other.children().map(|at| {
                (search.bound(&upper, &search.node(Arch::Lower, lower.tree.node(at))), at_upper, at)
            })
        };
        let [first, last] = if below[0].0 > below[1].0 { [below[1], below[0]] } else { below };
        // The more promising of the two is looked into first.
        open.extend([first, last].into_iter().filter(|(bound, ..)| *bound > f64::NEG_INFINITY));
    }
    winner.found
}

/// Calls `visit` with the triangles of each pair of leaves that may score more than `floor`.
pub(super) fn beyond<S: Search>(
    search: &mut S,
    [upper, lower]: [Side<'_>; 2],
    floor: f64,
    mut visit: impl FnMut([&[u32]; 2]),
) {
    search.raise(floor);
    let mut open = vec![(upper.from, lower.from)];
    while let Some((at_upper, at_lower)) = open.pop() {
        let (one, other) = (upper.tree.node(at_upper), lower.tree.node(at_lower));
        if search.bound(&search.node(Arch::Upper, one), &search.node(Arch::Lower, other)) <= floor {
            continue;
        }
        if one.is_leaf() && other.is_leaf() {
            visit([upper.tree.triangles(one), lower.tree.triangles(other)]);
        } else if splits_first(one, other) {
            open.extend(one.children().map(|at| (at, at_lower)));
        } else {
            open.extend(other.children().map(|at| (at_upper, at)));
        }
    }
}

/// Whether of two nodes, not both leaves, the first is to be split: the greater, if it can be.
fn splits_first(one: &Node, other: &Node) -> bool {
    !one.is_leaf() && (other.is_leaf() || one.half.norm_squared() >= other.half.norm_squared())
}

fn leaves<S: Search>(
    search: &mut S,
    winner: &mut Winner,
    upper: (&Side<'_>, &Node),
    lower: (&Side<'_>, &Node),
) {
    for &of_upper in upper.0.tree.triangles(upper.1) {
        let facet = search.facet(Arch::Upper, &upper.0.surface.corners(of_upper as usize));
        for &of_lower in lower.0.tree.triangles(lower.1) {
            let opposite = search.facet(Arch::Lower, &lower.0.surface.corners(of_lower as usize));
            if !search.is_less(&facet, &opposite) {
                winner.offer(search, (of_upper, of_lower), &facet, &opposite);
            }
        }
    }
}

/// The best so far.
struct Winner {
    floor: f64,
    found: Option<Best>,
}

impl Winner {
    /// Whether nothing in these nodes can win any more.
    fn beats(&self, bound: f64, upper: &Node, lower: &Node) -> bool {
        let Some(found) = &self.found else { return bound <= self.floor };
        let ahead = found.meeting.score - bound;
        ahead > EQUAL || (ahead >= -EQUAL && found.pair <= (upper.first, lower.first))
    }

    fn offer<S: Search>(&mut self, search: &mut S, pair: Pair, upper: &Facet, lower: &Facet) {
        let Some(meeting) = search.score(upper, lower) else { return };
        match &mut self.found {
            None if meeting.score > self.floor => {
                self.found = Some(Best { pair, meeting });
                search.raise(meeting.score);
            }
            None => {}
            Some(found) => {
                let ahead = meeting.score - found.meeting.score;
                let best = meeting.score.max(found.meeting.score);
                if ahead > EQUAL || (ahead >= -EQUAL && pair < found.pair) {
                    *found = Best { pair, meeting: Meeting { score: best, ..meeting } };
                } else {
                    found.meeting.score = best;
                }
                if ahead > 0.0 {
                    search.raise(best);
                }
            }
        }
    }
}
