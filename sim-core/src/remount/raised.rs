//! Casts with teeth that processing raised.

use std::sync::Arc;

use super::{Remount, RemountError};
use crate::cast::{Casts, Surface, ToothPlaces};
use crate::cusp::{Arch, Tooth};
use crate::frame::OcclusalPlane;

impl Remount {
    /// The casts as processing left them: raised teeth lifted toward their antagonists, each with all that is its own
    /// and no neighbour's.
    ///
    /// # Errors
    /// [`RemountError`] for a tooth that the casts do not have.
    pub fn processed(&self, casts: &Arc<Casts>, plane: OcclusalPlane) -> Result<Arc<Casts>, RemountError> {
        if self.raised.is_empty() {
            return Ok(Arc::clone(casts));
        }
        let mut surfaces = [Arch::Upper, Arch::Lower].map(|arch| casts.surface(arch).clone());
        for raised in &self.raised {
            let tooth = raised.tooth;
            let is_lower = tooth.arch() == Arch::Lower;
            let toward = if is_lower { plane.normal() } else { -plane.normal() };
            let surface = &mut surfaces[usize::from(is_lower)];
            let absent = || RemountError::NoSuchRaised(tooth.number());
            let labels = labels(casts, tooth.arch());
            *surface =
                lifted(surface, labels, tooth, toward * raised.by_mm.length().mm()).ok_or_else(absent)?;
        }
        let [upper, lower] = surfaces;
        Ok(Arc::new(Casts::new(upper, lower, &ToothPlaces::none())))
    }
}

/// The tooth of each triangle.
fn labels(casts: &Casts, arch: Arch) -> Vec<Option<Tooth>> {
    (0..casts.surface(arch).triangles().len()).map(|triangle| casts.tooth_of(arch, triangle)).collect()
}

/// A surface with the vertices of one tooth moved; `None` where it has no such tooth.
fn lifted(
    surface: &Surface,
    teeth: Vec<Option<Tooth>>,
    tooth: Tooth,
    by: nalgebra::Vector3<f64>,
) -> Option<Surface> {
    let mut vertices = surface.vertices().to_vec();
    // Where it borders on its neighbours it stays, so that they are not lifted with it.
    let [mut is_of_it, mut is_of_another] = [vec![false; vertices.len()], vec![false; vertices.len()]];
    for (triangle, of) in surface.triangles().iter().zip(&teeth) {
        let marks = if *of == Some(tooth) { &mut is_of_it } else { &mut is_of_another };
        triangle.iter().for_each(|index| marks[*index as usize] = true);
    }
    if !is_of_it.contains(&true) {
        return None;
    }
    for (index, vertex) in vertices.iter_mut().enumerate() {
        if is_of_it[index] && !is_of_another[index] {
            *vertex += by;
        }
    }
    Surface::new(vertices, surface.triangles().to_vec()).and_then(|surface| surface.with_teeth(teeth)).ok()
}
