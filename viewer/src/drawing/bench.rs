//! The bench as a picture: the lower member with its cast and the record, the primary base that the record holds,
//! the upper member with the secondary base.

use std::cell::RefCell;
use std::rc::Rc;
use std::sync::Arc;

use kiss3d::egui::{Align2, FontId, Painter, Pos2, Rect, Stroke, pos2, vec2};
use kiss3d::glamx::Vec3;
use kiss3d::resource::GpuMesh3d;
use kiss3d::scene::SceneNode3d;
use nalgebra::Vector3;
use sim_core::bench::ON_ITS_STOP_MM;
use sim_core::cusp::Arch;
use sim_core::frame::Side;
use sim_core::instrument::Design;
use words::number::length;

use super::guide;
use super::members::members_on_bench;
use super::mesh::{Mesh, to_pose};
use super::split::split_meshes;
use super::teeth::dentition;
use crate::bench::{Magnified, OnBench};
use crate::geometry::landmarks::rest_centre;
use crate::geometry::poses::MemberPose;
use crate::material;
use crate::palette::{self, Tint};
use crate::projection::Projection;

/// What is drawn of a case on the bench, as it was drawn last.
pub(super) struct BenchNodes {
    root: SceneNode3d,
    drawn: Option<Arc<OnBench>>,
}

impl BenchNodes {
    pub(super) fn new(root: &mut SceneNode3d) -> Self {
        Self { root: root.add_group(), drawn: None }
    }

    /// Hides the bench, or builds what has changed of it.
    pub(super) fn update(
        &mut self,
        parent: &mut SceneNode3d,
        bench: Option<&Arc<OnBench>>,
        material: &material::Shared,
    ) {
        self.root.set_visible(bench.is_some());
        let Some(bench) = bench else { return };
        if self.drawn.as_ref().is_some_and(|drawn| Arc::ptr_eq(drawn, bench)) {
            return;
        }
        self.root.detach();
        self.root = parent.add_group();
        for part in parts(bench) {
            let buffers = part.mesh.buffers();
            let mesh = GpuMesh3d::new(buffers.points, buffers.faces, Some(buffers.normals), None, false);
            let mut node = self.root.add_mesh(Rc::new(RefCell::new(mesh)), Vec3::ONE);
            node.set_color(part.tint.linear()).set_material(material.clone());
            node.set_pose(to_pose(&part.pose));
        }
        self.drawn = Some(bench.clone());
    }
}

/// A mesh, its colour, and where it stands.
struct Part {
    mesh: Mesh,
    tint: Tint,
    pose: MemberPose,
}

/// All that is drawn of a case on the bench.
fn parts(bench: &OnBench) -> Vec<Part> {
    let (scene, split) = (&bench.drawn, &bench.split);
    let world = MemberPose { rotation: nalgebra::Matrix3::identity(), translation: Vector3::zeros() };
    let (primary, upper) = (split.primary(), split.upper_member());
    let mut parts = Vec::new();
    let mut add = |mesh: Mesh, tint: Tint, pose: MemberPose| {
        if !mesh.is_empty() {
            parts.push(Part { mesh, tint, pose });
        }
    };
    let bases = split_meshes(scene, &split.drawn_at);
    let teeth = dentition(scene, Arch::Upper);
    add(teeth.crowns, palette::UPPER_TEETH, primary);
    add(teeth.base, palette::UPPER_GUM, primary);
    add(bases.primary, palette::UPPER_GUM, primary);
    add(bases.grooves, palette::GROOVE, primary);
    if let Some((map, translation)) = split.stretched(bench.magnified.times()) {
        add(bases.secondary.moved(&map, &translation), palette::UPPER, primary);
        add(bases.keys.moved(&map, &translation), palette::KEY, primary);
    }
    if bench.magnified != Magnified::Whole {
        return parts;
    }
    let members = members_on_bench(scene);
    let lower_teeth = dentition(scene, Arch::Lower);
    add(members.lower, palette::LOWER, world);
    add(lower_teeth.crowns, palette::LOWER_TEETH, world);
    add(lower_teeth.base, palette::LOWER, world);
    let (spheres, housings, tint) = match scene.instrument.design {
        Design::Arcon => (Some(world), upper, palette::UPPER),
        Design::NonArcon => (upper, Some(world), palette::LOWER),
    };
    if let Some(spheres) = spheres {
        for sphere in members.spheres {
            add(sphere, palette::SPHERE, spheres);
        }
    }
    if let Some(housings) = housings {
        add(members.housings, tint, housings);
        for side in Side::BOTH {
            let walls = guide::guide_meshes(&scene.instrument, side, guide::REACH_MM);
            add(walls.superior, palette::SUPERIOR_WALL, housings);
            add(walls.medial, palette::MEDIAL_WALL, housings);
        }
    }
    if let Some(upper) = upper {
        add(members.upper, palette::UPPER, upper);
    }
    parts
}

