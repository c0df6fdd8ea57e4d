//! The instrument as a picture: meshes, lines and marks.
//!
//! One part of the instrument a file. Meshes are in the frame of the member that carries them; the
//! members are then placed as the jaw pose says.

mod angles;
pub mod anterior;
mod bench;
mod casts;
mod glyph;
pub mod guide;
mod hover;
mod kept;
mod kept_marks;
mod legend;
pub mod members;
pub mod mesh;
mod numbers;
pub mod overlay;
mod parts;
pub mod paths;
pub mod plate;
pub mod pointing;
pub mod split;
mod tag;
pub mod teeth;
mod trace;
pub mod type_size;
mod under;

pub use glyph::glyph;
pub use guide::SPHERE_RADIUS_MM;
pub use legend::legend_height;
pub use mesh::to_f32;
pub use overlay::paint;
pub use pointing::point;

use std::cell::RefCell;
use std::rc::Rc;
use std::sync::Arc;

use kiss3d::glamx::Vec3;
use kiss3d::resource::GpuMesh3d;
use kiss3d::scene::SceneNode3d;
use nalgebra::Vector3;
use sim_core::cusp::Arch;
use sim_core::scene::Scene;
use sim_core::tracing::{Member, Tracer};

use crate::casts::Mounted;
use crate::geometry::poses::MemberPoses;
use crate::material::{self, Lines};
use crate::page::Room;
use crate::palette;
use crate::plate::DrawnPlate;
use crate::state::{Shown, State};
use bench::BenchNodes;
use casts::CastNodes;
use kept::KeptNodes;
use mesh::to_pose;
use parts::{Part, When, parts, reach_of};

/// The objects handed to the graphics crate.
pub struct Drawing {
    /// What is to be rendered.
    pub root: SceneNode3d,
    /// The lines of the coming frame.
    pub lines: Lines,
    upper: SceneNode3d,
    lower: SceneNode3d,
    material: material::Shared,
    revision: Option<u64>,
    outline: material::Shared,
    /// What is not always in the picture.
    at_times: Vec<(When, SceneNode3d)>,
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
            lines: Lines::default(),
            bench,
            upper,
            lower,
            material: material::shared(),
            revision: None,
            outline: material::outline(),
            at_times: Vec::new(),
            plate: None,
            casts: CastNodes::none(),
            kept: KeptNodes::none(),
        }
    }

    /// Lays out the lines of the coming frame.
    pub fn draw_lines(&mut self, state: &State) {
        self.lines.clear();
        if state.room != Room::Instrument {
            return;
        }
        if !state.motion_is_hidden() {
            paths::draw_paths(&mut self.lines, state);
            plate::draw_arch(&mut self.lines, state);
        }
        casts::draw_section(&mut self.lines, state);
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
            let Shown { scene, mounted, solved, .. } = &state.shown;
            self.build(scene, mounted.as_deref(), reach_of(solved));
            self.plate = plate.cloned();
            if let Some(Ok(setup)) = plate.map(|drawn| &drawn.setup) {
                let meshes = plate::plate_meshes(&setup.tracer);
                let member = carrier(&setup.tracer);
                self.add(Part::named(member, meshes.plate, palette::TRACING_PLATE, "tracing plate"));
                self.add(Part::named(member, meshes.rules, palette::PENCIL, "rules of the tracing plate"));
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
        let working = state.shown.solved.excursion.movement().working_side();
        for (when, node) in &mut self.at_times {
            node.set_visible(when.is_now(working, state.look.elevation_deg));
        }
        self.casts.update(&mut self.root, state, &poses, &self.material);
        self.kept.update(&mut self.root, state, &self.material, beside);
    }

    fn build(&mut self, scene: &Scene, mounted: Option<&Mounted>, reach_mm: f64) {
        self.upper.detach();
        self.lower.detach();
        (self.upper, self.lower) = (self.root.add_group(), self.root.add_group());
        self.at_times.clear();
        for part in parts(scene, mounted, reach_mm) {
            self.add(part);
        }
    }

    fn add(&mut self, Part { member, mesh, tint, when, is_rim, .. }: Part) {
        if mesh.is_empty() {
            return;
        }
        let buffers = mesh.buffers();
        let mesh = GpuMesh3d::new(buffers.points, buffers.faces, Some(buffers.normals), None, false);
        let group = match member {
            Arch::Upper => &mut self.upper,
            Arch::Lower => &mut self.lower,
        };
        let material = if is_rim { &self.outline } else { &self.material };
        let mut node = group.add_mesh(Rc::new(RefCell::new(mesh)), Vec3::ONE);
        node.set_color(tint.linear()).set_material(material.clone());
        if when != When::Always {
            self.at_times.push((when, node));
        }
    }
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
