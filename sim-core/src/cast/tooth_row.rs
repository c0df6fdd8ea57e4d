//! The line along which the teeth of a cast stand.

use nalgebra::{SMatrix, SVector, Vector2, Vector3};

use super::Surface;
use crate::cusp::Arch;
use crate::frame::{OcclusalPlane, UpperPoint};
use crate::units::Length;

/// Where a surface does not say which triangles are teeth, they are looked for in this part of its
/// height, from the biting edges on: crowns stand some 8 mm out of gum and base of about three times
/// that (common practice, no source).
const CROWNS: f64 = 0.25;
/// Directions in which the distance to the row is kept.
const STEPS: u32 = 360;
/// Half width of the narrowest arch, in millimetres; what is narrower has no row to be fitted.
const NARROWEST_MM: f64 = 5.0;
/// Terms of the polynomial. With these, ellipses and parabolas of the size of an arch are met within
/// 0.4 mm and 6°; odd powers beyond the third would follow single teeth.
const TERMS: usize = 7;

/// The line along which the teeth of a cast stand, seen along the occlusal plane's normal.
///
/// From a point on the midline as far back as the crowns reach, the line's distance is a polynomial of
/// the direction φ to the left: a + b φ + c φ² + d φ³ + e φ⁴ + f φ⁶ + g φ⁸, fitted to the area of the crowns by
/// least squares. So the sides of an arch may run straight back, as they do at the molars.
#[derive(Clone, Debug, PartialEq)]
pub struct ToothRow {
    plane: OcclusalPlane,
    terms: SVector<f64, TERMS>,
    /// How far forward the point is from which the line is seen.
    back: f64,
    height: f64,
    /// Direction and length along the arch from the midline, from right to left.
    lengths: Vec<[f64; 2]>,
}

impl ToothRow {
    /// The row of teeth of a cast of an arch, at rest. `None` if it has no width, or stands nowhere.
    #[must_use]
    pub fn of(surface: &Surface, arch: Arch, plane: OcclusalPlane) -> Option<Self> {
        let crowns = crowns(surface, arch, plane);
        let forward = |place: &Vector3<f64>| place.dot(&plane.anterior());
        let extreme = |read: &dyn Fn(&Vector3<f64>) -> f64, of: fn(f64, f64) -> f64| {
            crowns.iter().map(|(place, _)| read(place)).reduce(of)
        };
        let back = extreme(&forward, f64::min)?;
        let width = extreme(&|place| place.y, f64::max)? - extreme(&|place| place.y, f64::min)?;
        let (mut normal, mut rhs) = (SMatrix::<f64, TERMS, TERMS>::zeros(), SVector::zeros());
        let (mut area, mut moment) = (0.0, 0.0);
        let mut reach = [f64::INFINITY, f64::NEG_INFINITY];
        for (place, weight) in &crowns {
            let from = Vector2::new(forward(place) - back, place.y);
            let direction = from.y.atan2(from.x);
            let powers = powers(direction);
            normal += powers * powers.transpose() * *weight;
            rhs += powers * (from.norm() * weight);
            area += weight;
            moment += place.dot(&plane.normal()) * weight;
            reach = [reach[0].min(direction), reach[1].max(direction)];
        }
        if width < 2.0 * NARROWEST_MM || area <= 0.0 {
            return None;
        }
        let terms = normal.cholesky()?.solve(&rhs);
        let mut row = Self { plane, terms, back, height: moment / area, lengths: Vec::new() };
        row.lengths = row.walked(reach);
        row.lengths.iter().flatten().all(|number| number.is_finite()).then_some(row)
    }

    /// The occlusal plane along whose normal the arch is seen.
    #[must_use]
    pub const fn plane(&self) -> OcclusalPlane {
        self.plane
    }

    /// How far the teeth reach along the arch from the midline: to the right (below zero) and to the
    /// left.
    #[must_use]
    pub fn reach(&self) -> (Length, Length) {
        let at = |end: Option<&[f64; 2]>| Length::from_mm(end.map_or(0.0, |[_, length]| *length));
        (at(self.lengths.first()), at(self.lengths.last()))
    }

