//! The hierarchy of boxes over a surface, one branch for each tooth.
//!
//! A leaf has a few triangles, or pieces of large ones, and each node also gets the mean normal of its
//! triangles and how far they reach along it. Two surfaces that face each other closely are told apart by that
//! where their boxes overlap.

use std::collections::BTreeMap;

use nalgebra::Vector3;

use super::Surface;
use super::pieces::Pieces;
use super::splits::{Item, split};
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
        let pieces = Pieces::of(surface);
        let mut groups: BTreeMap<Option<Tooth>, Vec<Item>> = BTreeMap::new();
        for &piece in &pieces.all {
            let tooth = teeth.get(pieces.triangle(piece) as usize).copied().flatten();
            groups.entry(tooth).or_default().push(Item::about(&pieces.corners(piece), piece));
        }
        let mut groups: Vec<_> = groups.into_iter().collect();
        let mut crown: Vec<Item> =
            (0..).zip(&groups).map(|(at, (_, group))| Item::about_all(group, at)).collect();
        let mut tree = Self {
            nodes: vec![Node::empty()],
            order: Vec::with_capacity(pieces.all.len()),
            branches: Vec::new(),
        };
        tree.nodes.reserve(pieces.all.len());
        tree.grow(&mut crown, Self::ROOT, 1, 0, &mut |tree, group, slot| {
            for at in group {
                let (tooth, group) = &mut groups[at.what as usize];
                tree.branches.push((*tooth, slot));
                tree.grow(group, slot, LEAF, 0, &mut |tree, pieces, slot| {
                    let node = &mut tree.nodes[slot as usize];
                    (node.link, node.count) = (counted(tree.order.len()), counted(pieces.len()));
                    tree.order.extend(pieces.iter().map(|piece| piece.what));
                });
                *group = Vec::new();
            }
        });
        tree.branches.sort_unstable();
        tree.measure(&pieces, Self::ROOT, 0);
        for piece in &mut tree.order {
            *piece = pieces.triangle(*piece);
        }
        tree
    }

    /// Lays out what is below a node, `leaf` being told of what comes to no more than `most` items.
    fn grow(&mut self, items: &mut [Item], slot: u32, most: usize, depth: usize, leaf: Leaf<'_>) {
        if items.len() <= most {
            leaf(self, items, slot);
            return;
        }
        let at = split(items, depth);
        let (one, other) = items.split_at_mut(at);
        let link = counted(self.nodes.len());
        self.nodes.resize(self.nodes.len() + 2, Node::empty());
        (self.nodes[slot as usize].link, self.nodes[slot as usize].count) = (link, 0);
        self.grow(one, link, most, depth + 1, leaf);
        self.grow(other, link + 1, most, depth + 1, leaf);
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

    /// Boxes and normals from the leaves up, and extents along the normals, for a node and all below it, whose
    /// pieces begin at `start`. Gives their sum of area vectors and where they end.
    fn measure(&mut self, pieces: &Pieces<'_>, at: u32, start: usize) -> (Vector3<f64>, usize) {
        let node = &self.nodes[at as usize];
        let (area, end) = if node.is_leaf() {
            let end = start + node.count as usize;
            let (least, most, area, first) = bounds_of(pieces, &self.order[start..end]);
            self.nodes[at as usize].enclose(least, most, first);
            (area, end)
        } else {
            let [one, other] = node.children();
            let (of_one, middle) = self.measure(pieces, one, start);
            let (of_other, end) = self.measure(pieces, other, middle);
            let (a, b) = (self.node(one), self.node(other));
            let least = (a.centre - a.half).inf(&(b.centre - b.half));
            let most = (a.centre + a.half).sup(&(b.centre + b.half));
            let first = a.first.min(b.first);
            self.nodes[at as usize].enclose(least, most, first);
            (of_one + of_other, end)
        };
        let node = &mut self.nodes[at as usize];
        let normal = area.try_normalize(0.0).unwrap_or_else(Vector3::z);
        let reach = normal.dot(&node.centre) + normal.abs().dot(&node.half);
        (node.normal, node.high) = (normal, reach);
        if end - start <= FLAT {
            let heights = self.order[start..end]
                .iter()
                .flat_map(|&piece| pieces.corners(piece))
                .map(|corner| normal.dot(&corner));
            node.high = heights.fold(f64::NEG_INFINITY, f64::max).min(reach);
        }
        (area, end)
    }
}

impl Node {
    const fn empty() -> Self {
        let zero = Vector3::new(0.0, 0.0, 0.0);
        Self { centre: zero, half: zero, normal: zero, high: 0.0, first: 0, link: 0, count: 0 }
    }

    fn enclose(&mut self, least: Vector3<f64>, most: Vector3<f64>, first: u32) {
        self.centre = (least + most) / 2.0;
        // Rounding of the middle must not leave a corner outside.
        self.half = (most - self.centre).sup(&(self.centre - least));
        self.first = first;
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

/// What is told of the items of a leaf, and the node that it is.
type Leaf<'l> = &'l mut dyn FnMut(&mut Tree, &[Item], u32);

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

/// Triangles, pieces and nodes are counted in 32 bits.
#[allow(clippy::cast_possible_truncation)]
const fn counted(count: usize) -> u32 {
    count as u32
}
