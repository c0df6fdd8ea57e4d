//! The hierarchy of boxes over a surface, one branch for each tooth.
//!
//! parry builds the hierarchies; they are laid out anew here with a few triangles, or pieces of large ones,
//! a leaf, and each node also gets the mean normal of its triangles and how far they reach along it. Two
//! surfaces that face each other closely are told apart by that where their boxes overlap.

use std::collections::BTreeMap;

use nalgebra::Vector3;
use parry3d_f64::bounding_volume::{Aabb, BoundingVolume};
use parry3d_f64::math::Vector;
use parry3d_f64::partitioning::{Bvh, BvhBuildStrategy, BvhNodeIndex, TraversalAction};

use super::Surface;
use super::pieces::Pieces;
use crate::cusp::Tooth;

/// Triangles in a leaf at most: with fewer the tree grows, with more each pair of leaves costs more.
const LEAF: usize = 4;
/// Above so many triangles a node is no thinner along its mean normal than its box is.
const FLAT: usize = 4096;

/// A node: the box of its triangles and their extent along their mean normal.
#[derive(Clone, Debug)]
pub(super) struct Node {
    pub(super) centre: Vector3<f64>,
    pub(super) half: Vector3<f64>,
    /// Unit vector: mean outward normal by area, or upward where that vanishes.
    pub(super) normal: Vector3<f64>,
    /// Greatest of normal · p over its triangles.
    pub(super) high: f64,
    /// Lowest number of its triangles.
    pub(super) first: u32,
    /// First of the two children, or of the leaf's triangles.
    link: u32,
    /// Triangles in a leaf; 0 in a fork.
    count: u32,
}

/// The tree of a surface.
#[derive(Debug)]
pub(super) struct Tree {
    nodes: Vec<Node>,
    order: Vec<u32>,
    branches: Vec<(Option<Tooth>, u32)>,
}

impl Tree {
    /// The node over everything.
    pub(super) const ROOT: u32 = 0;

    /// The tree of a surface, given the tooth of each triangle.
    pub(super) fn new(surface: &Surface, teeth: &[Option<Tooth>]) -> Self {
        let mut groups: BTreeMap<Option<Tooth>, Vec<u32>> = BTreeMap::new();
        let pieces = Pieces::of(surface);
        for &piece in &pieces.all {
            let tooth = teeth.get(pieces.triangle(piece) as usize).copied().flatten();
            groups.entry(tooth).or_default().push(piece);
        }
        let groups: Vec<_> = groups.into_iter().collect();
        let mut growth = Growth::default();
        growth.nodes.push(Node::empty());
        growth.ranges.push((0, 0));
        let boxes: Vec<Aabb> = groups
            .iter()
            .map(|(_, group)| Aabb::from_points(group.iter().flat_map(|&piece| corners(&pieces, piece))))
            .collect();
        let crown = Bvh::from_leaves(BvhBuildStrategy::Binned, &boxes);
        growth.grow(&crown, None, Self::ROOT, 0, &mut |growth, group, slot| {
            let (tooth, group) = &groups[group as usize];
            growth.branches.push((*tooth, slot));
            let boxes: Vec<Aabb> = group.iter().map(|&piece| padded(&pieces, piece)).collect();
            let branch = Bvh::from_leaves(BvhBuildStrategy::Binned, &boxes);
            growth.grow(&branch, None, slot, LEAF, &mut |growth, at, slot| {
                growth.leaf(slot, growth.order.len(), 1);
                growth.order.push(group[at as usize]);
            });
        });
        growth.branches.sort_unstable();
        let mut tree = Self { nodes: growth.nodes, order: growth.order, branches: growth.branches };
        tree.measure(&pieces, &growth.ranges);
        for piece in &mut tree.order {
            *piece = pieces.triangle(*piece);
        }
        tree
    }

    #[inline]
    pub(super) fn node(&self, at: u32) -> &Node {
        &self.nodes[at as usize]
    }

    /// The branch of each tooth that has triangles, and of what belongs to none.
    pub(super) fn branches(&self) -> &[(Option<Tooth>, u32)] {
        &self.branches
    }

    /// The triangles that the pieces of a leaf are of; none of a fork.
    #[inline]
    pub(super) fn triangles(&self, node: &Node) -> &[u32] {
        &self.order[node.link as usize..][..node.count as usize]
    }

    /// Boxes and normals from the leaves up, then extents along the normals.
    fn measure(&mut self, pieces: &Pieces<'_>, ranges: &[(usize, usize)]) {
        let mut areas = vec![Vector3::zeros(); self.nodes.len()];
        for at in (0..self.nodes.len()).rev() {
            let (start, end) = ranges[at];
            let node = &self.nodes[at];
            let (least, greatest, area, first) = if node.count > 0 {
                bounds_of(pieces, &self.order[start..end])
            } else {
                let [one, other] = node.children();
                let (a, b) = (self.node(one), self.node(other));
                let least = (a.centre - a.half).inf(&(b.centre - b.half));
                let greatest = (a.centre + a.half).sup(&(b.centre + b.half));
                (least, greatest, areas[one as usize] + areas[other as usize], a.first.min(b.first))
            };
            areas[at] = area;
            let node = &mut self.nodes[at];
            node.centre = (least + greatest) / 2.0;
            // Rounding of the middle must not leave a corner outside.
            node.half = (greatest - node.centre).sup(&(node.centre - least));
            node.normal = area.try_normalize(0.0).unwrap_or_else(Vector3::z);
            node.first = first;
            let reach = node.normal.dot(&node.centre) + node.normal.abs().dot(&node.half);
            node.high = if end - start > FLAT {
                reach
            } else {
                let normal = node.normal;
                let heights = self.order[start..end]
                    .iter()
                    .flat_map(|&piece| pieces.corners(piece))
                    .map(|corner| normal.dot(&corner));
                heights.fold(f64::NEG_INFINITY, f64::max).min(reach)
            };
        }
    }
}

