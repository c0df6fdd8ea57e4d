//! The line along which the teeth of a cast stand.

use nalgebra::{Matrix4, Vector2, Vector3, Vector4};

use super::Surface;
use crate::cusp::Arch;
use crate::frame::{OcclusalPlane, UpperPoint};
use crate::units::Length;

/// Where a surface does not say which triangles are teeth, they are looked for in this part of its
/// height, from the biting edges on: crowns stand some 8 mm out of gum and base of about three times
/// that (common practice, no source).
const CROWNS: f64 = 0.25;
/// Distance between the places at which lengths along the arch are kept, in millimetres across.
const STEP_MM: f64 = 0.25;
/// Half width of the narrowest arch, in millimetres; what is narrower has no row to be fitted.
const NARROWEST_MM: f64 = 5.0;

/// The line along which the teeth of a cast stand, seen along the occlusal plane's normal: forward =
/// a + b y + c y² + d y⁴, y to the left, fitted to the area of the crowns by least squares. The
/// fourth power lets the arch be flatter in front and straighter at the sides than a parabola.
#[derive(Clone, Debug, PartialEq)]
pub struct ToothRow {
    plane: OcclusalPlane,
    terms: Vector4<f64>,
    height: f64,
    /// Left coordinate and length along the arch from the midline, from right to left.
    lengths: Vec<[f64; 2]>,
}

impl ToothRow {
    /// The row of teeth of a cast of an arch, at rest. `None` if it has no width, or stands nowhere.
    #[must_use]
    pub fn of(surface: &Surface, arch: Arch, plane: OcclusalPlane) -> Option<Self> {
        let crowns = crowns(surface, arch, plane);
        let (mut normal, mut rhs) = (Matrix4::zeros(), Vector4::zeros());
        let (mut area, mut moment) = (0.0, 0.0);
        let mut reach = [f64::INFINITY, f64::NEG_INFINITY];
        for (place, weight) in &crowns {
            let powers = powers(place.y);
            normal += powers * powers.transpose() * *weight;
            rhs += powers * (place.dot(&plane.anterior()) * weight);
            area += weight;
            moment += place.dot(&plane.normal()) * weight;
            reach = [reach[0].min(place.y), reach[1].max(place.y)];
        }
        if reach[1] - reach[0] < 2.0 * NARROWEST_MM || area <= 0.0 {
            return None;
        }
        let terms = normal.cholesky()?.solve(&rhs);
        let height = moment / area;
        let mut row = Self { plane, terms, height, lengths: Vec::new() };
        row.lengths = row.walked(reach);
        (row.lengths.len() > 1).then_some(row)
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
        let at = |end: Option<&[f64; 2]>| Length::mm(end.map_or(0.0, |[_, length]| *length));
        (at(self.lengths.first()), at(self.lengths.last()))
    }

    /// The place at a length along the arch from the midline, to the left, and the direction outward
    /// there: square to the arch within the occlusal plane. A length beyond the ends is taken at the
    /// end.
    #[must_use]
    pub fn at(&self, along: Length) -> (UpperPoint, Vector3<f64>) {
        let along = along.in_mm();
        let after =
            self.lengths.partition_point(|[_, length]| *length < along).clamp(1, self.lengths.len() - 1);
        let ([y0, s0], [y1, s1]) = (self.lengths[after - 1], self.lengths[after]);
        let part = ((along - s0) / (s1 - s0)).clamp(0.0, 1.0);
        let y = y0 + (y1 - y0) * part;
        let forward = self.plane.anterior();
        let place =
            forward * self.terms.dot(&powers(y)) + Vector3::y() * y + self.plane.normal() * self.height;
        let outward = (forward - Vector3::y() * self.slope(y)).normalize();
        (UpperPoint::from_coords(place), outward)
    }

    /// How far along the arch a place stands, from the midline to the left: at the nearest place of the
    /// line, seen along the occlusal plane's normal.
    #[must_use]
    pub fn along(&self, place: &UpperPoint) -> Length {
        let (forward, left) = (place.coords().dot(&self.plane.anterior()), place.y());
        let off = |y: f64| (self.terms.dot(&powers(y)) - forward).hypot(y - left);
        let nearest = self.lengths.iter().min_by(|a, b| off(a[0]).total_cmp(&off(b[0])));
        Length::mm(nearest.map_or(0.0, |[_, length]| *length))
    }

