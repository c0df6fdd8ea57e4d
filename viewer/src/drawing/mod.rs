//! The instrument as a picture: meshes, lines and marks.
//!
//! One part of the instrument a file. Meshes are in the frame of the member that carries them; the
//! members are then placed as the jaw pose says.

mod angles;
pub mod anterior;
mod bench;
mod casts;
pub mod guide;
mod kept;
mod kept_marks;
mod legend;
pub mod members;
pub mod mesh;
pub mod overlay;
pub mod paths;
pub mod plate;
pub mod pointing;
pub mod split;
pub mod teeth;

pub use casts::draw_section;
pub use guide::SPHERE_RADIUS_MM;
pub use legend::legend_height;
pub use mesh::to_f32;
pub use overlay::{glyph, paint};
pub use paths::draw_paths;
pub use plate::draw_arch;
pub use pointing::point;

use std::cell::RefCell;
use std::rc::Rc;
use std::sync::Arc;

use kiss3d::glamx::Vec3;
use kiss3d::resource::GpuMesh3d;
use kiss3d::scene::SceneNode3d;
use nalgebra::Vector3;
use sim_core::cusp::Arch;
use sim_core::frame::Side;
use sim_core::instrument::Design;
use sim_core::scene::Scene;
use sim_core::tracing::{Member, Tracer};

use crate::casts::Mounted;
use crate::geometry::poses::MemberPoses;
use crate::material;
use crate::page::Room;
use crate::palette::{self, Tint};
use crate::plate::DrawnPlate;
use crate::state::State;
use bench::BenchNodes;
use casts::CastNodes;
use kept::KeptNodes;
use mesh::{Mesh, to_pose};

/// The objects handed to the graphics crate.
pub struct Drawing {
    /// What is to be rendered.
    pub root: SceneNode3d,
    upper: SceneNode3d,
    lower: SceneNode3d,
    material: material::Shared,
    revision: Option<u64>,
    plate: Option<Arc<DrawnPlate>>,
    casts: CastNodes,
    bench: BenchNodes,
    kept: KeptNodes,
}

impl Drawing {
    /// An empty drawing. The graphics crate must have been started.
    #[must_use]
    pub fn new() -> Self {
        let mut root = SceneNode3d::empty();
        let (upper, lower) = (root.add_group(), root.add_group());
        let bench = BenchNodes::new(&mut root);
        Self {
            root,
            bench,
            upper,
            lower,
            material: material::shared(),
            revision: None,
            plate: None,
            casts: CastNodes::none(),
            kept: KeptNodes::none(),
        }
    }

    /// Builds what has changed and places the members; `beside` leads from A's place to that of B beside
    /// it.
    pub fn update(&mut self, state: &State, beside: Vector3<f64>) {
        let bench = state.bench.as_ref().filter(|_| state.room == Room::Bench);
        self.bench.update(&mut self.root, bench, &self.material);
        if state.room == Room::Bench {
            self.upper.set_visible(false);
            self.lower.set_visible(false);
            self.casts.hide();
            self.kept.hide();
            return;
        }
        let plate = state.plate.drawn.as_ref();
        let has_other_plate = match (&self.plate, plate) {
            (Some(a), Some(b)) => !Arc::ptr_eq(a, b),
            (None, None) => false,
            _ => true,
        };
        if self.revision != Some(state.shown.revision) || has_other_plate {
            self.build(&state.shown.scene, state.shown.mounted.as_deref());
            self.plate = plate.cloned();
            if let Some(Ok(setup)) = plate.map(|drawn| &drawn.setup) {
                let meshes = plate::plate_meshes(&setup.tracer);
                let member = carrier(&setup.tracer);
                self.add(Part { member, mesh: meshes.plate, tint: palette::TRACING_PLATE });
                self.add(Part { member, mesh: meshes.rules, tint: palette::PENCIL });
            }
            self.revision = Some(state.shown.revision);
        }
        let poses = MemberPoses::of(&state.sample().placement.jaw, state.moving);
        for (group, arch, place) in
            [(&mut self.upper, Arch::Upper, &poses.upper), (&mut self.lower, Arch::Lower, &poses.lower)]
        {
            group.set_pose(to_pose(place));
            let carries_stylus = state.plate.shown_alone().is_some_and(|tracer| carrier(tracer) != arch);
            group.set_visible(state.casts.seen.has(arch) && !carries_stylus);
        }
        self.casts.update(&mut self.root, state, &poses, &self.material);
        self.kept.update(&mut self.root, state, &self.material, beside);
    }

    fn build(&mut self, scene: &Scene, mounted: Option<&Mounted>) {
        self.upper.detach();
        self.lower.detach();
        (self.upper, self.lower) = (self.root.add_group(), self.root.add_group());
        for part in parts(scene, mounted) {
            self.add(part);
        }
    }

    fn add(&mut self, Part { member, mesh, tint }: Part) {
        if mesh.is_empty() {
            return;
        }
        let buffers = mesh.buffers();
        let mesh = GpuMesh3d::new(buffers.points, buffers.faces, Some(buffers.normals), None, false);
        let group = match member {
            Arch::Upper => &mut self.upper,
            Arch::Lower => &mut self.lower,
        };
        group
            .add_mesh(Rc::new(RefCell::new(mesh)), Vec3::ONE)
            .set_color(tint.linear())
            .set_material(self.material.clone());
    }
}

/// A mesh on a member, in one colour.
struct Part {
    member: Arch,
    mesh: Mesh,
    tint: Tint,
}

/// Everything of a scene but its casts.
fn parts(scene: &Scene, mounted: Option<&Mounted>) -> Vec<Part> {
    let mut parts = Vec::new();
    let mut add = |member, mesh, tint| parts.push(Part { member, mesh, tint });
    let instrument = &scene.instrument;
    let members = members::members(scene, mounted);
    add(Arch::Upper, members.upper, palette::UPPER);
    add(Arch::Lower, members.lower, palette::LOWER);
    add(Arch::Upper, members.pin, palette::PENCIL);
    let (spheres, housings) = match instrument.design {
        Design::Arcon => (Arch::Lower, Arch::Upper),
        Design::NonArcon => (Arch::Upper, Arch::Lower),
    };
    add(spheres, members.spheres, palette::SPHERE);
    for side in Side::BOTH {
        let walls = guide::guide_meshes(instrument, side);
        add(housings, walls.superior, palette::SUPERIOR_WALL);
        add(housings, walls.medial, palette::MEDIAL_WALL);
        add(housings, walls.working, palette::WORKING_WALL);
    }
    let anterior = anterior::anterior_meshes(instrument);
    let carrier = if instrument.anterior_guide.has_pin() { Arch::Lower } else { Arch::Upper };
    add(carrier, anterior.plate, palette::PLATE);
    add(carrier, anterior.wings, palette::WING);
    // Teeth of our own stand in for casts.
    if mounted.is_none() {
        for (arch, crowns, base) in [
            (Arch::Upper, palette::UPPER_TEETH, palette::UPPER),
            (Arch::Lower, palette::LOWER_TEETH, palette::LOWER),
        ] {
            let teeth = teeth::dentition(scene, arch);
            add(arch, teeth.crowns, crowns);
            add(arch, teeth.base, base);
        }
    }
    parts.retain(|part| !part.mesh.is_empty());
    parts
}

/// The member that carries the plate.
const fn carrier(tracer: &Tracer) -> Arch {
    match tracer.plate_on {
        Member::Lower => Arch::Lower,
        Member::Upper => Arch::Upper,
    }
}

impl Default for Drawing {
    fn default() -> Self {
        Self::new()
    }
}
