//! The curve that the drawn teeth stand on: a cubic arch in the occlusal plane, laid so that the
//! scene's cusps fall on it.

use nalgebra::Vector3;
use sim_core::cusp::{Arch, Cusp};
use sim_core::frame::Side;
use sim_core::scene::Scene;

use super::landmarks::rest_point;

/// Mesiodistal crown widths of teeth 1 to 7 in millimetres, upper and lower (Wheeler's Dental
/// Anatomy, from memory).
const WIDTHS_MM: [[f64; 7]; 2] =
    [[8.5, 6.5, 7.5, 7.0, 7.0, 10.0, 9.0], [5.0, 5.5, 7.0, 7.0, 7.0, 11.0, 10.5]];
/// How far the upper arch stands outside the lower one. A drawing's choice.
const OVERJET_MM: f64 = 2.0;
/// Clear space between a pin and the teeth behind it. A drawing's choice.
const BEHIND_PIN_MM: f64 = 11.0;
/// How wide and how narrow the curve may become: its depth is this times the cube of the distance
/// from the midline, all in millimetres.
const CURVATURE: (f64, f64) = (0.0012, 0.004);
/// How far the teeth may be stretched or squeezed to meet the scene's cusps.
const STRETCH: (f64, f64) = (0.85, 1.2);
/// Rounds of laying the curve; it settles in two.
const ROUNDS: u32 = 4;
/// Step of the walk along the curve, in millimetres of y.
const STEP_MM: f64 = 0.1;

/// Where one tooth stands.
#[derive(Clone, Copy, Debug)]
pub struct ToothPlace {
    /// Middle of the tooth in the occlusal plane.
    pub middle: Vector3<f64>,
    /// Along the arch, toward the midline.
    pub mesial: Vector3<f64>,
    /// Outward.
    pub buccal: Vector3<f64>,
    /// Mesiodistal width.
    pub width_mm: f64,
}

/// The curve.
#[derive(Clone, Copy, Debug)]
pub struct Curve {
    origin: Vector3<f64>,
    anterior: Vector3<f64>,
    /// Normal of the occlusal plane, up.
    pub normal: Vector3<f64>,
    front: f64,
    curvature: f64,
    /// How far the teeth of both arches are stretched along it: one number, so that they keep to each other.
    stretch: f64,
}

impl Curve {
    /// The curve of a scene.
    #[must_use]
    pub fn of(scene: &Scene) -> Self {
        let (normal, anterior) = (scene.occlusal_plane.normal(), scene.occlusal_plane.anterior());
        let rest = rest_point(&scene.instrument);
        let tips: Vec<Vector3<f64>> = scene.cusps.iter().map(Cusp::at_mm).collect();
        let (origin, edge) =
            if scene.instrument.anterior_guide.has_pin() { (rest, -BEHIND_PIN_MM) } else { (rest, 0.0) };
        let origin =
            if tips.is_empty() { origin } else { tips.iter().sum::<Vector3<f64>>() / count(tips.len()) };
        let (narrow, wide) = CURVATURE;
        let curvature = (narrow + wide) / 2.0;
        let mut curve = Self { origin, anterior, normal, front: 0.0, curvature, stretch: 1.0 };
        curve.front = curve.along(&rest) + edge;
        // The middles of the teeth depend on the curve's direction, and the curve on the middles.
        for _ in 0..ROUNDS {
            let middles: Vec<Vector3<f64>> =
                scene.cusps.iter().map(|cusp| curve.middle_under(cusp)).collect();
            // The front stands clear of the pin and in front of every tooth.
            curve.front =
                middles.iter().map(|middle| curve.along(middle)).fold(curve.along(&rest) + edge, f64::max);
            let (mut top, mut bottom) = (0.0, 0.0);
            for middle in &middles {
                let cube = middle.y.abs().powi(3);
                top += (curve.front - curve.along(middle)) * cube;
                bottom += cube * cube;
            }
            if bottom > 1.0 {
                curve.curvature = (top / bottom).clamp(narrow, wide);
            }
            curve.stretch = curve.stretched(scene, &middles);
        }
        curve
    }

