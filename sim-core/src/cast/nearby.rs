//! The few triangles of a surface that any point of some small place is nearest to, gathered once.

use nalgebra::Vector3;

use super::Surface;
use super::nearness::{Closest, Near};
use super::search::STACK;
use super::tree::Tree;

/// With more of them than this the tree finds the nearest sooner.
const MOST: usize = 64;

/// A triangle, and the box about it.
#[derive(Clone, Copy)]
struct Boxed {
    number: u32,
    corners: [Vector3<f64>; 3],
    centre: Vector3<f64>,
    half: Vector3<f64>,
}

/// Triangles near a place.
#[derive(Default)]
pub(super) struct Nearby {
    all: Vec<Boxed>,
    open: Vec<u32>,
}

impl Nearby {
    /// Gathers all triangles whose boxes are within reach of the box about a place, in the surface's frame. Whether
    /// they are few enough to be gone through; if not, they are not all gathered.
    pub(super) fn gather(
        &mut self,
        surface: &Surface,
        tree: &Tree,
        place: &[Vector3<f64>; 3],
        reach: f64,
    ) -> bool {
        self.all.clear();
        self.open.clear();
        let (centre, half) = about(place);
        let is_far = |other: &Vector3<f64>, other_half: &Vector3<f64>| {
            let aside = (centre - other).abs() - half - other_half;
            aside.sup(&Vector3::zeros()).norm_squared() > reach * reach
        };
        self.open.reserve(STACK);
        self.open.push(Tree::ROOT);
        while let Some(at) = self.open.pop() {
            let node = tree.node(at);
            if is_far(&node.centre, &node.half) {
                continue;
            }
            if !node.is_leaf() {
                self.open.extend(node.children());
            }
            for &number in tree.triangles(node) {
                let corners = surface.corners(number as usize);
                let (centre, half) = about(&corners);
                if is_far(&centre, &half) {
                    continue;
                }
                if self.all.len() == MOST {
                    return false;
                }
                self.all.push(Boxed { number, corners, centre, half });
            }
        }
        true
    }

    /// The same as [`nearest_to`](super::nearness::nearest_to) of the surface, for a point of the place whose distance
    /// is no more than the reach.
    pub(super) fn nearest_to(
        &self,
        surface: &Surface,
        point: &Vector3<f64>,
        within: f64,
        seed: Option<u32>,
    ) -> Option<Near> {
        let mut closest = Closest::begun(surface, point, within, seed);
        for own in &self.all {
            let aside = ((point - own.centre).abs() - own.half).sup(&Vector3::zeros());
            if aside.norm_squared() <= closest.square() {
                closest.offer(&own.corners, point, own.number);
            }
        }
        closest.found()
    }
}

/// The middle and half the sides of the box about some corners.
#[inline]
fn about([a, b, c]: &[Vector3<f64>; 3]) -> (Vector3<f64>, Vector3<f64>) {
    let (least, most) = (a.inf(b).inf(c), a.sup(b).sup(c));
    let centre = (least + most) / 2.0;
    // Rounding of the middle must not leave a corner outside.
    (centre, (most - centre).sup(&(centre - least)))
}
