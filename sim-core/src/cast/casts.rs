//! Both casts, made ready to be searched.

use std::sync::Arc;

use nalgebra::{Matrix3, Vector3};

use super::joins::Joins;
use super::map::Map;
use super::opening::FirstTouch;
use super::pairs::Branches;
use super::search::{Pair, Side};
use super::tree::Tree;
use super::turning::Turning;
use super::{Surface, ToothPlaces};
use crate::cusp::{Arch, Tooth};

/// Both casts, each in its own member's frame, which coincide at rest.
///
/// Nothing in it changes; share it as `Arc<Casts>`. All distances are millimetres.
#[derive(Debug)]
pub struct Casts {
    pub(super) upper: Arc<Cast>,
    pub(super) lower: Arc<Cast>,
    /// The pairs that stop the closing, where not all do.
    pub(super) stops: Option<Vec<Branches>>,
}

/// One cast: its surface, and what is computed of it once.
#[derive(Debug)]
pub(super) struct Cast {
    pub(super) surface: Surface,
    pub(super) tree: Tree,
    pub(super) joins: Joins,
    teeth: Vec<Option<Tooth>>,
}

/// What the last search found, to start the next from.
///
/// Any value, stale or the default, gives the same answers; a recent one gives them sooner.
#[derive(Clone, Copy, Debug, Default)]
pub struct Warm {
    pub(super) closing: Option<Pair>,
    pub(super) whole: WarmGaps,
    /// By quadrant and position of the tooth.
    pub(super) teeth: [[WarmGaps; 8]; 4],
}

/// The pairs of triangles at the least gaps that were last found.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct WarmGaps {
    pub(super) vertical: Option<Pair>,
    pub(super) distance: Option<Pair>,
}

impl Warm {
    pub(super) fn of(&mut self, tooth: Tooth) -> &mut WarmGaps {
        let quadrant = usize::from(tooth.number() / 10) - 1;
        &mut self.teeth[quadrant][usize::from(tooth.position()) - 1]
    }
}

/// Where the first teeth meet as the jaw closes about an axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Touch {
    /// Opening at which they meet, in radians; front down is positive.
    pub opening_radians: f64,
    /// Triangle of the upper surface that is met.
    pub upper_triangle: u32,
    /// Triangle of the lower surface that meets it.
    pub lower_triangle: u32,
    /// The tooth that the upper triangle belongs to.
    pub upper_tooth: Option<Tooth>,
    /// The tooth that the lower triangle belongs to.
    pub lower_tooth: Option<Tooth>,
    /// Where they meet, in the frame of the closing axis.
    pub at: Vector3<f64>,
}

impl Cast {
    fn new(arch: Arch, surface: Surface, places: &ToothPlaces) -> Self {
        let teeth = places.of_triangles(arch, &surface);
        let tree = Tree::new(&surface, &teeth);
        let joins = Joins::of(&surface);
        Self { surface, tree, joins, teeth }
    }

    /// The whole of it, to be searched.
    pub(super) const fn side(&self) -> Side<'_> {
        self.branch(Tree::ROOT)
    }

    /// A branch of it, to be searched.
    pub(super) const fn branch(&self, from: u32) -> Side<'_> {
        Side { surface: &self.surface, tree: &self.tree, from }
    }

    pub(super) fn tooth(&self, triangle: u32) -> Option<Tooth> {
        self.teeth.get(triangle as usize).copied().flatten()
    }
}

impl Casts {
    /// Both casts made ready: the upper surface in the upper member's frame, the lower in the lower
    /// member's, in millimetres, with triangles counter-clockwise seen from outside. `teeth` says
    /// which tooth a place belongs to where a surface has no labels of its own.
    #[must_use]
    pub fn new(upper: Surface, lower: Surface, teeth: &ToothPlaces) -> Self {
        let cast = |arch, surface| Arc::new(Cast::new(arch, surface, teeth));
        Self { upper: cast(Arch::Upper, upper), lower: cast(Arch::Lower, lower), stops: None }
    }

    pub(super) fn cast(&self, arch: Arch) -> &Cast {
        match arch {
            Arch::Upper => &self.upper,
            Arch::Lower => &self.lower,
        }
    }

    /// The surface of one arch, in its member's frame.
    #[must_use]
    pub fn surface(&self, arch: Arch) -> &Surface {
        &self.cast(arch).surface
    }

    /// The tooth that a triangle of an arch belongs to; `None` for gum, or a triangle there is not.
    #[must_use]
    pub fn tooth_of(&self, arch: Arch, triangle: usize) -> Option<Tooth> {
        u32::try_from(triangle).ok().and_then(|triangle| self.cast(arch).tooth(triangle))
    }

    pub(super) fn sides(&self) -> [Side<'_>; 2] {
        [self.upper.side(), self.lower.side()]
    }

    /// The greatest opening above `floor` (radians) at which the casts touch; `None` if they are clear
    /// down to the floor.
    ///
    /// Both members are given as rigid maps (turn, then shift) into the frame of the closing axis: y
    /// along it, the origin on it. The lower one then opens by θ about it: x' = x cos θ + z sin θ,
    /// z' = −x sin θ + z cos θ. Only sides that face each other along that turn count. Openings are
    /// told apart within half a turn either way.
    pub(crate) fn first_touch(
        &self,
        upper: &(Matrix3<f64>, Vector3<f64>),
        lower: &(Matrix3<f64>, Vector3<f64>),
        floor: f64,
        warm: &mut Warm,
    ) -> Option<Touch> {
        let maps = [upper, lower].map(|(turn, shift)| Map::new(*turn, *shift));
        let mut closing = FirstTouch::new(Turning::new(), maps[0], maps[1]);
        let found = self.best_stop(&mut closing, floor, warm)?;
        warm.closing = Some(found.pair);
        let (upper_triangle, lower_triangle) = found.pair;
        Some(Touch {
            opening_radians: found.meeting.score,
            upper_triangle,
            lower_triangle,
            upper_tooth: self.upper.tooth(upper_triangle),
            lower_tooth: self.lower.tooth(lower_triangle),
            at: found.meeting.upper,
        })
    }
}
