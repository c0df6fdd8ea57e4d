//! Colours for the vertices of a cast.

use nalgebra::Vector3;
use sim_core::cast::Surface;
use sim_core::cusp::Arch;

use crate::palette::{self, Tint};

/// A ridge or hollow of this curvature, in 1/mm, is as light or dark as it gets: about that of a
/// fissure 2 mm wide.
const SHARPEST_PER_MM: f64 = 1.0;
/// Rounds of smoothing, so that the triangles of a scan do not show as grain.
const ROUNDS: u32 = 2;
/// How strongly light models a cast that shows its form, and one whose colours are to be read off.
const MODELLING: (f32, f32) = (1.0, 0.45);

/// The colours of a cast, and how strongly light is to model it.
pub type Painted = (Vec<[u8; 4]>, f32);

/// A bare cast: what it looks like before anything is shown on it.
#[derive(Clone, Debug)]
pub struct Ground {
    /// Unit normals, outward.
    pub normals: Vec<Vector3<f64>>,
    /// Colour of the stone, and the light of hollows and ridges.
    stone: Vec<[u8; 4]>,
}

impl Ground {
    /// The ground of a cast.
    #[must_use]
    pub fn of(surface: &Surface, arch: Arch) -> Self {
        let normals = normals(surface);
        let light = relief(surface, &normals);
        let tints = stone(surface, arch);
        let stone = tints.into_iter().zip(light).map(|(Tint([r, g, b]), light)| [r, g, b, light]).collect();
        Self { normals, stone }
    }

    /// The bare stone.
    #[must_use]
    pub fn relief(&self) -> Painted {
        (self.stone.clone(), MODELLING.0)
    }

    /// A clearance map over it: vertical gaps in millimetres, none where nothing is opposite.
    #[must_use]
    pub fn clearance(&self, gaps_mm: &[Option<f64>], cap_mm: f64) -> Painted {
        let painted = self.stone.iter().enumerate().map(|(vertex, stone)| {
            match gaps_mm.get(vertex).copied().flatten() {
                Some(gap) if gap < -palette::PIERCED_FROM_MM => over(*stone, palette::PIERCED),
                Some(gap) => over(*stone, palette::clearance(gap / cap_mm)),
                None => over(*stone, palette::NOTHING_OPPOSITE),
            }
        });
        (painted.collect(), MODELLING.1)
    }
}

const fn over([.., light]: [u8; 4], Tint([r, g, b]): Tint) -> [u8; 4] {
    [r, g, b, light]
}

/// Normals at the vertices: those of the triangles about each, by their area.
fn normals(surface: &Surface) -> Vec<Vector3<f64>> {
    let mut normals = vec![Vector3::zeros(); surface.vertices().len()];
    for (number, triangle) in surface.triangles().iter().enumerate() {
        let [a, b, c] = surface.corners(number);
        let normal = (b - a).cross(&(c - a));
        for corner in triangle {
            normals[*corner as usize] += normal;
        }
    }
    normals.into_iter().map(|normal| normal.try_normalize(0.0).unwrap_or_else(Vector3::z)).collect()
}

/// How light each vertex is for lying in a hollow (towards 0), on even ground (128) or on a ridge
/// (towards 255): the mean curvature of the edges that leave it.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to a byte")]
fn relief(surface: &Surface, normals: &[Vector3<f64>]) -> Vec<u8> {
    let vertices = surface.vertices();
    let edges = || {
        surface.triangles().iter().flat_map(|[a, b, c]| {
            [(*a, *b), (*b, *c), (*c, *a)].map(|(from, to)| (from as usize, to as usize))
        })
    };
    let mut edge_count = vec![0.0_f64; vertices.len()];
    let mut curvature = vec![0.0; vertices.len()];
    for (from, to) in edges() {
        let along = vertices[to] - vertices[from];
        let square = along.norm_squared();
        if square > 0.0 {
            // An edge of length d on a sphere of radius r sinks d²/2r under the tangent plane.
            for (vertex, sunk) in [(from, along.dot(&normals[from])), (to, -along.dot(&normals[to]))] {
                curvature[vertex] -= 2.0 * sunk / square;
                edge_count[vertex] += 1.0;
            }
        }
    }
    for (sum, count) in curvature.iter_mut().zip(&edge_count) {
        *sum /= count.max(1.0);
    }
    for _ in 0..ROUNDS {
        let mut sums = curvature.clone();
        for (from, to) in edges() {
            sums[from] += curvature[to];
            sums[to] += curvature[from];
        }
        for (sum, count) in sums.iter_mut().zip(&edge_count) {
            *sum /= count + 1.0;
        }
        curvature = sums;
    }
    let light = |curvature: f64| 128.0 + 127.0 * (curvature / SHARPEST_PER_MM).clamp(-1.0, 1.0);
    curvature.into_iter().map(|curvature| light(curvature) as u8).collect()
}