/// Size of the words beside the grooves, at usual words.
const WORDS: f32 = 12.5;
/// How far above its key a number stands, in points, so that the slit is seen.
const LEADER: f32 = 30.0;
/// Half the size of the mark at a shoulder.
const MARK: f32 = 4.0;

/// Writes the gaps beside the grooves, marks the shoulders, and says where a guide stands off its sphere.
pub(super) fn paint(
    painter: &Painter,
    bench: &OnBench,
    projection: &Projection,
    picture: Rect,
    pixels_per_point: f32,
    text_scale: f32,
) {
    let split = &bench.split;
    let font = FontId::proportional(WORDS * text_scale);
    #[allow(clippy::cast_possible_truncation, reason = "pixels")]
    let on_screen = |world: &Vector3<f64>| -> Pos2 {
        let [x, y] = projection.pixel(world);
        pos2(x as f32 / pixels_per_point, y as f32 / pixels_per_point)
    };
    let ink = palette::INK.egui();
    let primary = split.primary();
    let mut taken: Vec<Rect> = Vec::new();
    let (mut leaders, mut numbers, mut marks) = (Vec::new(), Vec::new(), Vec::new());
    for (number, place) in split.drawn_at.iter().enumerate() {
        let groove = on_screen(&primary.place(place));
        marks.push((groove, palette::GROOVE));
        let Some((map, translation)) = split.stretched(bench.magnified.times()) else { continue };
        let key = on_screen(&primary.place(&(map * place + translation)));
        marks.push((key, palette::KEY));
        let gap = split.gaps.get(number).map_or_else(String::new, |gap| format!(": {}", length(*gap, 2)));
        let words = painter.layout_no_wrap(format!("{}{gap}", number + 1), font.clone(), ink);
        // Words stand above their key, or higher where others stand already.
        let mut rect = Align2::CENTER_BOTTOM.anchor_size(key - vec2(0.0, LEADER), words.size());
        while let Some(other) = taken.iter().find(|other| other.intersects(rect)) {
            rect = rect.translate(vec2(0.0, other.top() - rect.bottom() - 2.0));
        }
        if !picture.intersects(rect) {
            continue;
        }
        leaders.push([key, rect.center_bottom()]);
        numbers.push((rect, words));
        taken.push(rect.expand(2.0));
    }
    // No line crosses a number, and nothing covers a mark.
    for leader in leaders {
        painter.line_segment(leader, Stroke::new(1.0, ink));
    }
    for (rect, words) in numbers {
        painter.rect_filled(rect.expand(2.0), 2.0, palette::PANEL.egui());
        painter.galley(rect.min, words, ink);
    }
    for (at, tint) in marks {
        diamond(painter, at, tint);
    }
    if bench.magnified == Magnified::Whole {
        for side in Side::BOTH {
            let off = split.stands_off[side];
            let words = if off.mm() > ON_ITS_STOP_MM {
                format!("{side} guide stands {} off its sphere", length(off, 2))
            } else {
                format!("{side} guide")
            };
            let centre = rest_centre(&bench.drawn.instrument, side);
            let at = match (bench.drawn.instrument.design, split.upper_member()) {
                (Design::NonArcon, Some(upper)) => upper.place(&centre),
                _ => centre,
            };
            let words = painter.layout_no_wrap(words, font.clone(), ink);
            let mut rect = Align2::LEFT_TOP.anchor_size(on_screen(&at) + vec2(10.0, 12.0), words.size());
            while let Some(other) = taken.iter().find(|other| other.intersects(rect)) {
                rect = rect.translate(vec2(0.0, other.bottom() - rect.top() + 2.0));
            }
            painter.rect_filled(rect.expand(2.0), 2.0, palette::PANEL.egui());
            painter.galley(rect.min, words, ink);
            taken.push(rect.expand(2.0));
        }
    }
}

/// A mark at a shoulder.
fn diamond(painter: &Painter, at: Pos2, tint: Tint) {
    let corners = [vec2(0.0, -MARK), vec2(MARK, 0.0), vec2(0.0, MARK), vec2(-MARK, 0.0)].map(|by| at + by);
    let edge = Stroke::new(1.0, palette::INK.egui());
    painter.add(kiss3d::egui::Shape::convex_polygon(corners.to_vec(), tint.egui(), edge));
}
