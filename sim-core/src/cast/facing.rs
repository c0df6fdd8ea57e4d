//! Which way an open cast faces, once it stands in the instrument.

use nalgebra::Vector3;

use super::Surface;
use super::mend::{Borders, Edges, Shells, doubled_area};
use crate::cusp::Arch;

/// How far a surface faces along a direction: the part of its area, seen along the direction, that
/// faces there, less the part that faces away. 1 for a flat piece that faces there, −1 for one that
/// faces away, 0 for every closed surface. A direction of no length gives 0.
#[must_use]
pub fn facing(surface: &Surface, direction: &Vector3<f64>) -> f64 {
    let along = direction.try_normalize(0.0).unwrap_or_default();
    let seen =
        surface.triangles().iter().map(|triangle| doubled_area(surface.vertices(), triangle).dot(&along));
    let (sum, all) = seen.fold((0.0, 0.0), |(sum, all), part: f64| (sum + part, all + part.abs()));
    if all > 0.0 { sum / all } else { 0.0 }
}

/// The surface with its open shells facing the opposing arch: in the instrument's frame (z up) an
/// upper cast faces down, a lower one up. A shell whose area says the contrary is turned as a whole;
/// closed shells, which know their outside, are left. Also says how many shells were turned.
///
/// Only for a cast that stands in the instrument's frame: in a scanner's frame, up may be anywhere.
#[must_use]
pub fn toward_opposing(mut surface: Surface, arch: Arch) -> (Surface, usize) {
    let wanted = match arch {
        Arch::Upper => -1.0,
        Arch::Lower => 1.0,
    };
    let (vertices, triangles) = (surface.vertices(), surface.triangles());
    let edges = Edges::of(triangles, vertices.len());
    let shells = Shells::of(&edges, triangles.len());
    let borders = Borders::of(&edges, &shells, vertices, triangles);
    let faces = shells.sums(|at| doubled_area(vertices, &triangles[at]).z * wanted);
    let turn: Vec<bool> =
        faces.iter().zip(&borders.of_shell).map(|(&faces, &open)| open && faces < 0.0).collect();
    surface.turn(|triangle| turn[shells.of[triangle] as usize]);
    (surface, turn.into_iter().filter(|&turn| turn).count())
}