    /// The place at a length along the arch from the midline, to the left, and the direction outward
    /// there: square to the arch within the occlusal plane. A length beyond the ends is taken at the
    /// end.
    #[must_use]
    pub fn at(&self, along: Length) -> (UpperPoint, Vector3<f64>) {
        let along = along.mm();
        let after =
            self.lengths.partition_point(|[_, length]| *length < along).clamp(1, self.lengths.len() - 1);
        let ([from, s0], [to, s1]) = (self.lengths[after - 1], self.lengths[after]);
        let direction = from + (to - from) * ((along - s0) / (s1 - s0)).clamp(0.0, 1.0);
        let place = self.place(direction);
        let (sin, cos) = direction.sin_cos();
        let (far, farther) = (self.terms.dot(&powers(direction)), self.terms.dot(&slopes(direction)));
        // Along the arch toward the left, turned a quarter to the right.
        let outward = Vector2::new(farther * sin + far * cos, far * sin - farther * cos).normalize();
        (
            UpperPoint::from_coords(self.lifted(place) + self.plane.normal() * self.height),
            self.lifted(outward),
        )
    }

    /// How far along the arch a place stands, from the midline to the left: at the nearest place of the
    /// line, seen along the occlusal plane's normal.
    #[must_use]
    pub fn along(&self, place: &UpperPoint) -> Length {
        let seen = Vector2::new(place.coords().dot(&self.plane.anterior()), place.y());
        let off = |direction: f64| (self.place(direction) - seen).norm_squared();
        let nearest = self.lengths.iter().min_by(|a, b| off(a[0]).total_cmp(&off(b[0])));
        Length::from_mm(nearest.map_or(0.0, |[_, length]| *length))
    }

    /// Forward and to the left, in the occlusal plane.
    fn lifted(&self, flat: Vector2<f64>) -> Vector3<f64> {
        self.plane.anterior() * flat.x + Vector3::y() * flat.y
    }

    /// The line's place in a direction: how far forward, how far to the left.
    fn place(&self, direction: f64) -> Vector2<f64> {
        let (sin, cos) = direction.sin_cos();
        Vector2::new(self.back, 0.0) + Vector2::new(cos, sin) * self.terms.dot(&powers(direction))
    }

    /// The length along the arch at steps of direction, zero at the midline or the end nearest to it.
    fn walked(&self, [right, left]: [f64; 2]) -> Vec<[f64; 2]> {
        let direction = |step: u32| right + (left - right) * f64::from(step) / f64::from(STEPS);
        let mut walked = vec![[right, 0.0]];
        let mut length = 0.0;
        for step in 1..=STEPS {
            length += (self.place(direction(step)) - self.place(direction(step - 1))).norm();
            walked.push([direction(step), length]);
        }
        let middle = 0.0_f64.max(right).min(left);
        let after = walked.partition_point(|[direction, _]| *direction < middle).clamp(1, walked.len() - 1);
        let ([from, s0], [to, s1]) = (walked[after - 1], walked[after]);
        let at_middle = s0 + (s1 - s0) * ((middle - from) / (to - from));
        walked.into_iter().map(|[direction, length]| [direction, length - at_middle]).collect()
    }
}

fn powers(direction: f64) -> SVector<f64, TERMS> {
    SVector::from([0, 1, 2, 3, 4, 6, 8].map(|power| direction.powi(power)))
}

/// How fast each of the powers grows.
fn slopes(direction: f64) -> SVector<f64, TERMS> {
    SVector::from([
        0.0,
        1.0,
        2.0 * direction,
        3.0 * direction.powi(2),
        4.0 * direction.powi(3),
        6.0 * direction.powi(5),
        8.0 * direction.powi(7),
    ])
}

