//! Triangles gathered in millimetres, handed to the graphics crate in single precision at the end.

use kiss3d::glamx::{Mat3, Pose3, Quat, Vec3};
use nalgebra::Vector3;

use crate::geometry::poses::MemberPose;

/// Triangles with a normal at each corner.
#[derive(Clone, Debug, Default)]
pub struct Mesh {
    points: Vec<Vector3<f64>>,
    normals: Vec<Vector3<f64>>,
    faces: Vec<[u32; 3]>,
}

/// What the graphics crate takes.
pub struct Buffers {
    /// Corners.
    pub points: Vec<Vec3>,
    /// Their normals.
    pub normals: Vec<Vec3>,
    /// Triangles of corner numbers.
    pub faces: Vec<[u32; 3]>,
}

/// A vector in single precision, for the graphics crate.
#[must_use]
#[allow(clippy::cast_possible_truncation, reason = "the drawing edge")]
pub fn to_f32(vector: &Vector3<f64>) -> Vec3 {
    Vec3::new(vector.x as f32, vector.y as f32, vector.z as f32)
}

/// A member's pose in single precision, for the graphics crate.
#[must_use]
pub fn to_pose(pose: &MemberPose) -> Pose3 {
    let columns: Vec<Vec3> = pose.rotation.column_iter().map(|column| to_f32(&column.into_owned())).collect();
    let rotation = Quat::from_mat3(&Mat3::from_cols(columns[0], columns[1], columns[2]));
    Pose3::from_parts(to_f32(&pose.translation), rotation)
}

