//! The instrument as a picture: meshes, lines and marks.
//!
//! One part of the instrument a file. Meshes are in the frame of the member that carries them; the
//! members are then placed as the jaw pose says.

mod angles;
pub mod anterior;
mod bench;
mod casts;
pub mod guide;
mod hover;
mod kept;
mod kept_marks;
mod legend;
pub mod members;
pub mod mesh;
mod numbers;
pub mod overlay;
pub mod paths;
pub mod plate;
pub mod pointing;
pub mod split;
mod tag;
pub mod teeth;
mod trace;
pub mod type_size;
mod under;

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
use crate::solved::SolvedExcursion;
use crate::state::{Shown, State};
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

/// When a part is in the picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum When {
    Always,
    /// While that side works: nothing else touches its wall.
    Works(Side),
    /// Unless one looks from above or from below so that the part, fixed to that member, would hide a sphere.
    Uncovers(Arch),
}

impl When {
    /// Whether it is, in a movement that works on a side, looked at from so high.
    fn is_now(self, working: Option<Side>, elevation_deg: f64) -> bool {
        /// From so high a housing covers its sphere.
        const COVERING_DEG: f64 = 50.0;
        match self {
            Self::Always => true,
            Self::Works(side) => working == Some(side),
            Self::Uncovers(Arch::Upper) => elevation_deg < COVERING_DEG,
            Self::Uncovers(Arch::Lower) => elevation_deg > -COVERING_DEG,
        }
    }
}

impl Part {
    /// A part that is always in the picture.
    fn named(member: Arch, mesh: Mesh, tint: Tint, name: &str) -> Self {
        Self { member, mesh, tint, name: name.to_owned(), when: When::Always, is_rim: false }
    }
}

/// A mesh on a member, in one colour.
#[derive(Clone, Debug)]
struct Part {
    member: Arch,
    mesh: Mesh,
    tint: Tint,
    /// What it is called; nothing for what only edges another part.
    name: String,
    when: When,
    is_rim: bool,
}

/// How far forward walls are to be drawn for an excursion: a little farther than any sphere goes.
fn reach_of(solved: &SolvedExcursion) -> f64 {
    const SPARE_MM: f64 = 3.0;
    let placed = &solved.last().placement;
    let farthest = placed.right.advance.mm().max(placed.left.advance.mm());
    (farthest + SPARE_MM).max(guide::REACH_MM)
}

/// Everything of a scene but its casts.
fn parts(scene: &Scene, mounted: Option<&Mounted>, reach_mm: f64) -> Vec<Part> {
    let mut parts = Vec::new();
    let mut add = |member, mesh: Mesh, tint, name: &str, when| {
        if !mesh.is_empty() {
            parts.push(Part { member, mesh, tint, name: name.to_owned(), when, is_rim: name.is_empty() });
        }
    };
    let instrument = &scene.instrument;
    let members = members::members(scene, mounted);
    add(Arch::Upper, members.upper, palette::UPPER, "upper member", When::Always);
    add(Arch::Lower, members.lower, palette::LOWER, "lower member", When::Always);
    add(Arch::Upper, members.pin, palette::PENCIL, "incisal pin", When::Always);
    let (spheres, housings, tint) = match instrument.design {
        Design::Arcon => (Arch::Lower, Arch::Upper, palette::UPPER),
        Design::NonArcon => (Arch::Upper, Arch::Lower, palette::LOWER),
    };
    add(housings, members.housings, tint, "holder of a condylar guide", When::Uncovers(housings));
    for (side, sphere) in Side::BOTH.into_iter().zip(members.spheres) {
        add(spheres, sphere, palette::SPHERE, &format!("{side} condylar sphere"), When::Always);
        let walls = guide::guide_meshes(instrument, side, reach_mm);
        let named = |wall: &str| format!("{wall} wall, {side} guide");
        let cover = When::Uncovers(housings);
        add(housings, walls.superior, palette::SUPERIOR_WALL, &named("superior"), cover);
        add(housings, walls.medial, palette::MEDIAL_WALL, &named("medial"), When::Always);
        let works = When::Works(side);
        add(housings, walls.working, palette::WORKING_WALL, &named("working-side"), works);
    }
    let anterior = anterior::anterior_meshes(instrument);
    let (carrier, of) = if instrument.anterior_guide.has_pin() {
        (Arch::Lower, "incisal table")
    } else {
        (Arch::Upper, "upper incisors’ guiding surface")
    };
    add(carrier, anterior.plate, palette::PLATE, &format!("{of}, plate"), When::Always);
    add(carrier, anterior.wings, palette::WING, &format!("{of}, wings"), When::Always);
    // Teeth of our own stand in for casts.
    if mounted.is_none() {
        for (arch, crowns, base, name) in [
            (Arch::Upper, palette::UPPER_TEETH, palette::UPPER, "upper"),
            (Arch::Lower, palette::LOWER_TEETH, palette::LOWER, "lower"),
        ] {
            let teeth = teeth::dentition(scene, arch);
            add(arch, teeth.crowns, crowns, &format!("{name} teeth, drawn in place of a cast"), When::Always);
            add(arch, teeth.base, base, &format!("base of the {name} teeth"), When::Always);
            add(arch, teeth.hulls, palette::RIM, "", When::Always);
        }
    }
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