/// The colour of the stone: the surface's own if it has colours; else that of teeth, and of the base
/// where no triangle about a vertex belongs to a tooth.
fn stone(surface: &Surface, arch: Arch) -> Vec<Tint> {
    if let Some(colours) = surface.colours() {
        return colours.iter().copied().map(Tint).collect();
    }
    let (crown, base) = match arch {
        Arch::Upper => (palette::UPPER_TEETH, palette::UPPER_GUM),
        Arch::Lower => (palette::LOWER_TEETH, palette::LOWER_GUM),
    };
    let Some(teeth) = surface.teeth() else { return vec![crown; surface.vertices().len()] };
    let mut tints = vec![base; surface.vertices().len()];
    for (triangle, tooth) in surface.triangles().iter().zip(teeth) {
        if tooth.is_some() {
            for corner in triangle {
                tints[*corner as usize] = crown;
            }
        }
    }
    tints
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A round hill on a plain, or a pit.
    fn hill(height: f64) -> Surface {
        let steps = 41_u32;
        let at = |step: u32| f64::from(step) * 0.25 - 5.0;
        let mut vertices = Vec::new();
        for row in 0..steps {
            for column in 0..steps {
                let (x, y) = (at(row), at(column));
                vertices.push(Vector3::new(x, y, height * (-(x * x + y * y)).exp()));
            }
        }
        let mut triangles = Vec::new();
        for row in 1..steps {
            for column in 1..steps {
                let corner = |row: u32, column: u32| row * steps + column;
                let (a, b) = (corner(row - 1, column - 1), corner(row, column - 1));
                let (c, d) = (corner(row, column), corner(row - 1, column));
                triangles.extend([[a, b, c], [a, c, d]]);
            }
        }
        Surface::new(vertices, triangles).unwrap()
    }

    const MIDDLE: usize = 20 * 41 + 20;
    const PLAIN: usize = 3 * 41 + 3;

    #[test]
    fn a_hilltop_is_lighter_than_the_plain_and_a_pit_darker() {
        for (height, is_so) in [(1.0, u8::gt as fn(&u8, &u8) -> bool), (-1.0, u8::lt)] {
            let ground = Ground::of(&hill(height), Arch::Lower);
            assert!(ground.normals[MIDDLE].z > 0.999);
            let (middle, plain) = (ground.stone[MIDDLE][3], ground.stone[PLAIN][3]);
            assert!(is_so(&middle, &plain) && middle.abs_diff(plain) > 40, "{height}: {middle} and {plain}");
            assert!(plain.abs_diff(128) < 2, "{plain}");
        }
    }

    #[test]
    fn curvature_is_that_of_the_sphere() {
        // The hill's top curves as a sphere of radius 1 / 2 h: 0.25 a millimetre for h = 0.125.
        let surface = hill(0.125);
        let light = f64::from(relief(&surface, &normals(&surface))[MIDDLE]);
        let curvature = (light - 128.0) / 127.0 * SHARPEST_PER_MM;
        // Smoothing over two rounds of neighbours takes some of the top off.
        assert!((0.17..0.26).contains(&curvature), "{curvature}");
    }

    #[test]
    fn each_reading_has_its_own_colour_and_no_reading_none() {
        let ground = Ground::of(&hill(0.0), Arch::Lower);
        let count = ground.stone.len();
        let rgb = |painted: &Painted, vertex: usize| Tint([0, 1, 2].map(|k| painted.0[vertex][k]));
        let mut gaps = vec![None; count];
        (gaps[0], gaps[1], gaps[2]) = (Some(0.0), Some(2.0), Some(-0.1));
        let map = ground.clearance(&gaps, 2.0);
        assert_eq!(rgb(&map, 0), palette::clearance(0.0));
        assert_eq!(rgb(&map, 1), palette::clearance(1.0));
        assert_eq!(rgb(&map, 2), palette::PIERCED);
        assert_eq!(rgb(&map, 3), palette::NOTHING_OPPOSITE);
    }
}