impl Mesh {
    /// Whether there is anything to draw.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.faces.is_empty()
    }

    /// The corners.
    #[must_use]
    pub fn points(&self) -> &[Vector3<f64>] {
        &self.points
    }

    /// The triangles.
    pub fn triangles(&self) -> impl Iterator<Item = [Vector3<f64>; 3]> {
        self.faces.iter().map(|face| face.map(|corner| self.points[corner as usize]))
    }

    /// The same mesh, every place moved by a rotation, or another linear map near to one, and a translation.
    #[must_use]
    pub fn moved(&self, map: &nalgebra::Matrix3<f64>, translation: &Vector3<f64>) -> Self {
        Self {
            points: self.points.iter().map(|point| map * point + translation).collect(),
            normals: self
                .normals
                .iter()
                .map(|normal| (map * normal).try_normalize(1e-12).unwrap_or(*normal))
                .collect(),
            faces: self.faces.clone(),
        }
    }

    /// In single precision.
    #[must_use]
    pub fn buffers(&self) -> Buffers {
        Buffers {
            points: self.points.iter().map(to_f32).collect(),
            normals: self.normals.iter().map(to_f32).collect(),
            faces: self.faces.clone(),
        }
    }

    /// A grid of points (rows of equal length) with smooth normals. Rows that close on themselves
    /// repeat their first point.
    pub fn grid(&mut self, rows: &[Vec<Vector3<f64>>]) {
        let Some(columns) = rows.first().map(Vec::len) else { return };
        let first = self.points.len();
        let closed = rows.iter().all(|row| row.first() == row.last());
        let at = |row: usize, column: usize| rows[row][column];
        for row in 0..rows.len() {
            for column in 0..columns {
                let (before, after) = match (column, closed) {
                    (0, true) => (columns - 2, 1),
                    (c, true) if c + 1 == columns => (c - 1, 1),
                    (c, _) => (c.saturating_sub(1), (c + 1).min(columns - 1)),
                };
                let across = at(row, after) - at(row, before);
                let along = at((row + 1).min(rows.len() - 1), column) - at(row.saturating_sub(1), column);
                self.points.push(at(row, column));
                self.normals.push(across.cross(&along).try_normalize(1e-12).unwrap_or_else(Vector3::z));
            }
        }
        for row in 1..rows.len() {
            for column in 1..columns {
                let corner = |row: usize, column: usize| index(first + row * columns + column);
                let (a, b) = (corner(row - 1, column - 1), corner(row - 1, column));
                let (c, d) = (corner(row, column - 1), corner(row, column));
                self.faces.extend([[a, b, d], [a, d, c]]);
            }
        }
    }

    /// A flat polygon, convex, corners in order.
    pub fn polygon(&mut self, corners: &[Vector3<f64>]) {
        let [a, b, c, ..] = corners else { return };
        let normal = (b - a).cross(&(c - a)).try_normalize(1e-12).unwrap_or_else(Vector3::z);
        let first = self.points.len();
        for corner in corners {
            self.points.push(*corner);
            self.normals.push(normal);
        }
        for next in 2..corners.len() {
            self.faces.push([index(first), index(first + next - 1), index(first + next)]);
        }
    }

    /// A solid between flat rings of equally many corners, closed at both ends.
    pub fn loft(&mut self, rings: &[Vec<Vector3<f64>>]) {
        let closed: Vec<Vec<_>> =
            rings.iter().map(|ring| ring.iter().chain(ring.first()).copied().collect()).collect();
        self.grid(&closed);
        if let (Some(first), Some(last)) = (rings.first(), rings.last()) {
            self.polygon(first);
            self.polygon(last);
        }
    }

    /// A round rod along a line, with a ball at each bend.
    pub fn rod(&mut self, line: &[Vector3<f64>], radius_mm: f64) {
        for piece in line.windows(2) {
            self.tube(piece, &|_| radius_mm);
        }
        for bend in line.iter().skip(1).take(line.len().saturating_sub(2)) {
            self.sphere(*bend, radius_mm);
        }
    }

    /// A round rod that tapers to a point at its end.
    pub fn spike(&mut self, from: Vector3<f64>, to: Vector3<f64>, radius_mm: f64) {
        self.tube(&[from, to], &|place| if place == 0 { radius_mm } else { 0.01 });
    }

    fn tube(&mut self, line: &[Vector3<f64>], radius_mm: &dyn Fn(usize) -> f64) {
        const CORNERS: u32 = 20;
        if line.len() < 2 {
            return;
        }
        let tangent = |place: usize| {
            let ahead = line[(place + 1).min(line.len() - 1)];
            let behind = line[place.saturating_sub(1)];
            (ahead - behind).try_normalize(1e-12).unwrap_or_else(Vector3::z)
        };
        let mut side = any_normal(&tangent(0));
        let mut rings = Vec::with_capacity(line.len());
        for (place, centre) in line.iter().enumerate() {
            let along = tangent(place);
            side =
                (side - along * along.dot(&side)).try_normalize(1e-9).unwrap_or_else(|| any_normal(&along));
            let up = along.cross(&side);
            rings.push(
                (0..CORNERS)
                    .map(|corner| {
                        let (sin, cos) =
                            (std::f64::consts::TAU * f64::from(corner) / f64::from(CORNERS)).sin_cos();
                        centre + (side * cos + up * sin) * radius_mm(place)
                    })
                    .collect(),
            );
        }
        self.loft(&rings);
    }

    /// A bar of rectangular section from one point to another; `up` is the direction of its height.
    pub fn bar(
        &mut self,
        from: Vector3<f64>,
        to: Vector3<f64>,
        up: Vector3<f64>,
        width_mm: f64,
        height_mm: f64,
    ) {
        let along = to - from;
        let across =
            up.cross(&along).try_normalize(1e-12).unwrap_or_else(|| any_normal(&up)) * (width_mm / 2.0);
        let up = along.cross(&across).try_normalize(1e-12).unwrap_or(up) * (height_mm / 2.0);
        let [a, b] = [from, to];
        let sides = [across + up, up - across, -across - up, across - up];
        for side in 0..4 {
            let (p, q) = (sides[side], sides[(side + 1) % 4]);
            self.polygon(&[a + p, a + q, b + q, b + p]);
        }
        self.polygon(&sides.map(|side| a + side));
        self.polygon(&sides.map(|side| b + side));
    }

    /// A sphere.
    pub fn sphere(&mut self, centre: Vector3<f64>, radius_mm: f64) {
        const PARALLELS: u32 = 16;
        const MERIDIANS: u32 = 28;
        let rows: Vec<Vec<_>> = (0..=PARALLELS)
            .map(|parallel| {
                let (sin, cos) =
                    (std::f64::consts::PI * f64::from(parallel) / f64::from(PARALLELS)).sin_cos();
                (0..=MERIDIANS)
                    .map(|meridian| {
                        let turn =
                            std::f64::consts::TAU * f64::from(meridian % MERIDIANS) / f64::from(MERIDIANS);
                        Vector3::new(sin * turn.cos(), sin * turn.sin(), cos)
                    })
                    .collect()
            })
            .collect();
        let first = self.points.len();
        self.grid(&rows);
        for (point, normal) in self.points[first..].iter_mut().zip(&mut self.normals[first..]) {
            *normal = *point;
            *point = centre + *point * radius_mm;
        }
    }

    /// A sheet of some thickness: the grid is the face that matters, `behind` points away from it.
    pub fn plate(&mut self, rows: &[Vec<Vector3<f64>>], behind: &[Vec<Vector3<f64>>]) {
        self.grid(rows);
        self.grid(behind);
        let rim = |grid: &[Vec<Vector3<f64>>]| -> Vec<Vector3<f64>> {
            let (Some(first), Some(last)) = (grid.first(), grid.last()) else { return Vec::new() };
            let mut rim = first.clone();
            rim.extend(grid[1..].iter().filter_map(|row| row.last()));
            rim.extend(last.iter().rev().skip(1));
            rim.extend(grid[..grid.len() - 1].iter().rev().filter_map(|row| row.first()));
            rim
        };
        let (front, back) = (rim(rows), rim(behind));
        for edge in 1..front.len() {
            self.polygon(&[front[edge - 1], front[edge], back[edge], back[edge - 1]]);
        }
    }
}

