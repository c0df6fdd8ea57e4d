//! What films print on the casts.

use nalgebra::Vector3;
use sim_core::cast::{CastPlace, Casts, Film, Mark, Surface, SurfaceError, TooIntricate};
use sim_core::cusp::{Arch, Tooth};
use sim_core::frame::JawPose;

use super::colour;

/// What a film prints on one tooth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ToothMark {
    /// The tooth.
    pub tooth: Tooth,
    /// What it prints in all.
    pub area_mm2: f64,
    /// In the frame of the tooth's own member.
    pub centroid_mm: [f64; 3],
}

/// Why no cast with marks is made.
#[derive(Debug, thiserror::Error)]
pub enum NoMarkedCast {
    /// There are too many.
    #[error(transparent)]
    Marks(#[from] TooIntricate),
    /// The cast does not take colours.
    #[error(transparent)]
    Colours(#[from] SurfaceError),
}

/// What each film prints on each tooth; what belongs to no tooth is left out.
///
/// # Errors
/// [`TooIntricate`] where the casts cross all over each other.
pub fn teeth(casts: &Casts, jaw: &JawPose, films: &[Film]) -> Result<Vec<Vec<ToothMark>>, TooIntricate> {
    Ok(casts.marks_of(jaw, films)?.iter().map(|marks| by_tooth(marks)).collect())
}

fn by_tooth(marks: &[Mark]) -> Vec<ToothMark> {
    let on_tooth = |tooth| marks.iter().filter(move |mark: &&Mark| mark.tooth == Some(tooth));
    let mut teeth: Vec<ToothMark> = Vec::new();
    for tooth in marks.iter().filter_map(|mark| mark.tooth) {
        if teeth.last().is_some_and(|last| last.tooth == tooth) {
            continue;
        }
        let area_mm2 = on_tooth(tooth).map(|mark| mark.area_mm2).sum::<f64>();
        // A film that touches at a point or a line prints no area.
        if area_mm2 > 0.0 {
            let moment: Vector3<f64> = on_tooth(tooth).map(|mark| place(mark.centroid) * mark.area_mm2).sum();
            teeth.push(ToothMark { tooth, area_mm2, centroid_mm: (moment / area_mm2).into() });
        }
    }
    teeth
}

fn place(place: CastPlace) -> Vector3<f64> {
    match place {
        CastPlace::Upper(at) => *at.coords(),
        CastPlace::Lower(at) => *at.coords(),
    }
}

/// A cast with the marks of films in colour, the thinnest film over the others. A triangle that prints
/// in part is coloured to its corners.
///
/// # Errors
/// [`NoMarkedCast`].
pub fn surface(casts: &Casts, jaw: &JawPose, films: &[Film], arch: Arch) -> Result<Surface, NoMarkedCast> {
    let surface = casts.surface(arch);
    let mut colours = vec![colour::STONE; surface.vertices().len()];
    for (index, marks) in casts.marks_of(jaw, films)?.iter().enumerate().rev() {
        let colour = colour::of_film(index, films.len());
        for mark in marks.iter().filter(|mark| mark.arch == arch) {
            for triangle in &mark.triangles {
                for vertex in surface.triangles()[*triangle as usize] {
                    colours[vertex as usize] = colour;
                }
            }
        }
    }
    Ok(surface.clone().with_colours(colours)?)
}
