//! A parabola through the points of a leg.

use nalgebra::{Matrix3, Vector2, Vector3};

use crate::units::Length;

/// Points farther from the curve than this many standard deviations are set aside: of 2,000 points
/// with normal scatter, one.
const SET_ASIDE_SD: f64 = 3.5;
/// The standard deviation of a normal distribution, over its median absolute deviation.
const SD_OVER_MEDIAN: f64 = 1.4826;
/// Scatter below which points count as lying on the curve; far below what any plate shows. It is
/// also what the cubic part of a true leg leaves over a few millimetres.
pub(super) const LEAST_SCATTER_MM: f64 = 1e-4;
/// Rounds of weighting after which the choice of points is as good as it gets.
const MOST_ROUNDS: usize = 25;

/// Distances along a leg, from the apex outward.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range {
    /// The nearer end; points within it may lie on a rounded apex.
    pub from: Length,
    /// The farther end.
    pub to: Length,
}

/// A frame on the plate with one axis along a leg, away from the apex.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct LegFrame {
    pub(super) origin: Vector2<f64>,
    /// Unit vector.
    pub(super) along: Vector2<f64>,
}

impl LegFrame {
    /// Unit vector, a quarter turn from `along` in the sense from forward to left.
    pub(super) fn across(&self) -> Vector2<f64> {
        Vector2::new(-self.along.y, self.along.x)
    }

    /// (along, across) of a point, in millimetres.
    pub(super) fn place(&self, point: &Vector2<f64>) -> Vector2<f64> {
        let from = point - self.origin;
        Vector2::new(from.dot(&self.along), self.along.perp(&from))
    }
}

/// across = c₀ + c₁·s + c₂·s², with s along, in a leg's frame, millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Curve {
    pub(super) frame: LegFrame,
    pub(super) coefficients: Vector3<f64>,
}

impl Curve {
    pub(super) fn across(&self, s: f64) -> f64 {
        self.coefficients.dot(&powers(s))
    }

    pub(super) fn slope(&self, s: f64) -> f64 {
        self.coefficients[1] + 2.0 * self.coefficients[2] * s
    }

    /// The point at s.
    pub(super) fn point(&self, s: f64) -> Vector2<f64> {
        self.frame.origin + self.frame.along * s + self.frame.across() * self.across(s)
    }

    /// Unit tangent at s, away from the apex.
    pub(super) fn tangent(&self, s: f64) -> Vector2<f64> {
        (self.frame.along + self.frame.across() * self.slope(s)).normalize()
    }

    /// How far across the curve a point lies; the slope is small, so that this is its distance to
    /// the second order.
    pub(super) fn residual(&self, point: &Vector2<f64>) -> f64 {
        let place = self.frame.place(point);
        (place.y - self.across(place.x)) / self.slope(place.x).hypot(1.0)
    }

    /// Place along the leg of a point.
    pub(super) fn along(&self, point: &Vector2<f64>) -> f64 {
        self.frame.place(point).x
    }
}

/// A curve with what the scatter of its points leaves it.
#[derive(Clone, Debug)]
pub(super) struct Fit {
    pub(super) curve: Curve,
    /// Covariance of the coefficients.
    pub(super) covariance: Matrix3<f64>,
    /// Standard deviation of the points across the curve, in millimetres, by their degrees of
    /// freedom.
    pub(super) scatter_mm: f64,
    pub(super) used: usize,
    /// Places along the leg of the nearest and the farthest point used.
    pub(super) reach: (f64, f64),
}

pub(super) fn powers(s: f64) -> Vector3<f64> {
    Vector3::new(1.0, s, s * s)
}

/// Weighted least squares; nothing where the points do not settle three coefficients.
pub(super) fn solve(
    places: impl Iterator<Item = (Vector2<f64>, f64)>,
) -> Option<(Vector3<f64>, Matrix3<f64>)> {
    let (mut normal, mut right) = (Matrix3::zeros(), Vector3::zeros());
    for (place, weight) in places {
        let row = powers(place.x);
        normal += weight * row * row.transpose();
        right += weight * place.y * row;
    }
    let inverse = normal.cholesky()?.inverse();
    let coefficients = inverse * right;
    coefficients.iter().all(|c| c.is_finite()).then_some((coefficients, inverse))
}

/// The curve from which the sum of distances is least (by reweighting): a start that far points do
/// not pull away.
pub(super) fn least_distances(places: &[Vector2<f64>]) -> Option<Vector3<f64>> {
    let mut weights = vec![1.0; places.len()];
    let mut coefficients = None;
    for _ in 0..MOST_ROUNDS {
        let (now, _) = solve(places.iter().copied().zip(weights.iter().copied()))?;
        for (weight, place) in weights.iter_mut().zip(places) {
            *weight = 1.0 / (place.y - now.dot(&powers(place.x))).abs().max(LEAST_SCATTER_MM);
        }
        coefficients = Some(now);
    }
    coefficients
}

impl Fit {
    /// Least squares through the points at places within `(from, to)` along the frame, without the
    /// ones set aside. Nothing where fewer than `fewest` are left.
    pub(super) fn through(
        frame: LegFrame,
        points: &[Vector2<f64>],
        (from, to): (f64, f64),
        fewest: usize,
    ) -> Option<Self> {
        let places: Vec<Vector2<f64>> = points
            .iter()
            .map(|point| frame.place(point))
            .filter(|place| (from..=to).contains(&place.x))
            .collect();
        if places.len() < fewest {
            return None;
        }
        let mut coefficients = least_distances(&places)?;
        let mut kept = Vec::new();
        for _ in 0..MOST_ROUNDS {
            let residual = |place: &Vector2<f64>| (place.y - coefficients.dot(&powers(place.x))).abs();
            let most = SET_ASIDE_SD * scatter(places.iter().map(residual).collect());
            let now: Vec<Vector2<f64>> =
                places.iter().filter(|place| residual(place) <= most).copied().collect();
            if now.len() < fewest {
                return None;
            }
            let same = now == kept;
            kept = now;
            if same {
                break;
            }
            (coefficients, _) = solve(kept.iter().map(|place| (*place, 1.0)))?;
        }
        let (coefficients, inverse) = solve(kept.iter().map(|place| (*place, 1.0)))?;
        let sum: f64 = kept.iter().map(|place| (place.y - coefficients.dot(&powers(place.x))).powi(2)).sum();
        let scatter_mm = (sum / (kept.len() - 3) as f64).sqrt();
        let reach = kept
            .iter()
            .fold((f64::INFINITY, 0.0_f64), |(low, high), place| (low.min(place.x), high.max(place.x)));
        Some(Self {
            curve: Curve { frame, coefficients },
            covariance: inverse * scatter_mm * scatter_mm,
            scatter_mm,
            used: kept.len(),
            reach,
        })
    }

    /// Whether a point lies so near the curve that it was not set aside.
    pub(super) fn keeps(&self, point: &Vector2<f64>) -> bool {
        self.curve.residual(point).abs() <= SET_ASIDE_SD * self.scatter_mm.max(LEAST_SCATTER_MM)
    }
}

/// Standard deviation from the median of the distances, which far points do not move; enlarged for
/// the three coefficients that were fitted.
fn scatter(mut distances: Vec<f64>) -> f64 {
    let count = distances.len();
    let (_, &mut median, _) = distances.select_nth_unstable_by(count / 2, f64::total_cmp);
    let freedom = (count as f64 / (count as f64 - 3.0)).sqrt();
    (SD_OVER_MEDIAN * median * freedom).max(LEAST_SCATTER_MM)
}
