//! Closed shells face outward.

use std::f64::consts::PI;

use nalgebra::Vector3;

use super::orient::Patch;

/// How many shells are asked whether they are hollows, the largest ones. Each costs one look at
/// every triangle of the largest shell; a printed model has one hollow.
const MOST_HOLLOWS: usize = 64;

/// What was found of closed shells.
#[derive(Default)]
pub(super) struct Closed {
    /// How many there are.
    pub(super) count: usize,
    /// How many were inside out and have been turned.
    pub(super) turned: usize,
    /// How many are the walls of hollows inside the largest, and face into the hollow, as they should.
    pub(super) hollows: usize,
}

/// Turns closed shells outward by the sign of their volume. A shell that lies inside the largest one
/// and is the other way round is the wall of a hollow, as in a model printed hollow, and stays so.
pub(super) fn turn(vertices: &[Vector3<f64>], triangles: &mut [[u32; 3]], patches: &[Patch]) -> Closed {
    let mut shells: Vec<(&Patch, f64)> = patches
        .iter()
        .filter(|patch| patch.closed)
        .map(|patch| (patch, volume_mm3(vertices, triangles, patch)))
        .collect();
    // A stable sort: of equal ones the first in the file comes first.
    shells.sort_by(|one, other| other.1.abs().total_cmp(&one.1.abs()));
    let Some(&(largest, its_volume)) = shells.first() else {
        return Closed::default();
    };
    let mut closed = Closed { count: shells.len(), ..Closed::default() };
    let mut asked = 0;
    for (patch, volume) in shells {
        let mut hollow = false;
        if volume * its_volume < 0.0 && asked < MOST_HOLLOWS {
            asked += 1;
            let corner = vertices[triangles[patch.triangles[0] as usize][0] as usize];
            hollow = is_inside(vertices, triangles, largest, &corner);
        }
        closed.hollows += usize::from(hollow);
        if if hollow { volume > 0.0 } else { volume < 0.0 } {
            closed.turned += 1;
            for &at in &patch.triangles {
                triangles[at as usize].swap(1, 2);
            }
        }
    }
    closed
}

/// The volume that a closed patch encloses, negative where it is inside out.
fn volume_mm3(vertices: &[Vector3<f64>], triangles: &[[u32; 3]], patch: &Patch) -> f64 {
    let corners = |at: u32| triangles[at as usize].map(|index| vertices[index as usize]);
    // From a place on the patch, so that a frame far away costs no digits.
    let [origin, ..] = corners(patch.triangles[0]);
    let six = |&at: &u32| {
        let [a, b, c] = corners(at).map(|corner| corner - origin);
        a.dot(&b.cross(&c))
    };
    patch.triangles.iter().map(six).sum::<f64>() / 6.0
}

/// Whether a closed patch surrounds a place: its triangles fill the whole sphere seen from inside,
/// and cancel seen from outside. The angle of one triangle is Van Oosterom and Strackee's (from
/// memory).
fn is_inside(vertices: &[Vector3<f64>], triangles: &[[u32; 3]], patch: &Patch, place: &Vector3<f64>) -> bool {
    let solid_angle = |&at: &u32| {
        let [a, b, c] = triangles[at as usize].map(|index| vertices[index as usize] - place);
        let (la, lb, lc) = (a.norm(), b.norm(), c.norm());
        let below = la * lb * lc + a.dot(&b) * lc + b.dot(&c) * la + c.dot(&a) * lb;
        2.0 * a.dot(&b.cross(&c)).atan2(below)
    };
    patch.triangles.iter().map(solid_angle).sum::<f64>().abs() > 2.0 * PI
}