    /// How fast the line goes forward toward the left.
    fn slope(&self, y: f64) -> f64 {
        self.terms.dot(&Vector4::new(0.0, 1.0, 2.0 * y, 4.0 * y.powi(3)))
    }

    /// The length along the arch at steps across it, zero at the midline or the end nearest to it.
    #[allow(clippy::cast_possible_truncation, clippy::cast_precision_loss, clippy::cast_sign_loss)] // some hundreds
    fn walked(&self, [right, left]: [f64; 2]) -> Vec<[f64; 2]> {
        let steps = ((left - right) / STEP_MM).ceil().max(1.0);
        let y_at = |step: usize| right + (left - right) * (step as f64 / steps);
        let mut walked = vec![[right, 0.0]];
        for step in 1..=steps as usize {
            let (from, to) = (y_at(step - 1), y_at(step));
            let forward = self.terms.dot(&(powers(to) - powers(from)));
            let length = walked.last().map_or(0.0, |[_, length]| *length);
            walked.push([to, length + Vector2::new(to - from, forward).norm()]);
        }
        let middle = walked.iter().min_by(|a, b| a[0].abs().total_cmp(&b[0].abs())).copied();
        if let Some([y, length]) = middle {
            // The midline lies within a step of the place nearest to it, or beyond an end.
            let rest = if right < 0.0 && left > 0.0 { y * self.slope(y).hypot(1.0) } else { 0.0 };
            for [_, along] in &mut walked {
                *along -= length - rest;
            }
        }
        walked
    }
}

fn powers(y: f64) -> Vector4<f64> {
    Vector4::new(1.0, y, y * y, y.powi(4))
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

    /// The middles of a ribbon's triangles lie a third of a millimetre beside its line, to either side
    /// by turns; what that leaves in a fit.
    const ASIDE_MM: f64 = 0.1;

    /// A ribbon 2 mm wide across a known line, at a known height.
    fn ribbon(line: impl Fn(f64) -> f64) -> Surface {
        let mut vertices = Vec::new();
        for step in -300..=300 {
            let y = f64::from(step) / 10.0;
            for beside in [-1.0, 1.0] {
                vertices
                    .push(PLANE.anterior() * (line(y) + beside) + Vector3::y() * y + PLANE.normal() * -40.0);
            }
        }
        let strip = (0..600).flat_map(|step| {
            let first = 2 * step;
            [[first, first + 1, first + 2], [first + 1, first + 3, first + 2]]
        });
        Surface::new(vertices, strip.collect()).unwrap()
    }

    #[test]
    fn a_line_of_its_own_kind_is_found_again() {
        let line = |y: f64| 90.0 + 0.1 * y - 0.02 * y * y - 1e-5 * y.powi(4);
        let row = ToothRow::of(&ribbon(line), Arch::Lower, PLANE).unwrap();
        let (least, greatest) = row.reach();
        for part in [0.0, 0.2, 0.5, 0.9, 1.0] {
            let along = least + (greatest - least) * part;
            let (place, outward) = row.at(along);
            let off = place.coords().dot(&PLANE.anterior()) - line(place.y());
            assert!(off.abs() < ASIDE_MM, "{off} mm off at {along:?}");
            assert!((place.coords().dot(&PLANE.normal()) + 40.0).abs() < 1e-9);
            assert!(outward.dot(&PLANE.normal()).abs() < 1e-12);
            let beside = UpperPoint::from_coords(place.coords() + outward * 1.5);
            // Lengths are kept a quarter of a millimetre apart across, which is longer along a steep side.
            assert!((row.along(&beside).in_mm() - along.in_mm()).abs() < 1.0);
        }
    }

    #[test]
    fn lengths_along_the_arch_are_those_of_the_parabola_and_start_at_the_midline() {
        let row = ToothRow::of(&ribbon(|y| 90.0 - 0.02 * y * y), Arch::Upper, PLANE).unwrap();
        assert!(row.at(Length::ZERO).0.y().abs() < ASIDE_MM);
        // Length of a parabola x = k y² from its apex: (u √(1 + u²) + asinh u) / 4k with u = 2 k y.
        let (k, y) = (0.02_f64, 20.0_f64);
        let u = 2.0 * k * y;
        let length = (u * u.hypot(1.0) + u.asinh()) / (4.0 * k);
        for sign in [-1.0, 1.0] {
            let (place, outward) = row.at(Length::mm(sign * length));
            assert!((place.y() - sign * y).abs() < ASIDE_MM, "{} at {length}", place.y());
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
