//! The casts as meshes, painted with what they show.

use std::cell::RefCell;
use std::rc::Rc;
use std::sync::Arc;

use kiss3d::glamx::Vec3;
use kiss3d::renderer::Polyline3d;
use kiss3d::resource::GpuMesh3d;
use kiss3d::scene::SceneNode3d;
use kiss3d::window::Window;
use sim_core::cusp::Arch;

use super::marks::Stand;
use super::mesh::to_f32;
use super::pose;
use crate::casts::paint::Ground;
use crate::casts::{CAP_MM, Mounted, Readout, SectionRead, Show};
use crate::material::{SharedPaint, relief};
use crate::palette::{self, Tint};
use crate::state::State;

/// Width of the lines of a section, in pixels.
const WIDTH: f32 = 3.0;
/// Brings lines a little to the front of the surfaces they lie on.
const FORWARD: f32 = 0.004;

/// Both casts.
pub(super) struct CastNodes {
    nodes: [Option<CastNode>; 2],
    of: Option<Arc<Mounted>>,
}

/// One cast.
struct CastNode {
    node: SceneNode3d,
    ground: Ground,
    paint: SharedPaint,
    worn: Option<Worn>,
}

/// What a cast wears, so that it is painted anew only when that changes.
#[derive(Clone)]
enum Worn {
    Relief,
    Clearance(Arc<Vec<Option<f64>>>),
    Film(Arc<Vec<Option<f64>>>, f64),
}

impl Worn {
    fn is(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Relief, Self::Relief) => true,
            (Self::Clearance(a), Self::Clearance(b)) => Arc::ptr_eq(a, b),
            (Self::Film(a, x), Self::Film(b, y)) => Arc::ptr_eq(a, b) && x.total_cmp(y).is_eq(),
            _ => false,
        }
    }

    /// What a cast is to wear.
    fn wanted(readout: &Readout, show: Show, arch: Arch) -> Self {
        let clearance = readout.clearance_of(arch).cloned().map(Self::Clearance);
        let film = readout
            .print
            .as_ref()
            .map(|print| Self::Film(print.distances_of(arch).clone(), print.film.thickness().in_mm()));
        match show {
            Show::Relief => None,
            Show::Clearance => clearance,
            Show::Film => film,
        }
        .unwrap_or(Self::Relief)
    }
}

impl CastNodes {
    pub(super) const fn none() -> Self {
        Self { nodes: [None, None], of: None }
    }

    /// Builds, paints and places the casts.
    pub(super) fn update(&mut self, root: &mut SceneNode3d, state: &State, stand: &Stand) {
        let mounted = state.shown.mounted.as_ref();
        let is_same = match (&self.of, mounted) {
            (Some(a), Some(b)) => Arc::ptr_eq(&a.casts, &b.casts),
            (None, None) => true,
            _ => false,
        };
        if !is_same {
            for node in self.nodes.iter_mut().flatten() {
                node.node.detach();
            }
            self.nodes = match mounted {
                Some(mounted) => {
                    [Arch::Upper, Arch::Lower].map(|arch| Some(CastNode::new(root, mounted, arch)))
                }
                None => [None, None],
            };
            self.of = mounted.cloned();
        }
        for (arch, place, node) in [(Arch::Upper, &stand.upper, 0), (Arch::Lower, &stand.lower, 1)] {
            let Some(node) = &mut self.nodes[node] else { continue };
            node.node.set_pose(pose(place));
            node.node.set_visible(state.casts.seen.has(arch));
            if let Some(readout) = &state.readout {
                node.wear(Worn::wanted(readout, state.casts.show, arch));
            }
        }
    }
}

impl CastNode {
    fn new(root: &mut SceneNode3d, mounted: &Mounted, arch: Arch) -> Self {
        let surface = mounted.casts.surface(arch);
        let ground = Ground::of(surface, arch);
        let points = surface.vertices().iter().map(to_f32).collect();
        let normals = ground.normals.iter().map(to_f32).collect();
        let mesh = GpuMesh3d::new(points, surface.triangles().to_vec(), Some(normals), None, false);
        let paint = SharedPaint::default();
        let mut node = root.add_mesh(Rc::new(RefCell::new(mesh)), Vec3::ONE);
        node.set_material(relief(paint.clone()));
        Self { node, ground, paint, worn: None }
    }

    fn wear(&mut self, wanted: Worn) {
        if self.worn.as_ref().is_some_and(|worn| worn.is(&wanted)) {
            return;
        }
        let (vertices, modelling) = match &wanted {
            Worn::Relief => self.ground.relief(),
            Worn::Clearance(gaps) => self.ground.clearance(gaps, CAP_MM),
            Worn::Film(distances, film) => self.ground.film(distances, *film),
        };
        self.paint.borrow_mut().set(vertices, modelling);
        self.worn = Some(wanted);
    }
}

/// Draws the lines of the section on the casts that are seen.
pub fn draw_section(window: &mut Window, state: &State) {
    let Some(read) = state.readout.as_ref().and_then(|readout| readout.section.as_ref()) else { return };
    let stand = Stand::of(&state.stop().placement.jaw, state.moving);
    let SectionRead { cut, section, .. } = &**read;
    let casts: [(_, _, Tint); 2] = [
        (Arch::Upper, &section.upper, palette::UPPER_LINE),
        (Arch::Lower, &section.lower, palette::LOWER_LINE),
    ];
    for (_, lines, tint) in casts.into_iter().filter(|(arch, ..)| state.casts.seen.has(*arch)) {
        for line in lines {
            let vertices =
                line.iter().map(|place| to_f32(&stand.upper.place(cut.place(*place).coords()))).collect();
            window.draw_polyline(
                &Polyline3d::new(vertices)
                    .with_color(tint.linear())
                    .with_width(WIDTH)
                    .with_depth_bias(FORWARD),
            );
        }
    }
}