    /// How far the teeth are stretched along the curve to stand at the scene's cusps.
    fn stretched(&self, scene: &Scene, middles: &[Vector3<f64>]) -> f64 {
        let ratios: Vec<f64> = (scene.cusps.iter().zip(middles))
            .filter(|(_, middle)| middle.y.abs() > 1.0)
            .map(|(cusp, middle)| {
                let tooth = cusp.tooth();
                let along_own = self.along_arch(tooth.arch(), self.length_to(middle.y.abs()));
                along_own / nominal_middle(tooth.arch(), tooth.position())
            })
            .collect();
        if ratios.is_empty() {
            return 1.0;
        }
        (ratios.iter().sum::<f64>() / count(ratios.len())).clamp(STRETCH.0, STRETCH.1)
    }

    /// The length along an arch's own row, from the midline, of a length along the curve: the upper row
    /// stands outside the curve, and is longer by its distance times the angle that the curve has turned.
    fn along_arch(&self, arch: Arch, on_curve: f64) -> f64 {
        match arch {
            Arch::Lower => on_curve,
            Arch::Upper => on_curve + OVERJET_MM * self.slope(self.y_at(on_curve)).atan(),
        }
    }

    /// The length along the curve of a length along an arch's own row: the inverse, which grows.
    fn on_curve(&self, arch: Arch, along_own: f64) -> f64 {
        let (mut low, mut high) = (0.0, along_own.max(0.0));
        for _ in 0..40 {
            let middle = (low + high) / 2.0;
            if self.along_arch(arch, middle) < along_own { low = middle } else { high = middle }
        }
        (low + high) / 2.0
    }

    fn along(&self, point: &Vector3<f64>) -> f64 {
        (point - self.origin).dot(&self.anterior)
    }

    /// Middle of the lower curve under a cusp of the scene.
    fn middle_under(&self, cusp: &Cusp) -> Vector3<f64> {
        let (mesial, buccal) = on_tooth_mm(cusp);
        let at = cusp.at_mm();
        let outward = (self.anterior + Vector3::y() * self.slope(at.y)).normalize();
        let along = self.normal.cross(&outward);
        let toward_midline = if along.y * at.y > 0.0 { -along } else { along };
        let overjet = match cusp.tooth().arch() {
            Arch::Upper => OVERJET_MM,
            Arch::Lower => 0.0,
        };
        at - toward_midline * mesial - outward * (buccal + overjet)
    }

    /// How fast the curve goes back at a distance from the midline.
    fn slope(&self, y: f64) -> f64 {
        3.0 * self.curvature * y * y.abs()
    }

    fn length_step(&self, y: f64) -> f64 {
        self.slope(y).hypot(1.0) * STEP_MM
    }

    /// Length of the curve from the midline to a distance from it.
    fn length_to(&self, y: f64) -> f64 {
        let mut walked = (0.0, 0.0);
        while walked.0 < y {
            walked = (walked.0 + STEP_MM, walked.1 + self.length_step(walked.0));
        }
        walked.1
    }

    /// Distance from the midline at a length along the curve.
    fn y_at(&self, length: f64) -> f64 {
        let (mut y, mut walked) = (0.0, 0.0);
        while walked < length {
            walked += self.length_step(y);
            y += STEP_MM;
        }
        y
    }

    /// Where a tooth stands. `position` is 1 to 7 from the midline, `outward_y` the side's sign.
    #[must_use]
    pub fn tooth(&self, arch: Arch, position: u8, outward_y: f64) -> ToothPlace {
        let middle = self.on_curve(arch, nominal_middle(arch, position) * self.stretch);
        self.place(arch, middle, outward_y, width(arch, position) * self.stretch)
    }

    /// Length along the curve of half the arch, first to seventh tooth.
    #[must_use]
    pub fn half_length(&self, arch: Arch) -> f64 {
        self.on_curve(arch, WIDTHS_MM[row(arch)].iter().sum::<f64>() * self.stretch)
    }

