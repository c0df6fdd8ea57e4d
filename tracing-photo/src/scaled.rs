//! Pixels to millimetres on the plate.

use sim_core::tracing::PlatePoint;

use super::error::PhotoError;
use super::legs::Legs;
use super::place::Pixel;
use super::scale::{Forward, Scale};

/// Pixels in a millimetre: a line of 0.3 mm then has two across, at the least.
const PER_MM: (f64, f64) = (6.0, 1000.0);
/// Least distance of the marks, in pixels.
const LEAST_APART: f64 = 20.0;
/// Farthest that the arrow may point from where the patient's front is said to be.
const ASKEW_DEG: f64 = 60.0;

impl Scale {
    pub(super) fn per_mm(&self) -> f64 {
        (self.marks[1] - self.marks[0]).norm() / self.apart_mm
    }

    pub(super) fn check(&self, width: u32, height: u32) -> Result<(), PhotoError> {
        for mark in &self.marks {
            let inside = |at: f64, size: u32| (-0.5..=f64::from(size) - 0.5).contains(&at);
            if !(inside(mark.x, width) && inside(mark.y, height)) {
                return Err(PhotoError::MarkOutside { x: mark.x, y: mark.y, width, height });
            }
        }
        let pixels = (self.marks[1] - self.marks[0]).norm();
        if pixels < LEAST_APART {
            return Err(PhotoError::MarksTogether { pixels });
        }
        let per_mm = self.per_mm();
        if !(PER_MM.0..=PER_MM.1).contains(&per_mm) {
            return Err(PhotoError::Scale { per_mm, least: PER_MM.0, most: PER_MM.1 });
        }
        Ok(())
    }

    /// Unit vector to the patient's front, in pixels.
    fn front(&self) -> Pixel {
        match self.forward {
            Forward::Clockwise(degrees) => {
                let (sin, cos) = degrees.to_radians().sin_cos();
                Pixel::new(sin, -cos)
            }
            Forward::AlongMarks => (self.marks[1] - self.marks[0]).normalize(),
        }
    }

    /// A place on the plate, from the first mark.
    pub(super) fn on_plate(&self, pixel: Pixel) -> PlatePoint {
        let front = self.front();
        // Seen from above, the patient's left is a quarter turn against the clock from the front.
        let left = Pixel::new(front.y, -front.x);
        let from = (pixel - self.marks[0]) / self.per_mm();
        PlatePoint::mm(from.dot(&front), from.dot(&left))
    }

    /// Legs in the order of `Leg::ALL`, by the arrow's own shape: the protrusive leg is the one
    /// between the others.
    pub(super) fn named(&self, mut legs: Legs) -> Result<Legs, PhotoError> {
        let ways = legs.ways();
        let turn = |from: &Pixel, to: &Pixel| from.perp(to).atan2(from.dot(to));
        // The middle leg has the others on its two sides, both nearer than the other way round.
        let spread = |middle: usize| {
            let others = [(middle + 1) % 3, (middle + 2) % 3];
            let [a, b] = others.map(|other| turn(&ways[middle], &ways[other]));
            if a * b < 0.0 { a.abs() + b.abs() } else { f64::INFINITY }
        };
        let middle = (0..3).min_by(|a, b| spread(*a).total_cmp(&spread(*b))).unwrap_or(0);
        let arrow = -ways[middle];
        let front = self.front();
        if arrow.angle(&front).to_degrees() > ASKEW_DEG {
            let clockwise = |way: &Pixel| way.x.atan2(-way.y).to_degrees().rem_euclid(360.0);
            let degrees = clockwise(&arrow);
            let nearest = ["up", "right", "down", "left"][((degrees + 45.0) / 90.0) as usize % 4];
            return Err(PhotoError::OtherWay { degrees, forward: clockwise(&front), nearest });
        }
        let left = Pixel::new(front.y, -front.x);
        let [a, b] = [(middle + 1) % 3, (middle + 2) % 3];
        let (right_lateral, left_lateral) =
            if ways[a].dot(&left) > ways[b].dot(&left) { (a, b) } else { (b, a) };
        legs.reorder([middle, right_lateral, left_lateral]);
        Ok(legs)
    }
}
