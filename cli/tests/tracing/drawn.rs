//! Invented tracings: an instrument's own, scattered, rounded or drawn twice, with known truth.

use std::fmt::Write as _;

use sim_core::excursion::{Mechanism, SampleCount};
use sim_core::frame::UpperPoint;
use sim_core::scene::Scene;
use sim_core::tracing::{Leg, PlatePoint, Tracing, draw};
use sim_core::units::{Angle, Length};

/// Numbers that look drawn by chance and are the same in every run (SplitMix64; Steele GL, Lea D,
/// Flood CH, OOPSLA 2014, from memory).
pub(crate) struct Chance(pub(crate) u64);

impl Chance {
    /// Between 0 and 1.
    pub(crate) fn even(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Normal, mean 0, standard deviation 1.
    pub(crate) fn normal(&mut self) -> f64 {
        let radius = (-2.0 * (1.0 - self.even()).ln()).sqrt();
        radius * (std::f64::consts::TAU * self.even()).cos()
    }
}

/// The flat rims of the scenes, with this lateral angle on the left guide.
pub(crate) fn rims(left_lateral_angle_deg: f64) -> Scene {
    let text =
        std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../scenes/flat_rims.ron")).unwrap();
    let mut scene = Scene::from_ron(&text).unwrap();
    scene.instrument.left_guide.lateral_angle = Angle::from_degrees(left_lateral_angle_deg);
    scene
}

/// The tracing of a scene's instrument, its stylus 20 mm ahead of the incisal point.
pub(crate) fn of(scene: &Scene, reach_mm: f64, points: i64) -> Tracing {
    let incisal = scene.instrument.incisal_point.coords();
    let stylus = UpperPoint::mm(incisal.x + 20.0, 0.0, incisal.z);
    let count = SampleCount::new(points).unwrap();
    draw(&Mechanism::new(&scene.instrument), &stylus, Length::from_mm(reach_mm), count).unwrap()
}

/// (forward, left) of the points of a leg, in mm, the apex laid on `apex`.
pub(crate) fn laid(tracing: &Tracing, leg: Leg, apex: (f64, f64)) -> Vec<(f64, f64)> {
    let place = |point: &PlatePoint| (point.forward.mm() + apex.0, point.left.mm() + apex.1);
    tracing.leg(leg).iter().map(place).collect()
}

/// The lateral legs' points near the apex moved onto an arc of a radius, tangent to straight legs
/// along their first millimetres.
pub(crate) fn rounded(legs: &mut [Vec<(f64, f64)>; 3], apex: (f64, f64), radius_mm: f64) {
    let direction = |leg: &Vec<(f64, f64)>| {
        let near = leg.iter().find(|p| (p.0 - apex.0).hypot(p.1 - apex.1) > 1.0).unwrap();
        let length = (near.0 - apex.0).hypot(near.1 - apex.1);
        ((near.0 - apex.0) / length, (near.1 - apex.1) / length)
    };
    let (right, left) = (direction(&legs[1]), direction(&legs[2]));
    let inward = (right.0 + left.0, right.1 + left.1);
    let length = inward.0.hypot(inward.1);
    let half = ((right.0 * left.0 + right.1 * left.1).acos()) / 2.0;
    let off = radius_mm / half.sin();
    let centre = (apex.0 + inward.0 / length * off, apex.1 + inward.1 / length * off);
    for (leg, along) in [(1, right), (2, left)] {
        for point in &mut legs[leg] {
            let along = (point.0 - apex.0) * along.0 + (point.1 - apex.1) * along.1;
            if along < radius_mm / half.tan() {
                let (x, y) = (point.0 - centre.0, point.1 - centre.1);
                let scale = radius_mm / x.hypot(y);
                *point = (centre.0 + x * scale, centre.1 + y * scale);
            }
        }
    }
}

/// The points scattered, to a hundredth of a millimetre more than their scatter can show.
pub(crate) fn scattered(legs: &mut [Vec<(f64, f64)>; 3], scatter_mm: f64, chance: &mut Chance) {
    for point in legs.iter_mut().flatten() {
        point.0 += scatter_mm * chance.normal();
        point.1 += scatter_mm * chance.normal();
    }
}

/// As a file has them.
pub(crate) fn csv(comment: &str, legs: &[Vec<(f64, f64)>; 3]) -> String {
    let mut text: String = comment.lines().map(|line| format!("# {line}\n")).collect();
    text.push_str("leg,forward_mm,left_mm\n");
    for (leg, points) in Leg::ALL.into_iter().zip(legs) {
        for (forward, left) in points {
            writeln!(text, "{},{forward:.3},{left:.3}", leg.name()).unwrap();
        }
    }
    text
}
