//! Faces of more than three corners, cut into triangles.
//!
//! Own code, because the libraries for it leave out corners that lie on a straight side. The
//! neighbouring face has such a corner, and leaving it out would open the surface there.

use nalgebra::{Vector2, Vector3};

use crate::cast::error::Fault;
use crate::cast::limits::{MOST_COMPARED, MOST_CORNERS};

/// Cuts faces into triangles; keeps what it needs for the next one.
#[derive(Default)]
pub(super) struct Cutter {
    /// Corners seen along the face's normal.
    flat: Vec<Vector2<f64>>,
    /// For each corner the one before, among those not cut off.
    before: Vec<usize>,
    /// … and the one after.
    after: Vec<usize>,
    /// Whether the corner can be cut off.
    is_ear: Vec<bool>,
    /// The corners at which the face is hollow or straight. One that lies in a triangle of others has such a
    /// corner beside it there, so no others need to be looked for.
    hollow: Vec<usize>,
    /// How often a corner was compared with a triangle, over all faces.
    compared: u64,
}

impl Cutter {
    /// Cuts a face into its corners less two triangles, the same way round. The corners are indices in
    /// range. Where the face is hollow (concave) no triangle leaves it; a face that crosses itself is cut
    /// somehow.
    pub(super) fn cut(
        &mut self,
        vertices: &[Vector3<f64>],
        face: &[u32],
        triangles: &mut Vec<[u32; 3]>,
    ) -> Result<(), Fault> {
        match *face {
            [a, b, c] => triangles.push([a, b, c]),
            [_, _, _, _, ..] if face.len() <= MOST_CORNERS => {
                self.flatten(vertices, face);
                self.clip(face, triangles);
                if self.compared > MOST_COMPARED {
                    return Err(Fault::Hollow { most: MOST_COMPARED });
                }
            }
            _ => return Err(Fault::Corners { corners: face.len() }),
        }
        Ok(())
    }

    /// Looks at the face along the axis that its normal is nearest to.
    fn flatten(&mut self, vertices: &[Vector3<f64>], face: &[u32]) {
        let origin = vertices[face[0] as usize];
        let corner = |at: usize| vertices[face[at % face.len()] as usize] - origin;
        let normal: Vector3<f64> = (0..face.len()).map(|at| corner(at).cross(&corner(at + 1))).sum();
        let axis = normal.iamax();
        let (across, up) = ((axis + 1) % 3, (axis + 2) % 3);
        let (across, up) = if normal[axis] < 0.0 { (up, across) } else { (across, up) };
        self.flat.clear();
        self.flat.extend((0..face.len()).map(|at| Vector2::new(corner(at)[across], corner(at)[up])));
    }

    /// Cuts off one ear after another.
    fn clip(&mut self, face: &[u32], triangles: &mut Vec<[u32; 3]>) {
        let count = face.len();
        self.before.clear();
        self.before.extend((0..count).map(|at| (at + count - 1) % count));
        self.after.clear();
        self.after.extend((0..count).map(|at| (at + 1) % count));
        self.hollow.clear();
        for at in 0..count {
            if self.turn_at(at) <= 0.0 {
                self.hollow.push(at);
            }
        }
        self.is_ear.clear();
        for at in 0..count {
            let is_ear = self.can_cut(at);
            self.is_ear.push(is_ear);
        }
        let mut at = 0;
        // Once no ear is found the face crosses itself or has no area, and the rest is cut in order.
        let mut hopeless = false;
        for left in (3..=count).rev() {
            let mut looked = 0;
            while !hopeless && !self.is_ear[at] && left > 3 {
                at = self.after[at];
                looked += 1;
                hopeless = looked > left;
            }
            let (before, after) = (self.before[at], self.after[at]);
            triangles.push([face[before], face[at], face[after]]);
            self.after[before] = after;
            self.before[after] = before;
            if !hopeless {
                let filled = [before, after].map(|next| self.turn_at(next) > 0.0);
                self.hollow.retain(|&other| {
                    other != at && !(other == before && filled[0]) && !(other == after && filled[1])
                });
                for next in [before, after] {
                    self.is_ear[next] = self.can_cut(next);
                }
            }
            // Every other one, so that a round face does not become a fan of needles.
            at = self.after[after];
        }
    }

    /// Twice the area of the triangle at a corner, positive where the face bulges there.
    fn turn_at(&self, at: usize) -> f64 {
        turn(self.flat[self.before[at]], self.flat[at], self.flat[self.after[at]])
    }

    /// Whether the triangle at this corner lies in the face, with no other corner in or on it.
    fn can_cut(&mut self, at: usize) -> bool {
        let (before, after) = (self.before[at], self.after[at]);
        let [a, b, c] = [before, at, after].map(|corner| self.flat[corner]);
        if turn(a, b, c) <= 0.0 {
            return false;
        }
        self.compared += self.hollow.len() as u64;
        !self.hollow.iter().any(|&other| {
            let place = self.flat[other];
            // Corners that lie on those of the triangle are where a face touches itself.
            let touches = place == a || place == b || place == c;
            !touches && turn(a, b, place) >= 0.0 && turn(b, c, place) >= 0.0 && turn(c, a, place) >= 0.0
        })
    }
}

/// Twice the area of a triangle, positive where it turns left.
fn turn(a: Vector2<f64>, b: Vector2<f64>, c: Vector2<f64>) -> f64 {
    (b - a).perp(&(c - a))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A star of so many points: every other corner is hollow.
    fn star(corners: usize) -> Vec<Vector3<f64>> {
        let corner = |at: usize| {
            let (sin, cos) = (at as f64 / corners as f64 * std::f64::consts::TAU).sin_cos();
            Vector3::new(cos, sin, 0.0) * if at.is_multiple_of(2) { 20.0 } else { 12.0 }
        };
        (0..corners).map(corner).collect()
    }

    fn cut(cutter: &mut Cutter, vertices: &[Vector3<f64>]) -> Result<Vec<[u32; 3]>, Fault> {
        let face: Vec<u32> = (0..vertices.len() as u32).collect();
        let mut triangles = Vec::new();
        cutter.cut(vertices, &face, &mut triangles).map(|()| triangles)
    }

    #[test]
    fn a_round_face_is_cut_without_comparing_corners() {
        let corner = |at: u32| {
            let (sin, cos) = (f64::from(at) / 4096.0 * std::f64::consts::TAU).sin_cos();
            Vector3::new(20.0 * cos, 20.0 * sin, 0.0)
        };
        let mut cutter = Cutter::default();
        let triangles = cut(&mut cutter, &(0..4096).map(corner).collect::<Vec<_>>());
        assert_eq!(triangles.map(|triangles| triangles.len()), Ok(4094));
        assert!(cutter.compared < 4096, "{}", cutter.compared);
    }

    #[test]
    fn faces_with_too_many_hollows_are_refused_once_they_have_cost_too_much() {
        let vertices = star(4096);
        let mut cutter = Cutter::default();
        assert_eq!(cut(&mut cutter, &vertices).map(|triangles| triangles.len()), Ok(4094));
        let one = cutter.compared;
        assert!(one > 4096 && one < MOST_COMPARED / 20, "{one}");
        cutter.compared = MOST_COMPARED - one / 2;
        assert_eq!(cut(&mut cutter, &vertices), Err(Fault::Hollow { most: MOST_COMPARED }));
    }
}
