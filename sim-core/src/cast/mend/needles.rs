//! Triangles without area.

use nalgebra::Vector3;

use super::WELD;
use super::edges::{CROWDED, Edges, OPEN};

/// How often what is left of the needles is looked at again. A swap may leave a needle that the next
/// round swaps on; two needles on one another could go on for ever.
const ROUNDS: usize = 8;

/// What was done to needles.
#[derive(Default)]
pub(super) struct Needles {
    /// Removed by giving their long side to the triangle beyond it.
    pub(super) swapped: usize,
    /// Triangles to drop, ascending.
    pub(super) dropped: Vec<u32>,
}

/// Finds the needles, triangles whose third corner lies on their longest side to within [`WELD`], and
/// takes them out: a needle and the triangle beyond its longest side are a four-sided piece of
/// surface, which is cut along its other diagonal instead. So the surface stays closed where it was.
/// Where there is no one triangle beyond, the needle is to be dropped.
pub(super) fn take_out(vertices: &[Vector3<f64>], triangles: &mut [[u32; 3]]) -> Needles {
    let mut done = Needles::default();
    for round in 0..=ROUNDS {
        let needles: Vec<(u32, usize)> = (0_u32..)
            .zip(triangles.iter())
            .filter_map(|(at, triangle)| Some((at, longest_side_of_needle(vertices, triangle)?)))
            .filter(|(at, _)| done.dropped.binary_search(at).is_err())
            .collect();
        if needles.is_empty() {
            break;
        }
        let edges = Edges::of(triangles, vertices.len());
        let across = edges.across();
        let mut touched = vec![false; triangles.len()];
        let mut hopeless = Vec::new();
        for (needle, side) in needles {
            let beyond = across[needle as usize * 3 + side];
            if beyond == OPEN || beyond == CROWDED || round == ROUNDS {
                hopeless.push(needle);
                continue;
            }
            let other = beyond / 3;
            if touched[needle as usize] || touched[other as usize] {
                continue;
            }
            let tip = triangles[needle as usize][(side + 2) % 3];
            let [from, to, apex] =
                [0, 1, 2].map(|k| triangles[other as usize][(beyond as usize % 3 + k) % 3]);
            if tip == apex || edges.joins(tip, apex) {
                hopeless.push(needle);
                continue;
            }
            // Both keep the way round of the triangle that has an area.
            triangles[other as usize] = [from, tip, apex];
            triangles[needle as usize] = [tip, to, apex];
            touched[needle as usize] = true;
            touched[other as usize] = true;
            done.swapped += 1;
        }
        done.dropped.extend(hopeless);
        done.dropped.sort_unstable();
    }
    done
}

/// The side, 0 to 2, that the third corner lies on.
fn longest_side_of_needle(vertices: &[Vector3<f64>], triangle: &[u32; 3]) -> Option<usize> {
    let [a, b, c] = triangle.map(|index| vertices[index as usize]);
    let lengths = [(b - a).norm(), (c - b).norm(), (a - c).norm()];
    let side = (0..3).max_by(|&one, &other| lengths[one].total_cmp(&lengths[other]))?;
    let height = (b - a).cross(&(c - a)).norm() / lengths[side];
    // Written so that what is not a number counts as a needle.
    if height > WELD.mm() { None } else { Some(side) }
}
