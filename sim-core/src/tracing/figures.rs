//! What is read off three curves, and how the scatter of their points carries over to it.

use nalgebra::{DMatrix, DVector, Matrix2, Vector2};

use super::fit::{Curve, Fit};
use super::{Leg, estimate::Estimate};
use crate::units::{Angle, Length};

/// Steps after which two curves either have met or never do.
const MOST_STEPS: usize = 50;
/// Two places are one within this.
const SAME_PLACE_MM: f64 = 1e-12;

/// Where two curves meet near their origins: the point, and its place along each.
pub(super) fn meeting(first: &Curve, second: &Curve) -> Option<(Vector2<f64>, [f64; 2])> {
    let mut places = Vector2::zeros();
    for _ in 0..MOST_STEPS {
        let apart = second.point(places[1]) - first.point(places[0]);
        let way = |curve: &Curve, s: f64| curve.frame.along + curve.frame.across() * curve.slope(s);
        let ways = Matrix2::from_columns(&[way(first, places[0]), -way(second, places[1])]);
        let step = ways.try_inverse()? * apart;
        places += step;
        if step.amax() <= SAME_PLACE_MM {
            break;
        }
    }
    let point = first.point(places[0]);
    let met = (point - second.point(places[1])).norm() < 1e-6;
    (met && point.iter().all(|x| x.is_finite())).then_some((point, [places[0], places[1]]))
}

/// Where a curve is so far from a point, going outward.
fn at_distance(curve: &Curve, from: &Vector2<f64>, distance: f64) -> Option<f64> {
    let mut s = curve.along(from) + distance;
    for _ in 0..MOST_STEPS {
        let way = curve.point(s) - from;
        let step = (distance - way.norm()) / curve.tangent(s).dot(&way.normalize());
        s += step;
        if step.abs() <= SAME_PLACE_MM {
            return s.is_finite().then_some(s);
        }
    }
    None
}

/// Angle of a direction away from the apex, from backward toward the leg's own side of the plate.
fn leg_angle(leg: Leg, along: &Vector2<f64>) -> f64 {
    (along.y * leg.side_of_plate()).atan2(-along.x)
}

/// Places of the figures in their vector.
#[derive(Clone, Copy)]
pub(super) enum Figure {
    ApexForward,
    ApexLeft,
    ApexAngle,
    Difference,
    Middle,
    Miss,
    Tangent(Leg),
    Chord(Leg),
    Bend(Leg),
    MeetsForward(Leg),
    MeetsLeft(Leg),
}

impl Figure {
    const COUNT: usize = 6 + 3 * 5;

    fn index(self) -> usize {
        let of = |which: usize, leg: Leg| 6 + 5 * leg.index() + which;
        match self {
            Self::ApexForward => 0,
            Self::ApexLeft => 1,
            Self::ApexAngle => 2,
            Self::Difference => 3,
            Self::Middle => 4,
            Self::Miss => 5,
            Self::Tangent(leg) => of(0, leg),
            Self::Chord(leg) => of(1, leg),
            Self::Bend(leg) => of(2, leg),
            Self::MeetsForward(leg) => of(3, leg),
            Self::MeetsLeft(leg) => of(4, leg),
        }
    }
}

/// The figures of a tracing with their covariance: angles in radians, lengths in millimetres.
pub(super) struct Figures {
    values: DVector<f64>,
    covariance: DMatrix<f64>,
}

impl Figures {
    /// Read off the fits of the legs, in the order of [`Leg::ALL`]; nothing where the lateral legs
    /// do not meet or a leg does not reach the radius.
    pub(super) fn of(fits: &[Fit; 3], radius_mm: f64) -> Option<Self> {
        let curves = [fits[0].curve, fits[1].curve, fits[2].curve];
        let values = read(&curves, radius_mm)?;
        let mut covariance = DMatrix::zeros(Figure::COUNT, Figure::COUNT);
        for (index, fit) in fits.iter().enumerate() {
            // Along the principal axes of the leg's covariance, by half their standard deviations:
            // the figures are straight over such steps, and rounding does not show in them.
            let axes = fit.covariance.symmetric_eigen();
            for axis in 0..3 {
                let sd = axes.eigenvalues[axis].max(0.0).sqrt();
                if sd == 0.0 {
                    continue;
                }
                let aside = |part: f64| {
                    let mut curves = curves;
                    curves[index].coefficients += axes.eigenvectors.column(axis) * (sd * part);
                    read(&curves, radius_mm)
                };
                let change = aside(0.5)? - aside(-0.5)?;
                covariance += &change * change.transpose();
            }
        }
        Some(Self { values, covariance })
    }

    pub(super) fn value(&self, figure: Figure) -> f64 {
        self.values[figure.index()]
    }

    fn variance(&self, figure: Figure) -> f64 {
        self.covariance[(figure.index(), figure.index())]
    }

    pub(super) fn angle(&self, figure: Figure) -> Estimate<Angle> {
        Estimate::<Angle>::radians(self.value(figure), self.variance(figure))
    }

    pub(super) fn length(&self, figure: Figure) -> Estimate<Length> {
        Estimate::<Length>::mm(self.value(figure), self.variance(figure))
    }

    /// A place and its covariance in mm².
    pub(super) fn place(&self, forward: Figure, left: Figure) -> (Vector2<f64>, Matrix2<f64>) {
        let (f, l) = (forward.index(), left.index());
        let covariance = Matrix2::new(
            self.covariance[(f, f)],
            self.covariance[(f, l)],
            self.covariance[(l, f)],
            self.covariance[(l, l)],
        );
        (Vector2::new(self.values[f], self.values[l]), covariance)
    }
}

fn read(curves: &[Curve; 3], radius_mm: f64) -> Option<DVector<f64>> {
    let mut values = DVector::zeros(Figure::COUNT);
    let mut put = |figure: Figure, value: f64| values[figure.index()] = value;
    let curve = |leg: Leg| &curves[leg.index()];
    let (apex, _) = meeting(curve(Leg::RightLateral), curve(Leg::LeftLateral))?;
    put(Figure::ApexForward, apex.x);
    put(Figure::ApexLeft, apex.y);
    let mut tangents = [0.0; 3];
    for leg in Leg::ALL {
        let curve = curve(leg);
        let tangent = leg_angle(leg, &curve.tangent(curve.along(&apex)));
        tangents[leg.index()] = tangent;
        let end = at_distance(curve, &apex, radius_mm)?;
        let meets = curve.point(end);
        let chord = leg_angle(leg, &(meets - apex));
        put(Figure::Tangent(leg), tangent);
        put(Figure::Chord(leg), chord);
        put(Figure::Bend(leg), leg_angle(leg, &curve.tangent(end)) - tangent);
        put(Figure::MeetsForward(leg), meets.x);
        put(Figure::MeetsLeft(leg), meets.y);
    }
    let [protrusive, right, left] = tangents;
    put(Figure::ApexAngle, right + left);
    // From the protrusive leg, which the plate's own axes need not follow.
    put(Figure::Difference, (right - protrusive) - (left + protrusive));
    put(Figure::Middle, (right - left) / 2.0);
    put(Figure::Miss, curve(Leg::Protrusive).residual(&apex));
    Some(values)
}