/// Some unit vector at right angles to another.
fn any_normal(vector: &Vector3<f64>) -> Vector3<f64> {
    let helper = if vector.z.abs() < 0.9 * vector.norm() { Vector3::z() } else { Vector3::x() };
    helper.cross(vector).try_normalize(1e-12).unwrap_or_else(Vector3::x)
}

#[allow(clippy::cast_possible_truncation, reason = "no mesh here has four thousand million corners")]
fn index(place: usize) -> u32 {
    place as u32
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sphere_keeps_its_radius_and_its_normals_point_outward() {
        let mut mesh = Mesh::default();
        let centre = Vector3::new(1.0, 2.0, 3.0);
        mesh.sphere(centre, 5.0);
        for (point, normal) in mesh.points.iter().zip(&mesh.normals) {
            assert!(((point - centre).norm() - 5.0).abs() < 1e-9);
            assert!((normal - (point - centre) / 5.0).norm() < 1e-9);
        }
    }

    #[test]
    fn a_rod_stays_at_its_radius_from_a_straight_line() {
        let mut mesh = Mesh::default();
        mesh.rod(&[Vector3::zeros(), Vector3::x() * 10.0], 2.0);
        assert!(mesh.points.iter().all(|p| ((p.y * p.y + p.z * p.z).sqrt() - 2.0).abs() < 1e-9));
    }

    #[test]
    fn empty_and_degenerate_forms_draw_nothing_and_do_not_fail() {
        let mut mesh = Mesh::default();
        mesh.rod(&[Vector3::zeros()], 1.0);
        mesh.grid(&[]);
        mesh.polygon(&[Vector3::zeros()]);
        assert!(mesh.is_empty());
        mesh.rod(&[Vector3::zeros(), Vector3::zeros()], 1.0);
        assert!(mesh.normals.iter().all(|n| n.norm().is_finite()));
    }
}
