//! Sharp or rounded: the radius of the best-fitting arc at the apex.

use nalgebra::{Matrix6, SMatrix, Vector2, Vector6};

use super::estimate::Estimate;
use super::figures::meeting;
use super::fit::{Curve, Fit};
use crate::units::Length;

/// Largest radius that is tried; an arc of this is no apex at all.
const LARGEST_MM: f64 = 4.0;
/// Step between the radii tried.
const STEP_MM: f64 = 0.02;
/// Rounds of improving the legs for one radius; each starts from the last radius' legs.
const ROUNDS: usize = 3;
/// Scatter that is taken at the least, so that exact points still leave a scale to compare with.
const LEAST_SCATTER_MM: f64 = 1e-3;
/// A point pulls no harder than one this many standard deviations off.
const STRONGEST_PULL_SD: f64 = 4.0;
/// Rise of the sum of squares at the ends of the 95 % interval: chi-square, one degree of freedom.
const RISE_95_PERCENT: f64 = 3.841;
/// Rise of the sum of squares beyond which a sharp apex is ruled out: three standard deviations.
const RISE_RULED_OUT: f64 = 9.0;

/// A point is told from an arc where arcs of this many times the largest sharp radius are ruled out.
const CLEARLY_ROUNDED: f64 = 2.0;

/// Whether an apex is sharp.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// Within what a stylus leaves of a point.
    Sharp,
    /// Rounded, beyond the scatter of the points.
    Rounded,
    /// The points near the apex are too few or too scattered to tell.
    Unclear,
}

/// The arc that fits best between the two lateral legs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Roundness {
    /// Radius of the best-fitting arc; 0 is a point.
    pub radius: Length,
    /// The 95 % interval of the radius.
    pub interval: (Length, Length),
    /// Whether that is sharp.
    pub shape: Shape,
}

/// Fits the arc: for each radius, the legs are moved as their covariances let them until an arc of
/// that radius, tangent to both, passes nearest to the points at the apex (profile likelihood).
///
/// `near` are the points of the right and the left lateral leg nearer to the apex than the legs'
/// fits reach. `sharp_mm` is the largest radius that counts as sharp.
pub(super) fn roundness(laterals: [&Fit; 2], near: &[Vec<Vector2<f64>>; 2], sharp_mm: f64) -> Roundness {
    let scatter =
        (laterals[0].scatter_mm.hypot(laterals[1].scatter_mm) / 2.0_f64.sqrt()).max(LEAST_SCATTER_MM);
    let corner = Corner { laterals, near, scatter, stiffness: stiffness(laterals, scatter) };
    let mut moved = Vector6::zeros();
    let steps = (LARGEST_MM / STEP_MM).round() as usize;
    let profile: Vec<f64> = (0..=steps)
        .map(|step| {
            let radius = step as f64 * STEP_MM;
            for _ in 0..ROUNDS {
                moved = corner.improved(&moved, radius);
            }
            corner.cost(&moved, radius)
        })
        .collect();
    let best = (0..=steps).min_by(|a, b| profile[*a].total_cmp(&profile[*b])).unwrap_or(0);
    let rise = |step: usize| profile[step] - profile[best];
    let low = (0..best).rev().find(|step| rise(*step) > RISE_95_PERCENT).map_or(0, |step| step + 1);
    let high = (best..=steps).find(|step| rise(*step) > RISE_95_PERCENT).unwrap_or(steps);
    let mm = |step: usize| step as f64 * STEP_MM;
    let radius = mm(best) + STEP_MM * lean(&profile, best);
    let shape = if radius > sharp_mm && rise(0) > RISE_RULED_OUT {
        Shape::Rounded
    } else if mm(high) <= CLEARLY_ROUNDED * sharp_mm {
        Shape::Sharp
    } else {
        Shape::Unclear
    };
    Roundness {
        radius: Length::from_mm(radius),
        interval: (Length::from_mm(mm(low).min(radius)), Length::from_mm(mm(high).max(radius))),
        shape,
    }
}

/// Where between its neighbours the least value of a parabola through them lies, in steps.
fn lean(profile: &[f64], best: usize) -> f64 {
    if best == 0 || best + 1 >= profile.len() {
        return 0.0;
    }
    let (before, here, after) = (profile[best - 1], profile[best], profile[best + 1]);
    let bend = before - 2.0 * here + after;
    if bend > 0.0 { ((before - after) / (2.0 * bend)).clamp(-0.5, 0.5) } else { 0.0 }
}

/// Inverse of the legs' covariance.
fn stiffness(laterals: [&Fit; 2], scatter: f64) -> Matrix6<f64> {
    let mut whole = Matrix6::zeros();
    for (index, fit) in laterals.iter().enumerate() {
        // Points without scatter leave no covariance: as if they had the least.
        let scale = (scatter / fit.scatter_mm.max(f64::MIN_POSITIVE)).powi(2).max(1.0);
        let covariance =
            if fit.scatter_mm < LEAST_SCATTER_MM { fit.covariance * scale } else { fit.covariance };
        let inverse = covariance.try_inverse().unwrap_or_else(|| nalgebra::Matrix3::identity() * 1e12);
        whole.fixed_view_mut::<3, 3>(3 * index, 3 * index).copy_from(&inverse);
    }
    whole
}