/// Middles and areas of the triangles of the crowns.
fn crowns(surface: &Surface, arch: Arch, plane: OcclusalPlane) -> Vec<(Vector3<f64>, f64)> {
    let of = |triangle: usize| {
        let [a, b, c] = surface.corners(triangle);
        ((a + b + c) / 3.0, (b - a).cross(&(c - a)).norm() / 2.0)
    };
    let all = 0..surface.triangles().len();
    if let Some(teeth) = surface.teeth() {
        let labelled: Vec<_> = all.clone().filter(|triangle| teeth[*triangle].is_some()).map(of).collect();
        if !labelled.is_empty() {
            return labelled;
        }
    }
    let toward = match arch {
        Arch::Upper => -plane.normal(),
        Arch::Lower => plane.normal(),
    };
    let middles: Vec<_> = all.map(of).collect();
    let heights = || middles.iter().map(|(place, _)| place.dot(&toward));
    let (low, high) = (heights().fold(f64::INFINITY, f64::min), heights().fold(f64::NEG_INFINITY, f64::max));
    middles.iter().filter(|(place, _)| place.dot(&toward) >= high - CROWNS * (high - low)).copied().collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Angle;

    const PLANE: OcclusalPlane = OcclusalPlane { inclination: Angle::from_degrees(10.0) };

    /// A ribbon 2 mm wide about a line of places (forward, to the left) with directions outward.
    fn ribbon(line: impl Fn(f64) -> (Vector2<f64>, Vector2<f64>)) -> Surface {
        let mut vertices = Vec::new();
        for step in -300..=300 {
            let (place, outward) = line(f64::from(step) / 300.0);
            for beside in [-1.0, 1.0] {
                let flat = place + outward * beside;
                vertices.push(PLANE.anterior() * flat.x + Vector3::y() * flat.y + PLANE.normal() * -40.0);
            }
        }
        let strip = (0..600).flat_map(|step| {
            let first = 2 * step;
            [[first, first + 1, first + 2], [first + 1, first + 3, first + 2]]
        });
        Surface::new(vertices, strip.collect()).unwrap()
    }

    /// Half an ellipse of the size of an arch, which runs straight back at its ends.
    fn ellipse(part: f64) -> (Vector2<f64>, Vector2<f64>) {
        let (long, half_width) = (42.0, 27.0);
        let (sin, cos) = (part * std::f64::consts::FRAC_PI_2).sin_cos();
        let outward = Vector2::new(cos / long, sin / half_width).normalize();
        (Vector2::new(48.0 + long * cos, half_width * sin), outward)
    }

    fn parabola(part: f64) -> (Vector2<f64>, Vector2<f64>) {
        let y = 27.0 * part;
        (Vector2::new(90.0 - 0.045 * y * y, y), Vector2::new(1.0, 0.09 * y).normalize())
    }

    #[test]
    fn arches_of_known_form_are_followed_and_cut_square() {
        for line in [ellipse, parabola] {
            let row = ToothRow::of(&ribbon(line), Arch::Lower, PLANE).unwrap();
            // Not quite at the ends, beyond which there is nothing to fit.
            for step in -18..=18 {
                let (expected, normal) = line(f64::from(step) / 20.0);
                let beside = PLANE.anterior() * expected.x + Vector3::y() * expected.y;
                let (place, outward) = row.at(row.along(&UpperPoint::from_coords(beside)));
                let off = Vector2::new(place.coords().dot(&PLANE.anterior()), place.y()) - expected;
                assert!(off.dot(&normal).abs() < 0.4, "{} mm off at {expected}", off.dot(&normal));
                let skew = outward.dot(&(PLANE.anterior() * normal.x + Vector3::y() * normal.y)).acos();
                assert!(skew.to_degrees() < 6.0, "{}° skew at {expected}", skew.to_degrees());
                assert!((place.coords().dot(&PLANE.normal()) + 40.0).abs() < 1e-9);
                assert!(outward.dot(&PLANE.normal()).abs() < 1e-12);
            }
        }
    }

    #[test]
    fn lengths_along_the_arch_are_those_of_the_parabola_and_start_at_the_midline() {
        let row = ToothRow::of(&ribbon(parabola), Arch::Upper, PLANE).unwrap();
        // What the middles of the ribbon's triangles, a third of a millimetre beside it, leave.
        assert!(row.at(Length::ZERO).0.y().abs() < 0.1);
        // Length of a parabola x = k y² from its apex: (u √(1 + u²) + asinh u) / 4k with u = 2 k y.
        let (k, y) = (0.045_f64, 20.0_f64);
        let u = 2.0 * k * y;
        let length = (u * u.hypot(1.0) + u.asinh()) / (4.0 * k);
        for sign in [-1.0, 1.0] {
            let (place, outward) = row.at(Length::from_mm(sign * length));
            assert!((place.y() - sign * y).abs() < 0.4, "{} at {length}", place.y());
            assert!(outward.y * sign > 0.0 && outward.dot(&PLANE.anterior()) > 0.0);
        }
    }

    #[test]
    fn what_has_no_width_has_no_row() {
        let corners = [[0.0, 0.0, 0.0], [1.0, 0.0, 0.0], [0.0, 1.0, 0.0]].map(Vector3::from);
        let surface = Surface::new(corners.to_vec(), vec![[0, 1, 2]]).unwrap();
        assert_eq!(ToothRow::of(&surface, Arch::Lower, PLANE), None);
    }
}
