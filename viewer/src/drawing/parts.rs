//! Everything of a scene but its casts, as meshes on its members.

use sim_core::cusp::Arch;
use sim_core::frame::Side;
use sim_core::instrument::Design;
use sim_core::scene::Scene;

use super::mesh::Mesh;
use super::{anterior, guide, members, teeth};
use crate::casts::Mounted;
use crate::palette::{self, Tint};
use crate::solved::SolvedExcursion;

/// When a part is in the picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum When {
    Always,
    /// While that side works: nothing else touches its wall.
    Works(Side),
    /// Unless one looks from above or from below so that the part, fixed to that member, would hide a sphere.
    Uncovers(Arch),
}

impl When {
    /// Whether it is, in a movement that works on a side, looked at from so high.
    pub(super) fn is_now(self, working: Option<Side>, elevation_deg: f64) -> bool {
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
    pub(super) fn named(member: Arch, mesh: Mesh, tint: Tint, name: &str) -> Self {
        Self { member, mesh, tint, name: name.to_owned(), when: When::Always, is_rim: false }
    }
}

/// A mesh on a member, in one colour.
#[derive(Clone, Debug)]
pub(super) struct Part {
    pub(super) member: Arch,
    pub(super) mesh: Mesh,
    pub(super) tint: Tint,
    /// What it is called; nothing for what only edges another part.
    pub(super) name: String,
    pub(super) when: When,
    pub(super) is_rim: bool,
}

/// How far forward walls are to be drawn for an excursion: a little farther than any sphere goes.
pub(super) fn reach_of(solved: &SolvedExcursion) -> f64 {
    const SPARE_MM: f64 = 3.0;
    let placed = &solved.last().placement;
    let farthest = placed.right.advance.mm().max(placed.left.advance.mm());
    (farthest + SPARE_MM).max(guide::REACH_MM)
}

/// Everything of a scene but its casts.
pub(super) fn parts(scene: &Scene, mounted: Option<&Mounted>, reach_mm: f64) -> Vec<Part> {
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
