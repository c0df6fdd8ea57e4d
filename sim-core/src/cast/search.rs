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
    /// A triangle in the frame of the search, with what a quick look needs of it.
    type Facet;
    /// Brings a node there.
    fn node(&self, arch: Arch, node: &Node) -> Self::Place;
    /// Brings a triangle there.
    fn facet(&self, arch: Arch, corners: &[Vector3<f64>; 3]) -> Self::Facet;
    /// No pair of triangles in these nodes scores more; −∞ where none scores at all or none more than
    /// the last value given to [`Self::raise`].
    fn bound(&self, upper: &Self::Place, lower: &Self::Place) -> f64;
    /// Whether these triangles have no score, or one less than the last value given to [`Self::raise`], as far
    /// as a quick look can tell. They may have been brought here before that value was given.
    fn is_less(&self, upper: &Self::Facet, lower: &Self::Facet) -> bool;
    /// The score of two triangles, if they have one.
    fn score(&self, upper: &Self::Facet, lower: &Self::Facet) -> Option<Meeting>;
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
    let sides = [upper, lower];
    let mut descent = Descent::new(search, &sides);
    let mut facets = Vec::new();
    while let Some(open) = descent.next() {
        let (one, other) = (upper.tree.node(open.upper.node), lower.tree.node(open.lower.node));
        if winner.beats(open.bound, one, other) {
            continue;
        }
        if one.is_leaf() && other.is_leaf() {
            each_pair(search, (&upper, one), (&lower, other), &mut facets, |search, pair, one, other| {
                winner.offer(search, pair, one, other);
            });
            continue;
        }
        let [first, last] = descent.split(search, &sides, &open);
        let promising = if first.bound > last.bound { [last, first] } else { [first, last] };
        // The more promising of the two is looked into first.
        descent.open.extend(promising.into_iter().filter(|open| open.bound > f64::NEG_INFINITY));
    }
    winner.found
}

/// Calls `visit` with each pair of triangles that may score more than `floor`, as far as a quick look can tell.
pub(super) fn beyond<S: Search>(
    search: &mut S,
    sides: [Side<'_>; 2],
    floor: f64,
    mut visit: impl FnMut(Pair, &S::Facet, &S::Facet),
) {
    search.raise(floor);
    let [upper, lower] = sides;
    let mut descent = Descent::new(search, &sides);
    let mut facets = Vec::new();
    while let Some(open) = descent.next() {
        let (one, other) = (upper.tree.node(open.upper.node), lower.tree.node(open.lower.node));
        if one.is_leaf() && other.is_leaf() {
            each_pair(search, (&upper, one), (&lower, other), &mut facets, |_, pair, one, other| {
                visit(pair, one, other);
            });
        } else {
            let below = descent.split(search, &sides, &open);
            descent.open.extend(below.into_iter().filter(|open| open.bound > floor));
        }
    }
}

/// The pairs of nodes that are still to be looked into, on the way down two trees. Each node is brought into
/// the frame of the search once on the way, not for every node that it meets.
struct Descent<P> {
    open: Vec<Open>,
    places: Vec<P>,
}

/// A pair of nodes to be looked into.
#[derive(Clone, Copy)]
struct Open {
    bound: f64,
    upper: At,
    lower: At,
    /// So many places are needed by this pair and those that were there before it.
    needs: usize,
}

/// A node, and which of the places it has been brought to.
#[derive(Clone, Copy)]
struct At {
    node: u32,
    place: usize,
}

impl<P> Descent<P> {
    fn new<S: Search<Place = P>>(search: &S, [upper, lower]: &[Side<'_>; 2]) -> Self {
        let mut places = Vec::with_capacity(2 * STACK);
        places.push(search.node(Arch::Upper, upper.tree.node(upper.from)));
        places.push(search.node(Arch::Lower, lower.tree.node(lower.from)));
        let bound = search.bound(&places[0], &places[1]);
        let mut open = Vec::with_capacity(STACK);
        let [upper, lower] = [(upper.from, 0), (lower.from, 1)].map(|(node, place)| At { node, place });
        open.push(Open { bound, upper, lower, needs: places.len() });
        Self { open, places }
    }

    fn next(&mut self) -> Option<Open> {
        let open = self.open.pop()?;
        // What is beyond belongs to pairs that were added later, and these are done with.
        self.places.truncate(open.needs);
        Some(open)
    }

    /// The two pairs that come of splitting the greater node of the pair that was last taken.
    fn split<S: Search<Place = P>>(&mut self, search: &S, sides: &[Side<'_>; 2], open: &Open) -> [Open; 2] {
        let [upper, lower] = sides;
        let (one, other) = (upper.tree.node(open.upper.node), lower.tree.node(open.lower.node));
        let is_upper = splits_first(one, other);
        let (arch, tree, node) =
            if is_upper { (Arch::Upper, upper.tree, one) } else { (Arch::Lower, lower.tree, other) };
        let below = node.children();
        for child in below {
            self.places.push(search.node(arch, tree.node(child)));
        }
        let needs = open.needs + 2;
        [0, 1].map(|which| {
            let at = At { node: below[which], place: open.needs + which };
            let (upper, lower) = if is_upper { (at, open.lower) } else { (open.upper, at) };
            let bound = search.bound(&self.places[upper.place], &self.places[lower.place]);
            Open { bound, upper, lower, needs }
        })
    }
}

/// Whether of two nodes, not both leaves, the first is to be split: the greater, if it can be.
fn splits_first(one: &Node, other: &Node) -> bool {
    !one.is_leaf() && (other.is_leaf() || one.half.norm_squared() >= other.half.norm_squared())
}

/// Calls `visit` with the pairs of triangles of two leaves that a quick look does not rule out. `facets` is
/// room to work in.
fn each_pair<S: Search>(
    search: &mut S,
    upper: (&Side<'_>, &Node),
    lower: (&Side<'_>, &Node),
    facets: &mut Vec<(u32, S::Facet)>,
    mut visit: impl FnMut(&mut S, Pair, &S::Facet, &S::Facet),
) {
    let facet =
        |search: &S, arch, side: &Side<'_>, at: u32| search.facet(arch, &side.surface.corners(at as usize));
    facets.clear();
    facets.extend(
        lower.0.tree.triangles(lower.1).iter().map(|&at| (at, facet(search, Arch::Lower, lower.0, at))),
    );
    for &of_upper in upper.0.tree.triangles(upper.1) {
        let one = facet(search, Arch::Upper, upper.0, of_upper);
        for (of_lower, other) in facets.iter() {
            if !search.is_less(&one, other) {
                visit(search, (of_upper, *of_lower), &one, other);
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

    fn offer<S: Search>(&mut self, search: &mut S, pair: Pair, upper: &S::Facet, lower: &S::Facet) {
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
