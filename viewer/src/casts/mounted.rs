//! The casts of a scene on its members.

use std::sync::{Arc, OnceLock};

use nalgebra::Vector3;
use parry3d_f64::math::Vector;
use parry3d_f64::query::{Ray, RayCast};
use parry3d_f64::shape::TriMesh;
use sim_core::cast::invented::{InventedCasts, InventedError};
use sim_core::cast::{Casts, Surface, ToothPlaces, ToothRow};
use sim_core::cusp::{Arch, Tooth};
use sim_core::frame::{OcclusalPlane, Side};
use sim_core::scene::{CastFiles, CastMountingError, Scene};
use sim_core::units::Length;

use super::cut_plane::CutPlane;
use super::scans::Scans;

/// While a slider is dragged invented casts are made this much coarser, so that the picture keeps up.
const COARSER: f64 = 2.5;
/// The greatest edge length that invented casts may have, in millimetres.
const COARSEST_MM: f64 = 1.0;
/// A base is fixed to its member in this part of its height, the farthest from the teeth.
const FIXED_IN: f64 = 0.15;

/// Why a scene's casts cannot be had.
#[derive(Debug, thiserror::Error)]
pub enum CastsError {
    /// A mounting that no human has.
    #[error(transparent)]
    Mounting(#[from] CastMountingError),
    /// Settings of invented casts that do not go together.
    #[error("invented_casts: {0}")]
    Invented(#[from] InventedError),
    /// Nobody gave the scans.
    #[error("casts: the scene came without the files that it names")]
    NotGiven,
}

/// The casts of a scene on its members.
#[derive(Debug)]
pub struct Mounted {
    /// Both, each in its member's frame.
    pub casts: Arc<Casts>,
    /// What is to be told of them.
    pub notes: Notes,
    /// Invented casts coarser than the scene says, while a hand is at a slider.
    pub is_draft: bool,
    source: Source,
    row: Option<ToothRow>,
    fixings: [[Vector3<f64>; 2]; 2],
    meshes: OnceLock<[Option<TriMesh>; 2]>,
    middles: OnceLock<[Vec<ToothMiddle>; 2]>,
}

/// What is to be told of casts that were read, one sentence each.
#[derive(Clone, Debug, Default)]
pub struct Notes {
    /// What reading them had to mend or assume.
    pub mended: Vec<String>,
    /// That they hardly stand where casts do.
    pub misplaced: Vec<String>,
}

/// Where a tooth stands on its cast, in millimetres of its member.
#[derive(Clone, Copy, Debug)]
pub struct ToothMiddle {
    /// The tooth.
    pub tooth: Tooth,
    /// The mean of its vertices.
    pub at: Vector3<f64>,
    /// The unit direction from the middle of the arch, level.
    pub outward: Vector3<f64>,
}

/// The middles of the teeth of a surface, by their triangles.
fn tooth_middles(surface: &Surface) -> Vec<ToothMiddle> {
    let mut sums: std::collections::BTreeMap<u8, (Tooth, Vector3<f64>, f64)> =
        std::collections::BTreeMap::new();
    for (number, tooth) in surface.teeth().into_iter().flatten().enumerate() {
        let Some(tooth) = tooth else { continue };
        let entry = sums.entry(tooth.number()).or_insert((*tooth, Vector3::zeros(), 0.0));
        entry.1 += surface.corners(number).iter().sum::<Vector3<f64>>() / 3.0;
        entry.2 += 1.0;
    }
    let middles: Vec<(Tooth, Vector3<f64>)> =
        sums.into_values().map(|(tooth, sum, count)| (tooth, sum / count)).collect();
    #[allow(clippy::cast_precision_loss, reason = "a handful of teeth")]
    let centre = middles.iter().map(|(_, at)| at).sum::<Vector3<f64>>() / middles.len().max(1) as f64;
    let level = |at: &Vector3<f64>| Vector3::new(at.x - centre.x, at.y - centre.y, 0.0);
    middles
        .iter()
        .map(|(tooth, at)| ToothMiddle {
            tooth: *tooth,
            at: *at,
            outward: level(at).try_normalize(1e-9).unwrap_or_else(Vector3::x),
        })
        .collect()
}

/// All that casts are made from: when it is the same, so are they.
#[derive(Clone, Debug, PartialEq)]
struct Source {
    files: Option<CastFiles>,
    invented: Option<InventedCasts>,
    plane: OcclusalPlane,
    intercondylar_distance: Length,
}

impl Source {
    fn of(scene: &Scene) -> Self {
        Self {
            files: scene.casts.clone(),
            invented: scene.invented_casts.clone(),
            plane: scene.occlusal_plane,
            intercondylar_distance: scene.instrument.intercondylar_distance,
        }
    }

    /// Whether a scene's casts have the same form and stand in the same place.
    fn has_same_casts(&self, other: &Self) -> bool {
        let is_mounted_alike = self.files.as_ref().is_none_or(|files| files.mounting.is_none())
            || self.intercondylar_distance == other.intercondylar_distance;
        let is_level_alike = self.invented.is_none() || self.plane == other.plane;
        self.files == other.files && self.invented == other.invented && is_mounted_alike && is_level_alike
    }
}

impl Mounted {
    /// The casts that a scene names, if it names any, invented or out of `scans`; `before` is kept where
    /// it will do. Cusps of an invented pair are moved to where it has them.
    ///
    /// # Errors
    /// [`CastsError`] names the setting.
    pub fn of(
        scene: &mut Scene,
        scans: Option<&Scans>,
        before: Option<&Arc<Self>>,
        is_draft: bool,
    ) -> Result<Option<Arc<Self>>, CastsError> {
        let source = Source::of(scene);
        let has_casts = source.files.is_some() || source.invented.is_some();
        let is_draft = is_draft && source.invented.is_some() && before.is_some();
        if let Some(before) = before.filter(|before| has_casts && before.source.has_same_casts(&source)) {
            if before.source.plane == source.plane && (is_draft || !before.is_draft) {
                return Ok(Some(before.clone()));
            }
            if before.is_draft == is_draft {
                return Ok(Some(Arc::new(Self::new(
                    before.casts.clone(),
                    before.notes.clone(),
                    source,
                    is_draft,
                ))));
            }
        }
        let made = if is_draft { coarse(scene)? } else { invented(scene)? };
        let (casts, notes) = match (made, &scene.casts) {
            (Some(casts), _) => (casts, Notes::default()),
            (None, Some(files)) => scans.ok_or(CastsError::NotGiven)?.mounted(files, scene)?,
            (None, None) => return Ok(None),
        };
        Ok(Some(Arc::new(Self::new(casts, notes, source, is_draft))))
    }

    fn new(casts: Arc<Casts>, notes: Notes, source: Source, is_draft: bool) -> Self {
        let row = ToothRow::of(casts.surface(Arch::Lower), Arch::Lower, source.plane);
        let fixings = [Arch::Upper, Arch::Lower].map(|arch| fixings(casts.surface(arch), arch, source.plane));
        Self {
            casts,
            notes,
            is_draft,
            source,
            row,
            fixings,
            meshes: OnceLock::new(),
            middles: OnceLock::new(),
        }
    }

    /// The same casts, with teeth named by these places where the surfaces do not name them.
    #[must_use]
    pub fn with_places(&self, places: &ToothPlaces) -> Option<Self> {
        let surfaces = [Arch::Upper, Arch::Lower].map(|arch| self.casts.surface(arch));
        if surfaces.iter().all(|surface| surface.teeth().is_some()) {
            return None;
        }
        let [upper, lower] = surfaces.map(Surface::clone);
        let casts = Arc::new(Casts::new(upper, lower, places));
        Some(Self::new(casts, self.notes.clone(), self.source.clone(), self.is_draft))
    }

    /// The line along which the lower teeth stand, if they stand in an arch.
    #[must_use]
    pub const fn row(&self) -> Option<&ToothRow> {
        self.row.as_ref()
    }

    /// Where each base is fixed to its member, right and left, in that member's frame.
    #[must_use]
    pub const fn fixings(&self, arch: Arch) -> [Vector3<f64>; 2] {
        self.fixings[number(arch)]
    }

    /// Least and greatest coordinates of both casts at rest.
    #[must_use]
    pub fn bounds(&self) -> (Vector3<f64>, Vector3<f64>) {
        let [(a, b), (c, d)] = [Arch::Upper, Arch::Lower].map(|arch| self.casts.surface(arch).bounds());
        (a.zip_map(&c, f64::min), b.zip_map(&d, f64::max))
    }

    /// The middle of every tooth that a cast says it has.
    #[must_use]
    pub fn tooth_middles(&self, arch: Arch) -> &[ToothMiddle] {
        let [upper, lower] = self
            .middles
            .get_or_init(|| [Arch::Upper, Arch::Lower].map(|arch| tooth_middles(self.casts.surface(arch))));
        match arch {
            Arch::Upper => upper,
            Arch::Lower => lower,
        }
    }

    /// The box about one cast as it stands on its member.
    #[must_use]
    pub fn bounds_of(&self, arch: Arch) -> (Vector3<f64>, Vector3<f64>) {
        self.casts.surface(arch).bounds()
    }

    /// From where to where a plane can be moved, in millimetres.
    #[must_use]
    pub fn cut_range_mm(&self, plane: CutPlane) -> [f64; 2] {
        let (low, high) = self.bounds();
        match plane {
            CutPlane::Sagittal => [low.y, high.y],
            CutPlane::Frontal => {
                let anterior = self.source.plane.anterior();
                let ends = [low.x, high.x].map(|x| [low.z, high.z].map(|z| x * anterior.x + z * anterior.z));
                let ends = ends.as_flattened();
                [
                    ends.iter().copied().fold(f64::INFINITY, f64::min),
                    ends.iter().copied().fold(f64::NEG_INFINITY, f64::max),
                ]
            }
            CutPlane::Square => self.row.as_ref().map_or([0.0, 0.0], |row| {
                let (right, left) = row.reach();
                [right.mm(), left.mm()]
            }),
        }
    }

    /// Where a ray first meets a cast, both in the frame of its member: how far along it, the place and
    /// the triangle.
    #[must_use]
    pub fn hit(
        &self,
        arch: Arch,
        from: &Vector3<f64>,
        toward: &Vector3<f64>,
    ) -> Option<(f64, Vector3<f64>, usize)> {
        let meshes =
            self.meshes.get_or_init(|| [Arch::Upper, Arch::Lower].map(|arch| mesh(self.casts.surface(arch))));
        let mesh = meshes[number(arch)].as_ref()?;
        let vector = |v: &Vector3<f64>| Vector::new(v.x, v.y, v.z);
        let ray = Ray::new(vector(from), vector(toward));
        let met = mesh.cast_local_ray_and_get_normal(&ray, f64::MAX, false)?;
        Some((met.time_of_impact, from + toward * met.time_of_impact, met.subshape as usize))
    }
}

const fn number(arch: Arch) -> usize {
    match arch {
        Arch::Upper => 0,
        Arch::Lower => 1,
    }
}

fn mesh(surface: &Surface) -> Option<TriMesh> {
    let vertices = surface.vertices().iter().map(|v| Vector::new(v.x, v.y, v.z)).collect();
    TriMesh::new(vertices, surface.triangles().to_vec()).ok()
}

/// The invented casts that a scene asks for, if it does.
fn invented(scene: &mut Scene) -> Result<Option<Arc<Casts>>, InventedError> {
    let pair = scene.invent_casts()?;
    Ok(pair.map(|pair| Arc::new(Casts::new(pair.upper, pair.lower, &ToothPlaces::of(&pair.cusps)))))
}

/// Invented casts of larger triangles than the scene asks for.
fn coarse(scene: &mut Scene) -> Result<Option<Arc<Casts>>, InventedError> {
    let Some(settings) = &mut scene.invented_casts else { return Ok(None) };
    let fineness = settings.fineness;
    settings.fineness = Length::from_mm((fineness.mm() * COARSER).min(COARSEST_MM).max(fineness.mm()));
    let made = invented(scene);
    if let Some(settings) = &mut scene.invented_casts {
        settings.fineness = fineness;
    }
    made
}

/// Where a base is fixed, right and left: in the middle of what is farthest from the teeth.
fn fixings(surface: &Surface, arch: Arch, plane: OcclusalPlane) -> [Vector3<f64>; 2] {
    let away = match arch {
        Arch::Upper => plane.normal(),
        Arch::Lower => -plane.normal(),
    };
    let heights = || surface.vertices().iter().map(|vertex| vertex.dot(&away));
    let (low, high) = (heights().fold(f64::INFINITY, f64::min), heights().fold(f64::NEG_INFINITY, f64::max));
    let level = high - FIXED_IN * (high - low);
    Side::BOTH.map(|side| {
        let far = surface
            .vertices()
            .iter()
            .filter(|vertex| vertex.dot(&away) >= level && vertex.y * side.outward_y() > 0.0);
        let (sum, count) =
            far.fold((Vector3::zeros(), 0.0), |(sum, count), vertex| (sum + vertex, count + 1.0));
        if count > 0.0 {
            sum / count
        } else {
            let (least, greatest) = surface.bounds();
            (least + greatest) / 2.0
        }
    })
}
