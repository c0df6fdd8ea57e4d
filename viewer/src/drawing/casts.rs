//! The casts as meshes, painted with what they show.

use std::cell::RefCell;
use std::rc::Rc;
use std::sync::Arc;

use kiss3d::glamx::Vec3;
use kiss3d::resource::GpuMesh3d;
use kiss3d::scene::SceneNode3d;
use sim_core::cast::Surface;
use sim_core::cusp::Arch;

use super::mesh::{Mesh, to_f32, to_pose};
use crate::casts::paint::Ground;
use crate::casts::{CAP_MM, GapMap, Mounted, Print, Readout, SectionRead, Show};
use crate::geometry::poses::MemberPoses;
use crate::material::{Lines, Shared, SharedPaint, relief};
use crate::palette::{self, Tint};
use crate::state::State;

/// Width of the lines of a section, in pixels.
const WIDTH: f32 = 3.0;
/// How far marks are laid off the surface that they are on, in millimetres, so that they are seen.
const LIFT_MM: f64 = 0.02;

/// Both casts.
pub(super) struct CastNodes {
    nodes: [Option<CastNode>; 2],
    of: Option<Arc<Mounted>>,
    printed: Option<Arc<Print>>,
}

/// One cast.
struct CastNode {
    node: SceneNode3d,
    ground: Ground,
    paint: SharedPaint,
    worn: Option<Worn>,
    marks: SceneNode3d,
}

/// What a cast wears, so that it is painted anew only when that changes.
#[derive(Clone)]
enum Worn {
    Relief,
    Clearance(GapMap),
}

impl Worn {
    fn is(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Relief, Self::Relief) => true,
            (Self::Clearance(a), Self::Clearance(b)) => Arc::ptr_eq(a, b),
            _ => false,
        }
    }

    /// What a cast is to wear.
    fn wanted(readout: &Readout, show: Show, arch: Arch) -> Self {
        let map = readout.clearance_of(arch).filter(|_| show == Show::Clearance);
        map.cloned().map_or(Self::Relief, Self::Clearance)
    }
}

impl CastNodes {
    pub(super) const fn none() -> Self {
        Self { nodes: [None, None], of: None, printed: None }
    }

    /// Hides the casts, until they are placed again.
    pub(super) fn hide(&mut self) {
        for node in self.nodes.iter_mut().flatten() {
            node.node.set_visible(false);
            node.marks.set_visible(false);
        }
    }

    /// Builds, paints and places the casts.
    pub(super) fn update(
        &mut self,
        root: &mut SceneNode3d,
        state: &State,
        poses: &MemberPoses,
        matte: &Shared,
    ) {
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
            self.printed = None;
        }
        let print = state.readout.as_ref().and_then(|readout| readout.print.clone());
        let is_marked = match (&self.printed, &print) {
            (Some(a), Some(b)) => Arc::ptr_eq(a, b),
            (None, None) => true,
            _ => false,
        };
        for (arch, place, node) in [(Arch::Upper, &poses.upper, 0), (Arch::Lower, &poses.lower, 1)] {
            let Some(node) = &mut self.nodes[node] else { continue };
            node.node.set_pose(to_pose(place));
            node.node.set_visible(state.casts.seen.has(arch));
            if let Some(readout) = &state.readout {
                node.wear(Worn::wanted(readout, state.casts.show, arch));
            }
            if let Some(mounted) = mounted.filter(|_| !is_marked) {
                node.mark(mounted.casts.surface(arch), arch, print.as_deref(), matte);
            }
        }
        self.printed = print;
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
        let marks = node.add_group();
        Self { node, ground, paint, worn: None, marks }
    }

    /// Lays the marks of a film over the cast, a little off it.
    fn mark(&mut self, surface: &Surface, arch: Arch, print: Option<&Print>, material: &Shared) {
        self.marks.detach();
        self.marks = self.node.add_group();
        for pierced in [false, true] {
            let mut mesh = Mesh::default();
            let marks = print.iter().flat_map(|print| print.marks()).filter(|mark| mark.arch == arch);
            for mark in marks.filter(|mark| (mark.gap.mm() < -palette::PIERCED_FROM_MM) == pierced) {
                for triangle in &mark.triangles {
                    let corners = surface.triangles()[*triangle as usize];
                    let lifted = corners
                        .map(|corner| corner as usize)
                        .map(|corner| surface.vertices()[corner] + self.ground.normals[corner] * LIFT_MM);
                    mesh.polygon(&lifted);
                }
            }
            if mesh.is_empty() {
                continue;
            }
            let buffers = mesh.buffers();
            let mesh = GpuMesh3d::new(buffers.points, buffers.faces, Some(buffers.normals), None, false);
            let tint = if pierced { palette::PIERCED } else { palette::PRINTED };
            self.marks
                .add_mesh(Rc::new(RefCell::new(mesh)), Vec3::ONE)
                .set_color(tint.linear())
                .set_material(material.clone());
        }
    }

    fn wear(&mut self, wanted: Worn) {
        if self.worn.as_ref().is_some_and(|worn| worn.is(&wanted)) {
            return;
        }
        let (vertices, modelling) = match &wanted {
            Worn::Relief => self.ground.relief(),
            Worn::Clearance(gaps) => self.ground.clearance(gaps, CAP_MM),
        };
        self.paint.borrow_mut().set(vertices, modelling);
        self.worn = Some(wanted);
    }
}

/// Draws the lines of the section on the casts that are seen.
pub(super) fn draw_section(lines: &mut Lines, state: &State) {
    let Some(read) = state.readout.as_ref().and_then(|readout| readout.section.as_ref()) else { return };
    let poses = MemberPoses::of(&state.sample().placement.jaw, state.moving);
    let SectionRead { cut, section, .. } = &**read;
    let casts: [(_, _, Tint); 2] = [
        (Arch::Upper, &section.upper, palette::UPPER_LINE),
        (Arch::Lower, &section.lower, palette::LOWER_LINE),
    ];
    for (_, cuts, tint) in casts.into_iter().filter(|(arch, ..)| state.casts.seen.has(*arch)) {
        for line in cuts {
            let points = line.iter().map(|place| to_f32(&poses.upper.place(cut.place(*place).coords())));
            lines.add(&points.collect::<Vec<_>>(), WIDTH, tint);
        }
    }
}