    /// From where to where a tooth reaches along the curve, from the midline.
    #[must_use]
    pub fn span(&self, arch: Arch, position: u8) -> [f64; 2] {
        let (middle, half) = (nominal_middle(arch, position), width(arch, position) / 2.0);
        [middle - half, middle + half].map(|own| self.on_curve(arch, own * self.stretch))
    }

    /// A place on the curve at a length from the midline.
    #[must_use]
    pub fn place(&self, arch: Arch, length: f64, outward_y: f64, width_mm: f64) -> ToothPlace {
        let y = self.y_at(length.abs()) * outward_y * length.signum();
        let buccal = (self.anterior + Vector3::y() * self.slope(y)).normalize();
        let overjet = match arch {
            Arch::Upper => OVERJET_MM,
            Arch::Lower => 0.0,
        };
        let middle = self.origin
            + self.anterior * (self.front - self.curvature * y.abs().powi(3))
            + Vector3::y() * y
            + buccal * overjet;
        let along = self.normal.cross(&buccal);
        // Toward the midline: toward lesser |y|.
        let mesial = if along.y * outward_y > 0.0 { -along } else { along };
        ToothPlace { middle, mesial, buccal, width_mm }
    }
}

/// Where on a tooth a cusp of that name stands, in fractions of the half widths toward mesial and
/// toward buccal; the middle where the name does not say.
#[must_use]
pub fn named_place(name: &str) -> (f64, f64) {
    let name = name.to_lowercase();
    let says = |words: &[&str]| words.iter().any(|word| name.contains(word));
    let mesial = if says(&["mesi"]) { 0.5 } else { 0.0 } - if says(&["disto", "distal"]) { 0.5 } else { 0.0 };
    let buccal = if says(&["bucc", "vestib"]) { 0.55 } else { 0.0 }
        - if says(&["lingu", "palat"]) { 0.55 } else { 0.0 };
    (mesial, buccal)
}

/// Buccolingual width of a tooth as it is drawn, by its position from the midline. A drawing's choice.
#[must_use]
pub const fn buccolingual_mm(position: u8) -> f64 {
    match position {
        1 | 2 => 6.0,
        3 => 7.5,
        4 | 5 => 8.0,
        _ => 10.0,
    }
}

/// Where a cusp stands on its tooth as its name says, toward mesial and toward buccal from the middle.
fn on_tooth_mm(cusp: &Cusp) -> (f64, f64) {
    let tooth = cusp.tooth();
    let (mesial, buccal) = named_place(cusp.name());
    let (half_width, half_depth) =
        (width(tooth.arch(), tooth.position()) / 2.0, buccolingual_mm(tooth.position()) / 2.0);
    (mesial * half_width, buccal * half_depth)
}

/// Middle of a tooth along its arch from the midline, unstretched.
fn nominal_middle(arch: Arch, position: u8) -> f64 {
    let place = usize::from(position.clamp(1, 8)) - 1;
    let widths = &WIDTHS_MM[row(arch)];
    let width = widths.get(place).copied().unwrap_or(widths[6]);
    widths.iter().take(place).sum::<f64>() + width / 2.0
}

/// Position, 1 to 7 from the midline, of the tooth that usually stands at a length along its arch.
#[must_use]
pub fn position_at(arch: Arch, length_mm: f64) -> u8 {
    let off = |position: &u8| (nominal_middle(arch, *position) - length_mm).abs();
    (1..=7).min_by(|a, b| off(a).total_cmp(&off(b))).unwrap_or(7)
}

fn width(arch: Arch, position: u8) -> f64 {
    WIDTHS_MM[row(arch)][usize::from(position.clamp(1, 7)) - 1]
}

const fn row(arch: Arch) -> usize {
    match arch {
        Arch::Upper => 0,
        Arch::Lower => 1,
    }
}

