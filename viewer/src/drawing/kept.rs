//! The second set-up in the picture: dotted over the first, or whole beside it.

use std::cell::RefCell;
use std::rc::Rc;
use std::sync::Arc;

use kiss3d::glamx::Vec3;
use kiss3d::resource::GpuMesh3d;
use kiss3d::scene::SceneNode3d;
use nalgebra::Vector3;
use sim_core::cusp::Arch;

use super::guide::REACH_MM;
use super::mesh::{Buffers, to_f32, to_pose};
use super::parts::{Part, When, parts};
use crate::casts::Mounted;
use crate::geometry::poses::MemberPoses;
use crate::kept::{Beside, SetUp};
use crate::material;
use crate::palette;
use crate::state::State;

/// B's members as they were built.
pub(super) struct KeptNodes {
    nodes: Option<(Arc<SetUp>, Beside, [SceneNode3d; 2])>,
    ghost: material::Shared,
}

impl KeptNodes {
    pub(super) fn none() -> Self {
        Self { nodes: None, ghost: material::ghost() }
    }

    /// Builds B where it is another, and places it; `shift` leads from A's place to that of B beside it.
    pub(super) fn update(
        &mut self,
        root: &mut SceneNode3d,
        state: &State,
        matte: &material::Shared,
        shift: Vector3<f64>,
    ) {
        let Some(kept) = &state.kept else {
            self.detach();
            return;
        };
        let is_built = self
            .nodes
            .as_ref()
            .is_some_and(|(set_up, beside, _)| Arc::ptr_eq(set_up, &kept.set_up) && *beside == state.beside);
        if !is_built {
            self.detach();
            let nodes = self.build(root, &kept.set_up, state.beside, matte);
            self.nodes = Some((kept.set_up.clone(), state.beside, nodes));
        }
        let Some((_, _, nodes)) = &mut self.nodes else { return };
        let poses = kept.now.as_ref().ok().map(|now| MemberPoses::of(&now.placement.jaw, state.moving));
        for (arch, node) in [Arch::Upper, Arch::Lower].into_iter().zip(nodes) {
            node.set_visible(poses.is_some() && state.casts.seen.has(arch));
            if let Some(poses) = &poses {
                let mut pose = if arch == Arch::Upper { poses.upper } else { poses.lower };
                pose.translation += shift;
                node.set_pose(to_pose(&pose));
            }
        }
    }

    /// Takes B out of the picture for now.
    pub(super) fn hide(&mut self) {
        if let Some((_, _, nodes)) = &mut self.nodes {
            for node in nodes {
                node.set_visible(false);
            }
        }
    }

    fn detach(&mut self) {
        if let Some((_, _, nodes)) = &mut self.nodes {
            for node in nodes {
                node.detach();
            }
        }
        self.nodes = None;
    }

    fn build(
        &self,
        root: &mut SceneNode3d,
        set_up: &SetUp,
        beside: Beside,
        matte: &material::Shared,
    ) -> [SceneNode3d; 2] {
        let mut nodes = [root.add_group(), root.add_group()];
        let mounted = set_up.mounted.as_deref();
        // The walls of a working side stand in A's picture only, and B's teeth need no rim.
        let own = parts(&set_up.scene, mounted, REACH_MM)
            .into_iter()
            .filter(|part| !part.is_rim && !matches!(part.when, When::Works(_)))
            .map(|Part { member, mesh, tint, .. }| (member, mesh.buffers(), tint));
        let casts = mounted.into_iter().flat_map(|mounted| {
            [(Arch::Upper, palette::UPPER_GUM), (Arch::Lower, palette::LOWER_GUM)]
                .map(|(arch, tint)| (arch, cast(mounted, arch), tint))
        });
        for (member, buffers, tint) in own.chain(casts) {
            let (material, tint) = match beside {
                Beside::Ghost => (&self.ghost, palette::GHOST),
                Beside::SideBySide => (matte, tint),
            };
            let mesh = GpuMesh3d::new(buffers.points, buffers.faces, Some(buffers.normals), None, false);
            let node = if member == Arch::Upper { &mut nodes[0] } else { &mut nodes[1] };
            node.add_mesh(Rc::new(RefCell::new(mesh)), Vec3::ONE)
                .set_color(tint.linear())
                .set_material(material.clone());
        }
        nodes
    }
}

/// A cast as it stands on its member, without what is painted on it.
fn cast(mounted: &Mounted, arch: Arch) -> Buffers {
    let surface = mounted.casts.surface(arch);
    let ground = crate::casts::paint::Ground::of(surface, arch);
    Buffers {
        points: surface.vertices().iter().map(to_f32).collect(),
        normals: ground.normals.iter().map(to_f32).collect(),
        faces: surface.triangles().to_vec(),
    }
}