struct Corner<'a> {
    laterals: [&'a Fit; 2],
    near: &'a [Vec<Vector2<f64>>; 2],
    scatter: f64,
    stiffness: Matrix6<f64>,
}

impl Corner<'_> {
    fn curves(&self, moved: &Vector6<f64>) -> [Curve; 2] {
        [0, 1].map(|index| {
            let mut curve = self.laterals[index].curve;
            curve.coefficients += moved.fixed_rows::<3>(3 * index);
            curve
        })
    }

    /// Distances of the near points from the legs and the arc between them, over the scatter.
    fn residuals(&self, moved: &Vector6<f64>, radius: f64) -> Vec<f64> {
        let curves = self.curves(moved);
        let Some(joined) = Joined::of(&curves, radius) else {
            return vec![f64::INFINITY; self.near[0].len() + self.near[1].len()];
        };
        let points =
            self.near.iter().enumerate().flat_map(|(leg, points)| points.iter().map(move |p| (leg, p)));
        points.map(|(leg, point)| joined.distance(leg, point) / self.scatter).collect()
    }

    fn cost(&self, moved: &Vector6<f64>, radius: f64) -> f64 {
        let points: f64 =
            self.residuals(moved, radius).iter().map(|r| r.powi(2).min(STRONGEST_PULL_SD.powi(2))).sum();
        points + (moved.transpose() * self.stiffness * moved).x
    }

    /// One Gauss-Newton step of the legs; the old place where it does not lessen the cost.
    fn improved(&self, moved: &Vector6<f64>, radius: f64) -> Vector6<f64> {
        let here = self.residuals(moved, radius);
        let mut normal = self.stiffness;
        let mut pull = -(self.stiffness * moved);
        // Steps a thousandth of what moves a near point by the scatter.
        let steps = Vector6::from_element(self.scatter * 1e-3);
        let columns: Vec<Vec<f64>> = (0..6)
            .map(|index| {
                let mut aside = *moved;
                aside[index] += steps[index];
                self.residuals(&aside, radius)
            })
            .collect();
        for (row, residual) in here.iter().enumerate() {
            if residual.abs() > STRONGEST_PULL_SD {
                continue;
            }
            let slope: SMatrix<f64, 6, 1> =
                Vector6::from_fn(|index, _| (columns[index][row] - residual) / steps[index]);
            if slope.iter().all(|value| value.is_finite()) {
                normal += slope * slope.transpose();
                pull -= slope * *residual;
            }
        }
        let Some(step) = normal.cholesky().map(|solved| solved.solve(&pull)) else { return *moved };
        let next = moved + step;
        if self.cost(&next, radius) < self.cost(moved, radius) { next } else { *moved }
    }
}

/// Two legs joined by an arc tangent to both.
struct Joined<'a> {
    curves: &'a [Curve; 2],
    apex: Vector2<f64>,
    /// Unit tangents at the apex, away from it.
    along: [Vector2<f64>; 2],
    centre: Vector2<f64>,
    radius: f64,
    /// Distance from the apex to where the arc leaves the legs.
    tangency: f64,
}

impl<'a> Joined<'a> {
    fn of(curves: &'a [Curve; 2], radius: f64) -> Option<Self> {
        let (apex, places) = meeting(&curves[0], &curves[1])?;
        let along = [curves[0].tangent(places[0]), curves[1].tangent(places[1])];
        let half = along[0].angle(&along[1]) / 2.0;
        let inward = (along[0] + along[1]).try_normalize(1e-9)?;
        Some(Self {
            curves,
            apex,
            along,
            centre: apex + inward * (radius / half.sin()),
            radius,
            tangency: radius / half.tan(),
        })
    }

    /// Distance of a point drawn with one of the legs.
    fn distance(&self, leg: usize, point: &Vector2<f64>) -> f64 {
        let from = point - self.apex;
        let on = |leg: usize| from.dot(&self.along[leg]) >= self.tangency;
        if on(leg) {
            self.curves[leg].residual(point).abs()
        } else if on(1 - leg) {
            self.curves[1 - leg].residual(point).abs()
        } else {
            ((point - self.centre).norm() - self.radius).abs()
        }
    }
}

impl Roundness {
    /// The radius as a value with a standard error: a quarter of the 95 % interval's width.
    #[must_use]
    pub fn estimate(&self) -> Estimate<Length> {
        let width = self.interval.1 - self.interval.0;
        Estimate { value: self.radius, standard_error: width * 0.25 }
    }

    /// Where the arc leaves the legs, from the apex, for legs that meet at an angle in radians.
    pub(super) fn tangency_mm(&self, apex_radians: f64) -> f64 {
        self.radius.mm() / (apex_radians / 2.0).tan()
    }
}