#[allow(clippy::cast_precision_loss, reason = "a handful of cusps")]
fn count(number: usize) -> f64 {
    number as f64
}

/// The two places where the base of drawn teeth is fixed to its member, right and left, on the side away from the
/// teeth.
#[must_use]
pub fn fixings(scene: &Scene, arch: Arch) -> [Vector3<f64>; 2] {
    const BEHIND_CROWNS_MM: f64 = 11.5;
    let curve = Curve::of(scene);
    let length = curve.half_length(arch) * 0.72;
    let away = match arch {
        Arch::Upper => curve.normal,
        Arch::Lower => -curve.normal,
    };
    Side::BOTH.map(|side| curve.place(arch, length, side.outward_y(), 0.0).middle + away * BEHIND_CROWNS_MM)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_teeth_of_the_teaching_scene_stand_near_its_cusps() {
        let scene = Scene::thirty_degree();
        let curve = Curve::of(&scene);
        for cusp in &scene.cusps {
            let tooth = cusp.tooth();
            let place = curve.tooth(tooth.arch(), tooth.position(), tooth.side().outward_y());
            let off = (place.middle - cusp.at_mm()).norm();
            assert!(off < 8.0, "{tooth} {}: {off:.1} mm", cusp.name());
        }
    }

    #[test]
    fn right_and_left_mirror_each_other_and_mesial_is_toward_the_midline() {
        let curve = Curve::of(&Scene::thirty_degree());
        for position in 1..=7 {
            let (right, left) =
                (curve.tooth(Arch::Lower, position, -1.0), curve.tooth(Arch::Lower, position, 1.0));
            assert!((right.middle.y + left.middle.y).abs() < 1e-9);
            assert!(left.mesial.y < 0.0 && right.mesial.y > 0.0);
            assert!(left.middle.y > 0.0 && left.buccal.y >= 0.0);
        }
    }

    /// What a dentist calls a class I relation: each upper tooth opposes its lower namesake and the one
    /// behind it (the textbook rule of one tooth to two, from memory), and the upper arch ends just
    /// behind the lower one.
    #[test]
    fn every_upper_tooth_opposes_its_namesake_and_the_one_behind() {
        for text in [
            sim_core::scene::THIRTY_DEGREE,
            include_str!("../../../scenes/steep_guides.ron"),
            include_str!("../../../scenes/unequal_sides.ron"),
            include_str!("../../../scenes/curved_paths.ron"),
        ] {
            let curve = Curve::of(&Scene::from_ron(text).unwrap());
            let shared = |upper: u8, lower: u8| {
                let ([a, b], [c, d]) = (curve.span(Arch::Upper, upper), curve.span(Arch::Lower, lower));
                b.min(d) - a.max(c)
            };
            for position in 1..=7 {
                assert!(shared(position, position) > 1.0, "{position} on its namesake");
                if position < 7 {
                    assert!(shared(position, position + 1) > 0.5, "{position} on the one behind");
                }
                if position > 2 {
                    assert!(shared(position, position - 1) < 0.5, "{position} on the one before");
                }
            }
            let (upper, lower) = (curve.half_length(Arch::Upper), curve.half_length(Arch::Lower));
            assert!(upper > lower - 0.2 && upper < lower + 3.0, "upper ends at {upper}, lower at {lower}");
        }
    }

    #[test]
    fn neighbours_stand_shoulder_to_shoulder() {
        let curve = Curve::of(&Scene::thirty_degree());
        for arch in [Arch::Upper, Arch::Lower] {
            for position in 1..7 {
                let (here, next) = (curve.span(arch, position), curve.span(arch, position + 1));
                assert!((here[1] - next[0]).abs() < 1e-6, "{position}");
            }
        }
    }

    #[test]
    fn names_tell_where_a_cusp_stands() {
        assert_eq!(named_place("mesiobuccal"), (0.5, 0.55));
        assert_eq!(named_place("Disto-lingual"), (-0.5, -0.55));
        assert_eq!(named_place("tip"), (0.0, 0.0));
    }
}
