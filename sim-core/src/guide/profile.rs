//! A recorded superior wall: monotone cubic through its points.

use std::sync::Arc;

use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

use super::PastEnd;

/// Most points that a profile may have; a tracing device writes some hundreds.
const MOST_POINTS: usize = 100_000;

/// A recorded path, starting at (0, 0), in millimetres of advance and drop.
///
/// Between the points runs the monotone piecewise cubic of Fritsch and Butland (SIAM J Sci Stat
/// Comput 1984;5:300–304, formula from memory), checked against SciPy's `PchipInterpolator`: it
/// has no bumps that the record has not.
#[derive(Clone, Debug, PartialEq)]
pub struct Profile {
    // Shared, so that an instrument is made ready without allocating.
    curve: Arc<Curve>,
}

#[derive(Debug, PartialEq)]
struct Curve {
    points: Vec<(f64, f64)>,
    /// One from each point to the next.
    pieces: Vec<Piece>,
}

/// Why a list of points is no profile.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum ProfileError {
    /// Fewer than two points, or too many.
    #[error("a profile has {given} points; allowed are 2 to {MOST_POINTS}")]
    Count {
        /// Number of points given.
        given: usize,
    },
    /// The first point is not the seat.
    #[error("a profile starts at ({advance}, {drop}); it must start at (0, 0), the seat")]
    Start {
        /// Advance of the first point.
        advance: f64,
        /// Drop of the first point.
        drop: f64,
    },
    /// A point that is not finite or out of any joint's reach.
    #[error("profile point {number} is ({advance}, {drop}); allowed are numbers within ±50 mm")]
    OutOfReach {
        /// Its place in the list, from 1.
        number: usize,
        /// Its advance.
        advance: f64,
        /// Its drop.
        drop: f64,
    },
    /// The advance does not grow.
    #[error(
        "profile point {number} has an advance of {advance} mm, not more than the {before} mm of the point before it"
    )]
    NotForward {
        /// Its place in the list, from 1.
        number: usize,
        /// Its advance.
        advance: f64,
        /// Advance of the point before.
        before: f64,
    },
}

impl Profile {
    /// A profile from its points (advance, drop) in millimetres.
    ///
    /// # Errors
    /// [`ProfileError`] unless there are two or more finite points, the first (0, 0), with growing
    /// advance.
    pub fn new(points: Vec<(f64, f64)>) -> Result<Self, ProfileError> {
        if points.len() < 2 || points.len() > MOST_POINTS {
            return Err(ProfileError::Count { given: points.len() });
        }
        for (index, &(advance, drop)) in points.iter().enumerate() {
            let number = index + 1;
            if !(advance.abs() <= 50.0 && drop.abs() <= 50.0) {
                return Err(ProfileError::OutOfReach { number, advance, drop });
            }
            if index == 0 {
                if advance != 0.0 || drop != 0.0 {
                    return Err(ProfileError::Start { advance, drop });
                }
            } else if advance <= points[index - 1].0 {
                return Err(ProfileError::NotForward { number, advance, before: points[index - 1].0 });
            }
        }
        let slopes = slopes(&points);
        let pieces = points.windows(2).zip(slopes.windows(2)).map(Piece::between).collect();
        Ok(Self { curve: Arc::new(Curve { points, pieces }) })
    }

    /// Whether both are one record, without looking at its points.
    pub(crate) fn is(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.curve, &other.curve)
    }

    /// The points it was made from, (advance, drop) in millimetres.
    #[must_use]
    pub fn points(&self) -> &[(f64, f64)] {
        &self.curve.points
    }

    /// f(a) in millimetres.
    #[inline]
    pub(crate) fn drop_mm(&self, advance_mm: f64) -> Result<f64, PastEnd> {
        let (Piece { v0, d0, quadratic, cubic, .. }, s) = self.piece(advance_mm)?;
        Ok(v0 + s * (d0 + s * (quadratic + s * cubic)))
    }

    /// f'(a).
    pub(crate) fn slope(&self, advance_mm: f64) -> Result<f64, PastEnd> {
        let (Piece { d0, quadratic, cubic, .. }, s) = self.piece(advance_mm)?;
        Ok(d0 + s * (2.0 * quadratic + 3.0 * s * cubic))
    }

    /// The cubic about an advance, and how far on it that is.
    #[inline]
    fn piece(&self, advance_mm: f64) -> Result<(&Piece, f64), PastEnd> {
        let Curve { points, pieces } = &*self.curve;
        let (last, ends_at_mm) = (pieces.len() - 1, points[pieces.len()].0);
        if advance_mm > ends_at_mm {
            return Err(PastEnd { path: "profile", ends_at_mm });
        }
        let after = pieces.partition_point(|piece| piece.a0 <= advance_mm);
        let piece = &pieces[after.saturating_sub(1).min(last)];
        Ok((piece, advance_mm - piece.a0))
    }
}

/// A cubic from the point before an advance, s past it: v0 + s·(d0 + s·(quadratic + s·cubic)).
#[derive(Clone, Copy, Debug, PartialEq)]
struct Piece {
    a0: f64,
    v0: f64,
    d0: f64,
    quadratic: f64,
    cubic: f64,
}

impl Piece {
    /// The cubic Hermite between two points with their slopes.
    fn between((points, slopes): (&[(f64, f64)], &[f64])) -> Self {
        let ((a0, v0), (a1, v1)) = (points[0], points[1]);
        let (d0, d1) = (slopes[0], slopes[1]);
        let step = a1 - a0;
        let secant = (v1 - v0) / step;
        let quadratic = (3.0 * secant - 2.0 * d0 - d1) / step;
        let cubic = (d0 + d1 - 2.0 * secant) / (step * step);
        Self { a0, v0, d0, quadratic, cubic }
    }
}

/// The derivative at each point: a weighted harmonic mean of the neighbouring secants, zero where
/// they differ in sign; at the ends a three-point formula held to the sign of the nearest secant.
fn slopes(points: &[(f64, f64)]) -> Vec<f64> {
    let steps: Vec<f64> = points.windows(2).map(|pair| pair[1].0 - pair[0].0).collect();
    let secants: Vec<f64> =
        points.windows(2).zip(&steps).map(|(pair, step)| (pair[1].1 - pair[0].1) / step).collect();
    if let [only] = secants[..] {
        return vec![only; 2];
    }
    let last = secants.len() - 1;
    let mut slopes = vec![end_slope(steps[0], steps[1], secants[0], secants[1])];
    for (h, d) in steps.windows(2).zip(secants.windows(2)) {
        slopes.push(if d[0] * d[1] <= 0.0 {
            0.0
        } else {
            let (w0, w1) = (2.0 * h[1] + h[0], h[1] + 2.0 * h[0]);
            (w0 + w1) / (w0 / d[0] + w1 / d[1])
        });
    }
    slopes.push(end_slope(steps[last], steps[last - 1], secants[last], secants[last - 1]));
    slopes
}

fn end_slope(near_step: f64, far_step: f64, near: f64, far: f64) -> f64 {
    let slope = ((2.0 * near_step + far_step) * near - near_step * far) / (near_step + far_step);
    if slope * near <= 0.0 {
        0.0
    } else if near * far <= 0.0 && slope.abs() > 3.0 * near.abs() {
        3.0 * near
    } else {
        slope
    }
}

impl<'de> Deserialize<'de> for Profile {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        Self::new(Vec::deserialize(deserializer)?).map_err(de::Error::custom)
    }
}

impl Serialize for Profile {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.curve.points.serialize(serializer)
    }
}
