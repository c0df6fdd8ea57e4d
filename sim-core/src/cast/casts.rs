//! Both casts, made ready to be searched.

use std::sync::Arc;

use super::joins::Joins;
use super::search::{Pair, Side};
use super::tree::Tree;
use super::{Surface, ToothPlaces};
use crate::cusp::{Arch, Tooth};

/// Where in both trees the triangles of one upper tooth and of one lower tooth begin.
pub(super) type Branches = (u32, u32);

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
pub struct LastPairs {
    pub(super) closing: Option<Pair>,
    pub(super) whole: LastGapPairs,
    /// By quadrant and position of the tooth.
    pub(super) teeth: [[LastGapPairs; 8]; 4],
}

/// The pairs of triangles at the least gaps that were last found.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct LastGapPairs {
    pub(super) vertical: Option<Pair>,
    pub(super) distance: Option<Pair>,
}

impl LastPairs {
    pub(super) fn of(&mut self, tooth: Tooth) -> &mut LastGapPairs {
        let quadrant = usize::from(tooth.number() / 10) - 1;
        &mut self.teeth[quadrant][usize::from(tooth.position()) - 1]
    }
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
}
