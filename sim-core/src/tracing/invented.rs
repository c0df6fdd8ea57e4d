//! Invented tracings with known truth, for the tests.

use nalgebra::Vector2;

use super::{Leg, PlatePoint, Recorded};

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

    /// Normal, mean 0, standard deviation 1 (Box and Muller).
    pub(crate) fn normal(&mut self) -> f64 {
        let radius = (-2.0 * (1.0 - self.even()).ln()).sqrt();
        radius * (std::f64::consts::TAU * self.even()).cos()
    }
}

/// What an invented tracing is made of.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Made {
    pub(crate) apex: (f64, f64),
    /// Of the tangents at the apex, in the order of [`Leg::ALL`].
    pub(crate) angles_deg: [f64; 3],
    /// Of the legs, outward, per millimetre.
    pub(crate) bends_deg: [f64; 3],
    /// Between the lateral legs at the apex.
    pub(crate) radius_mm: f64,
    pub(crate) length_mm: f64,
    pub(crate) scatter_mm: f64,
    pub(crate) points: usize,
}

impl Default for Made {
    fn default() -> Self {
        Self {
            apex: (3.0, -2.0),
            angles_deg: [1.5, 58.0, 62.0],
            bends_deg: [0.0, 0.4, 0.5],
            radius_mm: 0.0,
            length_mm: 9.0,
            scatter_mm: 0.04,
            points: 60,
        }
    }
}

impl Made {
    /// The point of a leg at a distance along its tangent, without the arc at the apex.
    pub(crate) fn point(&self, leg: Leg, s: f64) -> Vector2<f64> {
        let index = leg as usize;
        let angle = self.angles_deg[index].to_radians();
        let side = leg.side_of_plate();
        let along = Vector2::new(-angle.cos(), side * angle.sin());
        let outward = Vector2::new(angle.sin(), side * angle.cos());
        let across = self.bends_deg[index].to_radians() * s * s / 2.0;
        Vector2::new(self.apex.0, self.apex.1) + along * s + outward * across
    }

    /// The points of a leg, evenly along it, scattered.
    pub(crate) fn leg(&self, leg: Leg, chance: &mut Chance) -> Vec<PlatePoint> {
        let half = (self.angles_deg[1] + self.angles_deg[2]).to_radians() / 2.0;
        let (centre_at, tangency) = (self.radius_mm / half.sin(), self.radius_mm / half.tan());
        let middle = (self.angles_deg[1] - self.angles_deg[2]).to_radians() / 2.0;
        let apex = Vector2::new(self.apex.0, self.apex.1);
        let centre = apex + Vector2::new(-middle.cos(), middle.sin()) * centre_at;
        (0..self.points)
            .map(|index| {
                let s = self.length_mm * (index as f64 + 0.5) / self.points as f64;
                let mut point = self.point(leg, s);
                if leg != Leg::Protrusive && s < tangency {
                    point = centre + (point - centre).normalize() * self.radius_mm;
                }
                point += Vector2::new(chance.normal(), chance.normal()) * self.scatter_mm;
                PlatePoint::from_vector(point)
            })
            .collect()
    }

    pub(crate) fn tracing(&self, seed: u64) -> Recorded {
        let mut chance = Chance(seed);
        let [protrusive, right, left] = Leg::ALL.map(|leg| self.leg(leg, &mut chance));
        Recorded::new(protrusive, right, left).unwrap()
    }
}

mod exact;
mod refused;
mod rough;
mod scatter;
