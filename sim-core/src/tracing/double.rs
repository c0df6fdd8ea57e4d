//! A tracing drawn twice, with its apex in two places.

use nalgebra::Vector2;

use super::estimate::Estimate;
use super::fit::{LEAST_SCATTER_MM, least_distances, powers, solve};
use super::plate::PlatePoint;
use crate::units::Length;

/// Points farther than this from a leg belong to no second line of it.
const FARTHEST_MM: f64 = 3.0;
/// Fewest points in which two lines are looked for.
const FEWEST: usize = 14;
/// A line holds at least this part of the points: less are stray marks.
const LEAST_PART: f64 = 0.2;
/// How many times the scatter within the lines lies between them, at the least. Splitting one line
/// of normal scatter in two at its middle gives 2.65, and hardly ever above 4.
const LEAST_PARTING_SD: f64 = 4.5;
/// Nearer together than the width of a drawn line, two are one (common practice, no source).
pub(super) const LEAST_DISTANCE_MM: f64 = 0.2;
const MOST_ROUNDS: usize = 30;

/// The apex of the weaker of two tracings on one plate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SecondApex {
    /// Where it is.
    pub at: PlatePoint,
    /// Its distance from the apex of the stronger one.
    pub distance: Estimate<Length>,
}

/// The points of a leg told apart into two lines beside each other.
pub(super) struct Split {
    /// Per point of the leg: whether it belongs to the second line; nothing where it is too far
    /// from both.
    pub(super) line: Vec<Option<bool>>,
    /// Distance of the lines, in millimetres.
    pub(super) apart: Estimate<Length>,
}

/// Two parallel parabolas through the points of a leg, where they explain them much better than
/// one. `places` are (along, across); those outside `range` are assigned but not fitted.
pub(super) fn split(places: &[Vector2<f64>], (from, to): (f64, f64)) -> Option<Split> {
    let inside: Vec<Vector2<f64>> =
        places.iter().filter(|place| (from..=to).contains(&place.x)).copied().collect();
    let robust = least_distances(&inside)?;
    let close = |place: &Vector2<f64>| (place.y - robust.dot(&powers(place.x))).abs() <= FARTHEST_MM;
    let fitted: Vec<Vector2<f64>> = inside.into_iter().filter(close).collect();
    if fitted.len() < FEWEST {
        return None;
    }
    let (middle, _) = solve(fitted.iter().map(|place| (*place, 1.0)))?;
    let pairs = [middle, robust].map(|start| Pair::near(&fitted, start.dot(&powers(0.0)), start.into()));
    let pair = pairs.into_iter().flatten().min_by(|a, b| a.sum.total_cmp(&b.sum))?;
    let least = pair.counts[0].min(pair.counts[1]);
    let apart = (pair.offsets[1] - pair.offsets[0]).abs();
    let scatter = (pair.sum / (fitted.len() as f64 - 4.0)).sqrt().max(LEAST_SCATTER_MM);
    let parted = apart > LEAST_PARTING_SD * scatter && apart > LEAST_DISTANCE_MM;
    if !parted || (least as f64) < LEAST_PART * fitted.len() as f64 {
        return None;
    }
    let variance = scatter * scatter * (1.0 / pair.counts[0] as f64 + 1.0 / pair.counts[1] as f64);
    let line = places
        .iter()
        .map(|place| {
            let distance = pair.offsets.map(|offset| (pair.straightened(place) - offset).abs());
            (distance[0].min(distance[1]) <= FARTHEST_MM).then_some(distance[1] < distance[0])
        })
        .collect();
    Some(Split { line, apart: Estimate::<Length>::mm(apart, variance) })
}

/// across = offset of the line + slope·s + bend·s².
struct Pair {
    slope: f64,
    bend: f64,
    offsets: [f64; 2],
    counts: [usize; 2],
    /// Sum of squares.
    sum: f64,
}

impl Pair {
    /// Starts with the points on either side of one curve, and goes on until no point changes its
    /// line.
    fn near(places: &[Vector2<f64>], offset: f64, start: [f64; 3]) -> Option<Self> {
        let mut pair =
            Self { slope: start[1], bend: start[2], offsets: [offset; 2], counts: [0; 2], sum: 0.0 };
        let mut second: Vec<bool> = places.iter().map(|place| pair.straightened(place) > offset).collect();
        for _ in 0..MOST_ROUNDS {
            pair.fit(places, &second)?;
            let border = f64::midpoint(pair.offsets[0], pair.offsets[1]);
            let now: Vec<bool> = places.iter().map(|place| pair.straightened(place) > border).collect();
            if now == second {
                break;
            }
            second = now;
        }
        Some(pair)
    }

    /// Offset of the line on which a point would lie.
    fn straightened(&self, place: &Vector2<f64>) -> f64 {
        place.y - self.slope * place.x - self.bend * place.x * place.x
    }

    /// Slope and bend are common to both lines: they are fitted to the distances from each line's
    /// own means, then the offsets follow.
    fn fit(&mut self, places: &[Vector2<f64>], second: &[bool]) -> Option<()> {
        let mut sums = [[0.0; 4]; 2];
        for (place, line) in places.iter().zip(second) {
            let row = [1.0, place.x, place.x * place.x, place.y];
            sums[usize::from(*line)].iter_mut().zip(row).for_each(|(sum, value)| *sum += value);
        }
        if sums[0][0] == 0.0 || sums[1][0] == 0.0 {
            return None;
        }
        let means = sums.map(|sum| sum.map(|value| value / sum[0]));
        let (mut normal, mut right) = (nalgebra::Matrix2::zeros(), Vector2::zeros());
        for (place, line) in places.iter().zip(second) {
            let mean = &means[usize::from(*line)];
            let row = Vector2::new(place.x - mean[1], place.x * place.x - mean[2]);
            normal += row * row.transpose();
            right += row * (place.y - mean[3]);
        }
        let solved = normal.try_inverse()? * right;
        (self.slope, self.bend) = (solved.x, solved.y);
        self.offsets = means.map(|mean| mean[3] - self.slope * mean[1] - self.bend * mean[2]);
        self.counts = [sums[0][0] as usize, sums[1][0] as usize];
        self.sum = places
            .iter()
            .zip(second)
            .map(|(place, line)| (self.straightened(place) - self.offsets[usize::from(*line)]).powi(2))
            .sum();
        Some(())
    }
}