impl Node {
    const fn empty() -> Self {
        let zero = Vector3::new(0.0, 0.0, 0.0);
        Self { centre: zero, half: zero, normal: zero, high: 0.0, first: 0, link: 0, count: 0 }
    }

    #[inline]
    pub(super) const fn is_leaf(&self) -> bool {
        self.count > 0
    }

    /// The two nodes below a fork.
    #[inline]
    pub(super) const fn children(&self) -> [u32; 2] {
        [self.link, self.link + 1]
    }
}

/// A tree while it is laid out.
#[derive(Default)]
struct Growth {
    nodes: Vec<Node>,
    /// The part of `order` below each node.
    ranges: Vec<(usize, usize)>,
    order: Vec<u32>,
    branches: Vec<(Option<Tooth>, u32)>,
}

/// What is to be done for a leaf of parry's: its number, and the node of ours that it comes to.
type Leaf<'l> = &'l mut dyn FnMut(&mut Growth, u32, u32);

impl Growth {
    #[allow(clippy::cast_possible_truncation)] // counted in 32 bits, as triangles are
    fn leaf(&mut self, slot: u32, start: usize, count: usize) {
        let node = &mut self.nodes[slot as usize];
        (node.link, node.count) = (start as u32, count as u32);
    }

    /// Lays out what is below a node of parry's at a node of ours. What comes to no more than `leaf`
    /// triangles becomes one leaf.
    fn grow(&mut self, from: &Bvh, at: Option<BvhNodeIndex>, slot: u32, leaf: usize, each: Leaf<'_>) {
        let start = self.order.len();
        match below(from, at) {
            [Some((_, Some(only))), None] => each(self, only, slot),
            [Some(one), Some(other)] => {
                let link = self.nodes.len();
                self.nodes.resize(link + 2, Node::empty());
                self.ranges.resize(link + 2, (0, 0));
                #[allow(clippy::cast_possible_truncation)] // counted in 32 bits, as triangles are
                let first = link as u32;
                (self.nodes[slot as usize].link, self.nodes[slot as usize].count) = (first, 0);
                for (child, (index, data)) in [(first, one), (first + 1, other)] {
                    let before = self.order.len();
                    match data {
                        Some(data) => each(self, data, child),
                        None => self.grow(from, Some(index), child, leaf, each),
                    }
                    self.ranges[child as usize] = (before, self.order.len());
                }
                let count = self.order.len() - start;
                if count <= leaf {
                    self.nodes.truncate(link);
                    self.ranges.truncate(link);
                    self.leaf(slot, start, count);
                }
            }
            // A hierarchy of parry's has a leaf or a fork at its root, and two nodes below each fork.
            _ => {}
        }
        self.ranges[slot as usize] = (start, self.order.len());
    }
}

/// The one or two nodes below a node (`None`: below the root), with the number of each that is a leaf.
fn below(bvh: &Bvh, at: Option<BvhNodeIndex>) -> [Option<(BvhNodeIndex, Option<u32>)>; 2] {
    let mut found = [None, None];
    bvh.traverse_indexed(at, |node, index| {
        if at == Some(index) {
            return TraversalAction::Continue;
        }
        let place = usize::from(found[0].is_some());
        found[place] = Some((index, node.leaf_data()));
        TraversalAction::Prune
    });
    found
}

fn corners(pieces: &Pieces<'_>, piece: u32) -> [Vector; 3] {
    pieces.corners(piece).map(|corner| Vector::new(corner.x, corner.y, corner.z))
}

/// parry weighs boxes by volume, which a flat one has none of: each is padded by its own size.
fn padded(pieces: &Pieces<'_>, piece: u32) -> Aabb {
    let tight = Aabb::from_points(corners(pieces, piece));
    tight.loosened(tight.extents().max_element().max(f64::MIN_POSITIVE))
}

/// Least and greatest coordinates, sum of area vectors, lowest number of a triangle.
fn bounds_of(pieces: &Pieces<'_>, some: &[u32]) -> (Vector3<f64>, Vector3<f64>, Vector3<f64>, u32) {
    let (mut least, mut greatest) = (Vector3::repeat(f64::INFINITY), Vector3::repeat(f64::NEG_INFINITY));
    let (mut area, mut first) = (Vector3::zeros(), u32::MAX);
    for &piece in some {
        let [a, b, c] = pieces.corners(piece);
        for corner in [&a, &b, &c] {
            least = least.inf(corner);
            greatest = greatest.sup(corner);
        }
        area += (b - a).cross(&(c - a));
        first = first.min(pieces.triangle(piece));
    }
    (least, greatest, area, first)
}
